//! The physics of the trade, each formula as expressions on a tape, so that a figure can be
//! explained down to what was stated.
//!
//! Numbers that a published formula consists of stand here, with the publication beside them.
//! Limits, margins and whatever a company may see otherwise are inputs: they stand in a pack.

pub mod dead_load;
pub mod dew_point;
pub mod evaporation;
pub mod labour;
pub mod lifting;
pub mod maturity;
pub mod volume;
mod working;

use parge_base::QuantityError;
use std::fmt;

/// Why a formula has no value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhysicsError {
    /// An operation has no value for these inputs.
    NoValue(QuantityError),
    /// An input lies where the formula does not hold: what it is, and where it must lie.
    OutOfRange(&'static str, &'static str),
}

impl fmt::Display for PhysicsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoValue(error) => error.fmt(f),
            Self::OutOfRange(what, range) => write!(f, "{what} must be {range}"),
        }
    }
}

impl std::error::Error for PhysicsError {}

impl From<QuantityError> for PhysicsError {
    fn from(error: QuantityError) -> Self {
        Self::NoValue(error)
    }
}

/// A value, or why there is none.
pub type Outcome<T> = Result<T, PhysicsError>;

#[cfg(test)]
#[path = "testing/tests.rs"]
mod testing;
