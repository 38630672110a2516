//! What a plan includes, and what a bid says beside its figures: statements of one line.

use super::Reader;
use crate::ast::{Allowance, Name};
use crate::errors::money;
use crate::outline::Item;
use crate::syntax::{Pair, Rule};
use parge_base::{Money, Spanned};

impl Reader<'_> {
    /// `include "…"`, `exclude "…"`, `note "…"` and `terms "…"`, by the rule of the head.
    pub(super) fn one_text(&self, rule: Rule, item: &Item) -> Option<Name> {
        self.no_block(item);
        if item.broken {
            return None;
        }
        self.head_name(rule, item)
    }

    pub(super) fn allowance(&self, item: &Item) -> Option<Allowance> {
        self.no_block(item);
        if item.broken {
            return None;
        }
        let pairs = self.head(Rule::allowance_head, item.head.clone())?;
        let find = |rule| pairs.iter().find(|pair| pair.as_rule() == rule).cloned();
        let name = find(Rule::quoted).and_then(|pair| self.name(pair));
        let amount = self.money(&find(Rule::amount)?)?;
        Some(Allowance {
            name: name?,
            amount,
        })
    }

    /// An amount of money with its place. One that is none is reported.
    pub(super) fn money(&self, pair: &Pair<'_>) -> Option<Spanned<Money>> {
        let (span, written) = (self.span(pair), pair.as_str().trim());
        match Money::parse(written) {
            Ok(amount) => Some(Spanned::new(amount, span)),
            Err(error) => {
                self.report(money::odd_amount(span, written, &error));
                None
            }
        }
    }
}
