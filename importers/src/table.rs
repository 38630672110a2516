//! Finding tables of measurements on sheets: where their headers stand, and which rows are theirs.

mod find;
mod stand;

pub use find::{Found, find};

use crate::columns::Head;
use std::ops::RangeInclusive;

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The number of its sheet.
    pub sheet: usize,
    /// Its columns, from 0.
    pub columns: RangeInclusive<u32>,
    /// The rows of its header, from 0.
    pub header_rows: Vec<u32>,
    /// Its headers.
    pub heads: Vec<Head>,
    /// The numbers of its rows in `Sheet::rows`, without headers.
    pub rows: Vec<usize>,
    /// Rows that repeat its header.
    pub repeated: Vec<u32>,
    /// What stands right above its header.
    pub title: Option<(u32, String)>,
}

#[cfg(test)]
mod tests;
