//! The rows of a long sheet, as they stand in its file.
//!
//! A writer that can take its cells in any order, from anywhere, holds and sorts them, looks up a
//! format for each, and packs the whole afterwards on one core. The lines of a long table need
//! none of that: they come in order and in a handful of formats, and no line rests on another's
//! text. So they are written as text at once, part by part on all cores, and each part is packed
//! where it was made.

use super::page::at;
use super::style::Style;
use super::written::{push_cell, push_number, push_whole};
use flate2::write::DeflateEncoder;
use flate2::{Compression, Crc};
use rayon::prelude::*;
use rust_xlsxwriter::{Formula, Worksheet, XlsxError};
use std::fs::File;
use std::io::{self, Read as _, Seek as _, SeekFrom, Write as _};
use std::mem::take;
use std::ops::Range;
use std::sync::Mutex;

/// A tenth larger than the usual level, in half the time.
pub(super) const COMPRESSION: u8 = 3;

/// From this many lines on, the rows of a sheet are written as text.
pub(super) const LONG: usize = 500;

/// The lines of a part. Parts never depend on the number of cores, so that bytes do not either.
const PART: usize = 512;

/// From this many lines on, the packed parts of a sheet wait in a file for the last of them.
const VERY_LONG: usize = 20_000;

/// The letters of text after which they are packed.
const PIECE: usize = 1 << 15;

/// What takes the cells of lines: a sheet in memory, or the text of a long one. A cell that is
/// written again is as it was written last.
pub(super) trait Cells {
    /// Words, always as words; a cell without words has its format alone.
    fn words(&mut self, row: u32, column: u16, text: &str, style: &Style) -> Result<(), XlsxError>;

    /// A number.
    fn number(&mut self, row: u32, column: u16, value: f64, style: &Style)
    -> Result<(), XlsxError>;

    /// A formula, without the sign that begins it, with a result that is a number.
    fn formula(
        &mut self,
        row: u32,
        column: u16,
        formula: &str,
        result: f64,
        style: &Style,
    ) -> Result<(), XlsxError>;

    /// A format alone.
    fn blank(&mut self, row: u32, column: u16, style: &Style) -> Result<(), XlsxError>;

    /// Ends a row, which is of the usual height where none is given. Heights are in points.
    fn end_row(&mut self, row: u32, height: Option<u32>) -> Result<(), XlsxError>;
}

impl Cells for Worksheet {
    fn words(&mut self, row: u32, column: u16, text: &str, style: &Style) -> Result<(), XlsxError> {
        self.write_string_with_format(row, column, text, &style.format)
            .map(|_| ())
    }

    fn number(
        &mut self,
        row: u32,
        column: u16,
        value: f64,
        style: &Style,
    ) -> Result<(), XlsxError> {
        self.write_number_with_format(row, column, value, &style.format)
            .map(|_| ())
    }

    fn formula(
        &mut self,
        row: u32,
        column: u16,
        formula: &str,
        result: f64,
        style: &Style,
    ) -> Result<(), XlsxError> {
        let formula = Formula::new(formula).set_result(result.to_string());
        self.write_formula_with_format(row, column, formula, &style.format)
            .map(|_| ())
    }

    fn blank(&mut self, row: u32, column: u16, style: &Style) -> Result<(), XlsxError> {
        self.write_blank(row, column, &style.format).map(|_| ())
    }

    fn end_row(&mut self, row: u32, height: Option<u32>) -> Result<(), XlsxError> {
        match height {
            Some(height) => self.set_row_height(row, height).map(|_| ()),
            None => Ok(()),
        }
    }
}

/// The rows of a sheet that stand in its file beside those that the writer is given.
#[derive(Default)]
pub(super) struct Body {
    /// Whether the sheet is a long one.
    pub(super) is_long: bool,
    /// Where the parts of a very long sheet wait, one behind the other as they were made.
    pub(super) waiting: Option<File>,
    /// The row of the first line. Rows and columns count from 0.
    pub(super) first: u32,
    /// The last row and column.
    pub(super) last: [u32; 2],
    /// The rows, packed.
    pub(super) parts: Vec<Packed>,
}

impl Body {
    /// Writes so many lines from a row on, on all cores; `write` is given the lines of a part, and
    /// what it returns is handed back part by part.
    pub(super) fn write<T: Send>(
        &mut self,
        first: u32,
        lines: usize,
        columns: usize,
        write: impl Fn(&mut RowText, Range<usize>) -> Result<T, XlsxError> + Sync,
    ) -> Result<Vec<T>, XlsxError> {
        let waiting = match lines >= VERY_LONG {
            true => Some(Mutex::new((tempfile::tempfile()?, 0))),
            false => None,
        };
        let parts = (0..lines.div_ceil(PART)).into_par_iter().map(|part| {
            let mut text = RowText::new();
            let start = part * PART;
            let made = write(&mut text, start..lines.min(start + PART))?;
            let packed = text.packed()?;
            let packed = match &waiting {
                Some(waiting) => packed.put_off(waiting)?,
                None => packed,
            };
            Ok((packed, made))
        });
        // The first fault in the order of the lines is told, whichever was found first.
        let parts: Vec<Result<_, XlsxError>> = parts.collect();
        let mut all = Vec::with_capacity(parts.len());
        for part in parts {
            let (packed, made) = part?;
            self.parts.push(packed);
            all.push(made);
        }
        self.waiting = waiting.and_then(|waiting| Some(waiting.into_inner().ok()?.0));
        let below = first.saturating_add(lines as u32);
        self.first = first;
        self.last = [below.saturating_sub(1), u32::from(at(columns)) - 1];
        Ok(all)
    }
}

/// Rows as the text of a sheet's file.
pub(super) struct RowText {
    /// The cells of the row being written.
    cells: String,
    /// Where each begins there.
    begun: Vec<(u16, usize)>,
    /// Rows that are not packed yet.
    rows: String,
    packing: Packing,
}

impl RowText {
    fn new() -> Self {
        Self {
            cells: String::new(),
            begun: Vec::new(),
            rows: String::new(),
            packing: Packing::new(),
        }
    }

    fn packed(mut self) -> Result<Packed, XlsxError> {
        self.packing.write(&self.rows)?;
        Ok(self.packing.open()?)
    }

    /// Begins a cell: all but the sign that ends its tag.
    fn begin(&mut self, row: u32, column: u16, style: &Style) -> Result<(), XlsxError> {
        let unknown = || XlsxError::ParameterError("a cell has a format of its own".to_owned());
        let style = style.number.ok_or_else(unknown)?;
        self.begun.push((column, self.cells.len()));
        self.cells.push_str("<c r=\"");
        push_cell(&mut self.cells, row, column);
        self.cells.push_str("\" s=\"");
        push_whole(&mut self.cells, style);
        self.cells.push('"');
        Ok(())
    }

    /// Puts the cells of a row into the order of their columns, the last of each column alone.
    fn push_sorted(&mut self) {
        let ends = self.begun.iter().skip(1).map(|(_, start)| *start);
        let ends = ends.chain([self.cells.len()]);
        let mut all: Vec<(u16, Range<usize>)> = self
            .begun
            .iter()
            .zip(ends)
            .map(|((column, start), end)| (*column, *start..end))
            .collect();
        all.sort_by_key(|(column, _)| *column);
        for (number, (column, cell)) in all.iter().enumerate() {
            let is_last = all.get(number + 1).is_none_or(|(next, _)| next != column);
            if let Some(text) = self.cells.get(cell.clone()).filter(|_| is_last) {
                self.rows.push_str(text);
            }
        }
    }
}

impl Cells for RowText {
    fn words(&mut self, row: u32, column: u16, text: &str, style: &Style) -> Result<(), XlsxError> {
        if text.is_empty() {
            return self.blank(row, column, style);
        }
        self.begin(row, column, style)?;
        self.cells.push_str(" t=\"inlineStr\"><is><t");
        let is_space = |letter: char| matches!(letter, ' ' | '\n' | '\t');
        if text.starts_with(is_space) || text.ends_with(is_space) {
            self.cells.push_str(" xml:space=\"preserve\"");
        }
        self.cells.push('>');
        push_words(&mut self.cells, text);
        self.cells.push_str("</t></is></c>");
        Ok(())
    }

    fn number(
        &mut self,
        row: u32,
        column: u16,
        value: f64,
        style: &Style,
    ) -> Result<(), XlsxError> {
        if !value.is_finite() {
            return Err(no_number());
        }
        self.begin(row, column, style)?;
        self.cells.push_str("><v>");
        push_number(&mut self.cells, value);
        self.cells.push_str("</v></c>");
        Ok(())
    }

    fn formula(
        &mut self,
        row: u32,
        column: u16,
        formula: &str,
        result: f64,
        style: &Style,
    ) -> Result<(), XlsxError> {
        if !result.is_finite() {
            return Err(no_number());
        }
        self.begin(row, column, style)?;
        self.cells.push_str("><f>");
        push_escaped(&mut self.cells, formula);
        self.cells.push_str("</f><v>");
        push_number(&mut self.cells, result);
        self.cells.push_str("</v></c>");
        Ok(())
    }

    fn blank(&mut self, row: u32, column: u16, style: &Style) -> Result<(), XlsxError> {
        self.begin(row, column, style)?;
        self.cells.push_str("/>");
        Ok(())
    }

    fn end_row(&mut self, row: u32, height: Option<u32>) -> Result<(), XlsxError> {
        if self.begun.is_empty() && height.is_none() {
            return Ok(());
        }
        self.rows.push_str("<row r=\"");
        push_whole(&mut self.rows, row + 1);
        if let Some(height) = height {
            self.rows.push_str("\" ht=\"");
            push_whole(&mut self.rows, height);
            self.rows.push_str("\" customHeight=\"1");
        }
        self.rows.push_str("\">");
        match self.begun.is_sorted_by(|(a, _), (b, _)| a < b) {
            true => self.rows.push_str(&self.cells),
            false => self.push_sorted(),
        }
        self.rows.push_str("</row>");
        self.cells.clear();
        self.begun.clear();
        if self.rows.len() > PIECE {
            self.packing.write(&self.rows)?;
            self.rows.clear();
        }
        Ok(())
    }
}

/// What a cell that would hold no number is refused with.
pub(super) fn no_number() -> XlsxError {
    XlsxError::ParameterError("a figure of the workbook would be no number".to_owned())
}

/// What begins an escape of a letter in the words of a sheet: `_x000A_`.
const ESCAPE: &str = "_x";

/// Words, in which what looks like an escape is escaped itself.
fn push_words(text: &mut String, words: &str) {
    let mut rest = words;
    while let Some(found) = rest.find(ESCAPE) {
        let (before, from) = rest.split_at(found);
        push_escaped(text, before);
        let digits = from.get(ESCAPE.len()..ESCAPE.len() + 4);
        let is_hex = |digits: &str| digits.bytes().all(|digit| digit.is_ascii_hexdigit());
        let ends = from
            .get(ESCAPE.len() + 4..)
            .is_some_and(|end| end.starts_with('_'));
        text.push_str(match digits.is_some_and(is_hex) && ends {
            true => "_x005F_x",
            false => ESCAPE,
        });
        rest = from.get(ESCAPE.len()..).unwrap_or_default();
    }
    push_escaped(text, rest);
}

/// A text with the signs of markup escaped.
fn push_escaped(text: &mut String, mut rest: &str) {
    while let Some(found) = rest
        .bytes()
        .position(|byte| matches!(byte, b'&' | b'<' | b'>'))
    {
        let (before, from) = rest.split_at(found);
        text.push_str(before);
        text.push_str(match from.as_bytes().first() {
            Some(b'&') => "&amp;",
            Some(b'<') => "&lt;",
            _ => "&gt;",
        });
        rest = from.get(1..).unwrap_or_default();
    }
    text.push_str(rest);
}

/// A text that is being packed.
pub(super) struct Packing {
    encoder: DeflateEncoder<Vec<u8>>,
    sum: Crc,
    length: u64,
}

/// A packed text. Behind one that is not the last stands another, and both are one packed text.
pub(super) struct Packed {
    pub(super) held: Held,
    /// The bytes of what is packed.
    pub(super) size: u64,
    /// The check sum of the text.
    pub(super) sum: Crc,
    /// The bytes of the text.
    pub(super) length: u64,
}

/// Where a packed text is.
pub(super) enum Held {
    Here(Vec<u8>),
    /// In the file of its body, from a place on.
    Waiting(u64),
}

impl Packed {
    /// Puts a packed text behind others into a file of which so many bytes are taken.
    fn put_off(mut self, waiting: &Mutex<(File, u64)>) -> io::Result<Self> {
        if let Held::Here(bytes) = &self.held {
            let mut waiting = waiting
                .lock()
                .map_err(|_| io::Error::other("a part is lost"))?;
            let at = waiting.1;
            waiting.0.write_all(bytes)?;
            waiting.1 += self.size;
            self.held = Held::Waiting(at);
        }
        Ok(self)
    }

    /// Writes what is packed into another file.
    pub(super) fn copy(
        &self,
        waiting: Option<&mut File>,
        into: &mut impl io::Write,
    ) -> io::Result<()> {
        match (&self.held, waiting) {
            (Held::Here(bytes), _) => into.write_all(bytes),
            (Held::Waiting(at), Some(waiting)) => {
                waiting.seek(SeekFrom::Start(*at))?;
                match io::copy(&mut waiting.take(self.size), into)? == self.size {
                    true => Ok(()),
                    false => Err(io::ErrorKind::UnexpectedEof.into()),
                }
            }
            (Held::Waiting(_), None) => Err(io::ErrorKind::NotFound.into()),
        }
    }
}

impl Packing {
    pub(super) fn new() -> Self {
        Self {
            encoder: DeflateEncoder::new(Vec::new(), Compression::new(u32::from(COMPRESSION))),
            sum: Crc::new(),
            length: 0,
        }
    }

    pub(super) fn write(&mut self, text: &str) -> io::Result<()> {
        self.sum.update(text.as_bytes());
        self.length += text.len() as u64;
        self.encoder.write_all(text.as_bytes())
    }

    /// What is packed, to be followed by more.
    pub(super) fn open(mut self) -> io::Result<Packed> {
        self.encoder.flush()?;
        let bytes = take(self.encoder.get_mut());
        Ok(self.with(bytes))
    }

    /// What is packed, as the end of a packed text.
    pub(super) fn last(mut self) -> io::Result<Packed> {
        self.encoder.try_finish()?;
        let bytes = take(self.encoder.get_mut());
        Ok(self.with(bytes))
    }

    fn with(self, mut bytes: Vec<u8>) -> Packed {
        bytes.shrink_to_fit();
        Packed {
            size: bytes.len() as u64,
            held: Held::Here(bytes),
            sum: self.sum,
            length: self.length,
        }
    }
}

#[cfg(test)]
mod tests;
