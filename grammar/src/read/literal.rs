//! Numbers, fractions, and the units behind them.

use super::Reader;
use super::expression::plain;
use crate::errors::literals;
use crate::syntax::{Pair, Rule};
use parge_base::unit::UnitError;
use parge_base::{Dim, Quantity, Unit};
use std::f64::consts::PI;

/// A unit as a plan may write it.
#[derive(Debug, Clone)]
pub(super) enum Scale {
    /// One of the units that all of the program knows.
    Unit(Unit),
    /// An angle: the number of radians in one.
    Angle(f64),
}

impl Scale {
    pub(super) fn quantity(&self, value: f64) -> Option<Quantity> {
        match self {
            Self::Unit(unit) => unit.quantity(value).ok(),
            Self::Angle(radians) => plain(value * radians),
        }
    }

    /// Metres in one, for a length.
    pub(super) fn metres(&self) -> Option<f64> {
        match self {
            Self::Unit(unit) if unit.dim() == Dim::LENGTH => Some(unit.factor()),
            _ => None,
        }
    }
}

impl Reader<'_> {
    /// A literal of any form. `None` where it says nothing that can be used, which is reported.
    pub(super) fn literal(&self, pair: Pair<'_>) -> Option<Quantity> {
        let span = self.span(&pair);
        let written = self.text(span.range());
        let quantity = match pair.as_rule() {
            Rule::reading => self.reading(pair)?,
            Rule::compound => self.compound(pair)?,
            Rule::two_ways => {
                self.report(literals::two_ways_number(span, written));
                return None;
            }
            _ => plain(self.number(&pair)?),
        };
        if quantity.is_none() {
            self.report(literals::too_large(span, written));
        }
        quantity
    }

    /// `-5C`. The outer layer is whether it could be read, the inner whether it is finite.
    fn reading(&self, pair: Pair<'_>) -> Option<Option<Quantity>> {
        let mut parts = pair.into_inner();
        let value = self.number(&parts.next()?)?;
        let scale = self.scale(&parts.next()?)?;
        Some(scale.quantity(-value))
    }

    /// The value of a number without its unit.
    pub(super) fn number(&self, pair: &Pair<'_>) -> Option<f64> {
        match pair.as_rule() {
            Rule::mixed => {
                let mut parts = pair
                    .clone()
                    .into_inner()
                    .filter(|part| part.as_rule() != Rule::dash);
                let whole = digits(parts.next()?.as_str());
                let fraction = parts.next()?;
                let share = self.number(&fraction)?;
                if share >= 1.0 {
                    let span = self.span(pair);
                    self.report(literals::improper(span, pair.as_str(), fraction.as_str()));
                    return None;
                }
                Some(whole + share)
            }
            Rule::fraction => {
                let mut parts = pair.clone().into_inner();
                let over = digits(parts.next()?.as_str());
                let under = digits(parts.next()?.as_str());
                if under == 0.0 {
                    self.report(literals::over_zero(self.span(pair), pair.as_str()));
                    return None;
                }
                Some(over / under)
            }
            _ => Some(digits(pair.as_str())),
        }
    }

    pub(super) fn scale(&self, pair: &Pair<'_>) -> Option<Scale> {
        let written = pair.as_str();
        let name = match written {
            "'" | "′" => "ft",
            "\"" | "″" => "in",
            "deg" | "°" => return Some(Scale::Angle(PI / 180.0)),
            "rad" => return Some(Scale::Angle(1.0)),
            _ => written.trim_start_matches('°'),
        };
        match self.source.units.parse(name) {
            Ok(unit) => Some(Scale::Unit(unit)),
            Err(error) => {
                let nearest = match error {
                    UnitError::Unknown { nearest, .. } => nearest,
                    UnitError::Empty | UnitError::TemperatureInRate | UnitError::TooComplex => None,
                };
                let known = |word: &str| self.source.units.knows(word);
                self.report(literals::unknown_unit(
                    self.span(pair),
                    written,
                    nearest,
                    known,
                ));
                None
            }
        }
    }
}

/// The value of digits, a point, and blanks between groups. A number too large is infinite, and
/// found out when it becomes a quantity.
fn digits(written: &str) -> f64 {
    let number: String = written
        .chars()
        .filter(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    number.parse().unwrap_or(f64::INFINITY)
}
