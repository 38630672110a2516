//! Explanations: how a figure came about, down to the plan, the scripts and tables of the rule
//! pack, and the price book.
//!
//! An [`Explanation`] holds every step exactly as it was computed, so that
//! [`Explanation::evaluate`] gives the figure again from its leaves, to the last bit. What a
//! person reads is its [`Outline`]: chains joined into one formula, equal contributions together.

mod build;
mod charges;
mod figures;
mod money;
pub(crate) mod names;
mod needs;
mod outline;
mod reasons;
mod tapes;

pub use figures::{Listing, Unfound, listing};
pub(crate) use figures::{MEASURES, measure};
pub use outline::{Entry, Outline, Piece};

use crate::crew::{PaidClass, mean_wage};
use crate::job::Rounding;
use crate::price::{Estimate, rounded_by, up_to};
use parge_base::prices::PriceBook;
use parge_base::{
    Currency, Dim, FactorSource, Function, Money, Operator, Quantity, Sources, Span, Unit,
};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

/// A step of an explanation by its number; each stands after those it rests on.
pub type Id = usize;

/// The value of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// A measured or reckoned quantity.
    Quantity(Quantity),
    /// An amount of money.
    Money(Money),
    /// A rate on money, exact.
    Rate(Decimal),
}

/// What made a value.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// It is stated: in the plan, a script, a table or the price book.
    Given(Origin),
    /// It is another value by another name.
    Same(Id),
    /// A function of a value.
    Apply(Function, Id),
    /// An operation on two values.
    Combine(Operator, Id, Id),
    /// All of these, added in this order to nothing.
    Sum {
        /// The value to begin with.
        nothing: Value,
        /// What is added.
        of: Vec<Id>,
    },
    /// What a rule for the price sees: an amount of money, or a number of hours, as a figure that
    /// it can reckon with.
    Seen(Id),
    /// What a rule for the price adds, rounded to the minor unit.
    Amount {
        /// Its figure.
        of: Id,
        /// The currency of the bid.
        currency: Currency,
    },
    /// A time in hours, rounded to hundredths.
    Hours(Id),
    /// A price times a number of packs or hours, rounded to the minor unit.
    Cost {
        /// Of one.
        price: Id,
        /// How many.
        number: Id,
    },
    /// The mean of wages by people, rounded as [`crate::crew::mean_wage`] does.
    MeanWage {
        /// How many people, and their wage.
        of: Vec<[Id; 2]>,
    },
    /// A share of an amount, rounded to the minor unit.
    Share {
        /// The amount.
        of: Id,
        /// The share.
        rate: Id,
    },
    /// What is missing of the least price, or nothing.
    UpTo {
        /// The price as it stands.
        of: Id,
        /// The least that it may be.
        least: Id,
    },
    /// What makes a price a multiple; see [`crate::job::Rounding`].
    Rounded {
        /// The price as it stands.
        of: Id,
        /// What it becomes a multiple of.
        multiple: Id,
        /// Whether to the multiple above.
        up: bool,
        /// The least that it may be.
        least: Option<Id>,
    },
    /// A share of the price, reckoned from the cost: `cost × rate / (1 - rate)`, rounded.
    Margin {
        /// The cost.
        of: Id,
        /// The share of the price.
        rate: Id,
    },
}

/// Where a leaf comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Written in the plan.
    Plan,
    /// Written in a script of the pack.
    Script,
    /// A cell of a table of the pack.
    Table,
    /// A row of the price book.
    PriceBook,
    /// Counted: structures, equal faces, sheets laid out on a face.
    Counted,
}

impl Origin {
    /// The origin in a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Script => "script",
            Self::Table => "table",
            Self::PriceBook => "price book",
            Self::Counted => "counted",
        }
    }
}

/// One step.
#[derive(Debug, Clone)]
pub struct Node {
    /// What made it.
    pub step: Step,
    /// Its value.
    pub value: Value,
    /// What it is called, in words of the trade, where it has a name.
    pub name: Option<String>,
    /// The unit it is written or shown in, where that is not the usual one of its kind.
    pub unit: Option<Unit>,
    /// Where it stands.
    pub place: Option<Span>,
    /// Who says so, for a cell of a table.
    pub source: Option<FactorSource>,
    /// What is to be said of it.
    pub note: Option<String>,
    /// The number of its class in [`Explanation::classes`], for what a face, an edge or the job
    /// contributes to a sum.
    pub class: Option<usize>,
}

/// Contributions that one line of a rule made in one way, so that they differ by sizes alone.
#[derive(Debug, Clone)]
pub struct Class {
    /// What they have in common: `drystone on block`.
    pub title: String,
    /// The line of the rule.
    pub place: Option<Span>,
}

/// How a figure came about.
#[derive(Debug, Clone)]
pub struct Explanation {
    /// The figure, as it can be asked for.
    pub figure: String,
    /// The steps, each after those it rests on; the last is the figure.
    pub nodes: Vec<Node>,
    /// The classes of contributions.
    pub classes: Vec<Class>,
}

impl Explanation {
    /// The figure's own step.
    pub fn root(&self) -> Option<&Node> {
        self.nodes.last()
    }

    /// The figure once more, from its leaves alone; `None` where a step has no value.
    pub fn evaluate(&self) -> Option<Value> {
        let mut values: Vec<Value> = Vec::with_capacity(self.nodes.len());
        for node in &self.nodes {
            let value = match &node.step {
                Step::Given(_) => node.value,
                step => compute(step, &|id| values.get(id).copied())?,
            };
            values.push(value);
        }
        values.pop()
    }
}

/// The value of a step from those before it.
fn compute(step: &Step, values: &dyn Fn(Id) -> Option<Value>) -> Option<Value> {
    let quantity = |id: &Id| match values(*id) {
        Some(Value::Quantity(quantity)) => Some(quantity),
        _ => None,
    };
    let money = |id: &Id| match values(*id) {
        Some(Value::Money(money)) => Some(money),
        _ => None,
    };
    let rate = |id: &Id| match values(*id) {
        Some(Value::Rate(rate)) => Some(rate),
        _ => None,
    };
    Some(match step {
        Step::Given(_) => return None,
        Step::Same(id) => values(*id)?,
        Step::Apply(function, a) => Value::Quantity(function.of(quantity(a)?).ok()?),
        Step::Combine(operator, a, b) => {
            Value::Quantity(operator.of(quantity(a)?, quantity(b)?).ok()?)
        }
        Step::Sum { nothing, of } => {
            let mut sum = *nothing;
            for id in of {
                sum = plus(sum, values(*id)?)?;
            }
            sum
        }
        Step::Seen(id) => Value::Quantity(match values(*id)? {
            Value::Money(money) => Quantity::new(money.to_f64(), Dim::MONEY).ok()?,
            Value::Quantity(hours) => {
                let hours = hours.to_plain().ok()?;
                Quantity::new(hours * crate::pool::HOUR, Dim::TIME).ok()?
            }
            Value::Rate(_) => return None,
        }),
        Step::Amount { of, currency } => {
            let amount = quantity(of)?.value;
            Value::Money(Money::zero(*currency).unit_times(amount).ok()?)
        }
        Step::Hours(time) => {
            let hours = crate::pool::paid_hours(quantity(time)?);
            Value::Quantity(Quantity::plain(hours))
        }
        Step::Cost { price, number } => {
            Value::Money(money(price)?.times(quantity(number)?.value).ok()?)
        }
        Step::MeanWage { of } => {
            let class = |[people, wage]: &[Id; 2]| {
                Some(PaidClass {
                    name: String::new(),
                    people: Decimal::from_f64(quantity(people)?.value)?,
                    wage: Some(money(wage)?),
                })
            };
            let classes: Option<Vec<PaidClass>> = of.iter().map(class).collect();
            Value::Money(mean_wage(&classes?).ok()??)
        }
        Step::Share { of, rate: share } => Value::Money(money(of)?.share(rate(share)?).ok()?),
        Step::UpTo { of, least } => Value::Money(up_to(money(of)?, money(least)?).ok()?),
        Step::Rounded {
            of,
            multiple,
            up,
            least,
        } => {
            let (up, multiple) = (*up, money(multiple)?);
            let least = match least {
                Some(least) => Some(money(least)?),
                None => None,
            };
            let rounding = Rounding { up, multiple };
            Value::Money(rounded_by(money(of)?, rounding, least).ok()?)
        }
        Step::Margin { of, rate: share } => {
            let share = rate(share)?;
            Value::Money(money(of)?.fraction(share, Decimal::ONE - share).ok()?)
        }
    })
}

/// The sum of two values of one kind.
fn plus(a: Value, b: Value) -> Option<Value> {
    match (a, b) {
        (Value::Quantity(a), Value::Quantity(b)) => a.plus(b).ok().map(Value::Quantity),
        (Value::Money(a), Value::Money(b)) => a.plus(b).ok().map(Value::Money),
        _ => None,
    }
}

/// Explains a figure by its name; see [`listing`] for the names.
pub fn explain(
    estimate: &Estimate,
    book: &PriceBook,
    sources: &Sources,
    name: &str,
) -> Result<Explanation, Unfound> {
    let (figure, name) = figures::find(estimate, name)?;
    let mut builder = build::Builder::new(estimate, book, sources);
    builder
        .figure(&figure)
        .map_err(|fault| Unfound::of(fault, &name))?;
    Ok(builder.finish(name))
}

#[cfg(test)]
mod tests;
