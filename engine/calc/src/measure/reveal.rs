//! Reveals: the strips between a face and what fills its openings.

use super::geometry::{Measures, Outcome, measure};
use super::ops::Geometry;
use crate::job::{EdgeSide, Opening};
use parge_base::{NodeId, Operator, Quantity, QuantityError, Tape};

/// How many of an opening one face has.
pub(super) fn count(tape: &mut Tape, opening: &Opening) -> NodeId {
    match opening.count {
        Some(figure) => figure.node,
        None => tape.literal(Quantity::plain(1.0), Some(opening.span)),
    }
}

/// The length of the edges of an opening that have a reveal.
pub(super) fn edges(
    tape: &mut Tape,
    opening: &Opening,
    measures: &Measures,
) -> Result<NodeId, QuantityError> {
    let edge = |side: &EdgeSide| match side {
        EdgeSide::Top => measures.top,
        EdgeSide::Bottom => measures.bottom,
        EdgeSide::Sides => measures.sides,
    };
    match opening.sides.as_slice() {
        [] => Ok(measures.perimeter),
        [first, rest @ ..] => rest.iter().try_fold(edge(first), |sum, side| {
            tape.combine(Operator::Add, sum, edge(side), Some(opening.span))
        }),
    }
}

impl Geometry<'_> {
    /// A reveal as a face: `area = count x edges x depth`, as wide as it is deep. It stands on
    /// nothing and ends at the opening's edges, which the face around it counts already.
    pub(super) fn reveal(&mut self, opening: &Opening) -> Outcome<Measures> {
        let around = measure(self.tape, &opening.shape.node, opening.shape.span)?;
        let edges = edges(self.tape, opening, &around)?;
        let number = count(self.tape, opening);
        let length = self.times(number, edges)?;
        let none = self.nothing();
        let depth = opening.reveal.map_or(none, |depth| depth.node);
        Ok(Measures {
            area: self.times(length, depth)?,
            perimeter: none,
            width: depth,
            height: around.height,
            upright: around.upright,
            top: none,
            bottom: none,
            sides: none,
            radius: around.radius,
        })
    }
}
