//! What an input says: its value, in words and for comparing, with its source and its place.

use super::plan::{lets, terms};
use super::{Basis, Input};
use crate::change::{Value, bid_terms};
use crate::job::{Figure, Job};
use crate::price::{Estimate, offer_of};
use parge_base::prices::Offer;
use parge_base::{Factor, Sources, Span};
use parge_rules::Cell;
use std::sync::Arc;

/// What an input says in an estimate.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Present {
    /// For comparing.
    pub(super) value: Value,
    /// As it is written.
    pub(super) words: String,
}

impl Present {
    pub(super) fn of(input: &Input, basis: &Basis, estimate: &Estimate) -> Option<Self> {
        let job = &estimate.takeoff.measured.job;
        let plain = |value: Value| {
            let words = value.words(job.units);
            Self { value, words }
        };
        let offer = |item: &str| offer_of(&basis.book, item);
        let figure = |figure: Figure| plain(Value::Quantity(job.value(figure)));
        match input {
            Input::Row { whose, table, keys } => {
                let row = basis.row(*whose, table, keys)?;
                let value = match &row.cell {
                    Cell::Factor(factor) => Value::Quantity(factor.quantity),
                    Cell::Text(text, _) => Value::text(&**text),
                };
                let words = row.words();
                Some(Self { value, words })
            }
            Input::Price(item) => offer(item).map(|offer| plain(Value::Price(offer.price))),
            Input::Pack(item) => offer(item).map(of_pack),
            Input::Bid(term) => bid_terms(&job.bid)
                .into_iter()
                .find(|(name, _)| name == term)
                .map(|(_, words)| plain(Value::Text(words))),
            Input::Let(name) => named(job, name).map(figure),
            Input::Crew(None) => job.crew.map(figure),
            Input::Crew(Some(class)) => {
                let mut classes = job.crew_classes.iter();
                let class = classes.find(|found| found.name == *class)?;
                Some(figure(class.people))
            }
        }
    }

    /// Whether both say the same to an estimator.
    pub(super) fn same(&self, other: &Self) -> bool {
        self.value.same(&other.value)
    }
}

fn of_pack(offer: &Offer) -> Present {
    Present {
        value: Value::Quantity(offer.pack.size),
        words: offer.pack.words(),
    }
}

/// The value of a let.
pub(super) fn named(job: &Job, name: &str) -> Option<Figure> {
    let mut names = job.names.iter();
    let (_, figure) = names.find(|(found, _)| found == name)?;
    Some(*figure)
}

/// The factors that the figures of an estimate rest on, those of its charges as well.
pub(super) fn factors(estimate: &Estimate) -> Vec<&Arc<Factor>> {
    let charging = estimate.charging.iter();
    let mut factors = estimate.takeoff.factors();
    factors.extend(charging.flat_map(|run| run.tape.factors()));
    factors
}

/// Who says so, in words.
pub(super) fn source(input: &Input, basis: &Basis) -> String {
    match input {
        Input::Row { whose, table, keys } => basis
            .row(*whose, table, keys)
            .map_or(String::new(), |row| row.source().to_string()),
        Input::Price(item) | Input::Pack(item) => offer_of(&basis.book, item)
            .map(|offer| offer.supplier.as_str())
            .filter(|supplier| !supplier.is_empty())
            .unwrap_or("price book")
            .to_owned(),
        Input::Bid(_) | Input::Let(_) | Input::Crew(_) => "plan".to_owned(),
    }
}

/// Where it stands.
pub(super) fn place(input: &Input, basis: &Basis, sources: &Sources) -> Option<Span> {
    match input {
        Input::Row { whose, table, keys } => Some(basis.row(*whose, table, keys)?.span),
        Input::Price(item) | Input::Pack(item) => Some(offer_of(&basis.book, item)?.span),
        Input::Bid(wanted) => {
            let mut terms = terms(&basis.plan, sources);
            let (_, term) = terms.find(|(word, _)| word == wanted)?;
            Some(term.span)
        }
        Input::Let(name) => {
            let mut lets = lets(&basis.plan);
            Some(lets.find(|found| found.name.node == *name)?.name.span)
        }
        Input::Crew(_) => None,
    }
}
