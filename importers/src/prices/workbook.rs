//! The sheet of an xlsx workbook as a table.
//!
//! Its rows are written as lines of text, each on the line of its number, so that a place in the
//! sheet is a place in a text as any other. Its cells are the values that were saved with it.

use super::table::{Cells, Row, Table};
use calamine::{DataRef, Reader, Xlsx};
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Code, Diagnostic, FileId, Sources, Span, suggest};
use parge_rules::csv_text::CsvRow;
use std::collections::BTreeMap;
use std::io::{self, Cursor, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};
use zip::ZipArchive;

/// The largest workbook that is read, in bytes.
pub const MAX_WORKBOOK_BYTES: u64 = 32 << 20;

/// What a workbook may hold when it is unpacked, in bytes.
const MAX_UNPACKED: u64 = 256 << 20;
/// Rows and columns of a sheet; a price book is far smaller.
const MAX_ROWS: u32 = 100_000;
const MAX_COLUMNS: u32 = 200;
/// The longest text of a cell that is kept, in characters; a sheet holds no longer one.
const MAX_TEXT: usize = 32_767;

/// What is done about a file that cannot be read.
const HELP: &str = "save it anew as an xlsx workbook, or as CSV in UTF-8";

type Grid = BTreeMap<u32, BTreeMap<u32, String>>;

/// Reads a sheet and adds its rows to the sources.
pub(super) fn read(
    sources: &mut Sources,
    name: &str,
    bytes: &[u8],
    sheet: Option<&str>,
) -> Result<Table, Diagnostic> {
    // The reader of the format is other people's code; whatever it stumbles over is in the file.
    let read = catch_unwind(AssertUnwindSafe(|| cells(name, bytes, sheet)));
    let (sheet, grid) = read.unwrap_or_else(|_| {
        let message = format!("{name} is no workbook that can be read: it is damaged");
        Err(wrong(message, HELP))
    })?;
    Sheet::write(sources, name, sheet, &grid).table(&grid)
}

fn wrong(message: impl Into<String>, help: impl Into<String>) -> Diagnostic {
    Diagnostic::new(Code::BadPriceBook, message, help)
}

/// The cells of the sheet asked for, with its name.
fn cells(name: &str, bytes: &[u8], asked: Option<&str>) -> Result<(String, Grid), Diagnostic> {
    let no_workbook = |why: String| {
        wrong(
            format!("{name} is no workbook that can be read: {why}"),
            HELP,
        )
    };
    if unpacked(bytes).is_some_and(|size| size > MAX_UNPACKED) {
        let why = format!("it holds more than {} MB", MAX_UNPACKED >> 20);
        return Err(no_workbook(why));
    }
    let book = Xlsx::new(Cursor::new(bytes));
    let mut book: Xlsx<_> = book.map_err(|error| no_workbook(in_words(&error)))?;
    let sheet = sheet_of(name, &book.sheet_names(), asked)?;
    let reader = book.worksheet_cells_reader(&sheet);
    let mut reader = reader.map_err(|error| no_workbook(in_words(&error)))?;
    let mut grid = Grid::new();
    while let Some(cell) = reader
        .next_cell()
        .map_err(|error| no_workbook(in_words(&error)))?
    {
        let text = text(cell.get_value());
        if text.is_empty() {
            continue;
        }
        let (row, column) = cell.get_position();
        if row >= MAX_ROWS || column >= MAX_COLUMNS {
            let place = format!("{}{}", letters(column), row + 1);
            let message = format!("sheet `{sheet}` of {name} has a cell {place}");
            let help = format!(
                "a price book has at most {MAX_ROWS} rows and {MAX_COLUMNS} columns: delete what \
                 stands out there"
            );
            return Err(wrong(message, help));
        }
        grid.entry(row).or_default().insert(column, text);
    }
    Ok((sheet, grid))
}

/// What the parts of a workbook come to when they are unpacked, counted until it is too much; none
/// for what is no archive.
fn unpacked(bytes: &[u8]) -> Option<u64> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).ok()?;
    let mut size = 0;
    for number in 0..archive.len() {
        let part = archive.by_index(number).ok()?;
        // What an archive says of its sizes need not be so.
        size += io::copy(&mut part.take(MAX_UNPACKED + 1), &mut io::sink()).ok()?;
        if size > MAX_UNPACKED {
            break;
        }
    }
    Some(size)
}

fn in_words(error: &calamine::XlsxError) -> String {
    match error {
        calamine::XlsxError::Password => "it is protected by a password".to_owned(),
        calamine::XlsxError::Zip(_) => "it is no xlsx file".to_owned(),
        error => {
            let text = error.to_string();
            text.trim_end_matches('.').to_owned()
        }
    }
}

fn sheet_of(name: &str, known: &[String], asked: Option<&str>) -> Result<String, Diagnostic> {
    match asked {
        None => known.first().cloned().ok_or_else(|| {
            let help = "save it with the sheet of prices";
            wrong(format!("{name} has no sheet"), help)
        }),
        Some(asked) => known
            .iter()
            .find(|sheet| *sheet == asked)
            .cloned()
            .ok_or_else(|| {
                let help = suggest::help_for(asked, known.iter().map(String::as_str));
                wrong(format!("{name} has no sheet `{asked}`"), help)
            }),
    }
}

/// A value as it would stand in comma-separated text, on one line.
fn text(value: &DataRef<'_>) -> String {
    let text = match value {
        DataRef::Empty => String::new(),
        DataRef::Int(number) => number.to_string(),
        DataRef::Float(number) => round_to(*number, NOISE_DECIMALS).to_string(),
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_owned(),
        DataRef::Bool(true) => "yes".to_owned(),
        DataRef::Bool(false) => "no".to_owned(),
        DataRef::DateTime(moment) => {
            let (year, month, day, ..) = moment.to_ymd_hms_milli();
            format!("{year:04}-{month:02}-{day:02}")
        }
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.clone(),
        DataRef::Error(error) => error.to_string(),
    };
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    words.chars().take(MAX_TEXT).collect()
}

/// The letters of a column, counted from 0: `A`, `Z`, `AA`.
fn letters(column: u32) -> String {
    let mut letters = Vec::new();
    let mut left = column + 1;
    while left > 0 {
        left -= 1;
        letters.push(b'A' + (left % 26) as u8);
        left /= 26;
    }
    letters
        .iter()
        .rev()
        .map(|letter| char::from(*letter))
        .collect()
}

/// A sheet that was written down as text.
struct Sheet {
    name: String,
    file: FileId,
    /// Where the text of each cell stands, and each row.
    places: BTreeMap<u32, (Span, BTreeMap<u32, Span>)>,
}

impl Sheet {
    /// Writes the rows as lines, the cells of a row between bars.
    fn write(sources: &mut Sources, shown: &str, name: String, grid: &Grid) -> Self {
        let (mut text, mut ranges) = (String::new(), BTreeMap::new());
        let mut line = 0;
        for (row, cells) in grid {
            while line < *row {
                text.push('\n');
                line += 1;
            }
            let start = text.len();
            let mut of_row = BTreeMap::new();
            for (column, cell) in cells {
                if text.len() > start {
                    text.push_str(" | ");
                }
                let at = text.len();
                text.push_str(cell);
                of_row.insert(*column, at..text.len());
            }
            ranges.insert(*row, (start..text.len(), of_row));
        }
        let file = sources.add(shown, text);
        let span = |range: std::ops::Range<usize>| Span::new(file, range.start, range.end);
        let place = |(row, (range, cells)): (u32, (_, BTreeMap<u32, _>))| {
            let cells = cells.into_iter();
            let cells = cells.map(|(column, range)| (column, span(range)));
            (row, (span(range), cells.collect()))
        };
        Self {
            name,
            file,
            places: ranges.into_iter().map(place).collect(),
        }
    }

    /// The table under the first row that has any text.
    fn table(&self, grid: &Grid) -> Result<Table, Diagnostic> {
        let mut rows = grid.iter();
        let Some((head, names)) = rows.next() else {
            let message = format!("sheet `{}` is empty", self.name);
            let help = "begin with the names of the columns, or name another sheet behind `#`";
            return Err(wrong(message, help).at(Span::new(self.file, 0, 0), ""));
        };
        let columns: Vec<u32> = names.keys().copied().collect();
        let header: Vec<String> = names.values().map(|name| name.to_lowercase()).collect();
        let (header_span, _) = self.place(*head);
        let header_place = format!("row {} of sheet `{}`", head + 1, self.name);
        let repeated =
            |(at, name): &(usize, &String)| header.iter().take(*at).any(|first| first == *name);
        if let Some((_, name)) = header.iter().enumerate().find(repeated) {
            let help = "give each column a name of its own";
            let twice = wrong(format!("two columns are called `{name}`"), help);
            return Err(twice.at(header_span, header_place));
        }
        let rows: Result<Vec<Row>, Diagnostic> = rows
            .map(|(number, cells)| self.row(*number, cells, &columns))
            .collect();
        Ok(Table {
            rows: rows?,
            header,
            header_span,
            header_place,
        })
    }

    fn row(
        &self,
        number: u32,
        cells: &BTreeMap<u32, String>,
        columns: &[u32],
    ) -> Result<Row, Diagnostic> {
        let (span, places) = self.place(number);
        if let Some(stray) = cells.keys().find(|column| !columns.contains(column)) {
            let place = format!(
                "cell {}{} of sheet `{}`",
                letters(*stray),
                number + 1,
                self.name
            );
            let message = "a cell stands under no name of a column";
            let help = "name its column, or empty the cell";
            let stray = places.get(stray).copied().unwrap_or(span);
            return Err(Diagnostic::new(Code::BadPriceRow, message, help).at(stray, place));
        }
        let field = |column: &u32| cells.get(column).cloned().unwrap_or_default();
        let place = |column: &u32| {
            (
                letters(*column),
                places.get(column).copied().unwrap_or(span),
            )
        };
        Ok(Row {
            line: CsvRow {
                fields: columns.iter().map(field).collect(),
                span,
            },
            cells: Some(Cells {
                sheet: self.name.clone(),
                number: number + 1,
                columns: columns.iter().map(place).collect(),
            }),
        })
    }

    fn place(&self, row: u32) -> (Span, BTreeMap<u32, Span>) {
        let nowhere = (Span::new(self.file, 0, 0), BTreeMap::new());
        self.places.get(&row).cloned().unwrap_or(nowhere)
    }
}

#[cfg(test)]
mod tests;
