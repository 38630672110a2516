//! Measures, single or in several units: `22ft`, `12ft 6 3/4in`, `12'-6"`.

use super::Reader;
use super::literal::Scale;
use crate::errors::literals;
use crate::syntax::{Pair, Rule};
use parge_base::{Diagnostic, Quantity, Span, Units};
use std::sync::LazyLock;

/// How far a ratio of two units may be off a whole number and still be one.
const RATIO_NOISE: f64 = 1e-9;

/// The units of the rule `size`.
const USUAL: [&str; 4] = ["ft", "in", "mm", "m"];

/// A number with its unit.
pub(super) struct Part {
    value: f64,
    scale: Scale,
    pub(super) span: Span,
    /// Whether a dash and no blank stands before it.
    dashed: bool,
}

impl Part {
    /// A number with one of the usual units.
    pub(super) fn usual(value: f64, unit: &str, span: Span) -> Option<Self> {
        static METRES: LazyLock<Vec<(&str, f64)>> = LazyLock::new(|| {
            let units = Units::standard();
            let metres = |unit| Some((unit, units.parse(unit).ok()?.factor()));
            USUAL.into_iter().filter_map(metres).collect()
        });
        let (_, metres) = METRES.iter().find(|(usual, _)| *usual == unit)?;
        Some(Self {
            value,
            scale: Scale::Length(*metres),
            span,
            dashed: false,
        })
    }
}

impl Reader<'_> {
    /// The outer layer is whether it could be read, the inner whether it is finite.
    pub(super) fn compound(&self, pair: Pair<'_>) -> Option<Option<Quantity>> {
        let span = self.span(&pair);
        let mut dashed = false;
        let mut parts = Vec::new();
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::dash => dashed = true,
                _ => parts.push(self.measured(inner, std::mem::take(&mut dashed))),
            }
        }
        let parts: Vec<Part> = parts.into_iter().collect::<Option<_>>()?;
        match self.joined(span, &parts) {
            Ok(quantity) => Some(quantity),
            Err(wrong) => {
                self.report(wrong);
                None
            }
        }
    }

    /// A size that is written in the usual way, in one unit or two: whether it is finite, or what is
    /// wrong with it.
    pub(super) fn size(&self, span: Span) -> Result<Option<Quantity>, Diagnostic> {
        let mut start = span.range().start;
        let mut part = |written: &str| {
            let number = written.trim_end_matches(|letter: char| letter.is_ascii_lowercase());
            let end = start + written.len();
            let place = self.span_of(std::mem::replace(&mut start, end + 1)..end);
            // Too many digits are infinite, and found out when this becomes a quantity.
            let value = number.parse().unwrap_or(f64::INFINITY);
            Part::usual(value, written.get(number.len()..)?, place)
        };
        let written = self.text(span.range());
        let parts = match written.split_once(' ') {
            Some((large, small)) => part(large)
                .zip(part(small))
                .map(|(large, small)| self.joined(span, &[large, small])),
            None => part(written).map(|only| self.joined(span, &[only])),
        };
        parts.unwrap_or(Ok(None))
    }

    /// The length that parts make.
    pub(super) fn joined(
        &self,
        span: Span,
        parts: &[Part],
    ) -> Result<Option<Quantity>, Diagnostic> {
        match parts {
            [only] => Ok(only.scale.quantity(only.value)),
            _ => match self.wrong(span, parts) {
                Some(wrong) => Err(wrong),
                None => Ok(total(parts)),
            },
        }
    }

    fn measured(&self, pair: Pair<'_>, dashed: bool) -> Option<Part> {
        let span = self.span(&pair);
        let mut inner = pair.into_inner();
        let (number, behind) = (inner.next()?, inner.next()?);
        if matches!(behind.as_rule(), Rule::detached | Rule::squared) {
            let words: Vec<_> = behind.into_inner().map(|word| word.as_str()).collect();
            let written = self.text(span.range());
            self.report(literals::detached(span, written, number.as_str(), &words));
            return None;
        }
        let (value, scale) = (self.number(&number), self.scale(&behind));
        Some(Part {
            value: value?,
            scale: scale?,
            span,
            dashed,
        })
    }

    /// Why parts in several units make no length.
    fn wrong(&self, span: Span, parts: &[Part]) -> Option<Diagnostic> {
        let written = |part: &Part| self.text(part.span.range());
        for pair in parts.windows(2) {
            let [left, right] = pair else {
                continue;
            };
            let (larger, smaller) = (written(left), written(right));
            let wrong = match (left.scale.metres(), right.scale.metres()) {
                _ if right.dashed && !(is_feet_mark(larger) && is_inch_mark(smaller)) => {
                    literals::two_ways_measure(span, larger, smaller)
                }
                (None, _) | (_, None) => literals::no_lengths(span, larger, smaller),
                (Some(large), Some(small)) if large <= small => {
                    literals::not_descending(span, larger, smaller)
                }
                _ if left.value.fract() != 0.0 => literals::early_fraction(left.span, larger),
                (Some(large), Some(small))
                    if right.value * small >= large * (1.0 - RATIO_NOISE) =>
                {
                    literals::overflowing(right.span, larger, smaller)
                }
                _ => continue,
            };
            return Some(wrong);
        }
        None
    }
}

fn is_feet_mark(written: &str) -> bool {
    written.ends_with(['\'', '′'])
}

fn is_inch_mark(written: &str) -> bool {
    written.ends_with(['"', '″'])
}

/// The whole length. It is counted in the smallest unit wherever the larger ones hold a whole
/// number of those, so that `12ft 6 3/4in` is to the last bit what `150.75in` is.
fn total(parts: &[Part]) -> Option<Quantity> {
    let last = parts.last()?;
    let small = last.scale.metres()?;
    let mut count = last.value;
    for part in parts.iter().rev().skip(1) {
        let ratio = part.scale.metres()? / small;
        if (ratio - ratio.round()).abs() > RATIO_NOISE * ratio {
            return sum(parts);
        }
        count += part.value * ratio.round();
    }
    last.scale.quantity(count)
}

fn sum(parts: &[Part]) -> Option<Quantity> {
    let mut parts = parts.iter().map(|part| part.scale.quantity(part.value));
    let first = parts.next()??;
    parts.try_fold(first, |sum, part| sum.plus(part?).ok())
}
