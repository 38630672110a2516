//! The sheets of a workbook, in their order, written by all cores.

use super::style;
use rayon::prelude::*;
use rust_xlsxwriter::{Workbook, Worksheet, XlsxError};

/// From this many lines on, a sheet is written row by row instead of being held in memory.
pub(super) const LONG: usize = 5_000;

type Write<'a> = Box<dyn FnOnce(&mut Worksheet) -> Result<(), XlsxError> + Send + 'a>;

/// What is to be written, sheet by sheet.
#[derive(Default)]
pub(super) struct Sheets<'a>(Vec<(usize, Write<'a>)>);

impl<'a> Sheets<'a> {
    /// A sheet with so many lines, and what writes it.
    pub(super) fn add(
        &mut self,
        lines: usize,
        write: impl FnOnce(&mut Worksheet) -> Result<(), XlsxError> + Send + 'a,
    ) {
        self.0.push((lines, Box::new(write)));
    }

    /// Writes them all. A long sheet keeps its words to itself and uses formats that the book knows
    /// before: so the bytes never depend on which sheet is written when.
    pub(super) fn write(self, book: &mut Workbook) -> Result<(), XlsxError> {
        if self.0.iter().any(|(lines, _)| *lines >= LONG) {
            let formats = style::of_tables();
            formats
                .iter()
                .for_each(|format| book.register_format(format));
        }
        let mut open = Vec::with_capacity(self.0.len());
        for (lines, write) in self.0 {
            let sheet = match lines < LONG {
                true => Worksheet::new(),
                false => book.new_worksheet_with_constant_memory()?,
            };
            open.push((sheet, write));
        }
        let written = open
            .into_par_iter()
            .map(|(mut sheet, write)| write(&mut sheet).map(|()| sheet));
        let written: Vec<Result<Worksheet, XlsxError>> = written.collect();
        for sheet in written {
            book.push_worksheet(sheet?);
        }
        Ok(())
    }
}
