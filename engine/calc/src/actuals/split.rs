//! A difference between estimate and actual, split into its causes.
//!
//! With `c` the price of a pack or an hour as estimated and `p` as paid, `s` what a pack holds, `u`
//! the use as estimated with its waste, `v` what the estimate reckons at the areas as built, `w` the
//! use as recorded, and `⌈w/s⌉` whole packs, five amounts lead from the estimated cost to the actual
//! one, each rounded to the minor unit:
//!
//! | step | amount | for hours |
//! | --- | --- | --- |
//! | 0 | estimated cost | the same |
//! | 1 | step 0 + c (v - u) / s | step 0 + c (v - u) |
//! | 2 | step 0 + c (w - u) / s | c w |
//! | 3 | c ⌈w/s⌉ | c w |
//! | 4 | p ⌈w/s⌉ | p w |
//!
//! *Quantity* is step 1 less step 0: more or less was built. *Usage* is step 2 less step 1: of
//! a material its yield, coverage or waste, of hours the rate. *Packs* is step 3 less step 2: what was
//! left over in packs, or not. *Price* is step 4 less step 3. Being differences of one row of amounts,
//! they add up to the whole difference to the last digit, whatever is rounded. The order is that of
//! the work: what was built, what it took, what was bought for it, what that cost.

use parge_base::money::MoneyOverflow;
use parge_base::number::whole_up;
use parge_base::{Money, Quantity};

/// A difference in the unit of a line: actual less estimated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AmountSplit {
    /// For more or less that was built.
    pub quantity: Quantity,
    /// For what it took: yield, coverage, waste, or rate.
    pub usage: Quantity,
}

/// A difference in money: actual less estimated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoneySplit {
    /// For more or less that was built.
    pub quantity: Money,
    /// Of a material for its yield, coverage or waste; of hours for the rate.
    pub usage: Money,
    /// For what is left over in whole packs.
    pub packs: Money,
    /// For the price paid.
    pub price: Money,
}

impl MoneySplit {
    /// No difference.
    pub fn nothing(of: Money) -> Self {
        let zero = Money::zero(of.currency());
        Self {
            quantity: zero,
            usage: zero,
            packs: zero,
            price: zero,
        }
    }

    /// The whole difference.
    pub fn whole(&self) -> Result<Money, MoneyOverflow> {
        let parts = [self.usage, self.packs, self.price];
        parts.into_iter().try_fold(self.quantity, Money::plus)
    }

    /// The sum of two, part by part.
    pub fn plus(&self, other: &Self) -> Result<Self, MoneyOverflow> {
        Ok(Self {
            quantity: self.quantity.plus(other.quantity)?,
            usage: self.usage.plus(other.usage)?,
            packs: self.packs.plus(other.packs)?,
            price: self.price.plus(other.price)?,
        })
    }
}

/// A difference, split.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// In the unit of the line.
    pub amount: AmountSplit,
    /// In money; none where the line has no cost on one side.
    pub money: Option<MoneySplit>,
}

/// The three uses of a line, in one unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Uses {
    /// As estimated, with waste.
    pub(super) estimated: f64,
    /// What the estimate reckons at the areas as built.
    pub(super) at_built: f64,
    /// As recorded.
    pub(super) recorded: f64,
}

/// The cost of a line as estimated, and the prices.
#[derive(Debug, Clone, Copy)]
pub(super) struct Costs {
    pub(super) estimated: Money,
    pub(super) price: Money,
    pub(super) paid: Money,
}

/// Splits the cost of a material; `size` is what a pack holds, in the unit of the uses.
pub(super) fn of_material(
    uses: Uses,
    size: f64,
    costs: Costs,
) -> Result<MoneySplit, MoneyOverflow> {
    let more = |use_: f64| costs.price.times((use_ - uses.estimated) / size);
    let packs = whole_up(uses.recorded / size);
    differences([
        costs.estimated,
        costs.estimated.plus(more(uses.at_built)?)?,
        costs.estimated.plus(more(uses.recorded)?)?,
        costs.price.times(packs)?,
        costs.paid.times(packs)?,
    ])
}

/// Splits the cost of hours; the uses are hours.
pub(super) fn of_hours(uses: Uses, costs: Costs) -> Result<MoneySplit, MoneyOverflow> {
    let more = costs.price.times(uses.at_built - uses.estimated)?;
    let at_wage = costs.price.times(uses.recorded)?;
    differences([
        costs.estimated,
        costs.estimated.plus(more)?,
        at_wage,
        at_wage,
        costs.paid.times(uses.recorded)?,
    ])
}

/// A difference; nothing has no sign.
fn less(amount: Money, before: Money) -> Result<Money, MoneyOverflow> {
    let difference = amount.minus(before)?;
    Ok(match difference.amount().is_zero() {
        true => Money::zero(amount.currency()),
        false => difference,
    })
}

fn differences(steps: [Money; 5]) -> Result<MoneySplit, MoneyOverflow> {
    let [estimated, built, used, bought, paid] = steps;
    Ok(MoneySplit {
        quantity: less(built, estimated)?,
        usage: less(used, built)?,
        packs: less(bought, used)?,
        price: less(paid, bought)?,
    })
}

#[cfg(test)]
mod tests;
