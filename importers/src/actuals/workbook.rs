//! The sheet of a workbook as a table. Its rows are written as lines of a text, so that a place in it
//! is a place like any other.

use super::entry::Piece;
use super::table::{COLUMNS, Row, Table, order};
use crate::grid::{self, Cell, Content, Sheet, letters};
use parge_base::actuals::Written;
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Code, Diagnostic, FileId, Sources, Span};

/// The sheet that is read where there is one of that name.
const SHEET: &str = "Actuals";

/// What the first cell of the header says.
const HEADER: &str = "what";

/// Reads the table of a workbook.
pub(super) fn read(
    sources: &mut Sources,
    name: &str,
    bytes: &[u8],
) -> Result<(FileId, Table), Diagnostic> {
    // What keeps a file from being opened is told as of any sheet.
    let book = grid::open(name, bytes).map_err(|said| Diagnostic {
        code: Code::BadActuals,
        ..said
    })?;
    let mut sheets = book.sheets.iter();
    let own = sheets.find(|sheet| sheet.name.eq_ignore_ascii_case(SHEET));
    let nowhere = |message: String| {
        let help = "begin a table with a row of names: what, name, where, amount, unit";
        Diagnostic::new(Code::BadActuals, message, help)
    };
    let sheet = own.or(book.sheets.first());
    let sheet = sheet.ok_or_else(|| nowhere(format!("{name} has no sheet")))?;
    let written = Lines::write(sources, name, sheet);
    let begins = |row: &grid::Row| {
        let mut cells = row.cells.iter();
        cells.any(|cell| text(cell).eq_ignore_ascii_case(HEADER))
    };
    let Some(head) = sheet.rows.iter().position(begins) else {
        let message = format!("sheet `{}` has no row with a cell `{HEADER}`", sheet.name);
        return Err(nowhere(message).at(Span::new(written.file, 0, 0), ""));
    };
    let (header, rows) = sheet.rows.split_at_checked(head + 1).unwrap_or_default();
    let header = header.last().map_or(&[][..], |row| &row.cells);
    let names: Vec<String> = header
        .iter()
        .map(|cell| text(cell).to_lowercase())
        .collect();
    let order = order(&names, &written.row(head, sheet))?;
    let columns: Vec<(u32, Option<usize>)> =
        header.iter().map(|cell| cell.column).zip(order).collect();
    let rows = rows.iter().enumerate();
    let mut said = Vec::new();
    let rows = rows
        .map(|(number, row)| written.fields(head + 1 + number, row, &columns, sheet, &mut said));
    let rows = rows.collect();
    Ok((written.file, Table { rows, said }))
}

/// What a cell says. Numbers are free of the noise of binary fractions, as the sheet shows them.
fn text(cell: &Cell) -> String {
    match &cell.content {
        Content::Number(number) => round_to(*number, NOISE_DECIMALS).to_string(),
        other => other.to_string().trim().to_owned(),
    }
}

/// The rows of a sheet, written as lines.
struct Lines {
    file: FileId,
    /// Where each row stands, and its cells, in the order of the sheet.
    rows: Vec<(Span, Vec<Span>)>,
}

impl Lines {
    /// Each row becomes the line of its number, its cells between bars.
    fn write(sources: &mut Sources, shown: &str, sheet: &Sheet) -> Self {
        let (mut all, mut ranges, mut line) = (String::new(), Vec::new(), 0);
        for row in &sheet.rows {
            while line < row.number {
                all.push('\n');
                line += 1;
            }
            let start = all.len();
            let mut cells = Vec::new();
            for cell in &row.cells {
                if all.len() > start {
                    all.push_str(" | ");
                }
                let at = all.len();
                all.push_str(&text(cell).replace(['\n', '\r'], " "));
                cells.push(at..all.len());
            }
            ranges.push((start..all.len(), cells));
        }
        let file = sources.add(shown, all);
        let span = |range: std::ops::Range<usize>| Span::new(file, range.start, range.end);
        let rows = ranges
            .into_iter()
            .map(|(row, cells)| (span(row), cells.into_iter().map(span).collect()));
        Self {
            file,
            rows: rows.collect(),
        }
    }

    fn row(&self, number: usize, sheet: &Sheet) -> Written {
        let span = self.rows.get(number).map(|(span, _)| *span);
        let row = sheet.rows.get(number).map_or(0, |row| row.number + 1);
        Written {
            span: span.unwrap_or(Span::new(self.file, 0, 0)),
            words: format!("row {row} of sheet `{}`", sheet.name),
        }
    }

    fn fields(
        &self,
        number: usize,
        row: &grid::Row,
        columns: &[(u32, Option<usize>)],
        sheet: &Sheet,
        said: &mut Vec<Diagnostic>,
    ) -> Row {
        let mut fields: [Option<Piece>; COLUMNS.len()] = Default::default();
        for (at, cell) in row.cells.iter().enumerate() {
            let span = self.rows.get(number).and_then(|(_, cells)| cells.get(at));
            let place = Written {
                span: span.copied().unwrap_or(Span::new(self.file, 0, 0)),
                words: format!(
                    "cell {}{} of sheet `{}`",
                    letters(cell.column),
                    row.number + 1,
                    sheet.name
                ),
            };
            if let Err(wrong) = check(cell, &place) {
                said.push(wrong);
                continue;
            }
            let piece = Piece {
                text: text(cell),
                place,
            };
            let column = columns.iter().find(|(column, _)| *column == cell.column);
            let Some((_, column)) = column else {
                if piece.text.is_empty() {
                    continue;
                }
                let help = "name its column, or empty the cell";
                let message = "a cell stands under no name of a column";
                said.push(piece.wrong(Code::BadActuals, message, help));
                continue;
            };
            if let Some(field) = column.and_then(|column| fields.get_mut(column)) {
                *field = (!piece.text.is_empty()).then_some(piece);
            }
        }
        Row {
            fields,
            place: self.row(number, sheet),
        }
    }
}

/// What is struck out does not hold, and a formula that fails says nothing.
fn check(cell: &Cell, place: &Written) -> Result<(), Diagnostic> {
    let (message, help) = match &cell.content {
        Content::Fault(fault) => (
            format!("the cell shows `{fault}`"),
            "correct its formula, or write the number",
        ),
        Content::Nothing => (
            "the formula of the cell has no stored result".to_owned(),
            "open the workbook in a spreadsheet program and save it, or write the number",
        ),
        _ if cell.struck => (
            format!("`{}` is struck through", text(cell)),
            "empty the cell, or take the line through it away",
        ),
        _ => return Ok(()),
    };
    let wrong = Diagnostic::new(Code::BadActuals, message, help);
    Err(wrong.at(place.span, place.words.clone()))
}
