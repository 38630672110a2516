//! The way from cost to price. Every step is rounded to the minor unit, and the total is the sum
//! of the steps before it:
//!
//! 1. direct cost: materials, freight, labour, burden on the labour;
//! 2. overhead, a share of the direct cost;
//! 3. contingency, a share of the direct cost with overhead;
//! 4. profit on the cost with contingency: a markup `k` adds `k` of it, a margin `m` adds
//!    `m / (1 - m)` of it;
//! 5. allowances and charges, as they are;
//! 6. what is missing of the least price, then what rounds the price;
//! 7. tax, on the taxed materials or on the rounded price.

use super::Price;
use crate::job::{Bid, Profit, Rounding, Taxable};
use parge_base::Money;
use parge_base::money::MoneyOverflow;
use parge_base::number::NOISE_DECIMALS;
use rust_decimal::{Decimal, RoundingStrategy};

/// What the chain begins with.
#[derive(Debug, Clone, Copy)]
pub struct Sums {
    /// The priced materials.
    pub materials: Money,
    /// Those of them that a tax on materials is reckoned on.
    pub taxed: Money,
    /// What suppliers ask for bringing them.
    pub freight: Money,
    /// The priced labour.
    pub labour: Money,
    /// The sums set aside.
    pub allowances: Money,
    /// What rules of the pack add.
    pub charges: Money,
}

/// From the sums to the total. `contingency` is the rate that holds, be it the plan's or the one of
/// the estimate's class.
pub fn chain(
    sums: Sums,
    bid: &Bid,
    contingency: Decimal,
    wage: Option<Money>,
) -> Result<Price, MoneyOverflow> {
    let none = Decimal::ZERO;
    let nothing = Money::zero(sums.materials.currency());
    let burden = sums.labour.share(bid.burden.unwrap_or(none))?;
    let bought = sums.materials.plus(sums.freight)?;
    let direct = bought.plus(sums.labour)?.plus(burden)?;
    let overhead = direct.share(bid.overhead.unwrap_or(none))?;
    let cost = direct.plus(overhead)?;
    let contingency = cost.share(contingency)?;
    let cost = cost.plus(contingency)?;
    let profit = match bid.profit {
        None => nothing,
        Some(Profit::Markup(rate)) => cost.share(rate)?,
        Some(Profit::Margin(rate)) => cost.fraction(rate, Decimal::ONE - rate)?,
    };
    let price = cost.plus(profit)?;
    let price = price.plus(sums.allowances)?.plus(sums.charges)?;
    let minimum = match bid.minimum {
        None => nothing,
        Some(least) => up_to(price, least)?,
    };
    let price = price.plus(minimum)?;
    let rounding = match bid.rounding {
        None => nothing,
        Some(rounding) => rounded_by(price, rounding, bid.minimum)?,
    };
    let price = price.plus(rounding)?;
    let tax = match bid.tax {
        None => nothing,
        Some((rate, Taxable::Materials)) => sums.taxed.share(rate)?,
        Some((rate, Taxable::Total)) => price.share(rate)?,
    };
    Ok(Price {
        wage,
        materials: sums.materials,
        taxed: sums.taxed,
        freight: sums.freight,
        labour: sums.labour,
        burden,
        overhead,
        contingency,
        profit,
        allowances: sums.allowances,
        charges: sums.charges,
        minimum,
        rounding,
        tax,
        total: price.plus(tax)?,
    })
}

/// What is missing of the least price; nothing where nothing is.
pub(crate) fn up_to(price: Money, least: Money) -> Result<Money, MoneyOverflow> {
    let missing = least.minus(price)?;
    Ok(match missing.amount() > Decimal::ZERO {
        true => missing,
        false => Money::zero(price.currency()),
    })
}

/// What makes a price a multiple: the nearest one, half away from zero, or the next above. Where the
/// nearest one lies under the least price, it is the next above as well.
pub(crate) fn rounded_by(
    price: Money,
    Rounding { up, multiple }: Rounding,
    least: Option<Money>,
) -> Result<Money, MoneyOverflow> {
    let to = |strategy| {
        let parts = price.amount().checked_div(multiple.amount());
        // As the workbook has it, where the quotient of an exact multiple has binary noise.
        let parts = parts.ok_or(MoneyOverflow)?.round_dp(NOISE_DECIMALS);
        let whole = parts.round_dp_with_strategy(0, strategy);
        let rounded = whole.checked_mul(multiple.amount()).ok_or(MoneyOverflow)?;
        let more = Money::new(rounded, price.currency()).minus(price)?;
        // A nothing has no sign.
        Ok(match more.amount().is_zero() {
            true => Money::zero(price.currency()),
            false => more,
        })
    };
    let nearest = to(RoundingStrategy::MidpointAwayFromZero)?;
    let lands = price.plus(nearest)?;
    let is_short = least.is_some_and(|least| lands.amount() < least.amount());
    match up || is_short {
        true => to(RoundingStrategy::AwayFromZero),
        false => Ok(nearest),
    }
}

#[cfg(test)]
mod tests;
