//! Classes of an estimate: how well the job is known when it is priced, and how far its cost may
//! then lie from the estimate.
//!
//! The limits are those of AACE International Recommended Practice 18R-97, table 1. For each class
//! it gives a range of ranges: what is expected of a poorly known job of the class (outer), and of
//! a well known one (inner).

use parge_base::Money;
use parge_base::money::MoneyOverflow;
use rust_decimal::Decimal;

/// The class of an estimate, 1 to 5.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EstimateClass(usize);

/// Limits in percent of the estimate: outer below and above, inner below and above.
const LIMITS: [[i64; 4]; 5] = [
    [-10, 15, -3, 3],
    [-15, 20, -5, 5],
    [-20, 30, -10, 10],
    [-30, 50, -15, 20],
    [-50, 100, -20, 30],
];

/// Between which amounts a cost is expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Range {
    /// The class it rests on.
    pub class: EstimateClass,
    /// At the outer limits, low and high.
    pub outer: [Money; 2],
    /// At the inner limits, low and high: at best.
    pub inner: [Money; 2],
}

impl EstimateClass {
    /// The class of a number; none where there is no such class.
    pub fn new(number: f64) -> Option<Self> {
        (1..=LIMITS.len())
            .find(|known| *known as f64 == number)
            .map(Self)
    }

    /// Its number.
    pub fn number(self) -> usize {
        self.0
    }

    /// The outer limits in percent of the estimate, below and above.
    pub fn outer(self) -> [i64; 2] {
        let [low, high, ..] = self.limits();
        [low, high]
    }

    /// The inner limits in percent of the estimate, below and above.
    pub fn inner(self) -> [i64; 2] {
        let [.., low, high] = self.limits();
        [low, high]
    }

    fn limits(self) -> [i64; 4] {
        LIMITS.get(self.0 - 1).copied().unwrap_or_default()
    }

    /// Between which amounts the cost of a job is expected that is estimated at this amount.
    pub fn range(self, estimate: Money) -> Result<Range, MoneyOverflow> {
        let at = |limit: i64| estimate.share(Decimal::ONE + Decimal::new(limit, 2));
        let [low, high] = self.outer();
        let [least, most] = self.inner();
        Ok(Range {
            class: self,
            outer: [at(low)?, at(high)?],
            inner: [at(least)?, at(most)?],
        })
    }
}

#[cfg(test)]
mod tests;
