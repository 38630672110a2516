//! Numbers as offices write them.

use compact_str::{CompactString, ToCompactString, format_compact};

/// What stands before the decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Decimal {
    /// `1,234.5`
    Point,
    /// `1.234,5`
    Comma,
}

impl Decimal {
    fn mark(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }

    fn group(self) -> char {
        match self {
            Self::Point => ',',
            Self::Comma => '.',
        }
    }
}

/// A number without its sign, with the digits that were written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Number {
    /// Short, so that it needs no place of its own on the heap.
    written: CompactString,
    value: f64,
    decimals: u16,
    /// Whether it is below zero.
    pub(super) negative: bool,
}

impl Number {
    /// A number of a cell. Its shortest form that gives the same number again is what it says.
    pub(super) fn of(value: f64) -> Self {
        let size = value.abs();
        let written = shortest(size);
        Self {
            decimals: behind_point(&written),
            written,
            value: size,
            negative: value < 0.0,
        }
    }

    /// A part of one.
    pub(super) fn fraction(top: u8, bottom: u8) -> Self {
        Self {
            written: format_compact!("{top}/{bottom}"),
            value: f64::from(top) / f64::from(bottom),
            decimals: 3,
            negative: false,
        }
    }

    /// As a plan writes it, with a point.
    pub(super) fn written(&self) -> &str {
        &self.written
    }

    /// The same with a unit behind it.
    pub(super) fn written_with(self, unit: &str) -> CompactString {
        let mut written = self.written;
        written.push_str(unit);
        written
    }

    /// The number.
    pub(super) fn value(&self) -> f64 {
        self.value
    }

    /// Digits behind the point; of a fraction, those that show it to an eighth.
    pub(super) fn decimals(&self) -> u16 {
        self.decimals
    }

    /// Reads a number at the beginning of a text, and how many bytes it takes: `1,234.5`, `3/4`,
    /// `6 3/4`, `6-3/4`.
    pub(super) fn read(text: &str, decimal: Decimal) -> Result<(Self, usize), String> {
        let (digits, length) = digits(text, decimal)?;
        let rest = text.get(length..).unwrap_or("");
        if let Some((bottom, more)) = over(rest) {
            let top: u32 = whole(&digits)?;
            return mixed(0, top, bottom, length + more);
        }
        let joined = rest.strip_prefix([' ', '-']);
        if let Some(behind) = joined
            && !digits.contains('.')
            && let Ok((top, top_length)) = self::digits(behind, decimal)
            && let Some((bottom, more)) = over(behind.get(top_length..).unwrap_or(""))
        {
            let length = length + 1 + top_length + more;
            return mixed(whole(&digits)?, whole(&top)?, bottom, length);
        }
        let value: f64 = digits
            .parse()
            .map_err(|_| format!("`{text}` is no number"))?;
        let number = Self {
            decimals: behind_point(&digits),
            written: digits,
            value,
            negative: false,
        };
        Ok((number, length))
    }
}

/// How many digits stand behind the point.
fn behind_point(digits: &str) -> u16 {
    let point = digits.bytes().position(|byte| byte == b'.');
    let behind = point.map_or(0, |point| digits.len() - point - 1);
    u16::try_from(behind).unwrap_or(u16::MAX)
}

/// The shortest digits that give a number again, without a power of ten.
///
/// Sizes of walls have few digits. Of such a one so many ten-thousandths are a whole number below
/// 2^53, and those over 10,000 are the number again; since no other decimal of up to 15 digits
/// gives it, they are its shortest form, which is cheaper to write than to search.
fn shortest(size: f64) -> CompactString {
    const PARTS: f64 = 10_000.0;
    const MOST: f64 = 1e10;
    let parts = size * PARTS;
    let is_short = size < MOST && parts as u64 as f64 == parts && parts / PARTS == size;
    if !is_short {
        return format_compact!("{size}");
    }
    let (mut parts, mut decimals) = (parts as u64, 4);
    while decimals > 0 && parts.is_multiple_of(10) {
        parts /= 10;
        decimals -= 1;
    }
    let digits = parts.to_compact_string();
    let point = digits.len().saturating_sub(decimals);
    let (whole, behind) = digits.split_at_checked(point).unwrap_or((&digits, ""));
    let mut written = CompactString::from(if whole.is_empty() { "0" } else { whole });
    if decimals > 0 {
        written.push('.');
        (behind.len()..decimals).for_each(|_| written.push('0'));
        written.push_str(behind);
    }
    written
}

fn whole(digits: &str) -> Result<u32, String> {
    digits
        .parse()
        .map_err(|_| format!("`{digits}` is no whole number"))
}

/// `/4` at the beginning of a text: the number under the line, and how many bytes it takes.
fn over(text: &str) -> Option<(u32, usize)> {
    let behind = text.strip_prefix('/')?;
    let end = behind
        .find(|ch: char| !ch.is_ascii_digit())
        .unwrap_or(behind.len());
    let bottom = behind.get(..end)?.parse().ok()?;
    Some((bottom, 1 + end))
}

fn mixed(before: u32, top: u32, bottom: u32, length: usize) -> Result<(Number, usize), String> {
    if bottom == 0 {
        return Err(format!(
            "`{top}/0` is no fraction; if it is {top} feet, it is written `{top}'`"
        ));
    }
    let written = match before {
        0 => format_compact!("{top}/{bottom}"),
        _ => format_compact!("{before} {top}/{bottom}"),
    };
    let number = Number {
        written,
        value: f64::from(before) + f64::from(top) / f64::from(bottom),
        decimals: 3,
        negative: false,
    };
    Ok((number, length))
}

/// Digits with their groups taken out and a point before the decimals, and how many bytes they take.
fn digits(text: &str, decimal: Decimal) -> Result<(CompactString, usize), String> {
    let bytes = text.as_bytes();
    let is_digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let run = |from: usize| (from..).take_while(|at| is_digit(*at)).count();
    let (mut digits, mut at) = (CompactString::default(), run(0));
    digits.push_str(text.get(..at).unwrap_or(""));
    let is_group = |ch: u8| char::from(ch) == decimal.group() || ch == b' ';
    // Groups of three, as long as they are just that.
    while (1..=3).contains(&at) || digits.len() > 3 {
        let Some(_) = bytes.get(at).filter(|ch| is_group(**ch)) else {
            break;
        };
        if run(at + 1) != 3 || bytes.get(at + 4) == Some(&b'/') {
            break;
        }
        digits.push_str(text.get(at + 1..at + 4).unwrap_or(""));
        at += 4;
    }
    if bytes
        .get(at)
        .is_some_and(|ch| char::from(*ch) == decimal.mark())
        && is_digit(at + 1)
    {
        let length = run(at + 1);
        if digits.is_empty() {
            digits.push('0');
        }
        digits.push('.');
        digits.push_str(text.get(at + 1..at + 1 + length).unwrap_or(""));
        at += 1 + length;
    }
    let mark_again = bytes.get(at).is_some_and(|ch| matches!(ch, b'.' | b',')) && is_digit(at + 1);
    if digits.is_empty() || mark_again {
        return Err(format!("`{text}` is no number"));
    }
    Ok((digits, at))
}

/// What the texts of a file say about points and commas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Evidence {
    /// Some number can only have a point before its decimals.
    pub point: bool,
    /// Some number can only have a comma before its decimals.
    pub comma: bool,
    /// Some number could be thousands or decimals, with a comma in it.
    pub open: bool,
    /// The same with a point in it, as `1.850`.
    pub open_point: bool,
}

impl Evidence {
    /// What either of both says.
    pub(crate) fn with(self, other: Self) -> Self {
        Self {
            point: self.point || other.point,
            comma: self.comma || other.comma,
            open: self.open || other.open,
            open_point: self.open_point || other.open_point,
        }
    }
}

/// What the numbers of a text say about points and commas: `1.250 x 2.4`.
pub fn evidence(text: &str) -> Evidence {
    let is_of_number = |ch: char| ch.is_ascii_digit() || matches!(ch, '.' | ',');
    let numbers = text.split(|ch: char| !is_of_number(ch));
    let numbers = numbers.map(|number| number.trim_end_matches(['.', ',']));
    let numbers = numbers.filter(|number| number.contains(|ch: char| ch.is_ascii_digit()));
    numbers.fold(Evidence::default(), |all, number| all.with(of_one(number)))
}

fn of_one(number: &str) -> Evidence {
    let (points, commas) = (number.matches('.').count(), number.matches(',').count());
    let three_behind = |mark: char| {
        let last = number.rsplit(mark).next().map_or(0, str::len);
        let first = number.split(mark).next().map_or(0, str::len);
        last == 3 && (1..=3).contains(&first) && !number.starts_with('0')
    };
    let last_is = |mark: char| {
        number
            .rfind(['.', ','])
            .is_some_and(|at| number[at..].starts_with(mark))
    };
    match (points, commas) {
        (0, 0) => Evidence::default(),
        (1, 0) => Evidence {
            point: !three_behind('.'),
            open_point: three_behind('.'),
            ..Evidence::default()
        },
        (0, 1) => Evidence {
            comma: !three_behind(','),
            open: three_behind(','),
            ..Evidence::default()
        },
        (1, _) if last_is('.') => Evidence {
            point: true,
            ..Evidence::default()
        },
        (_, 1) if last_is(',') => Evidence {
            comma: true,
            ..Evidence::default()
        },
        // Several of one mark are groups of three, so the other stands before decimals.
        (_, 0) => Evidence {
            comma: true,
            ..Evidence::default()
        },
        (0, _) => Evidence {
            point: true,
            ..Evidence::default()
        },
        _ => Evidence::default(),
    }
}

#[cfg(test)]
mod tests;
