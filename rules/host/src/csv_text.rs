//! Reading comma-separated text with the place of every row.

use parge_base::{Code, Diagnostic, FileId, Sources, Span};

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
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(body.as_bytes());
        let mut rows = Vec::new();
        let mut record = csv::StringRecord::new();
        loop {
            let start = reader.position().byte() as usize + skipped;
            match reader.read_record(&mut record) {
                Ok(false) => break,
                Ok(true) => rows.push((
                    record.clone(),
                    start,
                    reader.position().byte() as usize + skipped,
                )),
                Err(error) => {
                    let place = Span::new(file, start, start);
                    let line = sources.place(file, place.start).line;
                    return Err(Diagnostic::new(
                        code,
                        format!("the row cannot be read: {error}"),
                        "write each row on one line, with commas between its fields",
                    )
                    .at(sources.line_span(file, line), ""));
                }
            }
        }
        let row = |(record, start, end): (csv::StringRecord, usize, usize)| {
            let fields: Vec<String> = record.iter().map(str::to_owned).collect();
            CsvRow {
                fields,
                span: trimmed(text, file, start, end),
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
