//! Text with separated fields: CSV and TSV, in the encodings and with the separators that office
//! programs write.

use super::bounds::{Used, unreadable};
use super::workbook::words;
use super::{Cell, Row, Sheet};
use encoding_rs::{UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};
use parge_base::Diagnostic;

/// What may stand between fields, the likeliest first where nothing speaks for one of them.
const SEPARATORS: [u8; 4] = [b',', b';', b'\t', b'|'];
/// How many lines are looked at to find what stands between fields.
const SAMPLE: usize = 200;
/// The highest row and column of a spreadsheet.
const MAX_ROWS: usize = 1_048_576;
const MAX_COLUMNS: usize = 16_384;

/// The one sheet of a text file, named as the file without its ending.
pub(super) fn read(name: &str, bytes: &[u8]) -> Result<Vec<Sheet>, Diagnostic> {
    let text = decoded(bytes)?;
    let separator = separator(&text);
    check_quotes(&text, separator)?;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    let mut used = Used::default();
    let mut rows = Vec::new();
    let mut record = csv::StringRecord::new();
    let mut next = 0;
    loop {
        let bad = || {
            unreadable(
                "a row of the text cannot be read",
                "open the file in a spreadsheet program, and save it as CSV anew",
            )
        };
        if !reader.read_record(&mut record).map_err(|_| bad())? {
            break;
        }
        // Rows are numbered as a spreadsheet numbers them: empty lines count, and lines within a
        // field do not.
        let begin = record.position().map_or(0, |place| place.byte()) as usize;
        let number = next + empty_lines(text.get(begin..).unwrap_or(""));
        next = number + 1;
        if number >= MAX_ROWS || record.len() > MAX_COLUMNS {
            return Err(super::bounds::over(
                "more rows or columns than a spreadsheet can",
            ));
        }
        let mut cells = Vec::new();
        for (column, field) in record.iter().enumerate() {
            if let Some(content) = words(field) {
                used.cell(field.len())?;
                cells.push(Cell {
                    column: column as u32,
                    content,
                    formula: None,
                    struck: false,
                    format: None,
                });
            }
        }
        if !cells.is_empty() {
            rows.push(Row {
                number: number as u32,
                hidden: false,
                cells,
            });
        }
    }
    let file = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let sheet = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    Ok(vec![Sheet {
        name: sheet.to_owned(),
        rows,
        ..Sheet::default()
    }])
}

/// Refuses a text with a quote that is never closed: all rows behind it would be one cell.
fn check_quotes(text: &str, separator: u8) -> Result<(), Diagnostic> {
    let mut begins = true;
    let mut line = 1_usize;
    let mut open_since = None;
    let mut bytes = text.bytes().peekable();
    while let Some(byte) = bytes.next() {
        line += usize::from(byte == b'\n');
        match (byte, open_since) {
            (b'"', Some(_)) => {
                // Two quotes are one that is meant.
                if bytes.next_if_eq(&b'"').is_none() {
                    open_since = None;
                }
            }
            (_, Some(_)) => {}
            (b'"', None) if begins => open_since = Some(line),
            (byte, None) => begins = byte == separator || byte == b'\n' || byte == b'\r',
        }
    }
    match open_since {
        None => Ok(()),
        Some(line) => Err(unreadable(
            format!("the quote that begins a text in line {line} is never closed"),
            "close it, or write the mark for inches as `in`, and import that",
        )),
    }
}

/// How many empty lines a text begins with.
fn empty_lines(text: &str) -> usize {
    let ends = text.len() - text.trim_start_matches(['\n', '\r']).len();
    let ends = text.get(..ends).unwrap_or("");
    let pairs = ends.matches("\r\n").count();
    ends.len() - pairs
}

/// The text. A byte order mark decides; without one, zeros on every second byte mean UTF-16, what
/// is no UTF-8 is Windows-1252, and what is none of these is no text.
fn decoded(bytes: &[u8]) -> Result<String, Diagnostic> {
    let marked = encoding_rs::Encoding::for_bom(bytes).map(|(encoding, _)| encoding);
    let zeros = |from: usize| {
        bytes
            .iter()
            .skip(from)
            .step_by(2)
            .filter(|b| **b == 0)
            .count()
    };
    let half = bytes.len() / 4;
    let encoding = match marked {
        Some(encoding) => encoding,
        None if bytes.len() >= 4 && zeros(1) > half => UTF_16LE,
        None if bytes.len() >= 4 && zeros(0) > half => UTF_16BE,
        None if std::str::from_utf8(bytes).is_ok() => UTF_8,
        None => WINDOWS_1252,
    };
    let (text, _, broken) = encoding.decode(bytes);
    let is_control = |ch: char| ch.is_control() && !matches!(ch, '\n' | '\r' | '\t' | '\u{c}');
    if broken || text.chars().any(is_control) {
        return Err(unreadable(
            "the file is neither a workbook nor text",
            "export the sheet as .xlsx or .csv, and import that",
        ));
    }
    Ok(text.into_owned())
}

/// What stands between fields: what divides the most lines into the same number of fields.
fn separator(text: &str) -> u8 {
    let score = |separator: u8| {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .from_reader(text.as_bytes());
        let mut counts = std::collections::BTreeMap::new();
        for record in reader.byte_records().take(SAMPLE).flatten() {
            if record.len() > 1 {
                *counts.entry(record.len()).or_insert(0_usize) += 1;
            }
        }
        // Many lines alike count more than many fields: a comma may stand in every decimal.
        let best = counts
            .iter()
            .max_by_key(|(fields, lines)| (**lines, **fields));
        best.map_or((0, 0), |(fields, lines)| (*lines, *fields))
    };
    let best = SEPARATORS
        .into_iter()
        .rev()
        .max_by_key(|separator| score(*separator));
    best.unwrap_or(b',')
}
