//! The plan of days as a drawing (SVG): a row for each structure and phase, a column for each
//! day. It stands alone, and can be read in grey: phases differ in pattern as well as in colour.

mod draw;

use jiff::civil::{Date, DateTime};
use std::collections::BTreeSet;

/// A time at which a row is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bar {
    /// From.
    pub from: DateTime,
    /// Until.
    pub until: DateTime,
}

/// What is worked of a structure in a phase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The structure.
    pub structure: String,
    /// The phase; it decides colour and pattern.
    pub phase: String,
    /// When it is worked.
    pub bars: Vec<Bar>,
    /// Times during which what follows it must wait: curing, drying.
    pub waits: Vec<Bar>,
    /// Whether a delay of it delays the end.
    pub critical: bool,
}

/// A chart of a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chart {
    /// What stands above it.
    pub title: String,
    /// The first day.
    pub first: Date,
    /// The last day. More than 1000 days after the first are not drawn.
    pub last: Date,
    /// Days that are not worked.
    pub off: BTreeSet<Date>,
    /// The hours that a column shows, from and until, in minutes from midnight. What lies outside
    /// is drawn at the edge of its day.
    pub hours: (u32, u32),
    /// The rows in order; rows of one structure stand together under its name.
    pub rows: Vec<Row>,
}

/// Draws a chart.
pub fn svg(chart: &Chart) -> String {
    draw::Drawing::of(chart).finish()
}

#[cfg(test)]
mod tests;
