//! Sheets of xlsx files that are written as office programs write them, read in one pass on all
//! cores.
//!
//! What is read here is read as calamine reads it, and tests hold both against each other. Whatever
//! is not written plainly (a blank between elements, a reference to a character, a day) is left to
//! calamine: the sheet as a whole, so that there is one reader of each.

mod cut;
mod looks;
mod row;
mod strings;

pub(super) use looks::Look;
pub(super) use row::Rows;

use super::bounds::MAX_CELLS;
use super::container::Parts;
use super::hidden::{self, Hidden, Places};
use calamine::Xlsx;
use rayon::prelude::*;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::io::Cursor;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The tags around the rows of a sheet.
const START: &str = "<sheetData>";
const END: &str = "</sheetData>";
/// How much of a sheet is read at a time on one core, in bytes.
const BLOCK: usize = 256 << 10;
/// The part with the texts that cells share.
const STRINGS: &str = "xl/sharedStrings.xml";

/// The sheets of a workbook that are written plainly, by their names.
#[derive(Default)]
pub(super) struct Plain {
    /// Their rows, with what is hidden.
    pub(super) rows: BTreeMap<String, Rows>,
    /// What else is hidden.
    pub(super) hidden: BTreeMap<String, Hidden>,
}

/// The texts to which the cells of a workbook refer; `None` where they are not written plainly.
pub(super) fn refers_to<'p>(bytes: &[u8], parts: &'p Parts) -> Option<Vec<Cow<'p, str>>> {
    let strings = match parts.get(STRINGS) {
        Some(part) => strings::read(std::str::from_utf8(part).ok()?)?,
        None => Vec::new(),
    };
    hidden::is_in_its_place(bytes).then_some(strings)
}

/// The sheets of a workbook that are written plainly, as far as they are.
pub(super) fn sheets(
    book: &mut Xlsx<Cursor<&[u8]>>,
    strings: Vec<Cow<'_, str>>,
    places: &Places,
    parts: &Parts,
) -> Plain {
    let mut plain = Plain::default();
    let mut read = Read {
        strings,
        looks: Vec::new(),
        cells: AtomicUsize::new(0),
    };
    for (name, path) in places {
        let is_alone = places.iter().filter(|(own, _)| own == name).count() == 1;
        let part = parts.get(path).filter(|_| is_alone);
        // The reader looks at what stands before the rows.
        let (Some(part), Ok(reader)) = (part, book.worksheet_cells_reader(name)) else {
            continue;
        };
        if read.looks.is_empty() {
            read.looks = reader.styles().iter().map(Look::of).collect();
        }
        let (rows, hidden) = rayon::join(|| read.rows(part), || hidden_around(part));
        if let (Some(rows), Some(hidden)) = (rows, hidden) {
            plain.rows.insert(name.clone(), rows);
            plain.hidden.insert(name.clone(), hidden);
        }
    }
    plain
}

/// What is hidden on a sheet, rows apart.
fn hidden_around(part: &[u8]) -> Option<Hidden> {
    let (before, _, behind) = divided(part)?;
    let hidden = hidden::sheet([before, behind].concat().as_bytes())?;
    hidden.rows.is_empty().then_some(hidden)
}

/// What the cells of a workbook refer to.
struct Read<'p> {
    strings: Vec<Cow<'p, str>>,
    looks: Vec<Look>,
    /// How many cells were read of a sheet.
    cells: AtomicUsize,
}

impl Read<'_> {
    /// Counts cells, so that a sheet with too many is given up before its end.
    fn count(&self, cells: usize) -> Option<()> {
        let before = self.cells.fetch_add(cells, Ordering::Relaxed);
        (before + cells <= MAX_CELLS).then_some(())
    }

    /// What the style of a cell says of it; the first one is that of cells without any.
    fn look(&self, style: Option<usize>) -> Option<&Look> {
        self.looks.get(style.filter(|id| *id > 0)?)
    }

    /// Whether a number of a style is certainly no day.
    fn is_plain(&self, style: Option<usize>) -> bool {
        let look = style.and_then(|id| self.looks.get(id));
        look.is_none_or(|look| look.is_plain)
    }

    /// The rows of a sheet; `None` where they are not written plainly, or hold too much.
    fn rows(&self, part: &[u8]) -> Option<Rows> {
        let (_, rows, _) = divided(part)?;
        self.cells.store(0, Ordering::Relaxed);
        let blocks = blocks(rows);
        let read = blocks.par_iter().map(|block| row::rows(block, self));
        let read: Vec<Rows> = read.collect::<Option<_>>()?;
        let count = read.iter().map(|block| block.rows.len()).sum();
        let mut all = Rows::with_capacity(count);
        for block in read {
            all = all.and(block)?;
        }
        Some(all)
    }
}

/// What stands up to the rows of a sheet, the rows, and what stands behind them.
fn divided(part: &[u8]) -> Option<(&str, &str, &str)> {
    let text = std::str::from_utf8(part).ok()?;
    let start = text.find(START)? + START.len();
    let end = text.rfind(END)?;
    let before = text.get(..start)?;
    begins_rows(before).then_some((before, text.get(start..end)?, text.get(end..)?))
}

/// Whether a text ends with the tag that begins the rows, rather than with something that looks like
/// it, and is the first such.
fn begins_rows(text: &str) -> bool {
    use quick_xml::events::Event;
    let mut reader = quick_xml::Reader::from_str(text);
    let mut begins = false;
    loop {
        let event = reader.read_event();
        match event {
            Ok(Event::Eof) => return begins,
            Ok(_) if begins => return false,
            Ok(Event::Start(tag)) => begins = tag.name().as_ref() == "sheetData",
            Ok(_) => {}
            Err(_) => return false,
        }
    }
}

/// Rows in blocks of some length, each but the last of whole rows.
fn blocks(rows: &str) -> Vec<&str> {
    let mut blocks = Vec::with_capacity(rows.len() / BLOCK + 1);
    let mut rest = rows;
    while !rest.is_empty() {
        let mut from = BLOCK.min(rest.len());
        while !rest.is_char_boundary(from) {
            from += 1;
        }
        let tail = rest.get(from..).unwrap_or_default();
        let at = tail.find("<row").map_or(rest.len(), |at| from + at);
        let (block, behind) = rest.split_at_checked(at).unwrap_or((rest, ""));
        blocks.push(block);
        rest = behind;
    }
    blocks
}

#[cfg(test)]
mod tests;
