//! The outline tree.

use super::sketch::{Sketch, ThingKind};
use std::collections::BTreeMap;
use std::ops::Range;

/// A thing with a name, and what stands in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Symbol {
    /// What it is.
    pub kind: ThingKind,
    /// Its name, without quotes.
    pub name: String,
    /// Its whole statement with the block.
    pub span: Range<usize>,
    /// Its name as written.
    pub name_span: Range<usize>,
    /// The faces of a structure or template, the openings of a face.
    pub children: Vec<Symbol>,
}

/// The things at the top with all that stands in them. Parameters are no part of the outline.
pub(super) fn tree(sketch: &Sketch) -> Vec<Symbol> {
    let mut children: BTreeMap<usize, Vec<Symbol>> = BTreeMap::new();
    let mut top = Vec::new();
    // What stands in something comes behind it, so from the back everything is complete.
    for (number, thing) in sketch.things.iter().enumerate().rev() {
        let mut inner = children.remove(&number).unwrap_or_default();
        inner.reverse();
        if thing.kind == ThingKind::Parameter {
            continue;
        }
        let symbol = Symbol {
            kind: thing.kind,
            name: thing.name.clone(),
            span: thing.span.clone(),
            name_span: thing.at.clone(),
            children: inner,
        };
        match thing.parent {
            Some(parent) => children.entry(parent).or_default().push(symbol),
            None => top.push(symbol),
        }
    }
    top.reverse();
    top
}
