//! Units: exact factors to the base units, and the reading of written ones.
//!
//! Factors follow NIST SP 811 (2008), appendix B, and NIST Handbook 44, appendix C: inch,
//! pound and US gallon are exact by definition. Factors are kept as exact decimals and turned
//! into a binary number once, so that `ft3` has the nearest value to 0.028316846592, not the
//! product of three roundings.

use crate::dim::{Dim, Item};
use crate::quantity::{Quantity, QuantityError};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use std::fmt;

/// A unit as written, with what it takes to turn numbers in it into base units.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    text: String,
    dim: Dim,
    /// `base = value * up / down + offset`
    up: Decimal,
    down: Decimal,
    offset: f64,
}

impl Unit {
    /// The plain number.
    pub fn plain() -> Self {
        Self {
            text: "1".into(),
            dim: Dim::NONE,
            up: Decimal::ONE,
            down: Decimal::ONE,
            offset: 0.0,
        }
    }

    /// As written in the table, plan or price book.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What it measures.
    pub fn dim(&self) -> Dim {
        self.dim
    }

    /// The number of base units in one of this unit.
    pub fn factor(&self) -> f64 {
        // Dividing two correctly rounded numbers leaves at most one rounding step of error.
        let (up, down) = (
            self.up.to_f64().unwrap_or(1.0),
            self.down.to_f64().unwrap_or(1.0),
        );
        up / down
    }

    /// A number in this unit as a quantity; an error where it is too large.
    pub fn quantity(&self, value: f64) -> Result<Quantity, QuantityError> {
        Quantity::new(value * self.factor() + self.offset, self.dim)
    }

    /// A quantity's number in this unit; `None` where the kinds differ.
    pub fn show(&self, quantity: Quantity) -> Option<f64> {
        (quantity.dim == self.dim).then(|| (quantity.value - self.offset) / self.factor())
    }
}

/// Why a written unit is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnitError {
    /// Nothing was written.
    Empty,
    /// A word that is no unit, with the nearest that is.
    Unknown {
        /// The word.
        word: String,
        /// The nearest known unit.
        nearest: Option<String>,
    },
    /// A thermometer reading inside a rate: `F/h` is no unit.
    TemperatureInRate,
    /// More powers or kinds of things than a unit can hold.
    TooComplex,
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("no unit is given; a plain number is written with unit `1`"),
            Self::Unknown {
                word,
                nearest: Some(near),
            } => {
                write!(f, "`{word}` is no known unit; did you mean `{near}`?")
            }
            Self::Unknown {
                word,
                nearest: None,
            } => write!(f, "`{word}` is no known unit"),
            Self::TemperatureInRate => {
                f.write_str("a thermometer reading cannot be part of a rate")
            }
            Self::TooComplex => f.write_str("the unit has too many powers"),
        }
    }
}

impl std::error::Error for UnitError {}

struct Named {
    name: &'static str,
    dim: Dim,
    /// Base units in one, as an exact decimal.
    factor: Decimal,
}

const fn named(name: &'static str, dim: Dim, digits: i64, decimals: u32) -> Named {
    let negative = digits < 0;
    let size = digits.unsigned_abs();
    let factor = Decimal::from_parts(size as u32, (size >> 32) as u32, 0, negative, decimals);
    Named { name, dim, factor }
}

/// Simple units. Lengths also take a power: `ft2`, `m3`. Where a kind is shown, the first unit
/// named for it is the one that messages use.
const NAMED: &[Named] = &[
    named("ft", Dim::LENGTH, 3048, 4),
    named("in", Dim::LENGTH, 254, 4),
    named("yd", Dim::LENGTH, 9144, 4),
    named("m", Dim::LENGTH, 1, 0),
    named("cm", Dim::LENGTH, 1, 2),
    named("mm", Dim::LENGTH, 1, 3),
    named("gal", Dim::VOLUME, 3_785_411_784, 12),
    named("qt", Dim::VOLUME, 946_352_946, 12),
    named("pt", Dim::VOLUME, 473_176_473, 12),
    named("floz", Dim::VOLUME, 295_735_295_625, 16),
    named("L", Dim::VOLUME, 1, 3),
    named("mL", Dim::VOLUME, 1, 6),
    named("lb", Dim::MASS, 45_359_237, 8),
    named("oz", Dim::MASS, 28_349_523_125, 12),
    named("kg", Dim::MASS, 1, 0),
    named("g", Dim::MASS, 1, 3),
    named("t", Dim::MASS, 1000, 0),
    named("h", Dim::TIME, 3600, 0),
    named("min", Dim::TIME, 60, 0),
    named("s", Dim::TIME, 1, 0),
    named("d", Dim::TIME, 86400, 0),
    named("mph", Dim::SPEED, 44704, 5),
    named("%", Dim::NONE, 1, 2),
];

/// Thermometer scales: name, scale as a fraction, offset in kelvin.
const SCALES: [(&str, i64, i64, f64); 3] = [
    ("F", 5, 9, 459.67 * 5.0 / 9.0),
    ("C", 1, 1, 273.15),
    ("K", 1, 1, 0.0),
];

/// Other spellings that the trade uses.
const SPELLINGS: &[(&str, &str)] = &[
    ("feet", "ft"),
    ("foot", "ft"),
    ("inch", "in"),
    ("inches", "in"),
    ("sf", "ft2"),
    ("sqft", "ft2"),
    ("sqyd", "yd2"),
    ("cf", "ft3"),
    ("cy", "yd3"),
    ("hr", "h"),
    ("hrs", "h"),
    ("lbs", "lb"),
    ("l", "L"),
    ("ml", "mL"),
    ("gallon", "gal"),
    ("gallons", "gal"),
    ("quart", "qt"),
    ("quarts", "qt"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("yard", "yd"),
    ("hour", "h"),
    ("hours", "h"),
    ("degF", "F"),
    ("degC", "C"),
];

/// Kinds of packed or counted things that every trade has. A pack may declare more.
const ITEMS: [&str; 12] = [
    "bag", "box", "bundle", "drum", "each", "kit", "pail", "piece", "roll", "sheet", "tub", "tube",
];

/// The units in force: the standard ones and the counted things a rule pack declares.
#[derive(Debug, Clone)]
pub struct Units {
    items: Vec<Item>,
}

impl Default for Units {
    fn default() -> Self {
        Self::standard()
    }
}

impl Units {
    /// The units that are always there.
    pub fn standard() -> Self {
        Self {
            items: ITEMS.iter().filter_map(|name| Item::new(name)).collect(),
        }
    }

    /// Adds a kind of counted thing.
    pub fn declare(&mut self, item: Item) {
        if !self.items.contains(&item) {
            self.items.push(item);
        }
    }

    /// Whether a word is a unit by itself.
    pub fn knows(&self, word: &str) -> bool {
        self.parse(word).is_ok()
    }

    /// Reads a unit: simple (`ft`, `%`, `bag`), with a power (`ft2`, `m³`), or a rate
    /// (`ft3/bag`, `USD/h`, `h/ft2`, `1/ft2`). A currency is any ISO 4217 code.
    pub fn parse(&self, text: &str) -> Result<Unit, UnitError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(UnitError::Empty);
        }
        if let Some((_, up, down, offset)) = SCALES.iter().find(|(name, ..)| *name == spelt(text)) {
            let (up, down) = (Decimal::from(*up), Decimal::from(*down));
            let dim = Dim::TEMPERATURE;
            return Ok(Unit {
                text: text.into(),
                dim,
                up,
                down,
                offset: *offset,
            });
        }
        let mut unit = Unit {
            text: text.into(),
            ..Unit::plain()
        };
        for (index, part) in text.split('/').enumerate() {
            let (dim, factor) = self.part(part.trim())?;
            let (dim, slot) = match index {
                0 => (Some(dim), &mut unit.up),
                _ => (unit.dim.over(dim), &mut unit.down),
            };
            unit.dim = dim.ok_or(UnitError::TooComplex)?;
            *slot = slot.checked_mul(factor).ok_or(UnitError::TooComplex)?;
        }
        Ok(unit)
    }

    /// One word of a unit: its dimension and exact factor.
    fn part(&self, word: &str) -> Result<(Dim, Decimal), UnitError> {
        let word = spelt(word);
        if word == "1" {
            return Ok((Dim::NONE, Decimal::ONE));
        }
        if let Some(found) = NAMED.iter().find(|named| named.name == word) {
            return Ok((found.dim, found.factor));
        }
        if let Some(item) = self.items.iter().find(|item| item.name() == word) {
            return Ok((Dim::item(*item), Decimal::ONE));
        }
        if crate::money::Currency::from_code(word).is_some() {
            return Ok((Dim::MONEY, Decimal::ONE));
        }
        if SCALES.iter().any(|(name, ..)| *name == word) {
            return Err(UnitError::TemperatureInRate);
        }
        self.power(word).ok_or_else(|| self.unknown(word))
    }

    /// A length with a power behind it.
    fn power(&self, word: &str) -> Option<(Dim, Decimal)> {
        let (name, power) = match word.char_indices().next_back()? {
            (at, '2' | '²') => (&word[..at], 2),
            (at, '3' | '³') => (&word[..at], 3),
            _ => return None,
        };
        let name = spelt(name);
        let found = NAMED
            .iter()
            .find(|named| named.name == name && named.dim == Dim::LENGTH)?;
        let factor = (1..power).try_fold(found.factor, |sum, _| sum.checked_mul(found.factor))?;
        Some((found.dim.power(power as i8)?, factor))
    }

    fn unknown(&self, word: &str) -> UnitError {
        let names = NAMED
            .iter()
            .map(|named| named.name)
            .chain(["F", "C", "ft2", "ft3", "m2", "m3"]);
        let names = names.chain(self.items.iter().map(Item::name));
        let names = names.chain(SPELLINGS.iter().map(|(other, _)| *other));
        let nearest = crate::suggest::nearest(word, names).map(|name| spelt(name).to_owned());
        UnitError::Unknown {
            word: word.to_owned(),
            nearest,
        }
    }
}

fn spelt(word: &str) -> &str {
    SPELLINGS
        .iter()
        .find(|(other, _)| *other == word)
        .map_or(word, |(_, name)| name)
}

#[cfg(test)]
mod tests;
