//! The cells of a workbook, read into memory, and written again by nothing but the writer.

use calamine::{Data, Reader, Xlsx, XlsxError as XlsxFault, open_workbook_from_rs};
use rust_xlsxwriter::{Formula, Workbook, XlsxError};
use std::io::Cursor;

/// The same level of compression as the program's.
const COMPRESSION: u8 = 3;
/// From so many rows on a sheet is written row by row, as by the program.
const LONG: usize = 5_000;

/// A cell as a writer is given it.
enum Cell {
    Nothing,
    Text(String),
    Number(f64),
    Formula(String, String),
}

/// All cells of all sheets.
pub struct Cells {
    sheets: Vec<Vec<Vec<Cell>>>,
}

impl Cells {
    /// The cells of a workbook.
    pub fn of(workbook: &[u8]) -> Result<Self, String> {
        let mut book: Xlsx<_> = open_workbook_from_rs(Cursor::new(workbook))
            .map_err(|error: XlsxFault| error.to_string())?;
        let mut sheets = Vec::new();
        for name in book.sheet_names() {
            let values = book.worksheet_range(&name).map_err(|e| e.to_string())?;
            let formulas = book.worksheet_formula(&name).map_err(|e| e.to_string())?;
            let mut rows = Vec::new();
            let Some((last, width)) = values.end() else {
                continue;
            };
            for row in 0..=last {
                let cell = |column| {
                    let value = values.get_value((row, column)).unwrap_or(&Data::Empty);
                    match formulas.get_value((row, column)) {
                        Some(formula) if !formula.is_empty() => {
                            Cell::Formula(formula.clone(), value.to_string())
                        }
                        _ => plain(value),
                    }
                };
                rows.push((0..=width).map(cell).collect());
            }
            sheets.push(rows);
        }
        Ok(Self { sheets })
    }

    /// How many there are that are not empty.
    pub fn len(&self) -> usize {
        let cells = self.sheets.iter().flatten().flatten();
        cells.filter(|cell| !matches!(cell, Cell::Nothing)).count()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// A workbook with these cells, without formats.
    pub fn write(&self) -> Result<Vec<u8>, XlsxError> {
        let mut book = Workbook::new();
        book.set_zip_compression_level(COMPRESSION);
        for rows in &self.sheets {
            let sheet = match rows.len() < LONG {
                true => book.add_worksheet(),
                false => book.add_worksheet_with_low_memory()?,
            };
            for (row, cells) in (0..).zip(rows) {
                for (column, cell) in (0..).zip(cells) {
                    match cell {
                        Cell::Nothing => continue,
                        Cell::Text(text) => sheet.write_string(row, column, text)?,
                        Cell::Number(number) => sheet.write_number(row, column, *number)?,
                        Cell::Formula(formula, result) => {
                            let formula = Formula::new(formula).set_result(result);
                            sheet.write_formula(row, column, formula)?
                        }
                    };
                }
            }
        }
        book.save_to_buffer()
    }
}

fn plain(value: &Data) -> Cell {
    match value {
        Data::Empty => Cell::Nothing,
        Data::Float(number) => Cell::Number(*number),
        Data::Int(number) => Cell::Number(*number as f64),
        other => Cell::Text(other.to_string()),
    }
}

/// Reads all cells of a workbook and keeps none; how many there were.
pub fn read_into_nothing(workbook: &[u8]) -> Result<usize, String> {
    let mut book: Xlsx<_> = open_workbook_from_rs(Cursor::new(workbook))
        .map_err(|error: XlsxFault| error.to_string())?;
    let mut count = 0;
    for name in book.sheet_names() {
        let mut cells = book
            .worksheet_cells_reader(&name)
            .map_err(|e| e.to_string())?;
        while cells.next_cell().map_err(|e| e.to_string())?.is_some() {
            count += 1;
        }
    }
    Ok(count)
}
