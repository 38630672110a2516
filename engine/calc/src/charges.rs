//! Charges: what the rules of a pack add to a price, such as a minimum charge.
//!
//! The rule sees the price with all its steps before tax, and adds amounts with their names.

use crate::contract::PRICE_HOOK;
use crate::price::LabourLine;
use crate::price::Price;
use crate::takeoff::Takeoff;
use parge_base::{Code, Currency, Diagnostic, Dim, Money, NodeId, Quantity, Span};
use parge_rules::{Pack, Run, Subject, Value};

/// An amount that a rule adds to the price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Charge {
    /// What it is for.
    pub name: String,
    /// How much, rounded to the minor unit; less than nothing for a rebate.
    pub amount: Money,
    /// The line of the script that adds it.
    pub place: Option<Span>,
    /// Its figure, before it was rounded, on the tape of [`crate::price::Estimate::charging`].
    pub value: NodeId,
}

/// What the rule adds, and the run that it comes of, where the pack has such a rule.
pub(crate) type Charged = (Vec<Charge>, Option<Run>);

/// What the pack's rule adds to a price; nothing without such a rule.
pub(crate) fn charges(
    price: &Price,
    labour: &[LabourLine],
    takeoff: &Takeoff,
    pack: &Pack,
    said: &mut Vec<Diagnostic>,
) -> Charged {
    if !pack.has_hook(PRICE_HOOK) {
        return (Vec::new(), None);
    }
    match subject(price, labour, takeoff) {
        Some(subject) => charged(&subject, price.materials.currency(), pack, said),
        None => (Vec::new(), None),
    }
}

/// What the rule adds to a bid whose amounts are in that currency.
pub(crate) fn charged(
    subject: &Subject,
    currency: Currency,
    pack: &Pack,
    said: &mut Vec<Diagnostic>,
) -> Charged {
    let mut run = pack.run(&[PRICE_HOOK], subject);
    said.append(&mut run.errors);
    let help = "check the bid; if it is meant so, nothing needs to be done";
    said.extend(run.warnings.iter().map(|warning| {
        let diagnostic = Diagnostic::new(Code::RuleWarning, &*warning.text, help);
        match warning.place {
            Some(place) => diagnostic.at(place, "by this rule"),
            None => diagnostic,
        }
    }));
    said.extend(other_currencies(&run, currency));
    let mut charges = Vec::new();
    for line in &run.charges {
        let value = run.tape.value(line.value);
        let amount = (value.dim == Dim::MONEY)
            .then(|| Money::zero(currency).unit_times(value.value).ok())
            .flatten();
        match amount {
            Some(amount) if amount.amount().is_zero() => {}
            Some(amount) => charges.push(Charge {
                name: line.name.to_string(),
                amount,
                place: line.place,
                value: line.value,
            }),
            None => {
                let message = format!(
                    "charge `{}` must be an amount of money, not {}",
                    line.name,
                    value.dim.words()
                );
                let help =
                    "multiply it by a price, such as a factor in the currency of the price book";
                let diagnostic = Diagnostic::new(Code::RuleFailed, message, help);
                said.push(match line.place {
                    Some(place) => diagnostic.at(place, ""),
                    None => diagnostic,
                });
            }
        }
    }
    (charges, Some(run))
}

/// Factors in another currency than the price book: their figures would be added as if they were
/// in its own.
fn other_currencies(run: &Run, currency: Currency) -> Vec<Diagnostic> {
    let mut wrong = Vec::new();
    for factor in run.tape.factors() {
        let parts = factor.unit.text().split('/').map(str::trim);
        let other = parts
            .filter_map(Currency::from_code)
            .find(|other| *other != currency);
        if let Some(other) = other {
            let message = format!(
                "`{}` is in {}, and the price book is in {}",
                factor.name,
                other.code(),
                currency.code()
            );
            let help = format!(
                "write it in {}; Parge knows no rates of exchange",
                currency.code()
            );
            wrong.push(Diagnostic::new(Code::OtherCurrency, message, help).at(factor.span, ""));
        }
    }
    wrong
}

/// What the rule sees of a bid.
fn subject(price: &Price, labour: &[LabourLine], takeoff: &Takeoff) -> Option<Subject<'static>> {
    let money = |amount: Money| Quantity::new(amount.to_f64(), Dim::MONEY).ok();
    let total = price.before_charges().ok()?;
    let mut totals = takeoff.passed.totals.clone();
    totals.add_faces(&takeoff.measured, 0).ok()?;
    let mut hours = Quantity::zero(Dim::TIME);
    for line in labour {
        let time = Quantity::new(line.labour.hours * crate::pool::HOUR, Dim::TIME);
        hours = hours.plus(time.ok()?).ok()?;
    }
    let values = [
        money(price.materials)?,
        money(price.labour)?,
        money(price.burden)?,
        money(price.overhead)?,
        money(price.profit)?,
        money(price.allowances)?,
        money(price.freight)?,
        money(price.contingency)?,
        money(total)?,
        hours,
        totals.area,
    ];
    Some(bid(values))
}

/// What the rule is given of a bid, and of what kind it is.
pub(crate) const BID: [(&str, Dim); 11] = [
    ("materials", Dim::MONEY),
    ("labour", Dim::MONEY),
    ("burden", Dim::MONEY),
    ("overhead", Dim::MONEY),
    ("profit", Dim::MONEY),
    ("allowances", Dim::MONEY),
    ("freight", Dim::MONEY),
    ("contingency", Dim::MONEY),
    ("total", Dim::MONEY),
    ("hours", Dim::TIME),
    ("area", Dim::AREA),
];

/// A bid of these values, in the order of [`BID`].
pub(crate) fn bid(values: [Quantity; BID.len()]) -> Subject<'static> {
    let values = BID.iter().zip(values);
    let values = values.map(|((name, _), value)| ((*name).into(), Value::Quantity(value, None)));
    Subject {
        kind: "bid".into(),
        values: values.collect(),
    }
}

#[cfg(test)]
mod tests;
