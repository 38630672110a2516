//! Names and quoted texts.

use super::Reader;
use crate::ast::Name;
use crate::errors::literals;
use crate::syntax::{Pair, Rule};

impl Reader<'_> {
    /// A name, quoted or bare. The node may be a rule around it, such as `on wood`.
    pub(super) fn name(&self, pair: Pair<'_>) -> Option<Name> {
        let span = self.span(&pair);
        match pair.as_rule() {
            Rule::quoted | Rule::text => {
                let text = self.unescaped(&pair)?;
                if text.trim().is_empty() {
                    self.report(literals::empty_text(span));
                    return None;
                }
                Some(Name::new(text, span))
            }
            Rule::bare
            | Rule::profit_kind
            | Rule::weather_word
            | Rule::parameter
            | Rule::property => Some(Name::new(pair.as_str().to_owned(), span)),
            _ => self.name(self.part(pair, &[Rule::name, Rule::quoted, Rule::bare])?),
        }
    }

    /// The first part of a node that is of one of some kinds.
    pub(super) fn part<'t>(&self, pair: Pair<'t>, rules: &[Rule]) -> Option<Pair<'t>> {
        pair.into_inner()
            .find(|inner| rules.contains(&inner.as_rule()))
    }

    /// What a quoted text says.
    fn unescaped(&self, pair: &Pair<'_>) -> Option<String> {
        let written = pair.as_str();
        let written = written
            .strip_prefix('"')
            .and_then(|rest| rest.strip_suffix('"'))?;
        let mut text = String::with_capacity(written.len());
        let mut letters = written.char_indices();
        while let Some((at, letter)) = letters.next() {
            if letter != '\\' {
                text.push(letter);
                continue;
            }
            match letters.next() {
                Some((_, escaped @ ('"' | '\\'))) => text.push(escaped),
                other => {
                    let start = self.span(pair).range().start + 1 + at;
                    let length = 1 + other.map_or(0, |(_, letter)| letter.len_utf8());
                    let span = self.span_of(start..start + length);
                    self.report(literals::bad_escape(span, self.text(start..start + length)));
                    return None;
                }
            }
        }
        Some(text)
    }
}
