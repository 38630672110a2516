//! The wage classes of a crew, held against the price book.
//!
//! The row `labour` is the wage of an hour, and `labour/lead` that of the class `lead`. A book
//! with rows for classes has one for each class of the crew; with none, all are paid by `labour`.
//! Where a crew is paid by classes, an hour of one person costs the mean of its wages by people:
//! the estimate knows how many hours there are, and not who works which.

use crate::job::Job;
use crate::price::LABOUR_ITEM;
use parge_base::money::MoneyOverflow;
use parge_base::prices::PriceBook;
use parge_base::{Code, Diagnostic, Money, suggest};
use rust_decimal::{Decimal, RoundingStrategy};

/// A wage class of the crew with its wage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaidClass {
    /// The class, as plan and price book name it.
    pub name: String,
    /// How many of the crew are of it.
    pub people: Decimal,
    /// The wage of an hour, before burden; none where the book has no price for it.
    pub wage: Option<Money>,
}

/// Digits of a mean wage behind those of the minor unit.
pub const MEAN_DIGITS: u32 = 2;

/// The mean wage of a crew, by people: `sum(people × wage) / sum(people)`, rounded half away from
/// zero to a hundredth of the minor unit. So the wage that is shown is the wage that is paid. None
/// where a class has no wage, or nobody is there.
pub fn mean_wage(classes: &[PaidClass]) -> Result<Option<Money>, MoneyOverflow> {
    let (mut sum, mut people, mut currency) = (Decimal::ZERO, Decimal::ZERO, None);
    for class in classes {
        let Some(wage) = class.wage else {
            return Ok(None);
        };
        let of_class = wage.amount().checked_mul(class.people);
        let more = of_class.and_then(|of_class| sum.checked_add(of_class));
        sum = more.ok_or(MoneyOverflow)?;
        people = people.checked_add(class.people).ok_or(MoneyOverflow)?;
        currency = Some(wage.currency());
    }
    let Some(currency) = currency.filter(|_| people > Decimal::ZERO) else {
        return Ok(None);
    };
    let mean = sum.checked_div(people).ok_or(MoneyOverflow)?;
    let digits = currency.decimals() + MEAN_DIGITS;
    let mean = mean.round_dp_with_strategy(digits, RoundingStrategy::MidpointAwayFromZero);
    Ok(Some(Money::new(mean, currency)))
}

/// The item of a price book that is an hour of a class: `labour/lead`.
pub(crate) fn class_item(class: &str) -> String {
    format!("{LABOUR_ITEM}/{class}")
}

/// The classes that a price book has a row for, with or without a price, in the order of the book.
pub fn wage_classes(book: &PriceBook) -> Vec<&str> {
    let offers = book.offers.iter().map(|offer| offer.item.as_str());
    let open = book.open.iter().map(|(item, _)| item.as_str());
    let class = |item: &'_ str| -> Option<usize> {
        let (general, _) = item.split_once('/')?;
        (general == LABOUR_ITEM).then_some(general.len() + 1)
    };
    offers
        .chain(open)
        .filter_map(|item| item.get(class(item)?..))
        .collect()
}

/// Says which classes of the crew have no row where others have one.
pub(crate) fn unknown_classes(job: &Job, book: &PriceBook) -> Vec<Diagnostic> {
    let known = wage_classes(book);
    if known.is_empty() {
        return Vec::new();
    }
    let unknown = job
        .crew_classes
        .iter()
        .filter(|class| !known.contains(&class.name.as_str()));
    let told = unknown.map(|class| {
        let message = format!("the price book has no wage class `{}`", class.name);
        let help = match suggest::nearest(&class.name, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("add a row `{}` to it", class_item(&class.name)),
        };
        Diagnostic::new(Code::UnknownWord, message, help)
            .at(class.span, "")
            .at(book.span, "the price book")
    });
    told.collect()
}

#[cfg(test)]
mod tests;
