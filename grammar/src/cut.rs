//! Where the statements of a text stand, without reading them.

use crate::outline::{Item, outline};
use parge_base::FileId;
use std::ops::Range;

/// The places of the statements of a text, in their order, each from its first letter to the last
/// of its block. `None` where brackets or quotes do not close, so that nobody can say where a
/// statement ends.
///
/// A text in which one of these places is filled with another text that is one statement has the
/// same statements elsewhere.
pub fn statements(file: FileId, text: &str) -> Option<Vec<Range<usize>>> {
    let mut found = Vec::new();
    let items = outline(file, text, &mut found);
    let places = items.iter().map(place);
    places.collect::<Option<_>>().filter(|_| found.is_empty())
}

fn place(item: &Item) -> Option<Range<usize>> {
    let end = match &item.block {
        Some(block) => block.close? + 1,
        None => item.head.end,
    };
    (!item.broken).then_some(item.head.start..end)
}

#[cfg(test)]
mod tests;
