//! The sheets of a workbook, in their order, written by all cores.

use super::rows::{Body, LONG};
use super::style::Styles;
use rayon::prelude::*;
use rust_xlsxwriter::{Workbook, Worksheet, XlsxError};

type Write<'a> = Box<dyn FnOnce(&mut Worksheet, &mut Body) -> Result<(), XlsxError> + Send + 'a>;

/// What is to be written, sheet by sheet.
#[derive(Default)]
pub(super) struct Sheets<'a>(Vec<(usize, Write<'a>)>);

impl<'a> Sheets<'a> {
    /// A short sheet, and what writes it.
    pub(super) fn add(
        &mut self,
        write: impl FnOnce(&mut Worksheet) -> Result<(), XlsxError> + Send + 'a,
    ) {
        self.0.push((0, Box::new(|sheet, _| write(sheet))));
    }

    /// A sheet with so many lines, and what writes it: those of a long one into its body.
    pub(super) fn add_long(
        &mut self,
        lines: usize,
        write: impl FnOnce(&mut Worksheet, &mut Body) -> Result<(), XlsxError> + Send + 'a,
    ) {
        self.0.push((lines, Box::new(write)));
    }

    /// Writes them all, and hands back the bodies of long ones with the numbers of their sheets,
    /// which count from 1. The rows of a long sheet use formats that the book knows before all
    /// others: so the bytes never depend on which sheet is written when.
    pub(super) fn write(
        self,
        book: &mut Workbook,
        styles: &Styles,
    ) -> Result<Vec<(usize, Body)>, XlsxError> {
        if self.0.iter().any(|(lines, _)| *lines >= LONG) {
            styles.register(book);
        }
        let written = self.0.into_par_iter().map(|(lines, write)| {
            let mut sheet = Worksheet::new();
            let mut body = Body {
                is_long: lines >= LONG,
                ..Body::default()
            };
            write(&mut sheet, &mut body).map(|()| (sheet, body))
        });
        let written: Vec<Result<_, XlsxError>> = written.collect();
        let mut bodies = Vec::new();
        for (written, number) in written.into_iter().zip(1..) {
            let (sheet, body) = written?;
            book.push_worksheet(sheet);
            if !body.parts.is_empty() {
                bodies.push((number, body));
            }
        }
        Ok(bodies)
    }
}
