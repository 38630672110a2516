//! Dimensions: what kind of thing a quantity measures.

mod things;

use std::fmt;
use things::Things;

/// One kind of counted thing: a bag, a pail, a roll, a sheet. Each kind is a dimension of its
/// own, so that bags never add to rolls and `ft3/bag` means what it says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Item([u8; Item::MAX_LETTERS]);

impl Item {
    /// The longest name of a counted thing, in letters.
    pub const MAX_LETTERS: usize = 8;

    /// A counted thing by its singular name: one to eight lower-case ASCII letters.
    pub fn new(name: &str) -> Option<Self> {
        let bytes = name.as_bytes();
        let fits = !bytes.is_empty() && bytes.len() <= Self::MAX_LETTERS;
        if !fits || !bytes.iter().all(u8::is_ascii_lowercase) {
            return None;
        }
        let mut letters = [0; Self::MAX_LETTERS];
        for (slot, byte) in letters.iter_mut().zip(bytes) {
            *slot = *byte;
        }
        Some(Self(letters))
    }

    /// The singular name.
    pub fn name(&self) -> &str {
        std::str::from_utf8(&self.0)
            .unwrap_or("")
            .trim_end_matches('\0')
    }
}

impl fmt::Debug for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A dimension: exponents over length, mass, time, temperature and money, and over at most two
/// kinds of counted things. Two are enough for any rate a trade writes (`bag/pail`); more are
/// refused as an arithmetic error.
///
/// Every figure of a job has one, so it is kept small: 16 bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Dim {
    base: [i8; 5],
    things: Things,
}

impl Dim {
    /// A plain number.
    pub const NONE: Self = Self::of(0, 0, 0, 0, 0);
    /// A length.
    pub const LENGTH: Self = Self::of(1, 0, 0, 0, 0);
    /// An area.
    pub const AREA: Self = Self::of(2, 0, 0, 0, 0);
    /// A volume.
    pub const VOLUME: Self = Self::of(3, 0, 0, 0, 0);
    /// A mass.
    pub const MASS: Self = Self::of(0, 1, 0, 0, 0);
    /// A time.
    pub const TIME: Self = Self::of(0, 0, 1, 0, 0);
    /// A temperature.
    pub const TEMPERATURE: Self = Self::of(0, 0, 0, 1, 0);
    /// Money, in the currency of the job.
    pub const MONEY: Self = Self::of(0, 0, 0, 0, 1);
    /// A speed.
    pub const SPEED: Self = Self::of(1, 0, -1, 0, 0);

    const fn of(length: i8, mass: i8, time: i8, temperature: i8, money: i8) -> Self {
        Self {
            base: [length, mass, time, temperature, money],
            things: Things::NONE,
        }
    }

    /// A count of one kind of thing.
    pub fn item(item: Item) -> Self {
        Self {
            base: [0; 5],
            things: Things::one(item),
        }
    }

    /// The dimension of a product; `None` when an exponent or the kinds of counted things
    /// outgrow what a dimension can hold.
    pub fn times(self, other: Self) -> Option<Self> {
        self.combine(other, 1)
    }

    /// The dimension of a quotient, under the same limits as [`Self::times`].
    pub fn over(self, other: Self) -> Option<Self> {
        self.combine(other, -1)
    }

    /// The dimension of a whole power, under the same limits as [`Self::times`].
    pub fn power(self, exponent: i8) -> Option<Self> {
        let mut out = self;
        for slot in &mut out.base {
            *slot = within(slot.checked_mul(exponent)?)?;
        }
        out.things = self.things.map(|power| power.checked_mul(exponent))?;
        Some(out)
    }

    /// The dimension of a square root; `None` where an exponent is odd.
    pub fn root(self) -> Option<Self> {
        let halve = |power: i8| (power % 2 == 0).then_some(power / 2);
        let mut out = self;
        for slot in &mut out.base {
            *slot = halve(*slot)?;
        }
        out.things = self.things.map(halve)?;
        Some(out)
    }

    /// Whether this is a plain number.
    pub fn is_none(self) -> bool {
        self == Self::NONE
    }

    /// The kind of thing counted, where this is a plain count of one.
    pub fn as_item(self) -> Option<Item> {
        let mut counted = self.counted();
        match (self.base, counted.next(), counted.next()) {
            ([0, 0, 0, 0, 0], Some((item, 1)), None) => Some(item),
            _ => None,
        }
    }

    /// The exponents of length, mass, time, temperature and money.
    pub fn powers(self) -> [i8; 5] {
        self.base
    }

    /// The counted things with their exponents.
    pub fn counted(self) -> impl Iterator<Item = (Item, i8)> {
        self.things.all()
    }

    fn combine(self, other: Self, sign: i8) -> Option<Self> {
        let mut base = self.base;
        for (slot, power) in base.iter_mut().zip(other.base) {
            *slot = within(slot.checked_add(power * sign)?)?;
        }
        let things = self.things.combined(other.things, sign)?;
        Some(Self { base, things })
    }

    /// The dimension in an estimator's words: "a length", "an area", "a volume per bag".
    pub fn words(self) -> String {
        if let Some(words) = self.simple_words() {
            return words;
        }
        let (top, bottom) = self.split();
        let upper = match top.simple_words() {
            Some(words) if top.is_none() => words.replace("a plain number", "a rate"),
            Some(words) => words,
            None => format!("a quantity in {}", top.symbols()),
        };
        let lower = bottom.simple_words().map_or_else(
            || bottom.symbols(),
            |words| {
                words
                    .trim_start_matches("a count of ")
                    .trim_start_matches("an ")
                    .trim_start_matches("a ")
                    .to_owned()
            },
        );
        let lower = bottom
            .as_item()
            .map_or(lower, |item| item.name().to_owned());
        format!("{upper} per {lower}")
    }

    fn simple_words(self) -> Option<String> {
        let fixed = match self.base {
            _ if self.things != Things::NONE => "",
            [0, 0, 0, 0, 0] => "a plain number",
            [1, 0, 0, 0, 0] => "a length",
            [2, 0, 0, 0, 0] => "an area",
            [3, 0, 0, 0, 0] => "a volume",
            [0, 1, 0, 0, 0] => "a mass",
            [0, 0, 1, 0, 0] => "a time",
            [0, 0, 0, 1, 0] => "a temperature",
            [0, 0, 0, 0, 1] => "an amount of money",
            [1, 0, -1, 0, 0] => "a speed",
            _ => "",
        };
        match self.as_item() {
            Some(item) => Some(format!("a count of {}s", item.name())),
            None => (!fixed.is_empty()).then(|| fixed.to_owned()),
        }
    }

    /// Numerator and denominator as dimensions of their own, both with positive exponents.
    fn split(self) -> (Self, Self) {
        let part = |sign: i8| {
            let keep = |power: i8| {
                if power.signum() == sign {
                    power * sign
                } else {
                    0
                }
            };
            Self {
                base: self.base.map(keep),
                things: self
                    .things
                    .map(|power| Some(keep(power)))
                    .unwrap_or_default(),
            }
        };
        (part(1), part(-1))
    }

    /// The dimension as symbols of the SI base units and item names: `m3/bag`, `1/m2`.
    pub fn symbols(self) -> String {
        self.symbols_in(["m", "kg", "s", "K", "money"])
    }

    /// The dimension as symbols of other units of length, mass, time, temperature and money:
    /// `ft3/bag`.
    pub fn symbols_in(self, names: [&str; 5]) -> String {
        let (mut top, mut bottom) = (Vec::new(), Vec::new());
        let powers = names.into_iter().zip(self.base);
        let powers = powers.map(|(name, power)| (name.to_owned(), power));
        let items = self
            .counted()
            .map(|(item, power)| (item.name().to_owned(), power));
        for (name, power) in powers.chain(items) {
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
        let upper = if top.is_empty() {
            "1".to_owned()
        } else {
            top.join("·")
        };
        if bottom.is_empty() {
            upper
        } else {
            format!("{upper}/{}", bottom.join("/"))
        }
    }
}

/// No exponent of anything that can be measured goes beyond this, and within it none overflows
/// when its sign is changed.
fn within(power: i8) -> Option<i8> {
    (-32..=32).contains(&power).then_some(power)
}

#[cfg(test)]
mod tests;
