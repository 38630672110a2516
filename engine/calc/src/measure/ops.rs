//! Arithmetic on the tape, as formulas are written.

use super::geometry::Outcome;
use parge_base::trace::Comparison;
use parge_base::{Dim, Function, NodeId, Operator, Quantity, Span, Tape};

/// A tape, and the place that asks for what is put on it.
pub(super) struct Geometry<'t> {
    pub(super) tape: &'t mut Tape,
    pub(super) span: Span,
}

impl Geometry<'_> {
    pub(super) fn size(&self, node: NodeId) -> f64 {
        self.tape.value(node).value
    }

    pub(super) fn number(&mut self, value: f64) -> NodeId {
        self.tape.constant(Quantity::plain(value), Some(self.span))
    }

    pub(super) fn nothing(&mut self) -> NodeId {
        self.tape
            .constant(Quantity::zero(Dim::LENGTH), Some(self.span))
    }

    /// Nothing of the kind of a figure.
    pub(super) fn nothing_of(&mut self, of: NodeId) -> NodeId {
        let kind = self.tape.value(of).dim;
        self.tape.constant(Quantity::zero(kind), Some(self.span))
    }

    /// Whether two figures compare so; what is measured holds only while they do.
    pub(super) fn is(&mut self, a: NodeId, comparison: Comparison, b: NodeId) -> Outcome<bool> {
        Ok(self.tape.compare(comparison, a, b, Some(self.span))?)
    }

    pub(super) fn combine(&mut self, operator: Operator, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        Ok(self.tape.combine(operator, a, b, Some(self.span))?)
    }

    pub(super) fn apply(&mut self, function: Function, a: NodeId) -> Outcome<NodeId> {
        Ok(self.tape.apply(function, a, Some(self.span))?)
    }

    pub(super) fn fold(&mut self, operator: Operator, nodes: &[NodeId]) -> Outcome<NodeId> {
        match nodes {
            [] => Ok(self.nothing()),
            [first, rest @ ..] => rest
                .iter()
                .try_fold(*first, |sum, node| self.combine(operator, sum, *node)),
        }
    }

    pub(super) fn sum(&mut self, nodes: &[NodeId]) -> Outcome<NodeId> {
        self.fold(Operator::Add, nodes)
    }

    pub(super) fn plus(&mut self, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        self.combine(Operator::Add, a, b)
    }

    pub(super) fn minus(&mut self, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        self.combine(Operator::Subtract, a, b)
    }

    pub(super) fn times(&mut self, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        self.combine(Operator::Multiply, a, b)
    }

    pub(super) fn over(&mut self, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        self.combine(Operator::Divide, a, b)
    }

    pub(super) fn twice(&mut self, a: NodeId) -> Outcome<NodeId> {
        let two = self.number(2.0);
        self.times(two, a)
    }

    pub(super) fn half(&mut self, a: NodeId) -> Outcome<NodeId> {
        let two = self.number(2.0);
        self.over(a, two)
    }

    pub(super) fn hypotenuse(&mut self, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        let (a2, b2) = (self.times(a, a)?, self.times(b, b)?);
        let sum = self.plus(a2, b2)?;
        self.apply(Function::Root, sum)
    }
}
