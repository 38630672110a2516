//! Hidden rows and columns of an xlsx file, read off its parts, since calamine does not give them;
//! and how parts are read at all.

use super::Kind;
use super::container::Archive;
use super::open::damaged;
use parge_base::Diagnostic;
use quick_xml::events::{BytesStart, Event};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead, BufReader, Cursor, Read};
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

/// The names of the sheets with the parts in which they stand.
pub(super) type Places = Vec<(String, String)>;

/// Where the sheets of a workbook stand. The bytes were looked through under bounds before.
pub(super) fn places(bytes: &[u8]) -> Result<Places, Diagnostic> {
    let read = || {
        let mut archive = ZipArchive::new(Cursor::new(bytes)).ok()?;
        let [relations, workbook] = ["xl/_rels/workbook.xml.rels", "xl/workbook.xml"].map(|path| {
            let mut part = Vec::new();
            archive.by_name(path).ok()?.read_to_end(&mut part).ok()?;
            Some(part)
        });
        places_in(relations?.as_slice(), workbook?.as_slice())
    };
    read().ok_or_else(|| damaged(Kind::Xlsx))
}

/// The same by the parts of the workbook's relations and of the workbook.
pub(super) fn places_in(relations: impl BufRead, workbook: impl BufRead) -> Option<Places> {
    let targets = targets_in(relations)?;
    let mut places = Places::new();
    for (name, id) in sheets(workbook)? {
        let Some(target) = targets.get(&id) else {
            continue;
        };
        let path = match target.strip_prefix('/') {
            Some(from_root) => from_root.to_owned(),
            None => format!("xl/{target}"),
        };
        places.push((name, path));
    }
    Some(places)
}

/// Whether the workbook of a file is the part that office programs make it, by its relations.
pub(super) fn is_in_its_place(relations: impl BufRead) -> bool {
    let mut is_there = true;
    let looked = each_of(relations, |element| {
        let is_workbook = attribute(element, "Type")
            .is_some_and(|kind| kind.ends_with("/relationships/officeDocument"));
        let target = attribute(element, "Target");
        let usual = matches!(
            target.as_deref(),
            Some("xl/workbook.xml" | "/xl/workbook.xml")
        );
        is_there &= usual || !is_workbook;
    });
    looked.is_some() && is_there
}

/// What is hidden on sheets, by their names.
pub(super) fn of(bytes: &[u8], places: &Places) -> Result<BTreeMap<String, Hidden>, Diagnostic> {
    let bad = || damaged(Kind::Xlsx);
    let mut found = BTreeMap::new();
    if places.is_empty() {
        return Ok(found);
    }
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| bad())?;
    for (name, path) in places {
        let part = archive.by_name(path).map_err(|_| bad())?;
        let hidden = sheet(BufReader::new(part.take(u64::MAX))).ok_or_else(bad)?;
        found.insert(name.clone(), hidden);
    }
    Ok(found)
}

/// The targets of the workbook's relations.
pub(super) fn targets(archive: &mut Archive<'_>, path: &str) -> Option<BTreeMap<String, String>> {
    let part = archive.by_name(path).ok()?;
    targets_in(BufReader::new(part.take(u64::MAX)))
}

fn targets_in(relations: impl BufRead) -> Option<BTreeMap<String, String>> {
    let mut found = BTreeMap::new();
    each_of(relations, |element| {
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
fn sheets(workbook: impl BufRead) -> Option<Vec<(String, String)>> {
    let mut found = Vec::new();
    each_of(workbook, |element| {
        if element.local_name().as_ref() == "sheet"
            && let Some(name) = attribute(element, "name")
            && let Some(id) = attribute(element, "r:id").or_else(|| attribute(element, "id"))
        {
            found.push((name, id));
        }
    })?;
    Some(found)
}

/// What is hidden on the sheet of a part.
pub(super) fn sheet(part: impl BufRead) -> Option<Hidden> {
    let mut hidden = Hidden::default();
    let mut next_row = 0;
    each_of(part, |element| match element.local_name().as_ref() {
        "col" if is_set(element, "hidden") => {
            let number = |name| attribute(element, name).and_then(|text| text.parse::<u32>().ok());
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
fn each_of(part: impl BufRead, mut look: impl FnMut(&BytesStart<'_>)) -> Option<()> {
    let mut reader = quick_xml::Reader::from_reader(part);
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
