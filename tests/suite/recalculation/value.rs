//! What a cell shows, and when two programs say the same.

use calamine::{Data, DataType};
use std::fmt;

/// The share of a number that two programs may differ by: the last bits of a long sum.
const SHARE: f64 = 1e-9;

/// What a difference from zero may be.
const NOTHING: f64 = 1e-12;

/// What a cell shows.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    Empty,
    Number(f64),
    Text(String),
    Truth(bool),
    /// What stands in place of a result, as `#DIV/0!`.
    Error(String),
}

impl Value {
    /// Whether both say the same: texts letter by letter, numbers to their last bits, and money
    /// besides to the last of the currency's digits.
    pub(super) fn agrees(&self, other: &Self, money: Option<u32>) -> bool {
        match (self, other) {
            (Self::Number(one), Self::Number(two)) => {
                close(*one, *two) && money.is_none_or(|digits| same_money(*one, *two, digits))
            }
            (Self::Empty, Self::Text(text)) | (Self::Text(text), Self::Empty) => text.is_empty(),
            (Self::Error(_), _) | (_, Self::Error(_)) => false,
            _ => self == other,
        }
    }

    /// The number that must stand there.
    #[track_caller]
    pub(super) fn number(&self) -> f64 {
        match self {
            Self::Number(number) => *number,
            other => panic!("{other} is no number"),
        }
    }
}

fn close(one: f64, two: f64) -> bool {
    let apart = (one - two).abs();
    apart <= one.abs().max(two.abs()) * SHARE || apart <= NOTHING
}

/// Whether both are the same sum of money when written with so many digits behind the point.
pub(super) fn same_money(one: f64, two: f64, digits: u32) -> bool {
    let least = |amount: f64| (amount * 10_f64.powf(f64::from(digits))).round();
    least(one) == least(two)
}

impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

/// As the file holds it.
impl From<&Data> for Value {
    fn from(data: &Data) -> Self {
        match data {
            Data::Empty => Self::Empty,
            Data::Bool(truth) => Self::Truth(*truth),
            Data::Error(error) => Self::Error(error.to_string()),
            Data::String(text) | Data::DateTimeIso(text) | Data::DurationIso(text) => {
                Self::Text(text.clone())
            }
            Data::Int(_) | Data::Float(_) | Data::DateTime(_) => {
                data.as_f64().map_or(Self::Empty, Self::Number)
            }
        }
    }
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("nothing"),
            Self::Number(number) => write!(f, "{number}"),
            Self::Text(text) => write!(f, "`{text}`"),
            Self::Truth(truth) => write!(f, "{truth}"),
            Self::Error(error) => f.write_str(error),
        }
    }
}

#[test]
fn numbers_agree_to_their_last_bits_and_money_to_the_cent() {
    let number = Value::from;
    assert!(number(0.1 + 0.2).agrees(&number(0.3), None));
    assert!(number(1e-13).agrees(&number(0.0), None));
    assert!(!number(1.0).agrees(&number(1.000_000_01), None));
    assert!(!number(0.0).agrees(&Value::Empty, None), "nothing is not 0");
    let (one, two) = (number(98_765_432.10), number(98_765_432.11));
    assert!(one.agrees(&two, None) && !one.agrees(&two, Some(2)));
    assert!(one.agrees(&two, Some(0)));
}

#[test]
fn an_error_agrees_with_nothing() {
    let error = Value::Error("#DIV/0!".to_owned());
    assert!(!error.agrees(&error, None));
    assert!(Value::Empty.agrees(&"".into(), None));
    assert!(!Value::from("no price").agrees(&"No price".into(), None));
}
