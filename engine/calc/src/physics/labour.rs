//! Arithmetic of crews and days (NAVEDTRA 14045, ch. 2), and learning on repeated work.

use super::working::Working;
use super::{Outcome, PhysicsError};
use parge_base::{NodeId, Operator, Span, Tape};

/// The days of one person: `quantity / unit × hours / day × delay`.
///
/// `hours` is the labour for one `unit` of the work, `day` the length of the working day, and
/// `delay` what the site loses, 1 for nothing.
pub fn man_days(
    tape: &mut Tape,
    [quantity, unit, hours, day, delay]: [NodeId; 5],
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let units = working.over(quantity, unit)?;
    let hours = working.times(units, hours)?;
    let days = working.over(hours, day)?;
    working.times(days, delay)
}

/// The days of a crew: `man-days / crew / availability / equivalent`.
///
/// `availability` is the share of the crew that is there to work, and `equivalent` how many
/// man-days one of them does in a day.
pub fn duration(
    tape: &mut Tape,
    [man_days, crew, availability, equivalent]: [NodeId; 4],
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let by_crew = working.over(man_days, crew)?;
    let there = working.over(by_crew, availability)?;
    working.over(there, equivalent)
}

/// The efficiency of a site: the mean of what its elements are rated at (NAVEDTRA 14045, table
/// 2-4 has eight).
pub fn efficiency(tape: &mut Tape, elements: &[NodeId], place: Option<Span>) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let sum = working.sum(elements)?;
    let count = working.number(elements.len() as f64);
    working.over(sum, count)
}

/// The time that is worked of a time that is paid.
pub fn productive_time(
    tape: &mut Tape,
    paid: NodeId,
    efficiency: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.times(paid, efficiency)
}

/// What a learning rate of 80 % is the rate of: the two forms give different times for the same
/// rate, so every figure must say which one it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Learning {
    /// With every doubling the mean of all pieces so far falls to the rate (Wright).
    CumulativeAverage,
    /// With every doubling the time of the last piece falls to the rate (Crawford).
    Unit,
}

/// The most pieces whose times are added one by one.
const MOST_PIECES: u32 = 10_000;

/// The time of the first for a rate and number: `first × number^(ln rate / ln 2)`. It is the
/// mean of so many pieces in the one form, and the time of that piece in the other.
///
/// An error where the rate is not over 0 and up to 1, or the number below 1.
pub fn learnt(
    tape: &mut Tape,
    first: NodeId,
    rate: NodeId,
    number: u32,
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let share = working.value(rate);
    if !(share > 0.0 && share <= 1.0) || number == 0 {
        let range = "over 0 % and up to 100 %, for one piece or more";
        return Err(PhysicsError::OutOfRange("a learning rate", range));
    }
    let two = working.number(2.0);
    let number = working.number(f64::from(number));
    let of_rate = working.apply(parge_base::Function::Ln, rate)?;
    let of_two = working.apply(parge_base::Function::Ln, two)?;
    let exponent = working.over(of_rate, of_two)?;
    let power = working.combine(Operator::Power, number, exponent)?;
    working.times(first, power)
}

/// The time of all pieces up to a number.
///
/// An error as in [`learnt`], and for more pieces than can be added one by one.
pub fn learnt_total(
    tape: &mut Tape,
    form: Learning,
    [first, rate]: [NodeId; 2],
    pieces: u32,
    place: Option<Span>,
) -> Outcome<NodeId> {
    if pieces > MOST_PIECES {
        return Err(PhysicsError::OutOfRange(
            "the pieces",
            "no more than 10,000",
        ));
    }
    match form {
        Learning::CumulativeAverage => {
            let mean = learnt(tape, first, rate, pieces, place)?;
            let mut working = Working { tape, place };
            let pieces = working.number(f64::from(pieces));
            working.times(mean, pieces)
        }
        Learning::Unit => {
            let each = (1..=pieces).map(|piece| learnt(tape, first, rate, piece, place));
            let each: Vec<NodeId> = each.collect::<Outcome<_>>()?;
            Working { tape, place }.sum(&each)
        }
    }
}

#[cfg(test)]
mod tests;
