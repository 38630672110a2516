//! Sums over lines. A line that is not recorded counts on neither side.

use super::super::split::MoneySplit;
use super::Line;
use parge_base::money::MoneyOverflow;
use parge_base::{Currency, Money};

/// The sums of lines. Estimated, actual and split are of the lines that have all three, so that the
/// split adds up to the difference.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Totals {
    /// What the recorded lines were estimated at.
    pub estimated: Money,
    /// What they cost.
    pub actual: Money,
    /// The difference, part by part.
    pub split: MoneySplit,
    /// How many lines these are sums of.
    pub recorded: usize,
    /// What the lines were estimated at that are not recorded.
    pub not_recorded: Money,
    /// How many those are.
    pub missing: usize,
    /// Lines that are recorded and have no cost on one side: they are in none of the sums.
    pub open: usize,
}

impl Totals {
    pub(super) fn of(lines: &[Line], currency: Currency) -> Result<Self, MoneyOverflow> {
        let zero = Money::zero(currency);
        let mut sums = Self {
            estimated: zero,
            actual: zero,
            split: MoneySplit::nothing(zero),
            recorded: 0,
            not_recorded: zero,
            missing: 0,
            open: 0,
        };
        for line in lines {
            let estimated = line.estimated.cost;
            let split = line.split.and_then(|split| split.money);
            match (&line.actual, estimated, split) {
                (None, cost, _) => {
                    sums.missing += 1;
                    sums.not_recorded = sums.not_recorded.plus(cost.unwrap_or(zero))?;
                }
                (Some(actual), Some(estimated), Some(split)) => {
                    sums.recorded += 1;
                    sums.estimated = sums.estimated.plus(estimated)?;
                    sums.actual = sums.actual.plus(actual.cost.unwrap_or(zero))?;
                    sums.split = sums.split.plus(&split)?;
                }
                _ => sums.open += 1,
            }
        }
        Ok(sums)
    }

    pub(super) fn plus(&self, other: &Self) -> Result<Self, MoneyOverflow> {
        Ok(Self {
            estimated: self.estimated.plus(other.estimated)?,
            actual: self.actual.plus(other.actual)?,
            split: self.split.plus(&other.split)?,
            recorded: self.recorded + other.recorded,
            not_recorded: self.not_recorded.plus(other.not_recorded)?,
            missing: self.missing + other.missing,
            open: self.open + other.open,
        })
    }
}
