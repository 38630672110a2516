//! Coherent units: one unit a base dimension, so that a product of figures is the figure of their
//! product and a formula over cells needs no factors.

use crate::job::UnitSystem;
use parge_base::{Currency, Dim, Quantity};

/// Feet, pounds and hours, or metres, kilograms and hours; kelvin; the money of the job.
#[derive(Debug, Clone, Copy)]
pub struct System {
    units: UnitSystem,
    currency: Currency,
}

/// Metres in a foot, kilograms in a pound (NIST Handbook 44, appendix C: exact), seconds in an
/// hour.
const FOOT: f64 = 0.3048;
const POUND: f64 = 0.453_592_37;
const HOUR: f64 = 3600.0;

impl System {
    /// The units that a job is shown in.
    pub fn new(units: UnitSystem, currency: Currency) -> Self {
        Self { units, currency }
    }

    /// Base units in one coherent unit of a kind.
    pub fn scale(self, kind: Dim) -> f64 {
        let [length, mass, time, ..] = kind.powers();
        let (foot, pound) = match self.units {
            UnitSystem::Us => (FOOT, POUND),
            UnitSystem::Metric => (1.0, 1.0),
        };
        foot.powi(length.into()) * pound.powi(mass.into()) * HOUR.powi(time.into())
    }

    /// A quantity's number in coherent units.
    pub fn value(self, of: Quantity) -> f64 {
        of.value / self.scale(of.dim)
    }

    /// The coherent unit of a kind: `ft3/bag`; nothing for a plain number.
    pub fn unit(self, kind: Dim) -> String {
        if kind.is_none() {
            return String::new();
        }
        let (length, mass) = match self.units {
            UnitSystem::Us => ("ft", "lb"),
            UnitSystem::Metric => ("m", "kg"),
        };
        kind.symbols_in([length, mass, "h", "K", self.currency.code()])
    }
}

#[cfg(test)]
mod tests;
