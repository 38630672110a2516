//! Sheets of an xlsx file that are read while their parts are looked through, so that cells are read
//! on one core while another unpacks those behind them.
//!
//! Nothing is said from here: where anything is wrong with the file, or is not as office programs
//! write it, nothing was read ahead, and the file is looked through again in the order of its parts.

use super::Kind;
use super::bounds::{MAX_KEPT_BYTES, MAX_UNPACKED_BYTES};
use super::container::{self, Archive, Passed, Whole, has_macros, look_through};
use super::hidden::{self, Hidden, Places};
use super::plain::{BlockRead, Counts, Look, Read, Rows, Stream, together};
use parge_base::Diagnostic;
use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Mutex, mpsc};

const WORKBOOK: &str = "xl/workbook.xml";
const PLACE: &str = "_rels/.rels";
const RELATIONS: &str = "xl/_rels/workbook.xml.rels";
const STYLES: &str = "xl/styles.xml";
/// The part with the texts that cells share.
const STRINGS: &str = "xl/sharedStrings.xml";

/// What was read of a workbook ahead.
pub(super) struct Ahead {
    /// Where its sheets stand.
    pub(super) places: Places,
    found: Vec<BlockRead>,
    /// The parts with cells in their order, to which what was found belongs.
    around: Vec<Around>,
}

/// The name of a part with cells, and what is hidden around its rows if these may be plain.
type Around = (String, Option<Hidden>);

/// Which workbook it is, and what was read of it. Every part has been unpacked once under a bound.
pub(super) fn look_into(bytes: &[u8]) -> Result<(Kind, Option<Ahead>), Diagnostic> {
    // Styles are read by other people's code, which may stumble over them; it will again.
    let ahead = catch_unwind(AssertUnwindSafe(|| ahead(bytes)));
    match ahead.ok().flatten() {
        Some(ahead) => Ok((Kind::Xlsx, Some(ahead))),
        None => container::look_into(bytes).map(|kind| (kind, None)),
    }
}

impl Ahead {
    /// The rows of the parts that are written plainly, by the names of these.
    pub(super) fn sheets(self) -> (Places, BTreeMap<String, (Rows, Hidden)>) {
        let rows = together(self.found, self.around.len());
        let sheets = self.around.into_iter().zip(rows);
        let sheets = sheets.filter_map(|((path, hidden), rows)| Some((path, (rows?, hidden?))));
        (self.places, sheets.collect())
    }
}

/// How much more may be unpacked, and how much of that be kept or read.
struct Bounds {
    left: u64,
    room: usize,
}

fn ahead(bytes: &[u8]) -> Option<Ahead> {
    let mut archive = container::archive(bytes).ok()?;
    let names = names(&archive)?;
    let mut bounds = Bounds {
        left: MAX_UNPACKED_BYTES,
        room: MAX_KEPT_BYTES,
    };
    let mut parts = others(&mut archive, &names, &mut bounds)?;
    // What is no sheet was looked through: other readers may go over it.
    if !hidden::is_in_its_place(parts.get(PLACE)?.as_slice()) {
        return None;
    }
    let (relations, workbook) = (parts.get(RELATIONS)?, parts.get(WORKBOOK)?);
    let places = hidden::places_in(relations.as_slice(), workbook.as_slice())?;
    let styles = parts.remove(STYLES);
    let read = Read::of(parts.get(STRINGS).map(Vec::as_slice), Look::all(styles)?)?;
    let (found, around) = sheets(&mut archive, &names, &mut bounds, &read)?;
    Some(Ahead {
        places,
        found,
        around,
    })
}

/// The names of the parts in their order; `None` where it is no xlsx file, or one with macros.
fn names(archive: &Archive<'_>) -> Option<Vec<String>> {
    let mut names = Vec::with_capacity(archive.len());
    let mut known = BTreeSet::new();
    for number in 0..archive.len() {
        let name = archive.name_for_index(number)?.ok()?.into_owned();
        let small = name.to_lowercase();
        let is_other = matches!(small.as_str(), "xl/workbook.bin" | "mimetype");
        // Readers look for names in small letters, and take either mark between folders.
        let is_new = known.insert(small.replace('\\', "/"));
        if is_other || has_macros(&small) || !is_new {
            return None;
        }
        names.push(name);
    }
    known.contains(WORKBOOK).then_some(names)
}

/// Whether a part of an xlsx file holds cells, by its name.
fn has_cells(name: &str) -> bool {
    let name = name.to_lowercase();
    name.starts_with("xl/worksheets/") && name.ends_with(".xml")
}

/// Looks through the parts that hold no cells, and keeps those that say how to read the cells.
fn others(
    archive: &mut Archive<'_>,
    names: &[String],
    bounds: &mut Bounds,
) -> Option<BTreeMap<String, Vec<u8>>> {
    let mut kept = BTreeMap::new();
    let mut passed = Passed::default();
    for (number, name) in names.iter().enumerate() {
        if has_cells(name) {
            continue;
        }
        let mut part = container::part(archive, number).ok()?;
        let small = name.to_lowercase();
        let is_kept = [WORKBOOK, PLACE, RELATIONS, STYLES, STRINGS].contains(&name.as_str());
        if !is_kept {
            // The styles by another name would be overlooked.
            if small.replace('\\', "/") == STYLES {
                return None;
            }
            look_through(&mut part, &small, &mut bounds.left, &mut passed).ok()?;
            continue;
        }
        let mut whole = Whole::of(part.size());
        look_through(&mut part, &small, &mut bounds.left, &mut whole).ok()?;
        let bytes = whole.bytes()?;
        bounds.room = bounds.room.checked_sub(bytes.len())?;
        kept.insert(name.clone(), bytes);
    }
    Some(kept)
}

/// Looks through the parts that hold cells, and reads their rows.
fn sheets(
    archive: &mut Archive<'_>,
    names: &[String],
    bounds: &mut Bounds,
    read: &Read,
) -> Option<(Vec<BlockRead>, Vec<Around>)> {
    let sheets = names.iter().enumerate().filter(|(_, name)| has_cells(name));
    let used = Mutex::default();
    let sheets: Vec<(usize, &String, Counts<'_>)> = sheets
        .map(|(number, name)| (number, name, Counts::new(&used)))
        .collect();
    let (done, found) = mpsc::channel();
    let around = rayon::in_place_scope(|scope| {
        let mut around = Vec::with_capacity(sheets.len());
        for (at, (number, name, counts)) in sheets.iter().enumerate() {
            let mut part = container::part(archive, *number).ok()?;
            let mut stream = Stream::new(scope, (read, counts), (at, done.clone()), bounds.room);
            look_through(
                &mut part,
                &name.to_lowercase(),
                &mut bounds.left,
                &mut stream,
            )
            .ok()?;
            let hidden;
            (hidden, bounds.room) = stream.end();
            around.push(((*name).clone(), hidden));
        }
        Some(around)
    })?;
    drop(done);
    Some((found.into_iter().collect(), around))
}

#[cfg(test)]
mod tests;
