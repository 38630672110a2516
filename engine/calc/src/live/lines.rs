//! The lines of a run: what it needs, what it takes in hours, what it adds to a price.

use parge_base::{Dim, NodeId, Op, Operator, Span, Tape};
use parge_rules::Run;
use std::sync::Arc;

/// A line of a run.
#[derive(Debug)]
pub(super) struct Line {
    /// What it is.
    pub(super) is: Is,
    /// Its figure, for one.
    pub(super) node: NodeId,
    /// Of which kind.
    pub(super) kind: Dim,
    /// The line of the script.
    pub(super) place: Option<Span>,
}

/// What a line says.
#[derive(Debug)]
pub(super) enum Is {
    /// So much of an item.
    Need(Arc<str>),
    /// The waste on it.
    Waste(Arc<str>),
    /// So many hours of a phase.
    Hours(Arc<str>),
    /// An amount, by the node that it was rounded from.
    Charge(NodeId),
}

impl Line {
    /// The line in words.
    pub(super) fn words(&self) -> String {
        match &self.is {
            Is::Need(item) => format!("need of {item}"),
            Is::Waste(item) => format!("waste of {item}"),
            Is::Hours(phase) => format!("hours of {phase}"),
            Is::Charge(_) => "charge".to_owned(),
        }
    }
}

/// Whether a share is a written nothing.
fn is_none(tape: &Tape, share: NodeId) -> bool {
    let node = tape.node(share);
    node.is_some_and(|node| {
        matches!(node.op, Op::Literal | Op::Constant) && node.value.value == 0.0
    })
}

/// The lines of a run over a copy of its tape, which also has the waste as an amount.
pub(super) fn of(run: &Run) -> (Tape, Vec<Line>) {
    let mut tape = run.tape.clone();
    let mut lines = Vec::new();
    let mut add = |tape: &Tape, is: Is, node: NodeId, place: Option<Span>| {
        let kind = tape.value(node).dim;
        lines.push(Line {
            is,
            node,
            kind,
            place,
        });
    };
    for line in &run.needs {
        let item = || Arc::clone(&line.item);
        add(&tape, Is::Need(item()), line.amount, line.place);
        if is_none(&tape, line.waste) {
            continue;
        }
        let waste = tape.combine(Operator::Multiply, line.amount, line.waste, line.place);
        if let Ok(waste) = waste {
            add(&tape, Is::Waste(item()), waste, line.place);
        }
    }
    for line in &run.hours {
        add(
            &tape,
            Is::Hours(Arc::clone(&line.phase)),
            line.time,
            line.place,
        );
    }
    for line in &run.charges {
        add(&tape, Is::Charge(line.value), line.value, line.place);
    }
    (tape, lines)
}
