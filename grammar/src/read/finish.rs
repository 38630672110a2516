//! `finish name { … }`

use super::Reader;
use super::line::Kind;
use crate::ast::{Expr, Finish, FinishSetting, Name};
use crate::outline::Item;
use crate::syntax::{Pair, Rule};
use parge_base::Spanned;

impl Reader<'_> {
    pub(super) fn finish(&self, item: &Item) -> Option<Finish> {
        let name = if item.broken {
            None
        } else {
            self.head_name(Rule::finish_head, item)
        };
        let settings = self.finish_settings(&self.need_block(item)?.items);
        Some(Finish {
            name: name?,
            settings,
        })
    }

    pub(super) fn finish_settings(&self, items: &[Item]) -> Vec<Spanned<FinishSetting>> {
        let mut settings = Vec::new();
        self.plain_lines(Kind::Finish, items, |pair| {
            let span = self.span(&pair);
            settings.extend(
                self.finish_setting(pair)
                    .map(|node| Spanned::new(node, span)),
            );
        });
        settings
    }

    fn finish_setting(&self, pair: Pair<'_>) -> Option<FinishSetting> {
        Some(match pair.as_rule() {
            Rule::technique => FinishSetting::Technique(self.name(pair)?),
            Rule::thickness => FinishSetting::Thickness(self.only_expr(pair)?),
            Rule::relief => FinishSetting::Relief(self.only_expr(pair)?),
            Rule::colours => FinishSetting::Colours(self.colours(pair)?),
            _ => self.sealer(pair)?,
        })
    }

    fn colours(&self, pair: Pair<'_>) -> Option<Vec<(Name, Expr)>> {
        let colours = pair
            .into_inner()
            .filter(|part| part.as_rule() == Rule::colour);
        // All are read before one that is bad drops the list, so that all mistakes are told.
        let colours: Vec<_> = colours
            .map(|colour| Some((self.name(colour.clone())?, self.only_expr(colour)?)))
            .collect();
        colours.into_iter().collect()
    }

    fn sealer(&self, pair: Pair<'_>) -> Option<FinishSetting> {
        let sheen = self.name(pair.clone());
        let coats = match self.part(pair, &[Rule::expr]) {
            Some(coats) => Some(self.expr(coats)?),
            None => None,
        };
        Some(FinishSetting::Sealer(sheen?, coats))
    }
}
