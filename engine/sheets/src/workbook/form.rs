//! A sheet to be filled in, in a workbook of its own.

use super::page::{Column, Frame, HEAD_ROW, Page, at};
use super::style::{self, Look};
use super::{SheetError, check_room, properties};
use parge_calc::price::Estimate;
use rust_xlsxwriter::Workbook;

/// The widest that a column of texts becomes, in characters.
const WIDEST: f64 = 46.0;

/// A sheet whose cells are texts, some of them blank and to be filled in.
pub(crate) struct FormSheet<'f> {
    /// What the sheet is called.
    pub(crate) title: &'static str,
    /// What is to be read before the table.
    pub(crate) note: &'f str,
    /// The names of its columns.
    pub(crate) columns: &'f [&'static str],
    /// Whether a cell is to be filled in, and what it says, row by row.
    pub(crate) rows: Vec<Vec<(bool, String)>>,
}

impl FormSheet<'_> {
    /// The workbook, in the look of an estimate's.
    pub(crate) fn workbook(&self, estimate: &Estimate) -> Result<Vec<u8>, SheetError> {
        check_room("Actuals", self.rows.len())?;
        let frame = Frame::new(estimate);
        let mut book = Workbook::new();
        book.set_properties(&properties(&estimate.takeoff.measured.job)?);
        let columns = self.columns.iter().map(|name| Column::text(name, WIDEST));
        let sheet = book.add_worksheet();
        let mut page = Page::begin(sheet, &frame, self.title, columns.collect())?;
        page.note(self.note)?;
        page.header(HEAD_ROW)?;
        page.freeze()?;
        for row in &self.rows {
            page.blank()?;
            for (column, (is_input, text)) in row.iter().enumerate() {
                if *is_input {
                    let (row, format) = (page.row(), style::input(Look::Written));
                    page.sheet.write_blank(row, at(column), &format)?;
                } else {
                    page.text(column, text)?;
                }
            }
            page.next()?;
        }
        page.end()?;
        Ok(crate::seal::seal(book.save_to_buffer()?))
    }
}
