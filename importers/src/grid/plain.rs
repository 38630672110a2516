//! Sheets of xlsx files that are written as office programs write them, read in one pass on all
//! cores.
//!
//! What is read here is read as calamine reads it, and tests hold both against each other. Whatever
//! is not written plainly (a blank between elements, a reference to a character, a day) is left to
//! calamine: the sheet as a whole, so that there is one reader of each.

mod cut;
mod looks;
mod row;
mod stream;
mod strings;

pub(super) use looks::Look;
pub(super) use row::Rows;
pub(super) use stream::{BlockRead, Counts, Stream, together};

use super::hidden::{self, Hidden};
use compact_str::CompactString;

/// What the cells of a workbook refer to.
pub(super) struct Read {
    /// The texts, without blanks around them.
    strings: Vec<CompactString>,
    looks: Vec<Look>,
}

impl Read {
    /// What the part of texts and the styles say; `None` where they are not written plainly.
    pub(super) fn of(strings: Option<&[u8]>, looks: Vec<Look>) -> Option<Self> {
        let strings = match strings {
            Some(part) => strings::read(std::str::from_utf8(part).ok()?)?,
            None => Vec::new(),
        };
        Some(Self { strings, looks })
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
}

/// What is hidden around the rows of a sheet.
fn hidden_around(before: &[u8], behind: &[u8]) -> Option<Hidden> {
    let around = [before, behind].concat();
    let hidden = hidden::sheet(std::str::from_utf8(&around).ok()?.as_bytes())?;
    hidden.rows.is_empty().then_some(hidden)
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

#[cfg(test)]
mod tests;
