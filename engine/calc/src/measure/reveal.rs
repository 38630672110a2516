//! Reveals: the strips between a face and what fills its openings.

use super::geometry::Measures;
use crate::job::{EdgeSide, Opening};
use parge_base::{Dim, NodeId, Operator, Quantity, QuantityError, Tape};

/// How many of an opening one face has.
pub(super) fn count(tape: &mut Tape, opening: &Opening) -> NodeId {
    match opening.count {
        Some(figure) => figure.node,
        None => tape.constant(Quantity::plain(1.0), Some(opening.span)),
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

/// A reveal as a face: `area = count x edges x depth`, as wide as it is deep. It stands on
/// nothing and ends at the opening's edges, which the face around it counts already.
pub(super) fn measure(
    tape: &mut Tape,
    opening: &Opening,
    around: &Measures,
) -> Result<Measures, QuantityError> {
    let at = Some(opening.span);
    let edges = edges(tape, opening, around)?;
    let number = count(tape, opening);
    let length = tape.combine(Operator::Multiply, number, edges, at)?;
    let none = tape.constant(Quantity::zero(Dim::LENGTH), at);
    let depth = opening.reveal.map_or(none, |depth| depth.node);
    Ok(Measures {
        area: tape.combine(Operator::Multiply, length, depth, at)?,
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
