//! What a cell says: a length, two lengths, an area, a count, or why it says none of these.
//!
//! A figure is made here and nowhere else, from a number AND a unit AND the cell they stand in, so
//! that no bare number can become the size of a face. It keeps how it is written in a plan
//! (`8ft 6 1/2in`), which loses no digit of the cell.

mod date;
mod number;
mod pieces;
mod unit;

pub use number::{Decimal, Evidence, evidence};
pub use unit::{LengthUnit, UnitWord, in_format, unit_in_words, whole_unit};

use crate::grid::{At, Cell, Content};
use compact_str::{CompactString, format_compact};
use date::fraction_of;
use number::Number;
use parge_base::Dim;
use pieces::{Piece, Pieces, pieces};
use rust_decimal::Decimal as Exact;
use smallvec::{SmallVec, smallvec};

/// Lengths over this are no sizes of a face, in metres.
const LONGEST: f64 = 10_000.0;
/// The same for areas, in square metres.
const LARGEST: f64 = 10_000_000.0;

/// Where a figure has its unit from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum UnitFrom {
    /// The cell itself.
    Cell,
    /// The cell's number format, which shows it.
    Format,
    /// The header of its column.
    Header,
    /// A column of units, in the same row.
    Row,
    /// A note on the sheet.
    Note,
    /// The profile, or an answer.
    Profile,
}

impl UnitFrom {
    /// All of them, in their order.
    pub(crate) const ALL: [Self; 6] = [
        Self::Cell,
        Self::Format,
        Self::Header,
        Self::Row,
        Self::Note,
        Self::Profile,
    ];

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Cell => "in the cell",
            Self::Format => "in the number format",
            Self::Header => "in the header",
            Self::Row => "in the row",
            Self::Note => "in a note on the sheet",
            Self::Profile => "in an answer",
        }
    }
}

/// What a cell of sizes holds: one of them mostly, and two at most.
pub type Figures = SmallVec<[Figure; 2]>;

/// A length or an area that stands in a cell. A sheet has hundreds of thousands, so it is kept small
/// and in one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    size: f64,
    is_area: bool,
    written: CompactString,
    negative: bool,
    decimals: u16,
    /// The unit of the last number that is written.
    unit: LengthUnit,
    at: At,
    unit_from: UnitFrom,
    was_text: bool,
}

impl Figure {
    /// Its size, without a sign, in base units.
    pub fn size(&self) -> f64 {
        self.size
    }

    /// Length or area.
    pub fn dim(&self) -> Dim {
        match self.is_area {
            true => Dim::AREA,
            false => Dim::LENGTH,
        }
    }

    /// As a plan writes it.
    pub fn written(&self) -> &str {
        &self.written
    }

    /// Whether a minus, or brackets as accountants write it, stands before it.
    pub fn is_negative(&self) -> bool {
        self.negative
    }

    /// The cell.
    pub fn at(&self) -> At {
        self.at
    }

    /// Where its unit comes from.
    pub fn unit_from(&self) -> UnitFrom {
        self.unit_from
    }

    /// Whether the cell holds the number as text, in a file that has numbers.
    pub fn was_text(&self) -> bool {
        self.was_text
    }

    /// Half of the last digit that is written, in base units: how far the figure may be off for
    /// having been rounded.
    pub fn half_digit(&self) -> f64 {
        let step = match self.is_area {
            true => self.unit.factor(Dim::AREA).unwrap_or(1.0),
            false => self.unit.metres(),
        };
        0.1_f64.powi(i32::from(self.decimals)) * step * 0.5
    }

    /// The number that is written, for a figure of one unit.
    pub(crate) fn written_number(&self) -> f64 {
        let end = self
            .written
            .find(|ch: char| ch.is_alphabetic())
            .unwrap_or(self.written.len());
        let number = self
            .written
            .get(..end)
            .and_then(|text| text.parse::<f64>().ok());
        number.filter(|number| *number > 0.0).unwrap_or(1.0)
    }

    /// Digits behind the point.
    pub fn decimals(&self) -> u32 {
        u32::from(self.decimals)
    }
}

/// How many of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    /// How many, without a sign.
    pub number: u32,
    /// Whether a minus stands before it.
    pub negative: bool,
    /// The cell.
    pub at: At,
    /// Whether the cell holds it as text, in a file that has numbers.
    pub was_text: bool,
}

/// Why a cell says no figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// It is a plain number, and nothing says of what unit.
    NoUnit,
    /// It is a day that a spreadsheet may have made of the fraction; both as written.
    Date {
        /// The day.
        day: String,
        /// The fraction.
        fraction: String,
    },
    /// Anything else, in words.
    Unclear(String),
}

impl Why {
    fn unclear(words: impl Into<String>) -> Self {
        Self::Unclear(words.into())
    }
}

/// How the cells of a column are read.
#[derive(Debug, Clone, Copy)]
pub struct Manner {
    /// What stands before the decimals.
    pub decimal: Decimal,
    /// The unit of lengths that name none.
    pub length: Option<(LengthUnit, UnitFrom)>,
    /// The unit of areas that name none.
    pub area: Option<(LengthUnit, UnitFrom)>,
    /// Whether days are fractions that a spreadsheet turned into days.
    pub dates_are_fractions: bool,
    /// Whether the file has numbers, so that one that is text is a slip.
    pub has_numbers: bool,
}

/// Reads a cell of one length, or of two with a cross between: `102 x 30`.
pub fn lengths(cell: &Cell, at: At, manner: &Manner) -> Result<Figures, Why> {
    let text = match plain(cell, manner)? {
        Plain::Number(number) => return Ok(smallvec![of_number(cell, number, at, manner)?]),
        Plain::Text(text) => text,
    };
    let (sides, negative) = sides(&text)?;
    let read: SmallVec<[Pieces; 2]> = sides
        .iter()
        .map(|side| pieces(side, manner.decimal).map_err(Why::Unclear))
        .collect::<Result<_, _>>()?;
    // `102 x 30 in`: the unit behind the last holds for the first as well.
    let behind = match read.as_slice() {
        [first, .., last] if first.iter().all(|piece| piece.unit.is_none()) => last
            .last()
            .and_then(|piece| piece.unit)
            .and_then(UnitWord::length),
        _ => None,
    };
    let unit = behind.map(|unit| (unit, UnitFrom::Cell)).or(manner.length);
    let is_bare = matches!(read.as_slice(), [one] if one.iter().all(|piece| piece.unit.is_none()));
    let was_text = is_bare && manner.has_numbers;
    let figures = read.iter().map(|pieces| {
        let figure = one_length(pieces, unit, at, was_text)?;
        Ok(Figure { negative, ..figure })
    });
    figures.collect()
}

/// Reads a cell of one length; none where it holds two.
pub fn length(cell: &Cell, at: At, manner: &Manner) -> Result<Option<Figure>, Why> {
    if let Content::Number(number) = cell.content {
        return of_number(cell, Number::of(number), at, manner).map(Some);
    }
    let mut read = lengths(cell, at, manner)?;
    Ok(read.pop().filter(|_| read.is_empty()))
}

/// The length that a number is in the unit of its cell or of its column.
fn of_number(cell: &Cell, number: Number, at: At, manner: &Manner) -> Result<Figure, Why> {
    let unit = in_format(cell.format.as_deref()).and_then(|word| word.length());
    let unit = unit.map(|unit| (unit, UnitFrom::Format)).or(manner.length);
    let (unit, unit_from) = unit.ok_or(Why::NoUnit)?;
    let size = number.value() * unit.factor(Dim::LENGTH)?;
    in_bounds(size, LONGEST, "a length")?;
    Ok(Figure {
        size,
        is_area: false,
        negative: number.negative,
        decimals: number.decimals(),
        written: number.written_with(unit.word()),
        unit,
        at,
        unit_from,
        was_text: false,
    })
}

/// A length that somebody states for cells that have none, as `8ft 6in`.
pub fn given_length(text: &str) -> Result<Figure, Why> {
    let nowhere = At {
        sheet: 0,
        row: 0,
        column: 0,
    };
    given_length_at(text, nowhere)
}

/// The same for a cell.
pub(crate) fn given_length_at(text: &str, at: At) -> Result<Figure, Why> {
    let text = pieces::normal(text);
    let pieces = pieces(&text, Decimal::Point).map_err(Why::Unclear)?;
    let figure = one_length(&pieces, None, at, false)?;
    Ok(Figure {
        unit_from: UnitFrom::Profile,
        ..figure
    })
}

/// Feet and inches from two cells beside each other.
pub(crate) fn feet_and_inches(feet: &Figure, inches: &Figure) -> Figure {
    Figure {
        size: feet.size() + inches.size(),
        written: format_compact!("{} {}", feet.written, inches.written),
        unit: inches.unit,
        decimals: inches.decimals,
        was_text: feet.was_text || inches.was_text,
        ..*feet
    }
}

/// Reads a cell of an area.
pub fn area(cell: &Cell, at: At, manner: &Manner) -> Result<Figure, Why> {
    let (piece, negative, was_text) = match plain(cell, manner)? {
        Plain::Number(number) => {
            let unit = in_format(cell.format.as_deref());
            (Piece { number, unit }, false, false)
        }
        Plain::Text(text) => {
            let (text, negative) = unsigned(&text);
            match pieces(text, manner.decimal)
                .map_err(Why::Unclear)?
                .as_slice()
            {
                [piece] => {
                    let bare = piece.unit.is_none() && manner.has_numbers;
                    (piece.clone(), negative, bare)
                }
                _ => return Err(Why::unclear(format!("`{text}` is no area"))),
            }
        }
    };
    let stands = match piece.unit {
        Some(UnitWord::Area(unit)) if cell.is_number() => Some((unit, UnitFrom::Format)),
        Some(UnitWord::Area(unit)) => Some((unit, UnitFrom::Cell)),
        Some(other) => {
            return Err(Why::unclear(format!(
                "`{}` is no unit of area",
                other.word()
            )));
        }
        None => manner.area,
    };
    let (unit, unit_from) = stands.ok_or(Why::NoUnit)?;
    let number = &piece.number;
    let factor = unit.factor(Dim::AREA)?;
    let value = number.value() * factor;
    in_bounds(value, LARGEST, "an area")?;
    Ok(Figure {
        size: value,
        is_area: true,
        written: format_compact!("{}{}2", number.written(), unit.word()),
        negative: negative || number.negative,
        decimals: number.decimals(),
        unit,
        at,
        unit_from,
        was_text,
    })
}

/// Reads a cell of a count: `4`, `4 nos`, `x 4`.
pub fn count(cell: &Cell, at: At, manner: &Manner) -> Result<Count, Why> {
    if let Content::Number(number) = cell.content {
        return counted(number.abs(), number < 0.0, at, false);
    }
    let (number, negative, was_text) = match plain(cell, manner)? {
        Plain::Number(number) => (number, false, false),
        Plain::Text(text) => {
            let (unsigned, negative) = unsigned(&text);
            let bare = unsigned.trim_start_matches(['x', 'X', '×', '@']).trim();
            let read = pieces(bare, manner.decimal).map_err(Why::Unclear)?;
            match read.as_slice() {
                [Piece { number, unit: None }] => (number.clone(), negative, manner.has_numbers),
                [
                    Piece {
                        number,
                        unit: Some(UnitWord::Each),
                    },
                ] => (number.clone(), negative, false),
                _ => return Err(Why::unclear(format!("`{text}` is no count"))),
            }
        }
    };
    counted(number.value(), negative || number.negative, at, was_text)
}

/// A number as a count.
fn counted(value: f64, negative: bool, at: At, was_text: bool) -> Result<Count, Why> {
    if value.fract() != 0.0 || value > f64::from(u16::MAX) {
        return Err(Why::unclear(format!(
            "a count of {value} is no whole number of faces"
        )));
    }
    if value == 0.0 {
        return Err(Why::unclear("the count is 0"));
    }
    Ok(Count {
        number: value as u32,
        negative,
        at,
        was_text,
    })
}

/// A number digit by digit, not below zero, and the words behind it: `1.024,80`, `50 lb bag`. None
/// where it begins with no number, or with a fraction that no decimal is.
pub fn exact(content: &Content, decimal: Decimal) -> Option<(Exact, String)> {
    let (number, rest) = match content {
        Content::Number(number) => (Number::of(*number), String::new()),
        Content::Text(text) => {
            let text = text.replace('\u{a0}', " ");
            let (number, length) = Number::read(&text, decimal).ok()?;
            let rest = text.get(length..).unwrap_or("").trim().to_owned();
            (number, rest)
        }
        _ => return None,
    };
    let exact = number.written().parse::<Exact>().ok()?;
    (!number.negative).then_some((exact, rest))
}

/// A cell as a number or words, once what is neither is out of the way.
enum Plain {
    Number(Number),
    Text(String),
}

fn plain(cell: &Cell, manner: &Manner) -> Result<Plain, Why> {
    match &cell.content {
        Content::Number(number) => Ok(Plain::Number(Number::of(*number))),
        Content::Text(text) => Ok(Plain::Text(pieces::normal(text))),
        Content::Nothing => Err(Why::unclear(
            "the formula has no stored result: open the file in a spreadsheet program and save it",
        )),
        Content::Fault(fault) => Err(Why::unclear(format!("the cell shows `{fault}`"))),
        Content::Flag(_) => Err(Why::unclear("the cell holds yes or no")),
        Content::Date(year, month, day) => {
            let shown = format!("{year:04}-{month:02}-{day:02}");
            match fraction_of(*month, *day) {
                Some((top, bottom)) if manner.dates_are_fractions => {
                    Ok(Plain::Number(Number::fraction(top, bottom)))
                }
                Some((top, bottom)) => Err(Why::Date {
                    day: shown,
                    fraction: format!("{top}/{bottom}"),
                }),
                None => Err(Why::unclear(format!("the cell holds the day {shown}"))),
            }
        }
    }
}

/// The texts on both sides of a cross, and whether brackets or a minus stand around.
fn sides(text: &str) -> Result<(Vec<String>, bool), Why> {
    let (text, negative) = unsigned(text);
    let sides: Vec<String> = pieces::across(text);
    if sides.len() > 2 {
        return Err(Why::unclear(format!(
            "`{text}` has {} sizes, and a face has two",
            sides.len()
        )));
    }
    Ok((sides, negative))
}

fn unsigned(text: &str) -> (&str, bool) {
    let text = text.trim();
    let inside = text
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'));
    match (inside, text.strip_prefix('-')) {
        (Some(inside), _) => (inside.trim(), true),
        (None, Some(rest)) => (rest.trim(), true),
        (None, None) => (text, false),
    }
}

/// One length from its pieces: `8'` and `6 1/2"`, or a number that needs a unit.
fn one_length(
    pieces: &[Piece],
    unit: Option<(LengthUnit, UnitFrom)>,
    at: At,
    was_text: bool,
) -> Result<Figure, Why> {
    let mut parts: SmallVec<[(&Number, LengthUnit); 3]> = SmallVec::new();
    let mut unit_from = UnitFrom::Cell;
    for piece in pieces {
        let own = match (piece.unit, parts.last()) {
            (Some(word), _) => word
                .length()
                .ok_or_else(|| Why::unclear(format!("`{}` is no unit of length", word.word())))?,
            // `8'6`: what stands behind feet is inches.
            (None, Some((_, LengthUnit::Foot))) => LengthUnit::Inch,
            (None, Some(_)) => return Err(Why::unclear("two numbers stand beside each other")),
            (None, None) => {
                let (unit, from) = unit.ok_or(Why::NoUnit)?;
                unit_from = from;
                unit
            }
        };
        if parts
            .last()
            .is_some_and(|(_, before)| before.metres() <= own.metres())
        {
            return Err(Why::unclear("the larger unit does not stand first"));
        }
        parts.push((&piece.number, own));
    }
    let negative = parts.first().is_some_and(|(number, _)| number.negative);
    let mut value = 0.0;
    let mut written = CompactString::default();
    for (number, unit) in &parts {
        value += number.value() * unit.factor(Dim::LENGTH)?;
        // `8' 0"` and `0' 6"` are written without their zero.
        if number.value() != 0.0 {
            if !written.is_empty() {
                written.push(' ');
            }
            written.push_str(number.written());
            written.push_str(unit.word());
        }
    }
    in_bounds(value, LONGEST, "a length")?;
    let (last, unit) = parts
        .pop()
        .ok_or_else(|| Why::unclear("the cell is empty"))?;
    Ok(Figure {
        size: value,
        is_area: false,
        written,
        negative,
        decimals: last.decimals(),
        unit,
        at,
        unit_from,
        was_text,
    })
}

fn in_bounds(value: f64, most: f64, what: &str) -> Result<(), Why> {
    if value == 0.0 {
        return Err(Why::unclear(format!("{what} of 0")));
    }
    if !value.is_finite() || value > most {
        return Err(Why::unclear(format!("{what} too large for any wall")));
    }
    Ok(())
}

#[cfg(test)]
mod tests;
