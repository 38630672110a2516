//! Which inputs move the total most: each moved up and down by the same share of its value.
//!
//! Every move is a whole estimate of its own, since packs and hours are rounded over the job; the
//! alternates are left out. Moves run in parallel, and the outcome does not depend on how many do.

use super::plan::{self, Part, lets, terms};
use super::present::{Present, factors, place, source};
use super::{Basis, Input, NewValue, Set, Whose};
use crate::change::Value;
use crate::crew::class_item;
use crate::price::{Estimate, LABOUR_ITEM, offer_of};
use parge_base::{Code, Diagnostic, Dim, Money, Quantity, Severity, Sources, Span};
use parge_grammar::ast::ExprKind;
use parge_rules::{Cell, Row};
use rayon::prelude::*;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// What every input does to the total.
#[derive(Debug, Clone, PartialEq)]
pub struct Most {
    /// The share of its value by which each is moved.
    pub by: Decimal,
    /// The total that they move.
    pub total: Money,
    /// The inputs that were moved, the one that moves the total most first.
    pub moved: Vec<Moved>,
    /// Those that cannot be moved, with the reason.
    pub skipped: Vec<Skipped>,
}

/// An input that was moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// The name by which it is set.
    pub name: String,
    /// Its value as it is, in words.
    pub value: String,
    /// With less of it.
    pub down: Way,
    /// With more of it.
    pub up: Way,
    /// Who says its value.
    pub source: String,
    /// Where it stands.
    pub place: Option<Span>,
}

/// What a move does to the total.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Way {
    /// So much is added to it, or taken off it.
    Difference(Money),
    /// There is no total to compare, and why.
    Unknown(String),
}

/// An input that cannot be moved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skipped {
    /// The name by which it is set.
    pub name: String,
    /// Its value, in words.
    pub value: String,
    /// Why.
    pub why: Why,
}

/// Why an input cannot be moved by a share of its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// A share of nothing is nothing.
    Zero,
    /// A whole number without a unit or of things: mostly a count, of which there is no part.
    Count,
    /// A reading of a thermometer has no share.
    Thermometer,
    /// Moved either way, there is no estimate.
    NoFigures(String),
}

impl Way {
    fn size(&self) -> Decimal {
        match self {
            Self::Difference(money) => money.amount().abs(),
            Self::Unknown(_) => Decimal::ZERO,
        }
    }
}

impl Moved {
    /// The larger of its two differences, without its sign.
    pub fn size(&self) -> Decimal {
        self.down.size().max(self.up.size())
    }
}

/// Moves every input of an estimate by a share of its value, down and up.
pub fn most(basis: &Basis, estimate: &Estimate, by: Decimal, sources: &Sources) -> Most {
    let looking = Looking {
        basis,
        estimate,
        shares: [Decimal::ONE - by, Decimal::ONE + by],
        sources,
    };
    let (mut candidates, mut skipped) = (Vec::new(), Vec::new());
    for (input, found) in looking.inputs() {
        match found {
            Ok(sets) => candidates.push((input, sets)),
            Err(why) => skipped.push(looking.skipped(&input, why)),
        }
    }
    let ways: Vec<[Way; 2]> = candidates
        .par_iter()
        .map(|(_, [down, up])| {
            let (down, up) = rayon::join(|| looking.way(down), || looking.way(up));
            [down, up]
        })
        .collect();
    let mut moved = Vec::new();
    for ((input, _), ways) in candidates.iter().zip(ways) {
        match ways {
            [Way::Unknown(why), Way::Unknown(_)] => {
                skipped.push(looking.skipped(input, Why::NoFigures(why)));
            }
            [down, up] => moved.push(Moved {
                name: input.to_string(),
                value: looking.words(input),
                down,
                up,
                source: source(input, basis),
                place: place(input, basis, sources),
            }),
        }
    }
    // A stable sort: what moves the total alike stays in its order.
    moved.sort_by_key(|moved| Reverse(moved.size()));
    Most {
        by,
        total: estimate.price.total,
        moved,
        skipped,
    }
}

/// What is moved: an input with its set down and its set up, or why it has none.
type Found = Result<[Set; 2], Why>;

struct Looking<'l> {
    basis: &'l Basis,
    estimate: &'l Estimate,
    shares: [Decimal; 2],
    sources: &'l Sources,
}

impl Looking<'_> {
    /// All inputs: the factors by their names, the prices in the order of the lines, the wage, the
    /// terms of the bid, and the lets.
    fn inputs(&self) -> Vec<(Input, Found)> {
        let mut all = self.cells();
        all.append(&mut self.prices());
        all.append(&mut self.terms());
        all.append(&mut self.lets());
        all
    }

    fn cells(&self) -> Vec<(Input, Found)> {
        let rows: BTreeMap<Span, (Whose, &str, &Row)> = self
            .basis
            .rows()
            .map(|(whose, table, row)| (row.span, (whose, table.name.as_str(), row)))
            .collect();
        let mut seen = BTreeSet::new();
        let used = factors(self.estimate).into_iter();
        used.filter(|factor| seen.insert(factor.span))
            .filter_map(|factor| rows.get(&factor.span))
            .map(|(whose, table, row)| {
                let input = Input::Row {
                    whose: *whose,
                    table: (*table).to_owned(),
                    keys: row.keys.clone(),
                };
                let found = self.cell(&input, row);
                (input, found)
            })
            .collect()
    }

    fn cell(&self, input: &Input, row: &Row) -> Found {
        if let Cell::Factor(factor) = &row.cell {
            movable(factor.quantity, factor.written)?;
        }
        self.both(input, |share| row.times(share).map(NewValue::Cell))
    }

    fn prices(&self) -> Vec<(Input, Found)> {
        let lines = self.estimate.materials.iter();
        let bought = lines.map(|line| line.material.item.clone());
        let classes = self.estimate.classes.iter();
        let wages: Vec<String> = match self.estimate.classes.is_empty() {
            true => vec![LABOUR_ITEM.to_owned()],
            false => classes.map(|class| class_item(&class.name)).collect(),
        };
        let wages = wages
            .into_iter()
            .filter(|_| !self.estimate.labour.is_empty());
        let mut seen = BTreeSet::new();
        bought
            .chain(wages)
            .filter_map(|item| offer_of(&self.basis.book, &item))
            .filter(|offer| seen.insert(offer.item.as_str()))
            .map(|offer| {
                let input = Input::Price(offer.item.clone());
                let found = match offer.price.amount().is_zero() {
                    true => Err(Why::Zero),
                    false => self.both_exact(&input, |share| {
                        let amount = offer.price.amount().checked_mul(share)?;
                        Some(NewValue::Price(Money::new(amount, offer.price.currency())))
                    }),
                };
                (input, found)
            })
            .collect()
    }

    fn terms(&self) -> Vec<(Input, Found)> {
        let terms = terms(&self.basis.plan, self.sources);
        terms
            .filter_map(|(word, term)| {
                let input = Input::Bid(word.to_owned());
                let found = match &plan::rate(&term.node)?.node {
                    ExprKind::Literal(rate) if rate.value == 0.0 => Err(Why::Zero),
                    _ => self.both(&input, |share| {
                        plan::term_times(term, share).map(NewValue::Plan)
                    }),
                };
                Some((input, found))
            })
            .collect()
    }

    fn lets(&self) -> Vec<(Input, Found)> {
        let lets = lets(&self.basis.plan);
        lets.map(|found| {
            let input = Input::Let(found.name.node.clone());
            let present = Present::of(&input, self.basis, self.estimate);
            let sets = match present.map(|present| present.value) {
                Some(Value::Quantity(value)) => movable(value, value.value),
                _ => Ok(()),
            };
            let sets = sets.and_then(|()| {
                self.both(&input, |share| {
                    let part: Part = plan::let_times(found, share);
                    Some(NewValue::Plan(part))
                })
            });
            (input, sets)
        })
        .collect()
    }

    fn both(&self, input: &Input, value: impl Fn(f64) -> Option<NewValue>) -> Found {
        self.both_exact(input, |share| value(share.to_f64()?))
    }

    fn both_exact(&self, input: &Input, value: impl Fn(Decimal) -> Option<NewValue>) -> Found {
        let set = |share| {
            let value = value(share).ok_or_else(|| Why::NoFigures("it grows too large".into()))?;
            let input = input.clone();
            Ok(Set { input, value })
        };
        let [down, up] = self.shares;
        Ok([set(down)?, set(up)?])
    }

    /// What a set does to the total.
    fn way(&self, set: &Set) -> Way {
        let (estimate, said) = self
            .basis
            .with(std::slice::from_ref(set))
            .total(self.sources);
        if let Some(wrong) = said.iter().find(|said| leaves_no_figures(said)) {
            return Way::Unknown(wrong.message.clone());
        }
        let Some(estimate) = estimate else {
            return Way::Unknown("there is no estimate".to_owned());
        };
        if open_lines(&estimate) != open_lines(self.estimate) {
            return Way::Unknown("other lines have no price".to_owned());
        }
        match estimate.price.total.minus(self.estimate.price.total) {
            Ok(difference) => Way::Difference(difference),
            Err(error) => Way::Unknown(error.to_string()),
        }
    }

    fn words(&self, input: &Input) -> String {
        let present = Present::of(input, self.basis, self.estimate);
        present.map_or(String::new(), |present| present.words)
    }

    fn skipped(&self, input: &Input, why: Why) -> Skipped {
        Skipped {
            name: input.to_string(),
            value: self.words(input),
            why,
        }
    }
}

/// Whether a value has a share by which it can be moved; `written` is its number as written.
fn movable(value: Quantity, written: f64) -> Result<(), Why> {
    let counts = value.dim.is_none() || value.dim.as_item().is_some();
    if value.dim == Dim::TEMPERATURE {
        Err(Why::Thermometer)
    } else if value.value == 0.0 {
        Err(Why::Zero)
    } else if counts && value.value == written && value.value.fract() == 0.0 {
        Err(Why::Count)
    } else {
        Ok(())
    }
}

/// Only lines without a price leave an estimate.
fn leaves_no_figures(said: &Diagnostic) -> bool {
    let open = matches!(said.code, Code::NoPrice | Code::PackMismatch);
    said.severity() == Severity::Error && !open
}

/// The materials and phases without a price.
fn open_lines(estimate: &Estimate) -> Vec<&str> {
    let materials = estimate.materials.iter();
    let materials = materials.filter(|line| line.cost.is_none());
    let labour = estimate.labour.iter().filter(|line| line.cost.is_none());
    let materials = materials.map(|line| line.material.item.as_str());
    let labour = labour.map(|line| line.labour.phase.as_str());
    materials.chain(labour).collect()
}
