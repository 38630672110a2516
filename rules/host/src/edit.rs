//! Rows written into the tables of a pack as a person would in a text editor: what is not changed
//! stays as it stands, to the last letter.

use crate::csv_text::CsvText;
use crate::pack::{Layer, Pack};
use parge_base::{Code, Diagnostic, FileId, Sources};
use std::collections::BTreeMap;

/// A row as it is to stand in a table of the pack itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewRow {
    /// The table.
    pub table: String,
    /// The names of its key columns, for a table that no pack has yet.
    pub key_columns: Vec<String>,
    /// The keys.
    pub keys: Vec<String>,
    /// The value as written.
    pub value: String,
    /// The unit as written.
    pub unit: String,
    /// Who says so.
    pub source: String,
}

impl Pack {
    /// The tables of the pack itself, by their paths in it, that differ with these rows. A row that
    /// stands there already gets value, unit and source and keeps its note; others are put behind
    /// the last one, and take the place of those of a pack under it.
    pub fn with_rows(
        &self,
        rows: &[NewRow],
        sources: &Sources,
    ) -> Result<BTreeMap<String, String>, Diagnostic> {
        let mut tables: BTreeMap<&str, Vec<&NewRow>> = BTreeMap::new();
        for row in rows {
            tables.entry(&row.table).or_default().push(row);
        }
        let mut changed = BTreeMap::new();
        for (table, rows) in tables {
            let path = format!("tables/{table}.csv");
            let text = match self
                .layers()
                .last()
                .and_then(|own| file_of(own, &path, sources))
            {
                Some(file) => edited(file, &rows, sources)?,
                None => self.begun(table, &rows),
            };
            changed.insert(path, text);
        }
        Ok(changed)
    }

    /// A new file, headed as the table of the pack under it.
    fn begun(&self, table: &str, rows: &[&NewRow]) -> String {
        let known = self.tables().get(table).map(|table| &table.key_columns);
        let given = rows.first().map(|row| &row.key_columns);
        let keys = known.or(given).cloned().unwrap_or_default();
        let rest = COLUMNS.map(str::to_owned);
        let header: Vec<String> = keys.into_iter().chain(rest).collect();
        let lines = rows.iter().map(|row| line(&laid(row, &header, None)));
        let lines = std::iter::once(line(&header)).chain(lines);
        lines.map(|line| line + "\n").collect()
    }
}

const COLUMNS: [&str; 4] = ["value", "unit", "source", "note"];

/// A file of a pack by its path in it.
fn file_of(own: &Layer, path: &str, sources: &Sources) -> Option<FileId> {
    let name = format!("{}/{path}", own.folder);
    let mut files = own.files().iter().copied();
    files.find(|file| sources.name(*file) == name)
}

/// The text of a table with rows in it.
fn edited(file: FileId, rows: &[&NewRow], sources: &Sources) -> Result<String, Diagnostic> {
    let read = CsvText::read(sources, file, Code::BadTable)?;
    let mut text = sources.text(file).to_owned();
    let end = match text.contains("\r\n") {
        true => "\r\n",
        false => "\n",
    };
    let mut places = Vec::new();
    let mut behind = Vec::new();
    for row in rows {
        let same = |fields: &[String]| fields.starts_with(&row.keys);
        match read.rows.iter().find(|there| same(&there.fields)) {
            Some(there) => {
                let fields = laid(row, &read.header, Some(&there.fields));
                places.push((there.span.range(), line(&fields)));
            }
            None => behind.push(line(&laid(row, &read.header, None))),
        }
    }
    // From the last one on, so that the places of the others still hold.
    places.sort_by_key(|(range, _)| std::cmp::Reverse(range.start));
    for (range, line) in places {
        text.replace_range(range, &line);
    }
    for line in behind {
        if !text.ends_with('\n') {
            text += end;
        }
        text += &line;
        text += end;
    }
    Ok(text)
}

/// The fields of a row under a header; what it does not say stays as it was.
fn laid(row: &NewRow, header: &[String], was: Option<&[String]>) -> Vec<String> {
    let columns = header.iter().enumerate();
    columns
        .map(|(at, column)| match column.as_str() {
            "value" => row.value.clone(),
            "unit" => row.unit.clone(),
            "source" => row.source.clone(),
            _ => {
                let was = was.and_then(|was| was.get(at));
                was.or_else(|| row.keys.get(at))
                    .cloned()
                    .unwrap_or_default()
            }
        })
        .collect()
}

/// Fields as a line, without its end.
fn line(fields: &[String]) -> String {
    let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
    // Writing to memory does not fail, and what was a text stays one.
    let _ = writer.write_record(fields);
    let bytes = writer.into_inner().unwrap_or_default();
    let text = String::from_utf8(bytes).unwrap_or_default();
    text.trim_end_matches('\n').to_owned()
}

#[cfg(test)]
mod tests;
