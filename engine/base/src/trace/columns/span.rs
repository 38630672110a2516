//! Between which two figures the values of a column lie. What is known of the smallest and the
//! largest answers most questions for all rows at once: whether each has a value, and whether a
//! comparison turns out the same for all.
//!
//! It rests on one fact. Sums, differences, products, quotients and square roots are rounded to the
//! nearest number, and rounding keeps the order: so between the results for the ends lie those for
//! all that lies between the ends, with their last bits. Operations of which this is not certain
//! (powers, logarithms, rounding to decimals) say nothing.

use crate::quantity::kernel;
use crate::trace::{Comparison, Function, Operator};

/// Every value is at least `low` and at most `high`; both are finite.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    low: f64,
    high: f64,
}

impl Span {
    /// Of values that are finite, and nothing else is known of them.
    pub(super) const ANY: Self = Self {
        low: f64::MIN,
        high: f64::MAX,
    };

    /// Around some values; none where one is not finite.
    pub(super) fn around(values: &[f64]) -> Option<Self> {
        let mut span = Self {
            low: f64::INFINITY,
            high: f64::NEG_INFINITY,
        };
        for value in values {
            if !value.is_finite() {
                return None;
            }
            span.low = span.low.min(*value);
            span.high = span.high.max(*value);
        }
        (span.low <= span.high).then_some(span)
    }

    /// The same with one value more; none where that is not finite.
    pub(super) fn with(self, value: f64) -> Option<Self> {
        value.is_finite().then_some(Self {
            low: kernel::smaller(self.low, value),
            high: kernel::larger(self.high, value),
        })
    }

    /// Whether all values are above zero.
    pub(super) fn is_positive(self) -> bool {
        self.low > 0.0
    }

    /// Where the values of a function lie; none where there may be rows without one.
    pub(super) fn apply(self, function: Function) -> Option<Self> {
        let ends = [self.low, self.high];
        match function {
            Function::Negate => Self::around(&ends.map(|end| -end)),
            Function::Abs if self.low >= 0.0 => Some(self),
            Function::Abs => Self::around(&[0.0, self.low.abs(), self.high.abs()]),
            Function::Root if self.low >= 0.0 => Self::around(&ends.map(kernel::root)),
            Function::Root
            | Function::ArcSine
            | Function::Exp
            | Function::Ln
            | Function::WholeUp
            | Function::Round => None,
        }
    }

    /// Where the values of an operation lie; none where there may be rows without one.
    pub(super) fn combine(operator: Operator, a: Self, b: Self) -> Option<Self> {
        let at_ends = |value: fn(f64, f64) -> f64| {
            let ends = [
                (a.low, b.low),
                (a.low, b.high),
                (a.high, b.low),
                (a.high, b.high),
            ];
            Self::around(&ends.map(|(a, b)| value(a, b)))
        };
        match operator {
            Operator::Add => at_ends(kernel::sum),
            Operator::Subtract => at_ends(kernel::difference),
            Operator::Multiply => at_ends(kernel::product),
            Operator::Divide if b.low > 0.0 || b.high < 0.0 => at_ends(kernel::quotient),
            Operator::Min => at_ends(kernel::smaller),
            Operator::Max => at_ends(kernel::larger),
            Operator::Divide | Operator::Power => None,
        }
    }

    /// Whether a comparison holds for whatever values of two spans. Where it says no, it may hold
    /// for some, or for all.
    pub(super) fn all(comparison: Comparison, a: Self, b: Self) -> bool {
        match comparison {
            // Equal figures count as equal, and so do those that are nearly so, whichever is larger.
            Comparison::LessOrEqual => a.high <= b.low,
            Comparison::GreaterOrEqual => a.low >= b.high,
            Comparison::Less => a.is_clearly_below(b),
            Comparison::Greater => b.is_clearly_below(a),
            Comparison::NotEqual => a.is_clearly_below(b) || b.is_clearly_below(a),
            Comparison::Equal => false,
        }
    }

    /// Whether all values are below all of another span by far more than what still counts as equal
    /// to an estimator (`kernel::sides`), whichever of them are compared.
    fn is_clearly_below(self, other: Self) -> bool {
        const CLEARLY: f64 = 1e-9;
        let ends = [self.low, self.high, other.low, other.high];
        let size = ends.into_iter().map(f64::abs).fold(0.0, kernel::larger);
        other.low - self.high > CLEARLY * size
    }
}

#[cfg(test)]
mod tests;
