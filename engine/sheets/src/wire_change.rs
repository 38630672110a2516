//! What changed between two estimates as JSON, in the form that [`CHANGE_SCHEMA`] describes. Its
//! names are promised to other programs.

use crate::shown;
use crate::wire::{Measure, RulesWire};
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Money, Quantity};
use parge_calc::change::{
    Amount, Both, Change, Changes, FaceArea, Kind, LabourChange, MaterialChange, Part, Side, Value,
    Work,
};
use parge_calc::job::UnitSystem;
use parge_calc::price::Status;
use serde::Serialize;

/// The JSON Schema (draft 2020-12) of what [`change_json`] writes.
pub const CHANGE_SCHEMA: &str = include_str!("../schema/change.schema.json");

/// All that changed.
#[derive(Debug, Serialize)]
pub struct ChangesWire<'a> {
    /// Whether anything changed.
    pub different: bool,
    /// The estimate before.
    pub old: SideWire<'a>,
    /// The estimate after.
    pub new: SideWire<'a>,
    /// What plan, rules and price book say otherwise.
    pub changes: Vec<ChangeWire<'a>>,
    /// Faces whose coated area changed.
    pub areas: Vec<AreaWire<'a>>,
    /// Materials whose amount or cost changed.
    pub materials: Vec<MaterialChangeWire<'a>>,
    /// Phases whose hours or cost changed.
    pub labour: Vec<LabourChangeWire<'a>>,
    /// Every step from cost to price.
    pub price: Vec<StepWire>,
    /// What the client pays.
    pub total: BothMoneyWire,
}

/// One of the two estimates.
#[derive(Debug, Serialize)]
pub struct SideWire<'a> {
    /// The plan, as the command named it.
    pub plan: &'a str,
    /// The job's name.
    pub job: &'a str,
    /// The rule pack.
    pub rules: RulesWire<'a>,
    /// `complete` or `incomplete`.
    pub status: &'static str,
    /// ISO 4217.
    pub currency: &'static str,
    /// The coated area of all faces.
    pub net_area: Measure<'static>,
}

/// One line of what changed.
#[derive(Debug, Serialize)]
pub struct ChangeWire<'a> {
    /// `job`, `rules`, `finish`, `structure`, `face`, `opening` or `price`.
    pub part: &'static str,
    /// The structure, for structures, faces and openings.
    pub structure: Option<&'a str>,
    /// The face, for faces and openings.
    pub face: Option<&'a str>,
    /// The name of a finish or opening; the item of a price.
    pub name: Option<&'a str>,
    /// `added`, `removed`, `renamed` or `changed`.
    pub kind: &'static str,
    /// Which value changed.
    pub what: Option<&'a str>,
    /// Before.
    pub old: Option<ValueWire>,
    /// After.
    pub new: Option<ValueWire>,
}

/// A value in words, and as a number where it is one.
#[derive(Debug, Serialize)]
pub struct ValueWire {
    /// As the trade writes it.
    pub text: String,
    /// The number.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: Option<&'static str>,
}

/// The coated area of a face.
#[derive(Debug, Serialize)]
pub struct AreaWire<'a> {
    /// The structure.
    pub structure: &'a str,
    /// The face.
    pub face: &'a str,
    /// Of all equal faces, before.
    pub old: Option<Measure<'static>>,
    /// After.
    pub new: Option<Measure<'static>>,
}

/// A material.
#[derive(Debug, Serialize)]
pub struct MaterialChangeWire<'a> {
    /// The item.
    pub item: &'a str,
    /// In words.
    pub description: &'a str,
    /// Before.
    pub old: Option<AmountWire<'a>>,
    /// After.
    pub new: Option<AmountWire<'a>>,
}

/// So much of a material.
#[derive(Debug, Serialize)]
pub struct AmountWire<'a> {
    /// Without waste.
    pub need: Measure<'a>,
    /// As an amount.
    pub waste: Measure<'a>,
    /// Whole packs.
    pub packs: Option<f64>,
    /// Of all packs.
    pub cost: Option<String>,
}

/// A phase of labour.
#[derive(Debug, Serialize)]
pub struct LabourChangeWire<'a> {
    /// The phase.
    pub phase: &'a str,
    /// In words.
    pub description: &'a str,
    /// Before.
    pub old: Option<WorkWire>,
    /// After.
    pub new: Option<WorkWire>,
}

/// So much labour.
#[derive(Debug, Serialize)]
pub struct WorkWire {
    /// Of one person.
    pub hours: f64,
    /// Hours times wage.
    pub cost: Option<String>,
}

/// A step from cost to price.
#[derive(Debug, Serialize)]
pub struct StepWire {
    /// Its name.
    pub step: &'static str,
    /// The amounts.
    #[serde(flatten)]
    pub amounts: BothMoneyWire,
}

/// An amount before and after.
#[derive(Debug, Serialize)]
pub struct BothMoneyWire {
    /// Before.
    pub old: String,
    /// After.
    pub new: String,
    /// After less before; null in different currencies.
    pub difference: Option<String>,
}

/// What changed, as JSON. `plans` are the two plans as the command named them.
pub fn change_json(changes: &Changes, plans: Both<&str>) -> String {
    // Fails only for maps whose keys are no text and for writers that fail; here is neither.
    serde_json::to_string_pretty(&wire(changes, plans)).unwrap_or_default()
}

pub(crate) fn wire<'a>(changes: &'a Changes, plans: Both<&'a str>) -> ChangesWire<'a> {
    let Both { old, new } = &changes.sides;
    let area = |quantity| area(quantity, changes.units);
    ChangesWire {
        different: !changes.is_empty(),
        old: side(old, plans.old, area(changes.area.old)),
        new: side(new, plans.new, area(changes.area.new)),
        changes: changes
            .lines
            .iter()
            .map(|line| change(line, changes.units))
            .collect(),
        areas: changes
            .areas
            .iter()
            .map(
                |FaceArea {
                     structure,
                     face,
                     area: both,
                 }| AreaWire {
                    structure,
                    face,
                    old: both.old.map(area),
                    new: both.new.map(area),
                },
            )
            .collect(),
        materials: changes.materials.iter().map(material).collect(),
        labour: changes.labour.iter().map(labour).collect(),
        price: changes
            .steps
            .iter()
            .map(|step| StepWire {
                step: step.name,
                amounts: both_money(step.amount),
            })
            .collect(),
        total: both_money(changes.total),
    }
}

/// Whether bytes are what [`change_json`] writes, which nobody works in and which may be replaced.
pub fn is_change_json(bytes: &[u8]) -> bool {
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(bytes) else {
        return false;
    };
    ["different", "old", "new", "changes", "total"]
        .iter()
        .all(|key| value.get(key).is_some())
}

fn side<'a>(side: &'a Side, plan: &'a str, net_area: Measure<'static>) -> SideWire<'a> {
    SideWire {
        plan,
        job: &side.job,
        rules: RulesWire {
            name: &side.pack.name,
            version: &side.pack.version,
            folder: &side.pack.folder,
        },
        status: match side.status {
            Status::Complete => "complete",
            Status::Incomplete => "incomplete",
        },
        currency: side.currency.code(),
        net_area,
    }
}

fn change(change: &Change, units: UnitSystem) -> ChangeWire<'_> {
    let (part, structure, face, name): (_, Option<&str>, Option<&str>, Option<&str>) =
        match &change.part {
            Part::Job => ("job", None, None, None),
            Part::Rules => ("rules", None, None, None),
            Part::Finish(name) => ("finish", None, None, Some(name)),
            Part::Structure(structure) => ("structure", Some(structure), None, None),
            Part::Face { structure, face } => ("face", Some(structure), Some(face), None),
            Part::Opening {
                structure,
                face,
                opening,
            } => ("opening", Some(structure), Some(face), Some(opening)),
            Part::Price { item, .. } => ("price", None, None, Some(item)),
        };
    let value = |value: &Value| {
        let figure = value.figure(units);
        ValueWire {
            text: value.words(units),
            value: figure.map(|(value, _)| round_to(value, NOISE_DECIMALS)),
            unit: figure.map(|(_, unit)| if unit.is_empty() { "1" } else { unit }),
        }
    };
    ChangeWire {
        part,
        structure,
        face,
        name,
        kind: match change.kind {
            Kind::Added => "added",
            Kind::Removed => "removed",
            Kind::Renamed => "renamed",
            Kind::Changed => "changed",
        },
        what: Some(change.what.as_str()).filter(|what| !what.is_empty()),
        old: change.old.as_ref().map(value),
        new: change.new.as_ref().map(value),
    }
}

fn area(quantity: Quantity, units: UnitSystem) -> Measure<'static> {
    let (value, unit) = shown::area(quantity, units);
    measure(value, unit)
}

/// A number free of binary noise.
fn measure(value: f64, unit: &str) -> Measure<'_> {
    Measure {
        value: round_to(value, NOISE_DECIMALS),
        unit,
    }
}

fn material(change: &MaterialChange) -> MaterialChangeWire<'_> {
    fn amount(amount: &Amount) -> AmountWire<'_> {
        let shown = |quantity| measure(amount.shown(quantity), amount.unit.text());
        AmountWire {
            need: shown(amount.need),
            waste: shown(amount.waste),
            packs: amount.packs,
            cost: amount.cost.map(Money::to_text),
        }
    }
    MaterialChangeWire {
        item: &change.item,
        description: &change.description,
        old: change.amounts.old.as_ref().map(amount),
        new: change.amounts.new.as_ref().map(amount),
    }
}

fn labour(change: &LabourChange) -> LabourChangeWire<'_> {
    let work = |work: Work| WorkWire {
        hours: work.hours,
        cost: work.cost.map(Money::to_text),
    };
    LabourChangeWire {
        phase: &change.phase,
        description: &change.description,
        old: change.work.old.map(work),
        new: change.work.new.map(work),
    }
}

fn both_money(Both { old, new }: Both<Money>) -> BothMoneyWire {
    BothMoneyWire {
        old: old.to_text(),
        new: new.to_text(),
        difference: new.minus(old).ok().map(Money::to_text),
    }
}

#[cfg(test)]
mod tests;
