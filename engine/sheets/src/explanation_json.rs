//! An explanation as JSON, in the form that [`EXPLANATION_SCHEMA`] describes.
//!
//! The entries stand in one list and refer to each other by number: an entry can stand beneath
//! several others, and a deep explanation is no deep JSON.

use crate::explained::{entry_figure, formula, in_unit, money_text};
use crate::shown::system_word;
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Sources, Span};
use parge_calc::explain::{Entry, Outline, Value};
use parge_calc::job::{Job, UnitSystem};
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`explanation_json`] writes.
pub const EXPLANATION_SCHEMA: &str = include_str!("../schema/explanation.schema.json");

#[derive(Serialize)]
struct ExplanationWire<'a> {
    explanation: &'a str,
    job: &'a str,
    units: &'static str,
    entries: Vec<EntryWire<'a>>,
}

#[derive(Serialize)]
struct EntryWire<'a> {
    number: usize,
    name: &'a str,
    formula: Option<String>,
    shown: String,
    value: ValueWire,
    place: Option<PlaceWire<'a>>,
    origin: Option<&'static str>,
    source: Option<String>,
    note: Option<&'a str>,
    terms: &'a [usize],
}

#[derive(Serialize)]
#[serde(untagged)]
enum ValueWire {
    Quantity {
        value: f64,
        unit: String,
    },
    Money {
        amount: String,
        currency: &'static str,
    },
    Rate {
        rate: String,
    },
}

#[derive(Serialize)]
struct PlaceWire<'a> {
    file: &'a str,
    line: usize,
    column: usize,
}

/// An explanation as JSON.
pub fn explanation_json(outline: &Outline, job: &Job, sources: &Sources) -> String {
    let entries = outline.entries.iter().enumerate();
    let wire = ExplanationWire {
        explanation: &outline.figure,
        job: &job.name,
        units: system_word(job.units),
        entries: entries
            .map(|(number, entry)| wire(outline, number, entry, (job.units, sources)))
            .collect(),
    };
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    let mut text = serde_json::to_string_pretty(&wire).unwrap_or_default();
    text.push('\n');
    text
}

fn wire<'a>(
    outline: &'a Outline,
    number: usize,
    entry: &'a Entry,
    (system, sources): (UnitSystem, &'a Sources),
) -> EntryWire<'a> {
    let formula = formula(outline, entry, system);
    EntryWire {
        number,
        name: &entry.name,
        formula: (!formula.is_empty()).then_some(formula),
        shown: entry_figure(entry, system).text(),
        value: value(entry, system),
        place: entry.place.map(|span| place(span, sources)),
        origin: entry.origin.map(|origin| origin.word()),
        source: entry.source.as_ref().map(ToString::to_string),
        note: entry.note.as_deref(),
        terms: &entry.terms,
    }
}

fn value(entry: &Entry, system: UnitSystem) -> ValueWire {
    match entry.value {
        Value::Quantity(quantity) => {
            let (number, mut unit) = in_unit(quantity, entry.unit.as_ref(), system);
            if entry.hours {
                unit = "h".to_owned();
            }
            ValueWire::Quantity {
                value: round_to(number, NOISE_DECIMALS),
                unit,
            }
        }
        Value::Money(money) => ValueWire::Money {
            amount: money_text(money),
            currency: money.currency().code(),
        },
        Value::Rate(rate) => ValueWire::Rate {
            rate: rate.normalize().to_string(),
        },
    }
}

fn place(span: Span, sources: &Sources) -> PlaceWire<'_> {
    let place = sources.place(span.file, span.start);
    PlaceWire {
        file: sources.name(span.file),
        line: place.line,
        column: place.column,
    }
}

/// Whether a text is an explanation as [`explanation_json`] writes it.
pub(crate) fn is_explanation_json(bytes: &[u8]) -> bool {
    bytes.starts_with(b"{\n  \"explanation\": ")
}

#[cfg(test)]
mod tests;
