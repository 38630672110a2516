//! What an estimate rests on, and the same with some of it replaced.

use super::input::{Input, Whose};
use super::plan::{self, Part};
use crate::alternates::with_alternates;
use crate::contract::Packs;
use crate::price::Estimate;
use crate::stages::{Given, priced, taken_off};
use parge_base::forecast::Forecast;
use parge_base::prices::{Offer, PackSize, PriceBook};
use parge_base::{Diagnostic, Money, Sources, Span, diagnostic};
use parge_grammar::ast::Plan;
use parge_rules::{Cell, OtherValue, Pack};
use std::sync::Arc;

/// All that an estimate rests on. A copy shares what is not changed in it.
#[derive(Debug, Clone)]
pub struct Basis {
    /// The plan, with what it includes.
    pub plan: Arc<Plan>,
    /// The rule pack.
    pub rules: Arc<Pack>,
    /// The pack of the measuring rule; none for the program's own.
    pub measuring: Option<Arc<Pack>>,
    /// The price book.
    pub book: Arc<PriceBook>,
    /// The weather of days.
    pub forecast: Option<Arc<Forecast>>,
    /// Where to point for what is missing from the plan as a whole.
    pub end: Span,
}

/// What an input is to be.
#[derive(Debug, Clone)]
pub enum NewValue {
    /// Of a row of a table.
    Cell(Cell),
    /// The price of one pack, or of an hour.
    Price(Money),
    /// What one pack holds.
    Size(PackSize),
    /// Of something that the plan states.
    Plan(Part),
}

/// An input with its new value.
#[derive(Debug, Clone)]
pub struct Set {
    /// Which.
    pub input: Input,
    /// What it is to be.
    pub value: NewValue,
}

impl Basis {
    /// The same with other values of some inputs.
    pub fn with(&self, sets: &[Set]) -> Self {
        let mut other = self.clone();
        let (mut rules, mut measuring) = (Vec::new(), Vec::new());
        for Set { input, value } in sets {
            match (input, value) {
                (Input::Row { whose, table, keys }, NewValue::Cell(cell)) => {
                    let rows = match whose {
                        Whose::Rules => &mut rules,
                        Whose::Measuring => &mut measuring,
                    };
                    rows.push(OtherValue {
                        table: table.clone(),
                        keys: keys.clone(),
                        cell: cell.clone(),
                    });
                }
                (Input::Price(item), NewValue::Price(price)) => {
                    for offer in offers(Arc::make_mut(&mut other.book), item) {
                        offer.price = *price;
                    }
                }
                (Input::Pack(item), NewValue::Size(size)) => {
                    for offer in offers(Arc::make_mut(&mut other.book), item) {
                        offer.pack = size.clone();
                    }
                }
                (_, NewValue::Plan(part)) => plan::put(Arc::make_mut(&mut other.plan), part),
                // Whoever makes a set gives each input a value of its kind.
                _ => {}
            }
        }
        if !rules.is_empty() {
            other.rules = Arc::new(self.rules.with_values(&rules));
        }
        if let Some(pack) = self.measuring.as_ref().filter(|_| !measuring.is_empty()) {
            other.measuring = Some(Arc::new(pack.with_values(&measuring)));
        }
        other
    }

    /// The estimate without its alternates; `None` after an error that leaves no figures.
    pub fn total(&self, sources: &Sources) -> (Option<Estimate>, Vec<Diagnostic>) {
        let given = Given {
            plan: &self.plan,
            packs: Packs {
                rules: &self.rules,
                measuring: self.measuring.as_deref(),
            },
            forecast: self.forecast.as_deref(),
            end: self.end,
        };
        let (takeoff, mut said) = taken_off(given, sources);
        let Some(takeoff) = takeoff else {
            return (None, said);
        };
        let (estimate, mut more) = priced(takeoff, Some(&self.book), &self.rules, &said);
        said.append(&mut more);
        (estimate, said)
    }

    /// The whole estimate with its alternates, and all that is said of it, tidy.
    pub fn estimate(&self, sources: &Sources) -> (Option<Estimate>, Vec<Diagnostic>) {
        let (estimate, mut said) = self.total(sources);
        let estimate = estimate.map(|estimate| {
            let (estimate, mut more) = with_alternates(estimate, &self.rules, &self.book, &said);
            said.append(&mut more);
            estimate
        });
        diagnostic::tidy(&mut said);
        (estimate, said)
    }
}

/// The offers of an item, whoever makes them. One that has no row of its own, and is sold by those
/// of its kind (`colour/granite` by `colour`), gets rows.
fn offers<'b>(book: &'b mut PriceBook, item: &str) -> impl Iterator<Item = &'b mut Offer> {
    if book.offers_of(item).next().is_none() {
        let general = crate::price::offers_for(book, item).into_iter();
        let own: Vec<Offer> = general
            .map(|general| Offer {
                item: item.to_owned(),
                ..general.clone()
            })
            .collect();
        book.offers.extend(own);
    }
    let item = item.to_owned();
    let offers = book.offers.iter_mut();
    offers.filter(move |offer| offer.item == item)
}
