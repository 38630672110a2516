//! What would be if, as JSON: two estimates compared ([`WHATIF_SCHEMA`]), and the inputs that move
//! the total most ([`MOST_SCHEMA`]). Their names are promised to other programs.

use crate::json::{caution, diagnostic};
use crate::wire::{CautionWire, DiagnosticWire};
use crate::wire_change::{self, ChangesWire};
use parge_base::{Sources, Span};
use parge_calc::change::Both;
use parge_calc::price::{Estimate, Status};
use parge_calc::whatif::{Compared, Most, Moved, SetLine, Skipped, Way, Why};
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`whatif_json`] writes.
pub const WHATIF_SCHEMA: &str = include_str!("../schema/whatif.schema.json");

/// The JSON Schema (draft 2020-12) of what [`most_json`] writes.
pub const MOST_SCHEMA: &str = include_str!("../schema/most.schema.json");

/// The estimate beside the one with what is set.
#[derive(Debug, Serialize)]
pub struct WhatIfWire<'a> {
    /// What is set.
    pub set: Vec<SetWire<'a>>,
    /// What changed by it.
    pub changes: ChangesWire<'a>,
    /// Cautions that come and go.
    pub cautions: ComeGoWire<CautionWire<'a>>,
    /// What else is said that comes and goes.
    pub diagnostics: ComeGoWire<DiagnosticWire<'a>>,
}

/// An input that is set.
#[derive(Debug, Serialize)]
pub struct SetWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// As it is.
    pub old: Option<&'a str>,
    /// As it is set.
    pub new: Option<&'a str>,
    /// Whether both are the same.
    pub same: bool,
    /// Whether a figure rests on it.
    pub used: bool,
}

/// What only one of the two estimates has.
#[derive(Debug, Serialize)]
pub struct ComeGoWire<T> {
    /// Only the one with what is set.
    pub come: Vec<T>,
    /// Only the one as it is.
    pub go: Vec<T>,
}

/// The inputs that move the total most.
#[derive(Debug, Serialize)]
pub struct MostWire<'a> {
    /// The job's name.
    pub job: &'a str,
    /// `complete` or `incomplete`.
    pub status: &'static str,
    /// ISO 4217.
    pub currency: &'static str,
    /// The share by which each input is moved.
    pub by: String,
    /// The total that they move.
    pub total: String,
    /// How many inputs were moved.
    pub moved: usize,
    /// Those that move the total most.
    pub inputs: Vec<MovedWire<'a>>,
    /// Those that cannot be moved.
    pub skipped: Vec<SkippedWire<'a>>,
}

/// An input that was moved.
#[derive(Debug, Serialize)]
pub struct MovedWire<'a> {
    /// The name by which it is set.
    pub name: &'a str,
    /// Its value, in words.
    pub value: &'a str,
    /// What less of it does.
    pub down: WayWire<'a>,
    /// What more of it does.
    pub up: WayWire<'a>,
    /// Who says its value.
    pub source: &'a str,
    /// Where it stands.
    pub file: Option<&'a str>,
    /// The line there.
    pub line: Option<usize>,
}

/// What a move does to the total.
#[derive(Debug, Serialize)]
pub struct WayWire<'a> {
    /// What it adds; null where there is no total.
    pub difference: Option<String>,
    /// Why there is none.
    pub reason: Option<&'a str>,
}

/// An input that cannot be moved.
#[derive(Debug, Serialize)]
pub struct SkippedWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its value, in words.
    pub value: &'a str,
    /// `zero`, `count`, `thermometer` or `no_figures`.
    pub why: &'static str,
    /// What is wrong with the moved estimate, for the last.
    pub reason: Option<&'a str>,
}

/// Two estimates compared, as JSON. `plan` is the plan as the command named it.
pub fn whatif_json(compared: &Compared, plan: &str, sources: &Sources) -> String {
    let Both {
        old: gone,
        new: come,
    } = &compared.cautions;
    let said = &compared.said;
    let wire = WhatIfWire {
        set: compared.sets.iter().map(set).collect(),
        changes: wire_change::wire(
            &compared.changes,
            Both {
                old: plan,
                new: plan,
            },
        ),
        cautions: ComeGoWire {
            come: come.iter().map(caution).collect(),
            go: gone.iter().map(caution).collect(),
        },
        diagnostics: ComeGoWire {
            come: said
                .new
                .iter()
                .map(|said| diagnostic(said, sources))
                .collect(),
            go: said
                .old
                .iter()
                .map(|said| diagnostic(said, sources))
                .collect(),
        },
    };
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(&wire).unwrap_or_default()
}

fn set(line: &SetLine) -> SetWire<'_> {
    let stated = |text| Some(text).filter(|text: &&str| !text.is_empty());
    SetWire {
        name: &line.name,
        old: stated(&line.old),
        new: stated(&line.new),
        same: line.same,
        used: line.used,
    }
}

/// The inputs that move a total most, as JSON; at most so many of them.
pub fn most_json(most: &Most, estimate: &Estimate, count: usize, sources: &Sources) -> String {
    let shown = most.moved.iter().take(count);
    let wire = MostWire {
        job: &estimate.takeoff.measured.job.name,
        status: match estimate.status {
            Status::Complete => "complete",
            Status::Incomplete => "incomplete",
        },
        currency: most.total.currency().code(),
        by: most.by.normalize().to_string(),
        total: most.total.to_text(),
        moved: most.moved.len(),
        inputs: shown.map(|input| moved(input, sources)).collect(),
        skipped: most.skipped.iter().map(skipped).collect(),
    };
    // As above.
    serde_json::to_string_pretty(&wire).unwrap_or_default()
}

fn moved<'a>(moved: &'a Moved, sources: &'a Sources) -> MovedWire<'a> {
    let line = |span: Span| sources.place(span.file, span.start).line;
    MovedWire {
        name: &moved.name,
        value: &moved.value,
        down: way(&moved.down),
        up: way(&moved.up),
        source: &moved.source,
        file: moved.place.map(|span| sources.name(span.file)),
        line: moved.place.map(line),
    }
}

fn way(way: &Way) -> WayWire<'_> {
    match way {
        Way::Difference(difference) => WayWire {
            difference: Some(difference.to_text()),
            reason: None,
        },
        Way::Unknown(reason) => WayWire {
            difference: None,
            reason: Some(reason),
        },
    }
}

fn skipped(skipped: &Skipped) -> SkippedWire<'_> {
    let (why, reason) = match &skipped.why {
        Why::Zero => ("zero", None),
        Why::Count => ("count", None),
        Why::Thermometer => ("thermometer", None),
        Why::NoFigures(reason) => ("no_figures", Some(reason.as_str())),
    };
    SkippedWire {
        name: &skipped.name,
        value: &skipped.value,
        why,
        reason,
    }
}

#[cfg(test)]
mod tests;
