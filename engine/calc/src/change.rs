//! What changed in meaning between two estimates of a job: what the plan says, what is coated,
//! what is bought, what it costs.
//!
//! [`compare`] looks at values and never at text. A plan that was laid out anew, a `let` with
//! another name, or `32in` for `2ft 8in` is no change; sizes count as equal that differ by less
//! than a billionth of themselves.
//!
//! Structures, faces, openings and finishes are matched by name. One that is gone while another
//! with all the same values has come is reported as renamed.

mod content;
mod faces;
mod lines;
mod money;
mod pair;
mod plan;
mod shape;
mod structure;
mod things;
pub mod value;
mod words;

use crate::job::UnitSystem;
use crate::price::{Estimate, Status};
use crate::takeoff::PackLabel;
use parge_base::{Currency, Money, Quantity, Unit};
pub(crate) use plan::bid_terms;
pub use value::Value;
pub use words::Words;

/// The same thing in the old estimate and in the new one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Both<T> {
    /// Before.
    pub old: T,
    /// After.
    pub new: T,
}

impl<T> Both<T> {
    /// The same made of each.
    pub fn map<U>(self, make: impl Fn(T) -> U) -> Both<U> {
        Both {
            old: make(self.old),
            new: make(self.new),
        }
    }

    /// Both by reference.
    pub fn as_ref(&self) -> Both<&T> {
        Both {
            old: &self.old,
            new: &self.new,
        }
    }
}

/// An estimate that was compared.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Side {
    /// The job's name.
    pub job: String,
    /// The rule pack.
    pub pack: PackLabel,
    /// The currency.
    pub currency: Currency,
    /// Whether every line has its price.
    pub status: Status,
    /// How many lines have none.
    pub open_lines: usize,
}

/// What a change is of. Names are the new ones where something was renamed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Part {
    /// A setting of the job.
    Job,
    /// The rule pack, or a factor of its tables.
    Rules,
    /// A finish, by name.
    Finish(String),
    /// A structure, by name.
    Structure(String),
    /// A face.
    Face {
        /// Its structure.
        structure: String,
        /// Its name.
        face: String,
    },
    /// An opening in a face.
    Opening {
        /// The structure of its face.
        structure: String,
        /// Its face.
        face: String,
        /// Its name.
        opening: String,
    },
    /// What the price book says of an item that both estimates buy.
    Price {
        /// The item, as the price book names it.
        item: String,
        /// What it is, in words.
        description: String,
    },
}

/// What happened to a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// It is new; its new value describes it.
    Added,
    /// It is gone; its old value describes it.
    Removed,
    /// It has another name and all the same values.
    Renamed,
    /// One value of it is another.
    Changed,
}

/// One line of what changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Of what.
    pub part: Part,
    /// In which way.
    pub kind: Kind,
    /// Which value, in words: `width`, `client`; empty where the whole part came or went.
    pub what: String,
    /// The value before; none where it was not stated.
    pub old: Option<Value>,
    /// The value after; none where it is not stated.
    pub new: Option<Value>,
}

/// The coated area of a face that changed, all equal faces together.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceArea {
    /// The structure.
    pub structure: String,
    /// The face.
    pub face: String,
    /// Its net area; none on the side that does not have it.
    pub area: Both<Option<Quantity>>,
}

/// What one estimate needs of a material.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// Without waste.
    pub need: Quantity,
    /// The waste as an amount.
    pub waste: Quantity,
    /// The unit to show both in.
    pub unit: Unit,
    /// Whole packs; none without a price.
    pub packs: Option<f64>,
    /// What they cost; none without a price.
    pub cost: Option<Money>,
}

impl Amount {
    /// Need and waste together, in the unit they are shown in.
    pub fn with_waste(&self) -> f64 {
        self.shown(Quantity {
            value: self.need.value + self.waste.value,
            dim: self.need.dim,
        })
    }

    /// An amount in the unit shown. A unit of another kind was reported when the needs were
    /// pooled; base units are shown then.
    pub fn shown(&self, quantity: Quantity) -> f64 {
        self.unit.show(quantity).unwrap_or(quantity.value)
    }
}

/// A material whose amount or cost changed.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialChange {
    /// The item, as the price book names it.
    pub item: String,
    /// What it is, in words.
    pub description: String,
    /// What each estimate needs of it; none where it needs none.
    pub amounts: Both<Option<Amount>>,
}

/// Hours and what they cost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    /// The hours of one person.
    pub hours: f64,
    /// What they cost before burden; none without a wage.
    pub cost: Option<Money>,
}

/// A phase of labour that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct LabourChange {
    /// The phase, as the pack names it.
    pub phase: String,
    /// What is done, in words.
    pub description: String,
    /// The work in each estimate; none where there is none.
    pub work: Both<Option<Work>>,
}

/// What a line costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cost {
    /// Nothing: the line is not there.
    None,
    /// It has no price.
    Open,
    /// So much.
    Priced(Money),
}

/// A material or phase whose cost changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CostChange<'c> {
    /// What it is, in words.
    pub description: &'c str,
    /// What it costs.
    pub cost: Both<Cost>,
}

/// A step of the way from cost to price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// `materials`, `labour`, `burden`, `overhead`, `profit`, `tax`, or one of those that most bids
    /// do not have, such as `contingency`.
    pub name: &'static str,
    /// The amounts.
    pub amount: Both<Money>,
}

/// All that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Changes {
    /// The two estimates.
    pub sides: Both<Side>,
    /// How sizes are shown: as the new plan asks for.
    pub units: UnitSystem,
    /// What plan, rules and price book say otherwise.
    pub lines: Vec<Change>,
    /// Faces whose coated area changed.
    pub areas: Vec<FaceArea>,
    /// The coated area of all faces.
    pub area: Both<Quantity>,
    /// Materials whose amount or cost changed.
    pub materials: Vec<MaterialChange>,
    /// Phases whose hours or cost changed.
    pub labour: Vec<LabourChange>,
    /// From cost to price, each step changed or not. The steps add up to the total.
    pub steps: Vec<Step>,
    /// What the client pays.
    pub total: Both<Money>,
}

impl Changes {
    /// Whether nothing changed.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
            && self.areas.is_empty()
            && self.materials.is_empty()
            && self.labour.is_empty()
            && self.sides.old.open_lines == self.sides.new.open_lines
            && self.total.old == self.total.new
            && self
                .steps
                .iter()
                .all(|step| step.amount.old == step.amount.new)
    }

    /// The materials and phases whose cost changed, in their order.
    pub fn costs(&self) -> Vec<CostChange<'_>> {
        money::costs(self)
    }

    /// The currency of all amounts; none where the two estimates are in different ones.
    pub fn currency(&self) -> Option<Currency> {
        let Both { old, new } = &self.sides;
        (old.currency == new.currency).then_some(new.currency)
    }
}

/// Compares two estimates.
pub fn compare(old: &Estimate, new: &Estimate) -> Changes {
    let (lines, areas) = plan::compare(old, new);
    let total = |estimate: &Estimate| faces::total_area(&estimate.takeoff.measured);
    Changes {
        sides: Both {
            old: side(old),
            new: side(new),
        },
        units: new.takeoff.measured.job.units,
        lines,
        areas,
        area: Both {
            old: total(old),
            new: total(new),
        },
        materials: money::materials(old, new),
        labour: money::labour(old, new),
        steps: money::steps(&old.price, &new.price),
        total: Both {
            old: old.price.total,
            new: new.price.total,
        },
    }
}

fn side(estimate: &Estimate) -> Side {
    let materials = estimate.materials.iter().map(|line| line.cost);
    let labour = estimate.labour.iter().map(|line| line.cost);
    Side {
        job: estimate.takeoff.measured.job.name.clone(),
        pack: estimate.takeoff.pack.clone(),
        currency: estimate.currency,
        status: estimate.status,
        open_lines: materials.chain(labour).filter(Option::is_none).count(),
    }
}

#[cfg(test)]
mod tests;
