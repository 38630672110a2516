//! Published values that the main job must reproduce, each with its source.
//!
//! Quantities of material go the whole way of an estimate: a plan text is parsed, resolved,
//! measured and put through a rule pack whose tables hold the published factors. Relations of
//! units, volumes and densities are evaluated as expressions of a plan, which checks units and
//! arithmetic only. Nothing here knows an answer but the published one.

mod measuring;
mod rows;

pub use measuring::measuring;

use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::pool::pool;
use crate::resolve::resolve;
use crate::takeoff::take_off;
use parge_base::{Quantity, Sources, Span, Units};
use parge_rules::{Pack, PackFiles};

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
    /// A row of the pack's table, in a unit.
    Factor(&'static str, &'static [&'static str], &'static str),
}

/// Computes all checks. `pack` is the pack whose tables are compared with published values.
pub fn all(pack: &Pack) -> Vec<Check> {
    let compute = |row: &rows::Row| Check {
        id: row.id,
        what: row.what,
        expected: row.expected,
        tolerance: row.tolerance,
        source: row.source,
        how_sure: row.how_sure,
        computed: compute(&row.way, pack),
    };
    rows::GROUPS
        .iter()
        .copied()
        .flatten()
        .map(compute)
        .collect()
}

fn compute(way: &Way, pack: &Pack) -> Option<f64> {
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
        Way::Factor(table, keys, unit) => show(unit, pack.tables().factor(table, keys)?.quantity),
    }
}

/// Units of the checks: the standard ones and the barrel of the handbook pack.
fn show(unit: &str, quantity: Quantity) -> Option<f64> {
    let mut units = Units::standard();
    units.declare(parge_base::Item::new("barrel")?);
    units.parse(unit).ok()?.show(quantity)
}

fn handbook() -> Option<(Sources, Pack)> {
    let mut sources = Sources::new();
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
    let pack = parge_rules::load(&[files], HOOKS, &mut sources).ok()?;
    Some((sources, pack))
}

fn expression(text: &str) -> Option<Quantity> {
    let job = resolved(&format!(
        "parge 1\njob \"check\" {{ crew 1 }}\nlet answer = {text}\n"
    ))?;
    let (_, figure) = job.names.iter().find(|(name, _)| name == "answer")?;
    Some(job.value(*figure))
}

fn net_area(face: &str) -> Option<Quantity> {
    let (_, pack) = handbook()?;
    let job = resolved(&plan(face, "1in", "plain"))?;
    let (measured, diagnostics) = measure(job, Packs::of(&pack));
    let face = measured.faces.first().filter(|_| diagnostics.is_empty())?;
    Some(measured.job.tape.value(face.net))
}

fn need(face: &str, thickness: &str, case: &str, item: &str) -> Option<Quantity> {
    let (_, pack) = handbook()?;
    let (measured, _) = measure(resolved(&plan(face, thickness, case))?, Packs::of(&pack));
    let (takeoff, said) = take_off(measured, &pack);
    let (pooled, wrong) = pool(&takeoff, &pack);
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
    let (mut sources, pack) = handbook()?;
    let file = sources.add("check.parge", text);
    let parsed = parge_grammar::parse(file, text);
    if !parsed.diagnostics.is_empty() {
        return None;
    }
    resolve(&parsed.plan, Packs::of(&pack), Span::new(file, 0, 0)).0
}

#[cfg(test)]
mod tests;
