//! What the rules caution against: gathered over all faces, then put into the words of the pack.

use crate::contract::CAUTIONS;
use crate::job::UnitSystem;
use parge_base::number::round_to;
use parge_base::{Code, Diagnostic, NodeId, Quantity, Span, suggest};
use parge_rules::{Pack, Run};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Whom a caution is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Audience {
    /// The company and its client.
    Both,
    /// Those for whom the work is done.
    Client,
    /// The company: those who bid and do the work.
    Crew,
}

impl Audience {
    /// The audiences by their words in a table.
    pub const WORDS: [(&'static str, Self); 3] = [
        ("both", Self::Both),
        ("client", Self::Client),
        ("crew", Self::Crew),
    ];

    /// Its word in a table and in files for other programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::Client => "client",
            Self::Crew => "crew",
        }
    }

    /// Whether the client is among them.
    pub fn has_client(self) -> bool {
        self != Self::Crew
    }
}

/// A caution that the job gives reason for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Its key in the pack.
    pub key: String,
    /// Its text, with its figure where it has one.
    pub text: String,
    /// Whom it is for.
    pub audience: Audience,
    /// On how many faces it rests; none for one about the job as a whole.
    pub faces: usize,
}

/// What was heard of a caution so far.
#[derive(Debug, Default)]
pub(super) struct Heard {
    faces: usize,
    /// The largest figure said with it. One of another kind than the first is none.
    figure: Option<Quantity>,
    place: Option<Span>,
}

/// Notes the cautions of a run, or of its replay for another face.
pub(super) fn note(
    heard: &mut BTreeMap<Arc<str>, Heard>,
    run: &Run,
    value: impl Fn(NodeId) -> Option<Quantity>,
    is_face: bool,
) {
    let mut counted: BTreeSet<&str> = BTreeSet::new();
    for line in &run.cautions {
        let entry = heard.entry(Arc::clone(&line.key)).or_default();
        if counted.insert(&line.key) {
            entry.faces += usize::from(is_face);
        }
        entry.place = entry.place.or(line.place);
        let Some(figure) = line.figure.and_then(&value) else {
            continue;
        };
        let larger = |known: Quantity| figure.order(known).is_ok_and(|order| order.is_gt());
        if entry.figure.is_none_or(larger) {
            entry.figure = Some(figure);
        }
    }
}

/// Where the figure stands in a text.
const FIGURE: &str = "{}";
/// Digits after the point that a figure in a text has at most.
const DECIMALS: u32 = 2;

/// The cautions in the order of the pack's table, and what is wrong with their rows.
pub(super) fn said(
    heard: &BTreeMap<Arc<str>, Heard>,
    pack: &Pack,
    system: UnitSystem,
) -> (Vec<Caution>, Vec<Diagnostic>) {
    let (mut cautions, mut diagnostics) = (Vec::new(), Vec::new());
    // A key without any row is reported where the rule says it.
    for key in pack.tables().keys(CAUTIONS, &[]).unwrap_or_default() {
        let Some(heard) = heard.get(key) else {
            continue;
        };
        match caution(key, heard, pack, system) {
            Ok(caution) => cautions.push(caution),
            Err(diagnostic) => diagnostics.push(match heard.place {
                Some(span) => diagnostic.at(span, "said here"),
                None => diagnostic,
            }),
        }
    }
    (cautions, diagnostics)
}

fn caution(
    key: &str,
    heard: &Heard,
    pack: &Pack,
    system: UnitSystem,
) -> Result<Caution, Diagnostic> {
    let fault = |message: String, help: String| Diagnostic::new(Code::RuleFailed, message, help);
    let row = |property: &str| pack.tables().text(CAUTIONS, &[key, property]);
    let text = row("text").ok_or_else(|| {
        let message = format!("table `{CAUTIONS}` of the rule pack has no text for `{key}`");
        let help = format!("add a row `{key},text,...,text,...` with what is to be said");
        fault(message, help)
    })?;
    let text = match (text.contains(FIGURE), heard.figure) {
        (true, Some(figure)) => text.replacen(FIGURE, &shown(key, figure, pack, system)?, 1),
        (false, None) => text.to_owned(),
        (true, None) => {
            let message = format!("the text of caution `{key}` holds a figure, and none is said");
            let help =
                format!("write `caution(\"{key}\", figure)`, or take `{FIGURE}` out of the text");
            return Err(fault(message, help));
        }
        (false, Some(_)) => {
            let message = format!("caution `{key}` is said with a figure, and its text has none");
            let help = format!(
                "write `{FIGURE}` into the text where the figure belongs, or say `caution(\"{key}\")`"
            );
            return Err(fault(message, help));
        }
    };
    let word = row("audience").unwrap_or("both");
    let mut words = Audience::WORDS.into_iter();
    let audience = words.find(|(known, _)| *known == word);
    let (_, audience) = audience.ok_or_else(|| {
        let message = format!("nobody is called `{word}`, for whom caution `{key}` is");
        let words = Audience::WORDS.map(|(word, _)| word);
        fault(message, suggest::help_for(word, words))
    })?;
    Ok(Caution {
        key: key.to_owned(),
        text,
        audience,
        faces: heard.faces,
    })
}

/// A figure in the unit that the table names for it: `2.18`, `16.4 lb/ft²`.
fn shown(
    key: &str,
    figure: Quantity,
    pack: &Pack,
    system: UnitSystem,
) -> Result<String, Diagnostic> {
    let property = match system {
        UnitSystem::Us => "unit",
        UnitSystem::Metric => "unit_metric",
    };
    let written = pack.tables().text(CAUTIONS, &[key, property]);
    let unit = pack.units().parse(written.unwrap_or("1")).ok();
    let shown = unit
        .as_ref()
        .and_then(|unit| Some((unit, unit.show(figure)?)));
    let (unit, value) = shown.ok_or_else(|| {
        let message = format!(
            "the figure of caution `{key}` is {}, and its row `{property}` says `{}`",
            figure.dim.words(),
            written.unwrap_or("1"),
        );
        let help = format!(
            "name a unit of {} in table `{CAUTIONS}`",
            figure.dim.words()
        );
        Diagnostic::new(Code::RuleFailed, message, help)
    })?;
    let value = round_to(value, DECIMALS);
    Ok(match unit.text() {
        "1" => value.to_string(),
        text => format!("{value} {text}"),
    })
}

#[cfg(test)]
mod tests;
