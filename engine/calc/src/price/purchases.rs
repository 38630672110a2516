//! What is bought of whom, and until when it must be ordered.

use super::MaterialLine;
use crate::takeoff::Takeoff;
use jiff::ToSpan;
use jiff::civil::Date;
use parge_base::money::MoneyOverflow;
use parge_base::prices::{Freight, PriceBook};
use parge_base::{Currency, Money};

/// What is bought of one supplier.
#[derive(Debug, Clone, PartialEq)]
pub struct Purchase {
    /// The supplier; empty for lines without a price, and where the book names none.
    pub supplier: String,
    /// The lines, in the order of the materials.
    pub lines: Vec<PurchaseLine>,
    /// The sum of the lines that have a price.
    pub cost: Money,
    /// What the delivery costs, where the supplier asks for it and anything is bought: once, of
    /// however many items.
    pub freight: Option<Freight>,
}

/// A line of a purchase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PurchaseLine {
    /// The number of its line in [`super::Estimate::materials`].
    pub material: usize,
    /// Calendar days from order to delivery, where the book states them.
    pub lead_days: Option<u32>,
    /// The last day to order it: so many calendar days before the first day on site. Which day an
    /// item is needed on is not known, so all must be there on the first.
    pub order_by: Option<Date>,
}

/// The first day on site: the first one of the day plan where that has dates, or else as the plan
/// states it.
pub(super) fn first_day(takeoff: &Takeoff) -> Option<Date> {
    let dated = takeoff.days.as_ref().filter(|plan| plan.is_dated);
    let planned = dated.and_then(|plan| plan.days.first());
    let stated = takeoff.measured.job.calendar.start;
    planned
        .map(|day| day.date)
        .or_else(|| stated.map(|start| start.node))
}

/// The materials by their suppliers, in the order in which they are first needed; what has none
/// comes last.
pub(super) fn purchases(
    materials: &[MaterialLine],
    first_day: Option<Date>,
    book: &PriceBook,
) -> Result<Vec<Purchase>, MoneyOverflow> {
    let mut suppliers: Vec<&str> = Vec::new();
    for line in materials {
        if !suppliers.contains(&line.supplier.as_str()) {
            suppliers.push(&line.supplier);
        }
    }
    suppliers.sort_by_key(|supplier| supplier.is_empty());
    let of = |supplier: &str| purchase(supplier, materials, first_day, book);
    suppliers.into_iter().map(of).collect()
}

fn purchase(
    supplier: &str,
    materials: &[MaterialLine],
    first_day: Option<Date>,
    book: &PriceBook,
) -> Result<Purchase, MoneyOverflow> {
    let of_them = materials.iter().enumerate();
    let of_them = of_them.filter(|(_, line)| line.supplier == supplier);
    let mut lines = Vec::new();
    let (mut cost, mut is_bought) = (Money::zero(book.currency), false);
    for (material, line) in of_them {
        let terms = line.choice.as_ref().map(|choice| &choice.offer.terms);
        let lead_days = terms.and_then(|terms| terms.lead_days);
        lines.push(PurchaseLine {
            material,
            lead_days,
            order_by: first_day
                .zip(lead_days)
                .and_then(|(day, lead)| day.checked_sub(i64::from(lead).days()).ok()),
        });
        is_bought |= line.packs.is_some_and(|packs| packs > 0.0);
        if let Some(amount) = line.cost {
            cost = cost.plus(amount)?;
        }
    }
    let freight = book.freight_of(supplier).filter(|_| is_bought);
    Ok(Purchase {
        supplier: supplier.to_owned(),
        lines,
        cost,
        freight: freight.cloned(),
    })
}

/// What all deliveries cost.
pub(super) fn freight(purchases: &[Purchase], currency: Currency) -> Result<Money, MoneyOverflow> {
    let all = purchases
        .iter()
        .filter_map(|purchase| purchase.freight.as_ref());
    super::sum(currency, all.map(|freight| freight.amount))
}

#[cfg(test)]
mod tests;
