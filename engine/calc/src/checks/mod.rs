//! Published values that the main job must reproduce, each with its source.
//!
//! Quantities of material go the whole way of an estimate: a plan text is parsed, resolved,
//! measured and put through a rule pack: the handbook pack of the checks, whose tables hold
//! factors of publications that no pack of the program follows, or a pack of the program, whose rows
//! a check may replace as a company does. Bids go on from there over a price book to their total, under
//! a pack of the checks that has published analyses. Facts are read where they stand in the packs, in a table or
//! in the text of a caution. Relations of units, volumes and densities are evaluated as expressions
//! of a plan, which checks units and arithmetic only. Nothing here knows an answer but the published
//! one. What is published and stands nowhere in the program is told by [`unused`].

mod measuring;
mod page;
mod priced;
mod rows;
mod shipped;
mod unused;

pub use measuring::measuring;
pub use page::{Group, difference, grouped, plain};
pub use unused::{Unused, unused};

use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::pool::pool;
use crate::price::Estimate;
use crate::resolve::resolve;
use crate::takeoff::take_off;
use parge_base::number::whole_up;
use parge_base::{Quantity, Sources, Span, Units};
use parge_rules::{Pack, PackFiles};
use shipped::{Place, Shipped};
use std::sync::OnceLock;

/// A published value beside the computed one.
#[derive(Debug, Clone)]
pub struct Check {
    /// Its number in the list of checks.
    pub id: &'static str,
    /// What is computed, with the unit.
    pub what: &'static str,
    /// The published value.
    pub expected: f64,
    /// How far the computed value may lie from it: the rounding of the published one.
    pub tolerance: f64,
    /// Who published it.
    pub source: &'static str,
    /// How sure the value is.
    pub how_sure: &'static str,
    /// What comes out here; none where the computation failed.
    pub computed: Option<f64>,
}

impl Check {
    /// Whether the computed value lies within the rounding of the published one.
    pub fn passes(&self) -> bool {
        // A value at the very edge of a rounding is within it, whatever the last binary digit.
        let slack = self.tolerance + self.expected.abs() * 1e-12;
        self.computed
            .is_some_and(|value| (value - self.expected).abs() <= slack)
    }
}

/// Where a computed value comes from.
enum Way {
    /// An expression of the plan language, shown in a unit.
    Expression(&'static str, &'static str),
    /// The net area of a face, in square feet or another unit of area.
    NetArea(&'static str, &'static str),
    /// What a face needs of an item with its waste, under the handbook pack, in a unit. The
    /// finish names the published case.
    Handbook {
        face: &'static str,
        thickness: &'static str,
        case: &'static str,
        item: &'static str,
        unit: &'static str,
    },
    /// A formula of [`crate::physics`], shown in the unit of the published value.
    Physics(fn() -> Option<f64>),
    /// The same rounded up as packs are that are bought.
    Whole(fn() -> Option<f64>),
    /// A row of a table of a pack of the program, in a unit.
    Factor(Place, &'static str),
    /// The number that stands between two phrases in the text of a row of such a pack.
    Said(Place, [&'static str; 2]),
    /// The same in the note of a row.
    Noted(Place, [&'static str; 2]),
    /// What a bid comes to that is priced the whole way.
    Bid(priced::Bid, fn(&Estimate) -> Option<f64>),
    /// What is worked out from the packs of the program, in the unit of the published value.
    Packs(fn(&Shipped) -> Option<f64>),
}

/// Computes all checks but those of [`measuring`]. `find` finds the packs of the program whose
/// tables and rules are compared with published values.
pub fn all(find: &dyn Fn(&str) -> Option<PackFiles>) -> Vec<Check> {
    let shipped = Shipped::load(find);
    let compute = |row: &rows::Row| Check {
        id: row.id,
        what: row.what,
        expected: row.expected,
        tolerance: row.tolerance,
        source: row.source,
        how_sure: row.how_sure,
        computed: compute(&row.way, &shipped),
    };
    rows::GROUPS
        .iter()
        .copied()
        .flatten()
        .map(compute)
        .collect()
}

fn compute(way: &Way, shipped: &Shipped) -> Option<f64> {
    match way {
        Way::Expression(text, unit) => show(unit, expression(text)?),
        Way::NetArea(face, unit) => show(unit, net_area(face)?),
        Way::Handbook {
            face,
            thickness,
            case,
            item,
            unit,
        } => show(unit, need(face, thickness, case, item)?),
        Way::Physics(formula) => formula(),
        Way::Whole(formula) => formula().map(whole_up),
        Way::Factor(place, unit) => shipped.factor(*place, unit),
        Way::Said(place, around) => shipped.said(*place, *around),
        Way::Noted(place, around) => shipped.noted(*place, *around),
        Way::Bid(bid, asked) => asked(&bid.estimate()?),
        Way::Packs(formula) => formula(shipped),
    }
}

/// Units of the checks: the standard ones and the barrel of the handbook pack.
fn show(unit: &str, quantity: Quantity) -> Option<f64> {
    let mut units = Units::standard();
    units.declare(parge_base::Item::new("barrel")?);
    units.parse(unit).ok()?.show(quantity)
}

/// The pack of published factors that no pack of the program follows, loaded once.
fn handbook() -> Option<&'static Pack> {
    static PACK: OnceLock<Option<Pack>> = OnceLock::new();
    PACK.get_or_init(read_handbook).as_ref()
}

fn read_handbook() -> Option<Pack> {
    let texts = [
        (PackFiles::MANIFEST, include_str!("handbook/pack.toml")),
        (
            "scripts/coats.rhai",
            include_str!("handbook/scripts/coats.rhai"),
        ),
        (
            "tables/substrates.csv",
            include_str!("handbook/tables/substrates.csv"),
        ),
        (
            "tables/techniques.csv",
            include_str!("handbook/tables/techniques.csv"),
        ),
        (
            "tables/materials.csv",
            include_str!("handbook/tables/materials.csv"),
        ),
        (
            "tables/mixes.csv",
            include_str!("handbook/tables/mixes.csv"),
        ),
    ];
    let texts = texts
        .into_iter()
        .map(|(path, text)| (path.to_owned(), text.to_owned()))
        .collect();
    let files = PackFiles {
        folder: "handbook".into(),
        texts,
    };
    parge_rules::load(&[files], HOOKS, &mut Sources::new()).ok()
}

fn expression(text: &str) -> Option<Quantity> {
    let job = resolved(&format!(
        "parge 1\njob \"check\" {{ crew 1 }}\nlet answer = {text}\n"
    ))?;
    let (_, figure) = job.names.iter().find(|(name, _)| name == "answer")?;
    Some(job.value(*figure))
}

fn net_area(face: &str) -> Option<Quantity> {
    let pack = handbook()?;
    let job = resolved(&plan(face, "1in", "plain"))?;
    let (measured, diagnostics) = measure(job, Packs::of(pack));
    let face = measured.faces.first().filter(|_| diagnostics.is_empty())?;
    Some(measured.job.tape.value(face.net))
}

fn need(face: &str, thickness: &str, case: &str, item: &str) -> Option<Quantity> {
    let pack = handbook()?;
    let (measured, _) = measure(resolved(&plan(face, thickness, case))?, Packs::of(pack));
    let (takeoff, said) = take_off(measured, pack);
    let (pooled, wrong) = pool(&takeoff, pack);
    let material = pooled
        .materials
        .iter()
        .find(|material| material.item == item)?;
    let whole = said.is_empty() && wrong.is_empty();
    whole
        .then(|| material.need.plus(material.waste).ok())
        .flatten()
}

fn plan(face: &str, thickness: &str, case: &str) -> String {
    format!(
        "parge 1\njob \"check\" {{ crew 1 }}\nfinish {case} {{ technique plain  thickness {thickness} }}\n\
         structure \"check\" on wall {{\n  face f {face} {case}{block}\n}}\n",
        face = face.split(" {").next().unwrap_or(face),
        block = face
            .split_once(" {")
            .map_or(String::new(), |(_, block)| format!(" {{{block}")),
    )
}

fn resolved(text: &str) -> Option<crate::job::Job> {
    let pack = handbook()?;
    let mut sources = Sources::new();
    let file = sources.add("check.parge", text);
    let parsed = parge_grammar::parse(file, text);
    if !parsed.diagnostics.is_empty() {
        return None;
    }
    resolve(&parsed.plan, Packs::of(pack), Span::new(file, 0, 0)).0
}

#[cfg(test)]
mod tests;
