//! How much of a file is read. A file over a bound is refused as a whole: a part of a sheet would
//! look like all of it.

use parge_base::{Code, Diagnostic};

/// The largest file.
pub const MAX_BYTES: usize = 64 << 20;
/// The most that the parts of a workbook may unpack to, all together.
pub const MAX_UNPACKED_BYTES: u64 = 192 << 20;
/// How much of that is read while it is unpacked, rather than unpacked again for another reader.
pub(super) const MAX_KEPT_BYTES: usize = 64 << 20;
/// The most parts of a workbook.
pub(super) const MAX_PARTS: usize = 4096;
/// The most sheets.
pub(super) const MAX_SHEETS: usize = 256;
/// The most cells with anything in them, over all sheets.
pub const MAX_CELLS: usize = 1_000_000;
/// The most that all texts of cells may take, over all sheets.
pub const MAX_TEXT_BYTES: usize = 32 << 20;
/// The longest text of a cell, as spreadsheets have it.
pub(super) const MAX_CELL_TEXT: usize = 32_767 * 4;
/// The most cells, empty ones as well, that a sheet of a format may span whose reader lays all of
/// them out.
pub(super) const MAX_SPAN: u64 = 4_000_000;
/// Formulas are looked at for what they add up; longer ones are cut.
pub(super) const MAX_FORMULA: usize = 400;

/// The most merged cells of a sheet.
const MAX_MERGED: usize = 20_000;

/// Refuses a sheet with too many merged cells.
pub(super) fn bound_merged(count: usize) -> Result<(), Diagnostic> {
    match count > MAX_MERGED {
        true => Err(over(&format!("more than {MAX_MERGED} merged cells"))),
        false => Ok(()),
    }
}

/// What is counted while a file is read.
#[derive(Debug, Default, Clone)]
pub(super) struct Used {
    cells: usize,
    text: usize,
}

impl Used {
    /// Counts what was counted elsewhere; `None` where both together are over a bound.
    pub(super) fn and(&self, other: &Self) -> Option<Self> {
        let both = Self {
            cells: self.cells + other.cells,
            text: self.text.saturating_add(other.text),
        };
        (both.cells <= MAX_CELLS && both.text <= MAX_TEXT_BYTES).then_some(both)
    }

    /// Counts a cell with a text of so many bytes.
    pub(super) fn cell(&mut self, text: usize) -> Result<(), Diagnostic> {
        self.cells += 1;
        self.text = self.text.saturating_add(text);
        if self.cells > MAX_CELLS {
            return Err(over(&format!("more than {MAX_CELLS} cells")));
        }
        if self.text > MAX_TEXT_BYTES || text > MAX_CELL_TEXT {
            return Err(over(&format!(
                "more than {} MB of text",
                MAX_TEXT_BYTES >> 20
            )));
        }
        Ok(())
    }
}

/// The file holds more than is read.
pub(super) fn over(what: &str) -> Diagnostic {
    Diagnostic::new(
        Code::BadSheet,
        format!("the file holds {what}, which no measurement sheet does"),
        "copy the table of measurements into a new workbook, and import that",
    )
}

/// The file cannot be read at all.
pub(super) fn unreadable(message: impl Into<String>, help: &str) -> Diagnostic {
    Diagnostic::new(Code::BadSheet, message, help)
}
