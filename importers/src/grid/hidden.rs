//! Hidden rows and columns of an xlsx file, read off its parts, since calamine does not give them;
//! and how parts are read at all.

use super::Kind;
use super::open::damaged;
use parge_base::Diagnostic;
use quick_xml::events::{BytesStart, Event};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufReader, Cursor, Read};
use zip::ZipArchive;

/// The highest column of a sheet.
const MAX_COLUMN: u32 = 16_383;

/// What is hidden on one sheet, rows and columns from 0.
#[derive(Debug, Default)]
pub(super) struct Hidden {
    pub(super) rows: BTreeSet<u32>,
    /// From the first to the last, as the file says them: over each other, if it likes.
    columns: Vec<(u32, u32)>,
    /// Whether any cells are merged.
    pub(super) merges: bool,
}

impl Hidden {
    /// Hides columns from the first to the last.
    pub(super) fn hide_columns(&mut self, first: u32, last: u32) {
        self.columns.push((first, last.min(MAX_COLUMN)));
    }

    /// The columns, each once, however often the file says so.
    pub(super) fn columns(&self) -> BTreeSet<u32> {
        let mut stretches = self.columns.clone();
        stretches.sort_unstable();
        let mut next = 0;
        let mut found = BTreeSet::new();
        for (first, last) in stretches {
            found.extend(first.max(next)..=last);
            next = next.max(last.saturating_add(1));
        }
        found
    }
}

pub(super) type Archive<'b> = ZipArchive<Cursor<&'b [u8]>>;

/// What is hidden, by the names of the sheets. The bytes were looked through under bounds before.
pub(super) fn of(bytes: &[u8]) -> Result<BTreeMap<String, Hidden>, Diagnostic> {
    let bad = || damaged(Kind::Xlsx);
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| bad())?;
    let targets = targets(&mut archive, "xl/_rels/workbook.xml.rels").ok_or_else(bad)?;
    let mut found = BTreeMap::new();
    for (name, id) in sheets(&mut archive).ok_or_else(bad)? {
        let Some(target) = targets.get(&id) else {
            continue;
        };
        let path = match target.strip_prefix('/') {
            Some(from_root) => from_root.to_owned(),
            None => format!("xl/{target}"),
        };
        let hidden = sheet(&mut archive, &path).ok_or_else(bad)?;
        found.insert(name, hidden);
    }
    Ok(found)
}

/// The targets of the workbook's relations.
pub(super) fn targets(archive: &mut Archive<'_>, path: &str) -> Option<BTreeMap<String, String>> {
    let mut found = BTreeMap::new();
    each(archive, path, |element| {
        if let ("Relationship", Some(id), Some(target)) = (
            element.local_name().as_ref(),
            attribute(element, "Id"),
            attribute(element, "Target"),
        ) {
            found.insert(id, target);
        }
    })?;
    Some(found)
}

/// The sheets with the numbers of their relations.
fn sheets(archive: &mut Archive<'_>) -> Option<Vec<(String, String)>> {
    let mut found = Vec::new();
    each(archive, "xl/workbook.xml", |element| {
        if element.local_name().as_ref() == "sheet"
            && let Some(name) = attribute(element, "name")
            && let Some(id) = attribute(element, "r:id").or_else(|| attribute(element, "id"))
        {
            found.push((name, id));
        }
    })?;
    Some(found)
}

fn sheet(archive: &mut Archive<'_>, path: &str) -> Option<Hidden> {
    let mut hidden = Hidden::default();
    let mut next_row = 0;
    each(archive, path, |element| {
        match element.local_name().as_ref() {
            "col" if is_set(element, "hidden") => {
                let number =
                    |name| attribute(element, name).and_then(|text| text.parse::<u32>().ok());
                if let (Some(first), Some(last)) = (number("min"), number("max")) {
                    hidden.hide_columns(first.saturating_sub(1), last.saturating_sub(1));
                }
            }
            "row" => {
                let written = attribute(element, "r").and_then(|text| text.parse::<u32>().ok());
                let row = written.map_or(next_row, |row| row.saturating_sub(1));
                if is_set(element, "hidden") {
                    hidden.rows.insert(row);
                }
                next_row = row.saturating_add(1);
            }
            "mergeCell" => hidden.merges = true,
            _ => {}
        }
    })?;
    Some(hidden)
}

fn is_set(element: &BytesStart<'_>, name: &str) -> bool {
    attribute(element, name).is_some_and(|value| value == "1" || value == "true")
}

/// The value of an attribute, its entities resolved.
pub(super) fn attribute(element: &BytesStart<'_>, name: &str) -> Option<String> {
    let found = element.try_get_attribute(name).ok()??;
    let text = found
        .normalized_value(quick_xml::XmlVersion::Implicit1_0)
        .ok()?;
    Some(text.into_owned())
}

/// Looks at every element of a part.
fn each(
    archive: &mut Archive<'_>,
    path: &str,
    mut look: impl FnMut(&BytesStart<'_>),
) -> Option<()> {
    let part = archive.by_name(path).ok()?;
    let mut reader = quick_xml::Reader::from_reader(BufReader::new(part.take(u64::MAX)));
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        match reader.read_event_into(&mut buffer).ok()? {
            Event::Start(element) | Event::Empty(element) => look(&element),
            Event::Eof => return Some(()),
            _ => {}
        }
    }
}
