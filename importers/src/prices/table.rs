//! The rows of a price book with their places, whatever file they come from.

use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use parge_rules::csv_text::{CsvRow, CsvText};

/// A header row and the rows under it.
pub(super) struct Table {
    /// The names of the columns in small letters.
    pub(super) header: Vec<String>,
    /// The place of the header.
    pub(super) header_span: Span,
    /// The same in words; empty where the file is text and the place is plain to see.
    pub(super) header_place: String,
    pub(super) rows: Vec<Row>,
}

/// One row.
pub(super) struct Row {
    /// Its fields, and its place.
    pub(super) line: CsvRow,
    /// Its cells, where it comes from a sheet.
    pub(super) cells: Option<Cells>,
}

/// The cells of a row of a sheet.
pub(super) struct Cells {
    /// The sheet.
    pub(super) sheet: String,
    /// The number of the row, from 1.
    pub(super) number: u32,
    /// The letters of each column, and where its text stands.
    pub(super) columns: Vec<(String, Span)>,
}

impl Table {
    /// The table in comma-separated text.
    pub(super) fn of_text(sources: &Sources, file: FileId) -> Result<Self, Diagnostic> {
        let text = CsvText::read(sources, file, Code::BadPriceBook)?;
        let row = |line| Row { line, cells: None };
        Ok(Self {
            header: text.header,
            header_span: text.header_span,
            header_place: String::new(),
            rows: text.rows.into_iter().map(row).collect(),
        })
    }

    /// The number of a column by its name.
    pub(super) fn column(&self, name: &str) -> Option<usize> {
        self.header.iter().position(|column| column == name)
    }

    /// A field by its column; empty where there is none.
    pub(super) fn field<'r>(&self, row: &'r Row, column: &str) -> &'r str {
        let at = self.column(column);
        at.map_or("", |at| row.line.field(at))
    }

    /// The place of a field, and where it comes from a sheet its cell in words.
    pub(super) fn place(&self, row: &Row, column: &str) -> (Span, String) {
        let cells = row.cells.as_ref();
        let cell = cells.and_then(|cells| {
            let (letters, span) = cells.columns.get(self.column(column)?)?;
            let (number, sheet) = (cells.number, &cells.sheet);
            Some((*span, format!("cell {letters}{number} of sheet `{sheet}`")))
        });
        cell.unwrap_or_else(|| (row.line.span, row.said("")))
    }
}

impl Row {
    /// What is said at a row; behind it where it stands, for a row of a sheet.
    pub(super) fn said(&self, text: &str) -> String {
        match (&self.cells, text) {
            (None, text) => text.to_owned(),
            (Some(Cells { sheet, number, .. }), "") => format!("row {number} of sheet `{sheet}`"),
            (Some(Cells { sheet, number, .. }), text) => {
                format!("{text}: row {number} of sheet `{sheet}`")
            }
        }
    }
}
