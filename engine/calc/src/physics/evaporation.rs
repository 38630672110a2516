//! Water that evaporates from fresh mix, and with it the risk that it cracks before it sets.
//!
//! P. J. Uno, *Plastic Shrinkage Cracking and Evaporation Formulas*, ACI Materials Journal 95-M34
//! (1998), published two forms. They differ by about 3 %, since the metric one is rounded, so they
//! are never mixed. **The program reckons with the inch-pound form** ([`inch_pound`]), as ACI 305R
//! prints it: the limits of ACI 305R are stated in its unit, and it is the higher of the two. The
//! metric form is kept beside it for those who were given a figure by it.
//!
//! Either is an estimate: about 40 % more or less is possible (Hover, ACI SP-338, 2020). Wind is
//! the mean half a metre (20 in) above the surface.

use super::working::Working;
use super::{Outcome, PhysicsError};
use parge_base::{Dim, NodeId, Operator, Span, Tape};

/// Kilograms in a pound over square metres in a square foot over seconds in an hour, exact.
const POUND_PER_SQUARE_FOOT_HOUR: f64 = 0.45359237 / 0.09290304 / 3600.0;
/// Seconds in an hour.
const HOUR: f64 = 3600.0;
/// Metres per second in a mile per hour, exact.
const MILE_PER_HOUR: f64 = 0.44704;

/// What the formula is about, in a sentence that goes with every figure of it.
pub const ABOUT: &str = "formula of Uno (1998) in the inch-pound form of ACI 305R; an estimate, \
     about 40 % more or less (Hover, ACI SP-338, 2020); wind taken 20 in (0.5 m) above the surface";

/// What must be known of the weather. All are nodes of one tape.
#[derive(Debug, Clone, Copy)]
pub struct Readings {
    /// Temperature of the fresh mix.
    pub mix: NodeId,
    /// Temperature of the air.
    pub air: NodeId,
    /// Relative humidity, as a share from 0 to 1.
    pub humidity: NodeId,
    /// Speed of the wind.
    pub wind: NodeId,
}

/// How much water evaporates.
#[derive(Debug, Clone, Copy)]
pub struct Evaporation {
    /// What the formula gives, also below zero: mass per area and time.
    pub formula: NodeId,
    /// The same, but nothing where moisture condenses.
    pub rate: NodeId,
    /// Whether the formula gives less than nothing: moisture condenses on the mix.
    pub condensation: bool,
}

/// The mass of water per area and time,
/// `(Tc^2.5 - r Ta^2.5) (1 + 0.4 V) / 10^6` in lb/ft2/h, with °F and mph.
///
/// An error where a temperature is below 0 °F or the humidity is no share.
pub fn inch_pound(tape: &mut Tape, of: Readings, place: Option<Span>) -> Outcome<Evaporation> {
    let mut working = Working { tape, place };
    let mix = working.fahrenheit(of.mix)?;
    let air = working.fahrenheit(of.air)?;
    let drive = working.drive(mix, air, of.humidity)?;
    let wind = working.in_units(of.wind, MILE_PER_HOUR, Dim::SPEED)?;
    let (one, slope) = (working.number(1.0), working.number(0.4));
    let slope = working.times(slope, wind)?;
    let wind = working.plus(one, slope)?;
    let product = working.times(drive, wind)?;
    working.rate(product, 1e-6, POUND_PER_SQUARE_FOOT_HOUR)
}

/// The mass of water per area and time,
/// `5 ((Tc + 18)^2.5 - r (Ta + 18)^2.5) (V + 4) / 10^6` in kg/m2/h, with °C and km/h.
///
/// An error where a temperature is below -18 °C or the humidity is no share.
pub fn metric(tape: &mut Tape, of: Readings, place: Option<Span>) -> Outcome<Evaporation> {
    let mut working = Working { tape, place };
    let eighteen = working.number(18.0);
    let mix = working.celsius(of.mix)?;
    let mix = working.plus(mix, eighteen)?;
    let air = working.celsius(of.air)?;
    let air = working.plus(air, eighteen)?;
    let drive = working.drive(mix, air, of.humidity)?;
    let wind = working.in_units(of.wind, 1000.0 / HOUR, Dim::SPEED)?;
    let four = working.number(4.0);
    let wind = working.plus(wind, four)?;
    let product = working.times(drive, wind)?;
    working.rate(product, 5e-6, 1.0 / HOUR)
}

impl Working<'_> {
    /// `mix^2.5 - humidity × air^2.5`: what stands for the difference of vapour pressures.
    fn drive(&mut self, mix: NodeId, air: NodeId, humidity: NodeId) -> Outcome<NodeId> {
        if self.value(mix) < 0.0 || self.value(air) < 0.0 {
            let range = "no colder than 0 F (-18 C) for the evaporation formula";
            return Err(PhysicsError::OutOfRange("air and mix", range));
        }
        if !(0.0..=1.0).contains(&self.value(humidity)) {
            return Err(PhysicsError::OutOfRange(
                "the humidity",
                "from 0 % to 100 %",
            ));
        }
        let power = self.number(2.5);
        let mix = self.combine(Operator::Power, mix, power)?;
        let air = self.combine(Operator::Power, air, power)?;
        let air = self.times(humidity, air)?;
        self.minus(mix, air)
    }

    fn rate(&mut self, product: NodeId, scale: f64, unit: f64) -> Outcome<Evaporation> {
        let dim = evaporation_dim()?;
        let scale = self.number(scale);
        let number = self.times(product, scale)?;
        let unit = self.quantity(unit, dim);
        let formula = self.times(number, unit)?;
        let nothing = self.quantity(0.0, dim);
        Ok(Evaporation {
            formula,
            rate: self.combine(Operator::Max, formula, nothing)?,
            condensation: self.value(formula) < 0.0,
        })
    }
}

/// A mass per area and time.
fn evaporation_dim() -> Outcome<Dim> {
    let per_area = Dim::MASS.over(Dim::AREA);
    let per_time = per_area.and_then(|dim| dim.over(Dim::TIME));
    per_time.ok_or(PhysicsError::NoValue(parge_base::QuantityError::TooComplex))
}

#[cfg(test)]
mod tests;
