//! The words and figures of an explanation, as text, JSON and HTML all show them.

use crate::shown::{place, print_unit};
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Dim, Money, Quantity, Sources, Unit};
use parge_calc::explain::{Entry, Outline, Piece, Value};
use parge_calc::job::UnitSystem;

/// A figure as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The number: for money exact decimal text.
    pub number: String,
    /// Its unit; empty for a plain number.
    pub unit: String,
}

impl Figure {
    /// Number and unit as print shows them.
    pub fn text(&self) -> String {
        match self.unit.as_str() {
            "" => self.number.clone(),
            "%" => format!("{}%", self.number),
            unit => format!("{} {}", self.number, print_unit(unit)),
        }
    }
}

/// A value in the unit it is shown in.
pub fn figure(value: Value, unit: Option<&Unit>, system: UnitSystem) -> Figure {
    match value {
        Value::Quantity(quantity) => {
            let (number, unit) = in_unit(quantity, unit, system);
            let number = digits(number);
            Figure { number, unit }
        }
        Value::Money(money) => Figure {
            number: grouped(&money.to_price_text()),
            unit: money.currency().code().to_owned(),
        },
        Value::Rate(rate) => Figure {
            number: (rate * rust_decimal::Decimal::ONE_HUNDRED)
                .normalize()
                .to_string(),
            unit: "%".to_owned(),
        },
    }
}

/// A quantity's number in the unit it is shown in: the one it is written in, or the usual one of
/// its kind.
pub fn in_unit(quantity: Quantity, unit: Option<&Unit>, system: UnitSystem) -> (f64, String) {
    if let Some(unit) = unit
        && let Some(number) = unit.show(quantity)
    {
        let text = unit.text();
        return (
            number,
            if text == "1" {
                String::new()
            } else {
                text.to_owned()
            },
        );
    }
    usual(quantity, system)
}

/// Base units in a foot, a pound and an hour, all exact.
const FOOT: f64 = 0.3048;
const POUND: f64 = 0.45359237;
const HOUR: f64 = 3600.0;

/// The usual units of a kind: small lengths in inches or millimetres, the rest as products of
/// feet or metres, pounds or kilograms, hours, and what is counted.
fn usual(quantity: Quantity, system: UnitSystem) -> (f64, String) {
    let Quantity { value, dim } = quantity;
    let metric = system == UnitSystem::Metric;
    if dim == Dim::LENGTH && value != 0.0 {
        if metric && value.abs() < 0.1 {
            return (value * 1000.0, "mm".to_owned());
        }
        if !metric && value.abs() < FOOT {
            return (value / FOOT * 12.0, "in".to_owned());
        }
    }
    if dim == Dim::TEMPERATURE {
        return if metric {
            (value - 273.15, "C".to_owned())
        } else {
            (value * 1.8 - 459.67, "F".to_owned())
        };
    }
    let named = if metric {
        [
            ("m", 1.0),
            ("kg", 1.0),
            ("h", HOUR),
            ("K", 1.0),
            ("money", 1.0),
        ]
    } else {
        [
            ("ft", FOOT),
            ("lb", POUND),
            ("h", HOUR),
            ("K", 1.0),
            ("money", 1.0),
        ]
    };
    let powers = named.into_iter().zip(dim.powers());
    let base = powers.map(|((name, size), power)| (name.to_owned(), size, power));
    let counted = dim
        .counted()
        .map(|(item, power)| (item.name().to_owned(), 1.0, power));
    let (mut top, mut bottom, mut factor) = (Vec::new(), Vec::new(), 1.0);
    for (name, size, power) in base.chain(counted) {
        factor *= f64::powi(size, i32::from(power));
        let text = match power.unsigned_abs() {
            1 => name,
            more => format!("{name}{more}"),
        };
        match power {
            0 => {}
            1.. => top.push(text),
            _ => bottom.push(text),
        }
    }
    let mut unit = top.join("·");
    if unit.is_empty() && !bottom.is_empty() {
        unit.push('1');
    }
    for text in bottom {
        unit = format!("{unit}/{text}");
    }
    (value / factor, unit)
}

/// A number with as many digits as a reader checks: four or so that count.
fn digits(number: f64) -> String {
    let size = number.abs();
    let decimals = match size {
        _ if size >= 10.0 => 2,
        _ if size >= 1.0 => 3,
        _ if size >= 0.1 => 4,
        _ if size >= 0.001 => 6,
        _ => NOISE_DECIMALS,
    };
    let text = round_to(number, decimals).to_string();
    grouped(&text)
}

/// Commas between the thousands.
pub(crate) fn grouped(text: &str) -> String {
    let (sign, rest) = text
        .strip_prefix('-')
        .map_or(("", text), |rest| ("-", rest));
    let (whole, part) = rest.split_at(rest.find('.').unwrap_or(rest.len()));
    let mut out = String::from(sign);
    for (at, digit) in whole.chars().enumerate() {
        if at > 0 && (whole.len() - at) % 3 == 0 && whole.len() > 3 {
            out.push(',');
        }
        out.push(digit);
    }
    out + part
}

/// The figure of an entry.
pub fn entry_figure(entry: &Entry, system: UnitSystem) -> Figure {
    let figure = figure(entry.value, entry.unit.as_ref(), system);
    if entry.hours {
        let unit = "h".to_owned();
        return Figure { unit, ..figure };
    }
    figure
}

/// The formula of an entry in one line; empty for a leaf.
pub fn formula(outline: &Outline, entry: &Entry, system: UnitSystem) -> String {
    let mut text = String::new();
    for piece in &entry.formula {
        match piece {
            Piece::Text(sign) => text.push_str(sign),
            Piece::Number(number) => text.push_str(&plain(*number)),
            Piece::Term(number) => {
                if let Some(term) = outline.entries.get(*number) {
                    text.push_str(&called(term, system));
                }
            }
        }
    }
    text
}

/// What an entry is called in a formula: its name, or its figure where it is nothing more.
pub fn called(entry: &Entry, system: UnitSystem) -> String {
    if entry.name.is_empty() {
        entry_figure(entry, system).text()
    } else {
        entry.name.clone()
    }
}

fn plain(number: f64) -> String {
    use std::f64::consts::PI;
    if number == PI {
        "π".to_owned()
    } else if number == 2.0 * PI {
        "2π".to_owned()
    } else {
        digits(number)
    }
}

/// Where an entry stands, as `file:line`, and who says so.
pub fn stands(entry: &Entry, sources: &Sources) -> String {
    let place = entry.place.map(|span| place(sources, span));
    let source = entry.source.as_ref().map(ToString::to_string);
    let both: Vec<String> = place.into_iter().chain(source).collect();
    both.join(", ")
}

/// The price of something with the digits it has.
pub(crate) fn money_text(money: Money) -> String {
    money.to_price_text()
}

#[cfg(test)]
mod tests;
