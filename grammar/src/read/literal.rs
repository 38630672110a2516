//! Numbers, fractions, and the units behind them.

use super::Reader;
use super::expression::plain;
use crate::errors::literals;
use crate::syntax::{Pair, Rule};
use parge_base::unit::UnitError;
use parge_base::{Dim, Quantity, Unit};
use std::f64::consts::PI;

/// The digits of a group in `3 810`.
const GROUP: usize = 3;

/// A degree of an angle.
pub(super) const DEGREE: Scale = Scale::Angle(PI / 180.0);

/// A unit as a plan may write it.
#[derive(Debug, Clone)]
pub(super) enum Scale {
    /// One of the units that all of the program knows.
    Unit(Unit),
    /// A length: the number of metres in one.
    Length(f64),
    /// An angle: the number of radians in one.
    Angle(f64),
}

impl Scale {
    pub(super) fn quantity(&self, value: f64) -> Option<Quantity> {
        match self {
            Self::Unit(unit) => unit.quantity(value).ok(),
            Self::Length(metres) => Quantity::new(value * metres, Dim::LENGTH).ok(),
            Self::Angle(radians) => plain(value * radians),
        }
    }

    /// Metres in one, for a length.
    pub(super) fn metres(&self) -> Option<f64> {
        match self {
            Self::Unit(unit) if unit.dim() == Dim::LENGTH => Some(unit.factor()),
            Self::Length(metres) => Some(*metres),
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
            Rule::size => match self.size(span) {
                Ok(quantity) => quantity,
                Err(wrong) => {
                    self.report(wrong);
                    return None;
                }
            },
            Rule::compound => self.compound(pair)?,
            _ if written.contains('-') => {
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
        let written = pair.as_str();
        let wrong = match value(written) {
            Ok(value) => return Some(value),
            Err(Odd::OverZero(fraction)) => literals::over_zero(self.span(pair), fraction),
            Err(Odd::Improper(fraction)) => literals::improper(self.span(pair), written, fraction),
            Err(Odd::Grouping) => literals::odd_groups(self.span(pair), written),
        };
        self.report(wrong);
        None
    }

    pub(super) fn scale(&self, pair: &Pair<'_>) -> Option<Scale> {
        let written = pair.as_str();
        let name = match written {
            "'" | "′" => "ft",
            "\"" | "″" => "in",
            "deg" | "°" => return Some(DEGREE),
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

/// What can be wrong with a number, with the fraction in it.
pub(super) enum Odd<'t> {
    OverZero(&'t str),
    Improper(&'t str),
    Grouping,
}

/// What a number says: `22`, `2.5`, `3 810`, `3/4`, `6 3/4`, `6-3/4`.
pub(super) fn value(written: &str) -> Result<f64, Odd<'_>> {
    let Some((before, under)) = written.split_once('/') else {
        return digits(written);
    };
    let Some((at, blank)) = before
        .char_indices()
        .rfind(|(_, letter)| !letter.is_ascii_digit())
    else {
        return share(written, before, under);
    };
    let fraction = written.get(at + blank.len_utf8()..).unwrap_or("");
    let over = before.get(at + blank.len_utf8()..).unwrap_or("");
    let share = share(fraction, over, under)?;
    if share >= 1.0 {
        return Err(Odd::Improper(fraction));
    }
    Ok(digits(before.get(..at).unwrap_or(""))? + share)
}

fn share<'t>(fraction: &'t str, over: &'t str, under: &'t str) -> Result<f64, Odd<'t>> {
    let (over, under) = (digits(over)?, digits(under)?);
    if under == 0.0 {
        Err(Odd::OverZero(fraction))
    } else {
        Ok(over / under)
    }
}

/// The value of digits, a point, and blanks between groups. A number too large is infinite, and
/// found out when it becomes a quantity.
fn digits(written: &str) -> Result<f64, Odd<'_>> {
    if let Ok(value) = written.parse() {
        return Ok(value);
    }
    let is_blank = |letter: char| !letter.is_ascii_digit() && letter != '.';
    let leading = written.find(is_blank).unwrap_or(0);
    if leading > GROUP {
        return Err(Odd::Grouping);
    }
    let joined: String = written
        .chars()
        .filter(|letter| !is_blank(*letter))
        .collect();
    Ok(joined.parse().unwrap_or(f64::INFINITY))
}
