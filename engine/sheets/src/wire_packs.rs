//! What one rule pack has otherwise than another as JSON, in the form that [`PACK_CHANGE_SCHEMA`]
//! describes. Its names are promised to other programs.
//!
//! This crate knows no packs: whoever compared them fills in what is written.

use crate::wire_change::{ChangesWire, wire};
use parge_calc::change::{Both, Changes};
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`pack_change_json`] writes.
pub const PACK_CHANGE_SCHEMA: &str = include_str!("../schema/pack-change.schema.json");

/// All that differs between two packs.
#[derive(Debug, Serialize)]
pub struct PackChangesWire<'a> {
    /// Whether anything differs.
    pub different: bool,
    /// The pack before.
    pub old: PackWire<'a>,
    /// The pack after.
    pub new: PackWire<'a>,
    /// Rows that differ.
    pub rows: Vec<RowChangeWire<'a>>,
    /// Rules and helpers that differ.
    pub functions: Vec<FunctionChangeWire<'a>>,
}

/// One of the two packs.
#[derive(Debug, Serialize)]
pub struct PackWire<'a> {
    /// As the command named it.
    pub pack: &'a str,
    /// Its name.
    pub name: &'a str,
    /// Its version, and the packs that it rests on with theirs.
    pub version: String,
    /// The folder it was read from.
    pub folder: &'a str,
}

/// What happened to a row or a function.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Happened {
    /// Only the new pack has it.
    Added,
    /// Both have it, and not alike.
    Replaced,
    /// Only the old pack has it.
    Removed,
    /// The new pack takes away what a pack under it has.
    TakenAway,
}

/// A row that is not the same in both packs.
#[derive(Debug, Serialize)]
pub struct RowChangeWire<'a> {
    /// The table.
    pub table: &'a str,
    /// What it is looked up by.
    pub keys: &'a [String],
    /// What happened to it.
    pub kind: Happened,
    /// The pack that takes it away.
    pub taken_away_by: Option<&'a str>,
    /// Before.
    pub old: Option<RowWire<'a>>,
    /// After.
    pub new: Option<RowWire<'a>>,
}

/// What a row says.
#[derive(Debug, Serialize)]
pub struct RowWire<'a> {
    /// As written.
    pub value: &'a str,
    /// As a number of the unit; none for a text.
    pub number: Option<f64>,
    /// As written.
    pub unit: &'a str,
    /// Who says so.
    pub source: String,
    /// What else is said.
    pub note: &'a str,
    /// Where.
    pub place: LineWire<'a>,
}

/// A rule or helper that is not the same in both packs.
#[derive(Debug, Serialize)]
pub struct FunctionChangeWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// The names of what it is given.
    pub parameters: &'a [String],
    /// Whether the program calls it.
    pub is_rule: bool,
    /// What happened to it.
    pub kind: Happened,
    /// Where it stood.
    pub old: Option<LineWire<'a>>,
    /// Where it stands.
    pub new: Option<LineWire<'a>>,
}

/// A line of a file of a pack.
#[derive(Debug, Serialize)]
pub struct LineWire<'a> {
    /// The pack that the file is in.
    pub pack: String,
    /// The file.
    pub file: &'a str,
    /// Counted from 1.
    pub line: usize,
}

#[derive(Serialize)]
struct WithPlan<'a> {
    #[serde(flatten)]
    packs: &'a PackChangesWire<'a>,
    plan: Option<ChangesWire<'a>>,
}

/// What differs between two packs, as JSON, with what that changes of a plan. Both sides of the
/// plan have one name: as the command named it.
pub fn pack_change_json(packs: &PackChangesWire<'_>, plan: Option<(&str, &Changes)>) -> String {
    let plan = plan.map(|(name, changes)| {
        let plans = Both {
            old: name,
            new: name,
        };
        wire(changes, plans)
    });
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(&WithPlan { packs, plan }).unwrap_or_default()
}

/// Whether bytes are what [`pack_change_json`] writes, which nobody works in and which may be
/// replaced.
pub fn is_pack_change_json(bytes: &[u8]) -> bool {
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(bytes) else {
        return false;
    };
    ["different", "old", "new", "rows", "functions", "plan"]
        .iter()
        .all(|key| value.get(key).is_some())
}

#[cfg(test)]
mod tests;
