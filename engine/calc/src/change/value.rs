//! Values of a plan as an estimator sees them: when two are the same, and how they are written.

use crate::job::UnitSystem;
use parge_base::number::round_to;
use parge_base::{Dim, Money, Quantity};

/// A value that may change.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Words.
    Text(String),
    /// A length, an area, a temperature, a plain number: anything with a dimension.
    Quantity(Quantity),
    /// A share of one, written as a percentage.
    Share(f64),
    /// An angle in radians, written in degrees.
    Angle(f64),
    /// The price of one pack, or of an hour.
    Price(Money),
}

/// Figures are the same that differ by less than this share of themselves.
const SAME: f64 = 1e-9;
/// Or by less than this in base units: a corner at 0 may come out a rounding step beside it.
const NOTHING: f64 = 1e-12;

/// Whether two figures are the same to an estimator.
pub fn same_figure(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(b.abs()) + NOTHING
}

impl Value {
    /// Words.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// Whether two values are the same to an estimator.
    pub fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Text(a), Self::Text(b)) => a == b,
            (Self::Quantity(a), Self::Quantity(b)) => {
                a.dim == b.dim && same_figure(a.value, b.value)
            }
            (Self::Share(a), Self::Share(b)) | (Self::Angle(a), Self::Angle(b)) => {
                same_figure(*a, *b)
            }
            (Self::Price(a), Self::Price(b)) => a == b,
            _ => false,
        }
    }

    /// The value as the trade writes it, in the units of the job.
    pub fn words(&self, units: UnitSystem) -> String {
        match self {
            Self::Text(text) => text.clone(),
            Self::Quantity(quantity) if quantity.dim == Dim::LENGTH => match units {
                UnitSystem::Us => feet_inches(quantity.value),
                UnitSystem::Metric => metres(quantity.value),
            },
            Self::Price(price) => {
                format!("{} {}", price.to_price_text(), price.currency().code())
            }
            _ => match self.figure(units) {
                Some((value, "")) => trimmed(value, 6),
                Some((value, unit)) => format!("{}{unit}", trimmed(value, 4)),
                None => String::new(),
            },
        }
    }

    /// The value as a number with its unit, for programs; none for words and for money, whose
    /// amounts are decimals.
    pub fn figure(&self, units: UnitSystem) -> Option<(f64, &'static str)> {
        match self {
            Self::Text(_) | Self::Price(_) => None,
            Self::Quantity(quantity) => Some(in_unit(*quantity, units)),
            Self::Share(share) => Some((share * 100.0, "%")),
            Self::Angle(angle) => Some((angle.to_degrees(), "deg")),
        }
    }
}

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;
const HOUR: f64 = 3600.0;
const MILE_AN_HOUR: f64 = 0.44704;

/// A quantity in the unit that it is shown in. Kinds that no plan states are shown in base units.
fn in_unit(Quantity { value, dim }: Quantity, units: UnitSystem) -> (f64, &'static str) {
    let (us, metric) = if dim == Dim::LENGTH {
        ((value / FOOT, "ft"), (value, "m"))
    } else if dim == Dim::AREA {
        ((value / (FOOT * FOOT), "ft2"), (value, "m2"))
    } else if dim == Dim::TIME {
        ((value / HOUR, "h"), (value / HOUR, "h"))
    } else if dim == Dim::TEMPERATURE {
        let celsius = value - 273.15;
        ((celsius * 9.0 / 5.0 + 32.0, "F"), (celsius, "C"))
    } else if dim == Dim::SPEED {
        ((value / MILE_AN_HOUR, "mph"), (value, "m/s"))
    } else {
        ((value, ""), (value, ""))
    };
    match units {
        UnitSystem::Us => us,
        UnitSystem::Metric => metric,
    }
}

/// Sixteenths of an inch in one inch and in one foot.
const IN_INCH: u64 = 16;
const IN_FOOT: u64 = 12 * IN_INCH;
/// How far from a whole sixteenth a length may lie, in sixteenths, and still be one.
const NOISE: f64 = 1e-6;

/// A length in metres as feet, inches and a fraction: `12ft 6 3/4in`. One that is no whole
/// number of sixteenths has decimals of an inch: `10ft 5.9843in`.
pub fn feet_inches(metres: f64) -> String {
    let sixteenths = metres.abs() / INCH * IN_INCH as f64;
    let whole = sixteenths.round();
    let text = if (sixteenths - whole).abs() <= NOISE.max(sixteenths * SAME) {
        // A length of a wall is far below the largest whole number; a larger one stays there.
        let whole = whole as u64;
        joined(whole / IN_FOOT, inches(whole % IN_FOOT))
    } else {
        let inches = round_to(sixteenths / IN_INCH as f64, 4);
        let feet = (inches / 12.0).floor();
        joined(feet as u64, trimmed(inches - feet * 12.0, 4))
    };
    match metres < 0.0 && text != "0in" {
        true => format!("-{text}"),
        false => text,
    }
}

/// Less than a foot, in sixteenths, as inches and a fraction in lowest terms; empty for nothing.
fn inches(sixteenths: u64) -> String {
    let (whole, rest) = (sixteenths / IN_INCH, sixteenths % IN_INCH);
    let fraction = || {
        let shift = rest.trailing_zeros();
        format!("{}/{}", rest >> shift, IN_INCH >> shift)
    };
    match (whole, rest) {
        (0, 0) => String::new(),
        (whole, 0) => whole.to_string(),
        (0, _) => fraction(),
        (whole, _) => format!("{whole} {}", fraction()),
    }
}

fn joined(feet: u64, inches: String) -> String {
    let none = inches.is_empty() || inches == "0";
    match (feet, none) {
        (0, true) => "0in".to_owned(),
        (0, false) => format!("{inches}in"),
        (feet, true) => format!("{feet}ft"),
        (feet, false) => format!("{feet}ft {inches}in"),
    }
}

/// A length in metres as a metric plan writes it: `812.5mm` below a metre, `3.810m` from there,
/// to the millimetre or finer where it is finer.
pub fn metres(metres: f64) -> String {
    if metres.abs() < 1.0 {
        return format!("{}mm", trimmed(metres * 1000.0, 2));
    }
    let fine = trimmed(metres, 5);
    let decimals = fine
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    format!("{metres:.decimals$}m", decimals = decimals.max(3))
}

/// A number with at most so many decimals, and no zeros at their end.
fn trimmed(value: f64, decimals: u32) -> String {
    let rounded = round_to(value, decimals);
    // No minus before a nothing.
    (if rounded == 0.0 { 0.0 } else { rounded }).to_string()
}

#[cfg(test)]
mod tests;
