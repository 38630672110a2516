//! Reading comma-separated text with the place of every row.

use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use std::cell::RefCell;
use std::io::{Cursor, SeekFrom};

/// One row: its fields and its place.
#[derive(Debug, Clone)]
pub struct CsvRow {
    /// The fields, without blanks around them.
    pub fields: Vec<String>,
    /// The row without its line break.
    pub span: Span,
}

impl CsvRow {
    /// A field by its column; empty where the row is shorter.
    pub fn field(&self, column: usize) -> &str {
        self.fields.get(column).map_or("", String::as_str)
    }
}

impl CsvRow {
    /// Refuses a row with more fields than there are columns: a comma in a number or a text has
    /// shifted what follows it.
    pub fn check_length(&self, columns: usize, code: Code) -> Result<(), Diagnostic> {
        let fields = self.fields.len();
        if fields <= columns {
            return Ok(());
        }
        let message = format!("the row has {fields} fields, and there are {columns} columns");
        let help = "a comma inside a number or a text divides it: write `26.15`, and put texts with commas in quotes";
        Err(Diagnostic::new(code, message, help).at(self.span, ""))
    }
}

/// A header row and the rows under it. Rows without any text are left out.
#[derive(Debug, Clone)]
pub struct CsvText {
    /// Column names in lower case.
    pub header: Vec<String>,
    /// The place of the header.
    pub header_span: Span,
    /// The rows.
    pub rows: Vec<CsvRow>,
}

impl CsvText {
    /// Reads a file's text; a row that cannot be read ends the reading with a diagnostic of the
    /// code given.
    pub fn read(sources: &Sources, file: FileId, code: Code) -> Result<Self, Diagnostic> {
        let text = sources.text(file);
        // A byte order mark is what spreadsheets put before their text; it is no column name.
        let skipped = if text.starts_with('\u{feff}') {
            '\u{feff}'.len_utf8()
        } else {
            0
        };
        let body = text.get(skipped..).unwrap_or("");
        let records = READER.with_borrow_mut(|reader| records(reader, body));
        let rows = records.map_err(|(at, error)| {
            let place = Span::new(file, at + skipped, at + skipped);
            let line = sources.place(file, place.start).line;
            let message = format!("the row cannot be read: {error}");
            let help = "write each row on one line, with commas between its fields";
            Diagnostic::new(code, message, help).at(sources.line_span(file, line), "")
        })?;
        let row = |(record, start, end): (csv::StringRecord, usize, usize)| {
            let fields: Vec<String> = record.iter().map(str::to_owned).collect();
            CsvRow {
                fields,
                span: trimmed(text, file, start + skipped, end + skipped),
            }
        };
        let rows: Vec<CsvRow> = rows
            .into_iter()
            .map(row)
            .filter(|row| row.fields.iter().any(|f| !f.is_empty()))
            .collect();
        let over_line = |row: &&CsvRow| row.fields.iter().any(|field| field.contains(['\n', '\r']));
        if let Some(row) = rows.iter().find(over_line) {
            let line = sources.place(file, row.span.start).line;
            let help = "close the quote on the line where it begins";
            return Err(
                Diagnostic::new(code, "a quoted text runs over the end of its line", help)
                    .at(sources.line_span(file, line), "begins here"),
            );
        }
        let mut rows = rows.into_iter();
        let Some(header) = rows.next() else {
            return Err(Diagnostic::new(
                code,
                "the file has no header row",
                "begin with the names of the columns",
            )
            .at(Span::new(file, 0, 0), ""));
        };
        let names: Vec<String> = header
            .fields
            .iter()
            .map(|name| name.to_lowercase())
            .collect();
        let repeated =
            |(at, name): &(usize, &String)| names.iter().take(*at).any(|first| first == *name);
        if let Some((_, name)) = names.iter().enumerate().find(repeated) {
            let message = format!("two columns are called `{name}`");
            return Err(
                Diagnostic::new(code, message, "give each column a name of its own")
                    .at(header.span, ""),
            );
        }
        Ok(Self {
            header: names,
            header_span: header.span,
            rows: rows.collect(),
        })
    }

    /// The number of a column by its name.
    pub fn column(&self, name: &str) -> Option<usize> {
        self.header.iter().position(|column| column == name)
    }
}

/// Reads text from its beginning.
type Reader = csv::Reader<Cursor<Vec<u8>>>;

thread_local! {
    /// A pack has dozens of small tables, and to make a reader takes longer than to read one of them.
    static READER: RefCell<Reader> = RefCell::new(
        csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(Cursor::default()),
    );
}

/// A record with the bytes at which it begins and ends.
type Record = (csv::StringRecord, usize, usize);

/// The records of a text; where one cannot be read, the byte at which it begins.
fn records(reader: &mut Reader, text: &str) -> Result<Vec<Record>, (usize, csv::Error)> {
    *reader.get_mut() = Cursor::new(text.as_bytes().to_vec());
    let begin = reader.seek_raw(SeekFrom::Start(0), csv::Position::new());
    begin.map_err(|error| (0, error))?;
    let mut records = Vec::new();
    let mut record = csv::StringRecord::new();
    loop {
        let start = reader.position().byte() as usize;
        match reader.read_record(&mut record) {
            Ok(false) => return Ok(records),
            Ok(true) => {
                let end = reader.position().byte() as usize;
                records.push((record.clone(), start, end));
            }
            Err(error) => return Err((start, error)),
        }
    }
}

fn trimmed(text: &str, file: FileId, start: usize, end: usize) -> Span {
    let raw = text.get(start..end).unwrap_or("");
    let lead = raw.len() - raw.trim_start_matches(['\n', '\r']).len();
    let body = raw.trim_matches(['\n', '\r']);
    Span::new(file, start + lead, start + lead + body.len())
}

/// Reads a written number: `0.45`, `1/2`, `1 1/2`, `-3`. `None` for anything else.
pub fn number(text: &str) -> Option<f64> {
    let plain = |text: &str| text.parse::<f64>().ok().filter(|value| value.is_finite());
    let whole = |text: &str| text.parse::<u32>().ok().map(f64::from);
    let text = text.trim();
    let Some((before, bottom)) = text.split_once('/') else {
        return plain(text);
    };
    let bottom = whole(bottom.trim()).filter(|bottom| *bottom > 0.0)?;
    match before.trim().split_once(' ') {
        Some((units, top)) => Some(whole(units)? + whole(top.trim())? / bottom),
        None => Some(whole(before.trim())? / bottom),
    }
}

#[cfg(test)]
mod tests;
