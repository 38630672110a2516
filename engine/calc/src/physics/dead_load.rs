//! The weight of a coat on what carries it.

use super::Outcome;
use super::working::Working;
use parge_base::{NodeId, Span, Tape};

/// The mass per area of a coat: thickness times density.
pub fn dead_load(
    tape: &mut Tape,
    thickness: NodeId,
    density: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.times(thickness, density)
}

#[cfg(test)]
mod tests;
