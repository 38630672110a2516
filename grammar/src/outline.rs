//! The outline: cuts a text into its statements before any of them is read.
//!
//! One cheap scan finds heads and blocks by brackets, quotes and line ends alone. Each head is
//! then parsed by itself, so that a mistake in one statement cannot hide another. The scan takes
//! time in proportion to the text whatever it holds.

mod builder;
mod marks;
mod pairs;
mod unseen;

pub(crate) use marks::TOP_WORDS;

use builder::Builder;
use pairs::Unpaired;
use parge_base::{Diagnostic, FileId};
use std::ops::Range;

/// How many blocks may stand in each other.
pub(crate) const MAX_BLOCKS: usize = 16;
/// How many pairs of round brackets may stand in each other.
pub(crate) const MAX_PARENS: usize = 64;

/// How many statements and lines of blocks a text may have. A building has thousands, and each
/// takes eighty bytes here before it is read.
pub(crate) const MAX_ITEMS: usize = 1 << 21;

/// A statement or a line of a block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Item {
    /// Its text without the block and without comments before and after it.
    pub head: Range<usize>,
    /// Its block.
    pub block: Option<Block>,
    /// Whether a mistake in the head is reported already, so that the head need not be read.
    pub broken: bool,
}

/// What stands between two braces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Block {
    /// The offset of `{`, or the end of the head where it is missing.
    pub open: usize,
    /// The offset of `}`.
    pub close: Option<usize>,
    /// What stands in the block.
    pub items: Vec<Item>,
}

/// Cuts a text into items. Mistakes in brackets and quotes are added to the diagnostics.
pub(crate) fn outline(file: FileId, text: &str, found: &mut Vec<Diagnostic>) -> Vec<Item> {
    // Nearly every text has a partner for each bracket, and then one scan is enough.
    if let Some(items) = Builder::new(file, text, 0, &Unpaired::default()).run_if_good() {
        return items;
    }
    Builder::new(file, text, 0, &Unpaired::find(text)).run(found)
}

/// Cuts a part of a text into items, one that begins and ends between two statements. `None` where
/// there is a mistake in its brackets or quotes.
pub(crate) fn outline_within(file: FileId, text: &str, part: Range<usize>) -> Option<Vec<Item>> {
    let before_its_end = text.get(..part.end)?;
    Builder::new(file, before_its_end, part.start, &Unpaired::default()).run_if_good()
}

#[cfg(test)]
mod tests;
