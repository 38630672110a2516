//! Any sheet file as a bounded grid of typed cells, each of which knows where it stands.
//!
//! Nothing is understood here: a cell holds what the file holds. What office programs keep beside
//! values and what changes their meaning (hidden, struck through, made by a formula, a unit that
//! only the number format shows) stays with the cell.

mod ahead;
mod bounds;
mod container;
mod hidden;
mod laid;
mod note;
mod ods;
mod old_formats;
mod open;
mod plain;
mod shown;
mod text;
mod workbook;
mod xlsb;

pub use bounds::{MAX_BYTES, MAX_CELLS, MAX_TEXT_BYTES, MAX_UNPACKED_BYTES};
pub use note::Note;
pub use open::open;
pub use shown::Shown;

use compact_str::CompactString;
use std::collections::BTreeSet;
use std::fmt::{self, Write};

/// A file with its sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct Book {
    /// The name of the file, to be shown.
    pub name: String,
    /// What kind of file it is.
    pub kind: Kind,
    /// The sheets in their order.
    pub sheets: Vec<Sheet>,
}

/// The kinds of files that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Office Open XML.
    Xlsx,
    /// The same in binary parts.
    Xlsb,
    /// The binary format before it.
    Xls,
    /// OpenDocument.
    Ods,
    /// Text with separated fields.
    Text,
}

impl Kind {
    /// Its name, as the endings of files have it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Xlsx => "xlsx",
            Self::Xlsb => "xlsb",
            Self::Xls => "xls",
            Self::Ods => "ods",
            Self::Text => "csv",
        }
    }

    /// Whether numbers are numbers in it, so that one that is text is a slip.
    pub fn has_numbers(self) -> bool {
        self != Self::Text
    }

    /// Whether hidden rows and cells that are struck through can be told in it. A text has none; an
    /// xls file may, and its reader does not see them.
    pub fn tells_hidden(self) -> bool {
        self != Self::Xls
    }
}

/// One sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// Its name.
    pub name: String,
    /// Whether it is hidden.
    pub hidden: bool,
    /// The rows with anything in them, by number.
    pub rows: Vec<Row>,
    /// Merged cells.
    pub merged: Vec<Merged>,
    /// Columns that are hidden, from 0.
    pub hidden_columns: BTreeSet<u32>,
}

/// A row with anything in it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// Its number from 0.
    pub number: u32,
    /// Whether it is hidden.
    pub hidden: bool,
    /// The cells with anything in them, by column.
    pub cells: Vec<Cell>,
}

impl Row {
    /// The cell of a column.
    pub fn cell(&self, column: u32) -> Option<&Cell> {
        let found = self.cells.binary_search_by_key(&column, |cell| cell.column);
        found.ok().and_then(|at| self.cells.get(at))
    }

    fn cell_mut(&mut self, column: u32) -> Option<&mut Cell> {
        let found = self.cells.binary_search_by_key(&column, |cell| cell.column);
        found.ok().and_then(|at| self.cells.get_mut(at))
    }
}

/// A cell with anything in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// Its column from 0.
    pub column: u32,
    /// What is in it; of a formula, the stored result.
    pub content: Content,
    /// The formula, where there is one; empty where it is shared with another cell.
    pub formula: Option<Note>,
    /// Whether it is struck through.
    pub struck: bool,
    /// The number format, where it is not the general one.
    pub format: Option<Note>,
}

/// What is in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// A formula without a stored result.
    Nothing,
    /// Words, without blanks around them.
    Text(CompactString),
    /// A number.
    Number(f64),
    /// Yes or no.
    Flag(bool),
    /// A day, as year, month and day.
    Date(u16, u8, u8),
    /// What a formula that fails shows: `#REF!`.
    Fault(Box<str>),
}

impl fmt::Display for Content {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => Ok(()),
            Self::Text(text) => f.write_str(text),
            Self::Fault(shows) => f.write_str(shows),
            Self::Number(number) => write!(f, "{number}"),
            Self::Flag(flag) => f.write_str(if *flag { "yes" } else { "no" }),
            Self::Date(year, month, day) => write!(f, "{year:04}-{month:02}-{day:02}"),
        }
    }
}

impl Cell {
    /// The words in it, if it holds words.
    pub fn text(&self) -> Option<&str> {
        match &self.content {
            Content::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Whether a figure may be meant: a number, a day that was a fraction, a formula.
    pub fn is_number(&self) -> bool {
        matches!(self.content, Content::Number(_))
    }
}

/// Merged cells: rows and columns from 0, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Merged {
    /// First row and column.
    pub first: (u32, u32),
    /// Last row and column.
    pub last: (u32, u32),
}

/// The place of a cell: its sheet by number, row and column from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct At {
    /// The number of the sheet in [`Book::sheets`].
    pub sheet: usize,
    /// The row from 0.
    pub row: u32,
    /// The column from 0.
    pub column: u32,
}

impl Book {
    /// The book with the names of its sheets alone, once no cell is looked at any more.
    pub fn without_cells(mut self) -> Self {
        for sheet in &mut self.sheets {
            sheet.rows = Vec::new();
        }
        self
    }

    /// A cell as offices name it: `Rooms!B7`.
    pub fn cell_name(&self, at: At) -> String {
        let sheet = self.sheets.get(at.sheet).map_or("", |sheet| &sheet.name);
        // Every face of a plan names its cell.
        let mut name = String::with_capacity(sheet.len() + 12);
        name += sheet;
        name.push('!');
        push_letters(&mut name, at.column);
        let _ = write!(name, "{}", at.row + 1);
        name
    }
}

/// The letters of a column: 0 is `A`, 27 is `AB`.
pub fn letters(column: u32) -> String {
    let mut word = String::new();
    push_letters(&mut word, column);
    word
}

/// The same behind a text.
fn push_letters(text: &mut String, column: u32) {
    if column >= 26 {
        push_letters(text, column / 26 - 1);
    }
    text.push(char::from(b'A' + (column % 26) as u8));
}

/// The column of letters: `A` is 0.
pub fn column_of(letters: &str) -> Option<u32> {
    if letters.is_empty() || letters.len() > 3 {
        return None;
    }
    let digits = letters.bytes().map(|byte| match byte.to_ascii_uppercase() {
        letter @ b'A'..=b'Z' => Some(u32::from(letter - b'A') + 1),
        _ => None,
    });
    let number = digits
        .into_iter()
        .try_fold(0, |sum, digit| Some(sum * 26 + digit?))?;
    Some(number - 1)
}

#[cfg(test)]
mod tests;
