//! Maturity: how temperature makes waiting longer (ASTM C1074).

use super::Outcome;
use super::working::Working;
use parge_base::{Dim, Function, NodeId, Operator, Span, Tape};

/// A part of a temperature history.
#[derive(Debug, Clone, Copy)]
pub struct Period {
    /// How long.
    pub time: NodeId,
    /// The mean temperature of the mix during it.
    pub temperature: NodeId,
}

/// The maturity by Nurse and Saul: `Σ (T - T0) Δt`, a temperature times a time. A period colder
/// than the datum T0 adds nothing.
///
/// An error for a history of no period.
pub fn nurse_saul(
    tape: &mut Tape,
    history: &[Period],
    datum: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let nothing = working.quantity(0.0, Dim::TEMPERATURE);
    let mut parts = Vec::with_capacity(history.len());
    for period in history {
        let above = working.minus(period.temperature, datum)?;
        let above = working.combine(Operator::Max, above, nothing)?;
        parts.push(working.times(above, period.time)?);
    }
    working.sum(&parts)
}

/// How many hours at the reference temperature an hour at this one is worth, after Arrhenius:
/// `exp(Q (1/Ts - 1/T))`. Q, the activation energy over the gas constant, is a temperature:
/// 5000 K is usual.
pub fn age_factor(
    tape: &mut Tape,
    temperature: NodeId,
    reference: NodeId,
    activation: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let at_reference = working.over(activation, reference)?;
    let here = working.over(activation, temperature)?;
    let exponent = working.minus(at_reference, here)?;
    working.apply(Function::Exp, exponent)
}

/// A stated wait at another temperature than the one that it is stated for.
#[derive(Debug, Clone, Copy)]
pub struct Wait {
    /// By equivalent age, shorter as well as longer.
    pub equivalent: NodeId,
    /// What is to be waited: a stated minimum governs, so warmth shortens nothing.
    pub governing: NodeId,
}

/// A wait divided by the [`age_factor`] of the temperature that it passes at.
pub fn wait(
    tape: &mut Tape,
    stated: NodeId,
    age_factor: NodeId,
    place: Option<Span>,
) -> Outcome<Wait> {
    let mut working = Working { tape, place };
    let equivalent = working.over(stated, age_factor)?;
    Ok(Wait {
        equivalent,
        governing: working.combine(Operator::Max, equivalent, stated)?,
    })
}

#[cfg(test)]
mod tests;
