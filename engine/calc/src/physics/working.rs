//! Arithmetic on a tape, as formulas are written, and readings of a thermometer as numbers.

use super::{Outcome, PhysicsError};
use parge_base::{Dim, Function, NodeId, Operator, Quantity, Span, Tape};

/// A tape, and the place in the plan that asks for what is put on it.
pub(super) struct Working<'t> {
    pub(super) tape: &'t mut Tape,
    pub(super) place: Option<Span>,
}

impl Working<'_> {
    pub(super) fn value(&self, node: NodeId) -> f64 {
        self.tape.value(node).value
    }

    pub(super) fn number(&mut self, value: f64) -> NodeId {
        self.quantity(value, Dim::NONE)
    }

    /// A number of base units.
    pub(super) fn quantity(&mut self, value: f64, dim: Dim) -> NodeId {
        self.tape.constant(Quantity { value, dim }, self.place)
    }

    pub(super) fn combine(&mut self, operator: Operator, a: NodeId, b: NodeId) -> Outcome<NodeId> {
        Ok(self.tape.combine(operator, a, b, self.place)?)
    }

    pub(super) fn apply(&mut self, function: Function, a: NodeId) -> Outcome<NodeId> {
        Ok(self.tape.apply(function, a, self.place)?)
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

    /// All of them added; an error for none.
    pub(super) fn sum(&mut self, nodes: &[NodeId]) -> Outcome<NodeId> {
        let (first, rest) = nodes
            .split_first()
            .ok_or(PhysicsError::OutOfRange("what is added up", "at least one"))?;
        rest.iter()
            .try_fold(*first, |sum, node| self.plus(sum, *node))
    }

    /// How many times a quantity holds so many base units of its kind: a speed in mph, a length
    /// in inches. An error for a quantity of another kind.
    pub(super) fn in_units(&mut self, node: NodeId, unit: f64, dim: Dim) -> Outcome<NodeId> {
        let unit = self.quantity(unit, dim);
        let number = self.over(node, unit)?;
        self.tape.value(number).to_plain()?;
        Ok(number)
    }

    /// The number that a thermometer in Celsius shows.
    pub(super) fn celsius(&mut self, node: NodeId) -> Outcome<NodeId> {
        let kelvin = self.in_units(node, 1.0, Dim::TEMPERATURE)?;
        let ice = self.number(273.15);
        self.minus(kelvin, ice)
    }

    /// The number that a thermometer in Fahrenheit shows.
    pub(super) fn fahrenheit(&mut self, node: NodeId) -> Outcome<NodeId> {
        let rankine = self.in_units(node, 5.0 / 9.0, Dim::TEMPERATURE)?;
        let zero = self.number(459.67);
        self.minus(rankine, zero)
    }

    /// The temperature at which a thermometer in Celsius shows a number.
    pub(super) fn at_celsius(&mut self, number: NodeId) -> Outcome<NodeId> {
        let ice = self.number(273.15);
        let kelvin = self.plus(number, ice)?;
        let one = self.quantity(1.0, Dim::TEMPERATURE);
        self.times(kelvin, one)
    }
}
