//! Counted things with their exponents, packed: a letter takes five bits, an exponent four.

use super::Item;

/// Bytes of a packed name.
const NAME: usize = 5;

/// The letter before `a`: a name's unused letters are 0.
const BEFORE_A: u8 = b'a' - 1;

/// At most two kinds of counted things, in the order of their names, each with an exponent that is
/// not 0 and not beyond [`MOST`]. What is not used is 0, so equal ones are equal byte by byte.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(super) struct Things {
    names: [[u8; NAME]; 2],
    /// The exponent of the first in the lower half, of the second in the upper.
    powers: u8,
}

/// The largest exponent: of a thing that is counted nobody has its eighth power.
const MOST: i8 = 7;

impl Things {
    pub(super) const NONE: Self = Self {
        names: [[0; NAME]; 2],
        powers: 0,
    };

    /// A count of one thing.
    pub(super) fn one(item: Item) -> Self {
        Self {
            names: [packed(item), [0; NAME]],
            powers: 1,
        }
    }

    /// Each with its exponent.
    pub(super) fn all(self) -> impl Iterator<Item = (Item, i8)> {
        self.packed().map(|(name, power)| (unpacked(name), power))
    }

    /// The things of a product, or with sign -1 of a quotient; `None` where there are too many, or
    /// an exponent is too large.
    pub(super) fn combined(self, other: Self, sign: i8) -> Option<Self> {
        match (self == Self::NONE, other == Self::NONE) {
            (_, true) => return Some(self),
            (true, _) => return other.map(|power| power.checked_mul(sign)),
            _ => {}
        }
        let mut sums = [([0; NAME], 0i8); 4];
        let signed = other.packed().map(|(name, power)| (name, power * sign));
        for (name, power) in self.packed().chain(signed) {
            // Four places are enough for two and two.
            let slot = sums
                .iter_mut()
                .find(|(known, _)| *known == name || *known == [0; NAME])?;
            *slot = (name, slot.1 + power);
        }
        Self::of(sums)
    }

    /// The same with other exponents; `None` where there is none for one.
    pub(super) fn map(self, to: impl Fn(i8) -> Option<i8>) -> Option<Self> {
        let mut out = [([0; NAME], 0); 2];
        for (slot, (name, power)) in out.iter_mut().zip(self.packed()) {
            *slot = (name, to(power)?);
        }
        Self::of(out)
    }

    fn of<const N: usize>(mut all: [([u8; NAME], i8); N]) -> Option<Self> {
        all.sort_unstable();
        let mut out = Self::NONE;
        let mut used = all.into_iter().filter(|(_, power)| *power != 0);
        for (at, slot) in out.names.iter_mut().enumerate() {
            let Some((name, power)) = used.next() else {
                break;
            };
            if !(-MOST..=MOST).contains(&power) {
                return None;
            }
            *slot = name;
            out.powers |= (power as u8 & 0x0f) << (4 * at);
        }
        used.next().is_none().then_some(out)
    }

    fn packed(self) -> impl Iterator<Item = ([u8; NAME], i8)> {
        // Shifted up and down again, so that the sign is kept.
        let powers = [(self.powers << 4) as i8 >> 4, self.powers as i8 >> 4];
        let all = self.names.into_iter().zip(powers);
        all.filter(|(_, power)| *power != 0)
    }
}

/// A name in five bits a letter, the first letter in the highest, so that names keep their order.
fn packed(item: Item) -> [u8; NAME] {
    let letter = |bits: u64, letter: u8| bits << 5 | u64::from(letter.saturating_sub(BEFORE_A));
    let bits = item.0.into_iter().fold(0, letter);
    let [.., a, b, c, d, e] = bits.to_be_bytes();
    [a, b, c, d, e]
}

fn unpacked([a, b, c, d, e]: [u8; NAME]) -> Item {
    let mut bits = u64::from_be_bytes([0, 0, 0, a, b, c, d, e]);
    let mut letters = [0; Item::MAX_LETTERS];
    for slot in letters.iter_mut().rev() {
        if bits & 0x1f != 0 {
            *slot = BEFORE_A + (bits & 0x1f) as u8;
        }
        bits >>= 5;
    }
    Item(letters)
}

#[cfg(test)]
mod tests;
