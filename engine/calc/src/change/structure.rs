//! What is said of a structure itself: its conditions and its linear work.

use super::things::Property;
use super::value::Value;
use crate::job::{Edge, Job, UnitSystem};
use std::collections::BTreeMap;

/// The conditions, and for each kind of edge all that the plan has of it.
pub(super) fn properties(job: &Job, structure: usize, units: UnitSystem) -> Vec<Property> {
    let conditions = job.structures.get(structure).map(|found| &found.conditions);
    let conditions = conditions.into_iter().flatten();
    let mut properties: Vec<Property> = conditions
        .map(|(kind, word)| Property::of(kind, Some(Value::text(word))))
        .collect();
    let mut edges: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for edge in job.edges.iter().filter(|edge| edge.structure == structure) {
        let words = edges.entry(&edge.kind).or_default();
        words.push(words_of(job, edge, units));
    }
    properties.extend(edges.into_iter().map(|(kind, words)| {
        let words = Value::Text(words.join("; "));
        Property::of(format!("edge {kind}"), Some(words))
    }));
    properties
}

fn words_of(job: &Job, edge: &Edge, units: UnitSystem) -> String {
    let face = edge
        .face
        .as_ref()
        .map_or(String::new(), |face| format!("{face}: "));
    let length = Value::Quantity(job.value(edge.length)).words(units);
    let count = match edge.count {
        1 => String::new(),
        count => format!(", count {count}"),
    };
    format!("{face}{length}{count}")
}
