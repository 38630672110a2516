//! A copy of a client's sheet with what became of each row beside it, for an office to sign.
//!
//! This crate knows no importer: whoever read the sheet fills in what is written. Texts stay texts,
//! formulas are their results, and cells keep their places.

use crate::workbook::{SheetError, clean_text as clean, properties_of};
use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder, Workbook, Worksheet, XlsxError};
use std::collections::BTreeSet;

/// Rows and columns that a sheet can hold.
const MAX_ROWS: u32 = 1_048_576;
const MAX_COLUMNS: u32 = 16_384;
/// The longest name of a sheet, and what cannot stand in one.
const MAX_NAME: usize = 31;
const NOT_IN_NAMES: [char; 7] = ['[', ']', ':', '*', '?', '/', '\\'];

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A number.
    Number(f64),
    /// Words.
    Text(String),
}

/// A row of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct VerdictRow {
    /// Its number from 0.
    pub row: u32,
    /// Its cells by column from 0.
    pub cells: Vec<(u32, Cell)>,
    /// What became of it, once for each table beside others.
    pub verdicts: Vec<Verdict>,
}

/// What became of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verdict {
    /// In a word.
    pub word: String,
    /// The face, or the reason.
    pub detail: String,
    /// Whether it has to be looked at.
    pub look: bool,
}

/// A sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct VerdictSheet {
    /// Its name.
    pub name: String,
    /// Its rows.
    pub rows: Vec<VerdictRow>,
}

/// The copy of a file.
#[derive(Debug, Clone, PartialEq)]
pub struct VerdictBook {
    /// What it is a copy of.
    pub title: String,
    /// The sheets.
    pub sheets: Vec<VerdictSheet>,
    /// What was made of the sheets, as the head of a column: `Plan`.
    pub made: &'static str,
    /// The sums and totals, a line each: what, in the sheet, in what was made of it, and whether they agree.
    pub sums: Vec<(String, f64, f64, bool)>,
    /// What is said of the sheet besides.
    pub lines: Vec<String>,
}

/// The copy as the bytes of an xlsx file. Its last sheet has the sums, and room to sign.
pub fn verdict_workbook(book: &VerdictBook) -> Result<Vec<u8>, SheetError> {
    let mut out = Workbook::new();
    out.set_properties(&properties_of(&book.title)?);
    let mut names = BTreeSet::new();
    for (number, sheet) in book.sheets.iter().enumerate() {
        let mut name = name(&sheet.name, number);
        // What is left of two long names can be the same.
        if !names.insert(name.to_lowercase()) {
            name += &format!(" {}", number + 1);
            names.insert(name.to_lowercase());
        }
        copy(out.add_worksheet(), sheet, &name)?;
    }
    sums(out.add_worksheet(), book)?;
    Ok(crate::seal::seal(out.save_to_buffer()?))
}

fn head() -> Format {
    Format::new()
        .set_bold()
        .set_background_color(Color::RGB(0xE6E9EC))
        .set_border_bottom(FormatBorder::Thin)
}

fn alarm() -> Format {
    Format::new()
        .set_font_color(Color::RGB(0x9B1C1C))
        .set_background_color(Color::RGB(0xFBE1DD))
        .set_align(FormatAlign::Top)
        .set_text_wrap()
}

fn plain() -> Format {
    Format::new().set_align(FormatAlign::Top).set_text_wrap()
}

fn copy(out: &mut Worksheet, sheet: &VerdictSheet, name: &str) -> Result<(), XlsxError> {
    out.set_name(name)?;
    // The verdict stands on the page of its row, also on paper.
    out.set_landscape().set_print_fit_to_pages(1, 0);
    let cells = sheet.rows.iter().flat_map(|row| &row.cells);
    let last = cells.map(|(column, _)| *column).max().unwrap_or(0);
    let verdict = (last + 2).min(MAX_COLUMNS - 2) as u16;
    for row in sheet.rows.iter().filter(|row| row.row < MAX_ROWS) {
        for (column, cell) in row
            .cells
            .iter()
            .filter(|(column, _)| *column < MAX_COLUMNS - 2)
        {
            let column = *column as u16;
            match cell {
                Cell::Number(number) => out.write_number(row.row, column, *number)?,
                Cell::Text(text) => out.write_string(row.row, column, clean(text))?,
            };
        }
        let look = row.verdicts.iter().any(|verdict| verdict.look);
        let format = if look { alarm() } else { plain() };
        let joined = |of: &dyn Fn(&Verdict) -> &str| {
            let texts = row.verdicts.iter().map(of);
            texts.collect::<Vec<_>>().join("\n")
        };
        let words = joined(&|verdict| &verdict.word);
        let details = joined(&|verdict| &verdict.detail);
        out.write_string_with_format(row.row, verdict, clean(&words), &format)?;
        out.write_string_with_format(row.row, verdict + 1, clean(&details), &format)?;
    }
    out.set_column_width(verdict, 12)?;
    out.set_column_width(verdict + 1, 60)?;
    Ok(())
}

fn sums(out: &mut Worksheet, book: &VerdictBook) -> Result<(), XlsxError> {
    out.set_name("Reconciliation")?;
    // What is signed stands on one page with whether it agrees.
    out.set_print_fit_to_pages(1, 0);
    out.write_string_with_format(0, 0, clean(&book.title), &Format::new().set_bold())?;
    for (column, text) in ["", "Sheet", book.made, ""].into_iter().enumerate() {
        out.write_string_with_format(2, column as u16, text, &head())?;
    }
    let mut row = 3;
    for (what, sheet, plan, agrees) in &book.sums {
        let format = if *agrees { plain() } else { alarm() };
        out.write_string_with_format(row, 0, clean(what), &format)?;
        out.write_number_with_format(row, 1, *sheet, &format)?;
        out.write_number_with_format(row, 2, *plan, &format)?;
        let words = if *agrees { "agree" } else { "do not agree" };
        out.write_string_with_format(row, 3, words, &format)?;
        row += 1;
    }
    row += 1;
    for line in &book.lines {
        out.write_string_with_format(row, 0, clean(line), &plain())?;
        row += 1;
    }
    row += 2;
    for label in ["Checked by", "Date"] {
        out.write_string(row, 0, label)?;
        row += 1;
    }
    out.set_column_width(0, 48)?;
    Ok(())
}

/// A name that a sheet can have, and that no other has.
fn name(name: &str, number: usize) -> String {
    let fine = name
        .chars()
        .filter(|ch| !NOT_IN_NAMES.contains(ch) && !ch.is_control());
    let fine: String = fine.take(MAX_NAME - 4).collect();
    let fine = fine.trim_matches('\'').trim();
    match fine {
        "" => format!("Sheet {}", number + 1),
        "Reconciliation" | "History" => format!("{fine} {}", number + 1),
        fine => fine.to_owned(),
    }
}

#[cfg(test)]
mod tests;
