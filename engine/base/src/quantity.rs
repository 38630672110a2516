//! Quantities: a number with a dimension, and arithmetic that checks both.

pub(crate) mod kernel;

use crate::dim::Dim;
use std::cmp::Ordering;
use std::fmt;

/// A number in base units (metre, kilogram, second, kelvin, one unit of money, one item) with
/// its dimension. The unit it was written or is shown in never enters arithmetic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The value in base units; always finite.
    pub value: f64,
    /// What it measures.
    pub dim: Dim,
}

/// Why an operation on quantities has no result.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum QuantityError {
    /// Two different kinds were added, subtracted or compared.
    Mismatch {
        /// "added to", "subtracted from", "compared with".
        verb: &'static str,
        /// The left operand's kind.
        left: Dim,
        /// The right operand's kind.
        right: Dim,
    },
    /// A plain number was needed.
    NotPlain(Dim),
    /// Division by zero.
    DivisionByZero,
    /// The result is too large, or no number at all.
    NotFinite,
    /// The root of a negative number, or of a kind that has none.
    NoRoot(Dim),
    /// The result's kind is beyond anything that can be measured.
    TooComplex,
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mismatch { verb, left, right } => {
                let (first, second) = match *verb {
                    "subtracted from" => (right, left),
                    _ => (left, right),
                };
                write!(f, "{} cannot be {verb} {}", first.words(), second.words())
            }
            Self::NotPlain(dim) => write!(f, "a plain number is needed here, not {}", dim.words()),
            Self::DivisionByZero => f.write_str("division by zero"),
            Self::NotFinite => f.write_str("the result is too large to be a number"),
            Self::NoRoot(dim) => write!(f, "{} has no square root here", dim.words()),
            Self::TooComplex => f.write_str("the result has too many units multiplied together"),
        }
    }
}

impl std::error::Error for QuantityError {}

type Outcome = Result<Quantity, QuantityError>;

impl Quantity {
    /// A quantity in base units; an error where the value is not finite.
    #[inline]
    pub fn new(value: f64, dim: Dim) -> Outcome {
        if value.is_finite() {
            Ok(Self { value, dim })
        } else {
            Err(QuantityError::NotFinite)
        }
    }

    /// Zero of a kind.
    #[inline]
    pub fn zero(dim: Dim) -> Self {
        Self { value: 0.0, dim }
    }

    /// A plain number.
    #[inline]
    pub fn plain(value: f64) -> Self {
        Self {
            value,
            dim: Dim::NONE,
        }
    }

    /// The sum; both must be of one kind.
    #[inline]
    pub fn plus(self, other: Self) -> Outcome {
        self.same_kind(other, "added to")?;
        Self::new(kernel::sum(self.value, other.value), self.dim)
    }

    /// The difference; both must be of one kind.
    pub fn minus(self, other: Self) -> Outcome {
        self.same_kind(other, "subtracted from")?;
        Self::new(kernel::difference(self.value, other.value), self.dim)
    }

    /// The product.
    #[inline]
    pub fn times(self, other: Self) -> Outcome {
        let dim = self.dim.times(other.dim).ok_or(QuantityError::TooComplex)?;
        Self::new(kernel::product(self.value, other.value), dim)
    }

    /// The quotient.
    pub fn over(self, other: Self) -> Outcome {
        if other.value == 0.0 {
            return Err(QuantityError::DivisionByZero);
        }
        let dim = self.dim.over(other.dim).ok_or(QuantityError::TooComplex)?;
        Self::new(kernel::quotient(self.value, other.value), dim)
    }

    /// A power with a plain exponent: any for a plain number, a whole one for the rest.
    pub fn power(self, exponent: Self) -> Outcome {
        let exponent = exponent.to_plain()?;
        if self.dim.is_none() {
            return Self::new(kernel::power(self.value, exponent), Dim::NONE);
        }
        let whole = kernel::whole_exponent(exponent).ok_or(QuantityError::NotPlain(self.dim))?;
        let dim = self.dim.power(whole).ok_or(QuantityError::TooComplex)?;
        Self::new(kernel::whole_power(self.value, whole), dim)
    }

    /// The square root.
    pub fn root(self) -> Outcome {
        match self.dim.root() {
            Some(dim) if self.value >= 0.0 => Self::new(kernel::root(self.value), dim),
            _ => Err(QuantityError::NoRoot(self.dim)),
        }
    }

    /// The smaller of two quantities of one kind.
    pub fn smaller(self, other: Self) -> Outcome {
        self.same_kind(other, "compared with")?;
        Self::new(kernel::smaller(self.value, other.value), self.dim)
    }

    /// The larger of two quantities of one kind.
    pub fn larger(self, other: Self) -> Outcome {
        self.same_kind(other, "compared with")?;
        Self::new(kernel::larger(self.value, other.value), self.dim)
    }

    /// The order of two quantities of one kind.
    #[inline]
    pub fn order(self, other: Self) -> Result<Ordering, QuantityError> {
        self.same_kind(other, "compared with")?;
        self.value
            .partial_cmp(&other.value)
            .ok_or(QuantityError::NotFinite)
    }

    /// The value of a plain number.
    #[inline]
    pub fn to_plain(self) -> Result<f64, QuantityError> {
        if self.dim.is_none() {
            Ok(self.value)
        } else {
            Err(QuantityError::NotPlain(self.dim))
        }
    }

    #[inline]
    fn same_kind(self, other: Self, verb: &'static str) -> Result<(), QuantityError> {
        if self.dim == other.dim {
            Ok(())
        } else {
            Err(QuantityError::Mismatch {
                verb,
                left: self.dim,
                right: other.dim,
            })
        }
    }
}

#[cfg(test)]
mod tests;
