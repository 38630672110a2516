//! The cells of a workbook, read into memory, and written again by nothing but the writer.

use calamine::{Data, DataRef, Reader, Xlsx, XlsxError as XlsxFault, open_workbook_from_rs};
use rust_xlsxwriter::{Formula, Workbook, Worksheet, XlsxError};
use std::io::Cursor;

/// The same level of compression as the program's.
const COMPRESSION: u8 = 3;
/// From so many rows on a sheet is written row by row, which is the writer's fastest way; its texts
/// then stand in the cells, as in the long sheets of the program.
const LONG: u32 = 500;

/// A cell as a writer is given it.
#[derive(Debug, Clone, Copy)]
enum Cell {
    Text(Part),
    Number(f64),
    Formula(Part, Part),
}

/// A part of the texts of a sheet.
type Part = (usize, u32);

/// The cells of a sheet that are not empty, row by row. A workbook of many faces has so many that
/// their texts stand behind each other in one.
#[derive(Debug, Default)]
struct Sheet {
    cells: Vec<(u32, u16, Cell)>,
    texts: String,
}

/// All cells of all sheets.
pub struct Cells {
    sheets: Vec<Sheet>,
}

impl Cells {
    /// The cells of a workbook.
    pub fn of(workbook: &[u8]) -> Result<Self, String> {
        let mut book = open(workbook)?;
        let names = book.sheet_names();
        let sheets = names.iter().map(|name| Sheet::of(&mut book, name));
        Ok(Self {
            sheets: sheets
                .collect::<Result<_, _>>()
                .map_err(|e| e.to_string())?,
        })
    }

    /// How many there are that are not empty.
    pub fn len(&self) -> usize {
        self.sheets.iter().map(|sheet| sheet.cells.len()).sum()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// A workbook with these cells, without formats.
    pub fn write(&self) -> Result<Vec<u8>, XlsxError> {
        let mut book = Workbook::new();
        book.set_zip_compression_level(COMPRESSION);
        for sheet in &self.sheets {
            let rows = sheet.cells.last().map_or(0, |(row, ..)| *row);
            sheet.write(match rows < LONG {
                true => book.add_worksheet(),
                false => book.add_worksheet_with_constant_memory()?,
            })?;
        }
        book.save_to_buffer()
    }
}

impl Sheet {
    fn of(book: &mut Xlsx<Cursor<&[u8]>>, name: &str) -> Result<Self, XlsxFault> {
        let mut sheet = Self::default();
        let mut cells = book.worksheet_cells_reader(name)?;
        while let Some(cell) = cells.next_cell_with_formula()? {
            let (row, column) = cell.pos;
            let cell = match (cell.formula, cell.value) {
                (Some(formula), value) if !formula.is_empty() => {
                    let formula = sheet.keep(&formula);
                    Cell::Formula(formula, sheet.keep(&Data::from(value).to_string()))
                }
                (_, DataRef::Empty) => continue,
                (_, DataRef::Float(number)) => Cell::Number(number),
                (_, DataRef::Int(number)) => Cell::Number(number as f64),
                (_, text) => Cell::Text(sheet.keep(&Data::from(text).to_string())),
            };
            sheet.cells.push((row, column as u16, cell));
        }
        Ok(sheet)
    }

    fn keep(&mut self, text: &str) -> Part {
        let start = self.texts.len();
        self.texts.push_str(text);
        (start, text.len() as u32)
    }

    fn text(&self, (start, length): Part) -> &str {
        let text = self.texts.get(start..start + length as usize);
        text.unwrap_or_default()
    }

    fn write(&self, sheet: &mut Worksheet) -> Result<(), XlsxError> {
        for (row, column, cell) in &self.cells {
            match cell {
                Cell::Text(text) => sheet.write_string(*row, *column, self.text(*text))?,
                Cell::Number(number) => sheet.write_number(*row, *column, *number)?,
                Cell::Formula(formula, result) => {
                    let formula = Formula::new(self.text(*formula));
                    let formula = formula.set_result(self.text(*result));
                    sheet.write_formula(*row, *column, formula)?
                }
            };
        }
        Ok(())
    }
}

fn open(workbook: &[u8]) -> Result<Xlsx<Cursor<&[u8]>>, String> {
    let book = open_workbook_from_rs(Cursor::new(workbook));
    book.map_err(|error: XlsxFault| error.to_string())
}

/// Reads all cells of a workbook and keeps none; how many there were.
pub fn read_into_nothing(workbook: &[u8]) -> Result<usize, String> {
    let mut book = open(workbook)?;
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
