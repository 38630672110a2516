//! Pooling: the needs of all faces added up by item, the labour by phase.

mod names;
mod sums;

pub use sums::Sums;

use crate::contract::{MATERIALS, PHASES};
use crate::job::UnitSystem;
use crate::takeoff::Takeoff;
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Code, Diagnostic, Dim, Quantity, Unit};
use parge_rules::Pack;
pub use parge_rules::general_item;

/// What the job needs of one item.
#[derive(Debug, Clone)]
pub struct Material {
    /// The item, as the pack and the price book name it.
    pub item: String,
    /// What it is, in words.
    pub description: String,
    /// Without waste.
    pub need: Quantity,
    /// The waste as an amount.
    pub waste: Quantity,
    /// The unit to show the need in.
    pub unit: Unit,
}

/// The labour of one phase.
#[derive(Debug, Clone)]
pub struct Labour {
    /// The phase, as the pack names it.
    pub phase: String,
    /// What is done, in words.
    pub description: String,
    /// The time of one person, in hours rounded to hundredths: the hours that are printed are
    /// the hours that are paid.
    pub hours: f64,
}

/// The needs of a whole job.
#[derive(Debug, Clone, Default)]
pub struct Pooled {
    /// Materials in the order of the pack's table.
    pub materials: Vec<Material>,
    /// Labour in the order of the phases.
    pub labour: Vec<Labour>,
}

/// Seconds in an hour.
pub(crate) const HOUR: f64 = 3600.0;

/// Hours to the hundredth, as they are printed and paid, not fooled by the noise of binary
/// fractions. A spreadsheet writes it `ROUND(ROUND(x,9),2)`.
pub(crate) fn paid_hours(time: Quantity) -> f64 {
    round_to(round_to(time.value / HOUR, NOISE_DECIMALS), 2)
}

/// Adds up what all faces and the job take.
pub fn pool(takeoff: &Takeoff, pack: &Pack) -> (Pooled, Vec<Diagnostic>) {
    let mut sums = takeoff.passed.sums.clone();
    let mut diagnostics = sums.add(takeoff.all_taken());
    let tables = pack.tables();
    let mut pooled = Pooled::default();
    for general in tables.keys(MATERIALS, &[]).unwrap_or_default() {
        let of_it = sums
            .items()
            .filter(|(item, need, _)| general_item(item) == general && need.value > 0.0);
        for (item, need, waste) in of_it {
            let unit = shown_unit(pack, general, takeoff.measured.job.units, need.dim);
            let unit = unit.unwrap_or_else(|diagnostic| {
                diagnostics.push(diagnostic);
                Unit::plain()
            });
            let words = tables
                .text(MATERIALS, &[general, "description"])
                .unwrap_or(general);
            let description = match item.split_once('/') {
                Some((_, detail)) => format!("{words}, {detail}"),
                None => words.to_owned(),
            };
            pooled.materials.push(Material {
                item: item.as_ref().to_owned(),
                description,
                need,
                waste,
                unit,
            });
        }
    }
    for phase in phases(pack) {
        if let Some(time) = sums.time(phase).filter(|time| time.value > 0.0) {
            let description = tables
                .text(PHASES, &[phase, "description"])
                .unwrap_or(phase)
                .to_owned();
            let hours = paid_hours(time);
            pooled.labour.push(Labour {
                phase: phase.to_owned(),
                description,
                hours,
            });
        }
    }
    (pooled, diagnostics)
}

/// The phases in the order of their row `order`, then of the table.
fn phases(pack: &Pack) -> Vec<&str> {
    let tables = pack.tables();
    let mut phases = tables.keys(PHASES, &[]).unwrap_or_default();
    let order = |phase: &str| {
        let place = tables.factor(PHASES, &[phase, "order"]);
        place.map_or(f64::MAX, |factor| factor.quantity.value)
    };
    phases.sort_by(|a, b| order(a).total_cmp(&order(b)));
    phases
}

fn shown_unit(pack: &Pack, item: &str, system: UnitSystem, dim: Dim) -> Result<Unit, Diagnostic> {
    let property = match system {
        UnitSystem::Us => "unit",
        UnitSystem::Metric => "unit_metric",
    };
    let wrong = |message: String| {
        let help = format!(
            "let its rows `unit` and `unit_metric` in table `{MATERIALS}` name a unit of {}",
            dim.words()
        );
        Diagnostic::new(Code::BadTable, message, help)
    };
    let text = pack.tables().text(MATERIALS, &[item, property]);
    let text = text.ok_or_else(|| wrong(format!("material `{item}` has no row `{property}`")))?;
    let unit = pack
        .units()
        .parse(text)
        .map_err(|error| wrong(format!("material `{item}`: {error}")))?;
    if unit.dim() == dim {
        Ok(unit)
    } else {
        Err(wrong(format!(
            "material `{item}` is shown in `{text}`, but its need is {}",
            dim.words()
        )))
    }
}
