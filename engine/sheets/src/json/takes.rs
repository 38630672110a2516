//! What faces, edges, days and the job take, and the finishes, as JSON.

use super::measure;
use crate::shown;
use crate::wire_takes::{ColourWire, FinishWire, NeedWire, PhaseWire, TakesWire};
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_base::{Quantity, Unit};
use parge_calc::job::{Finish, Job, UnitSystem};
use parge_calc::price::Estimate;
use parge_calc::takeoff::Taken;
use std::collections::HashMap;

/// The units of the materials' lines, by item: what is taken is shown in them.
pub struct Units<'a>(HashMap<&'a str, &'a Unit>);

impl<'a> Units<'a> {
    /// Of an estimate.
    pub(super) fn of(estimate: &'a Estimate) -> Self {
        let lines = estimate.materials.iter().map(|line| &line.material);
        Self(lines.map(|of| (of.item.as_str(), &of.unit)).collect())
    }

    /// What the line of that number takes. Linear work of a pack without a rule for it has nothing
    /// to be taken for it.
    pub(super) fn of_line<'s>(&'s self, of: &'s [Taken], number: usize) -> TakesWire<'s> {
        match of.get(number) {
            Some(taken) => self.takes(taken),
            None => TakesWire {
                needs: Vec::new(),
                hours: Vec::new(),
            },
        }
    }

    /// What is taken.
    pub(super) fn takes<'s>(&'s self, taken: &'s Taken) -> TakesWire<'s> {
        // What comes to nothing in all has no line, and no unit.
        let needs = taken.needs.iter().filter_map(|need| {
            let unit = *self.0.get(&*need.item)?;
            let shown = |of: Quantity| measure(unit.show(of).unwrap_or(of.value), unit.text());
            Some(NeedWire {
                item: &need.item,
                need: shown(need.amount),
                waste: shown(need.waste),
            })
        });
        let hours = taken.hours.iter().map(|hours| PhaseWire {
            phase: &hours.phase,
            hours: plain(crate::shown_days::hours(hours.time)),
        });
        TakesWire {
            needs: needs.collect(),
            hours: hours.collect(),
        }
    }
}

/// A finish.
pub(super) fn finish<'a>(job: &Job, finish: &'a Finish) -> FinishWire<'a> {
    let colours = finish.colours.iter().map(|(name, share)| ColourWire {
        name,
        share: plain(job.value(*share).value),
    });
    let coats = finish.sealer_coats.map(|coats| job.value(coats).value);
    FinishWire {
        name: &finish.name,
        technique: &finish.technique,
        thickness: thickness(job, finish),
        relief: plain(job.value(finish.relief).value),
        colours: colours.collect(),
        sheen: finish.sheen.as_deref(),
        sealer_coats: coats,
    }
}

/// A thickness in inches or millimetres.
fn thickness(job: &Job, finish: &Finish) -> crate::wire::Measure<'static> {
    let metres = shown::length(job.value(finish.thickness), UnitSystem::Metric).0;
    match job.units {
        UnitSystem::Us => measure(metres / shown::INCH, "in"),
        UnitSystem::Metric => measure(metres * 1000.0, "mm"),
    }
}

fn plain(value: f64) -> f64 {
    round_to(value, NOISE_DECIMALS)
}
