//! What a pack's tables say of the phases: their order, what is done with what, which mix is
//! placed in which, and how long the work waits between two.

use super::steps::{Order, OrderOf};
use super::weather::coldest;
use crate::contract::{MATURITY, MIXES, PHASES, WAITS};
use crate::job::Job;
use crate::physics::maturity::age_factor;
use crate::pool::general_item;
use parge_base::{Dim, Factor, QuantityError, Tape};
use parge_rules::Tables;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The phases of a pack.
pub(crate) struct Phases<'t> {
    tables: &'t Tables,
    rows: BTreeMap<&'t str, Phase<'t>>,
    placing: BTreeMap<&'t str, &'t str>,
    waits: Vec<Wait<'t>>,
}

struct Phase<'t> {
    with: Option<&'t str>,
    order: Order,
}

/// The least time between two phases of a structure.
pub(super) struct Wait<'t> {
    pub(super) before: &'t str,
    pub(super) after: &'t str,
    pub(super) least: &'t Arc<Factor>,
    /// Whether cold makes it longer.
    pub(super) cold_lengthens: bool,
}

impl<'t> Phases<'t> {
    pub(crate) fn of(tables: &'t Tables) -> Self {
        let keys = |table| tables.keys(table, &[]).unwrap_or_default();
        let rows = keys(PHASES).into_iter().enumerate().map(|(row, phase)| {
            let order = tables.factor(PHASES, &[phase, "order"]);
            let order = order.map_or(f64::MAX, |order| order.quantity.value);
            let with = tables.text(PHASES, &[phase, "with"]);
            let order = (OrderOf(order), row);
            (phase, Phase { with, order })
        });
        let placing = keys(MIXES)
            .into_iter()
            .filter_map(|mix| Some((mix, tables.text(MIXES, &[mix, "phase"])?)));
        Self {
            tables,
            rows: rows.collect(),
            placing: placing.collect(),
            waits: waits(tables),
        }
    }

    /// The phase with which one is done, on the same day, and which is done with no other; itself
    /// where nothing is said.
    pub(super) fn head<'a>(&'a self, phase: &'a str) -> &'a str {
        let with = |phase: &&'a str| self.rows.get(*phase)?.with;
        // Bounded, since a table can name phases in a circle.
        let chain = std::iter::successors(Some(phase), with).take(self.rows.len() + 1);
        chain.last().unwrap_or(phase)
    }

    /// The place of a phase in the work.
    pub(super) fn order(&self, phase: &str) -> Order {
        let row = self.rows.get(phase);
        row.map_or((OrderOf(f64::MAX), usize::MAX), |row| row.order)
    }

    /// The phase in which an item is placed, where it is a mix.
    pub(super) fn placing(&self, item: &str) -> Option<&'t str> {
        self.placing.get(general_item(item)).copied()
    }

    /// How many times longer a wait takes that cold lengthens, in the coldest air that the job
    /// states; at least 1. A pack without table `maturity` lengthens nothing.
    pub(super) fn cold(&self, job: &Job) -> Result<f64, QuantityError> {
        let row = |what| Some(self.tables.factor(MATURITY, &[what])?.quantity);
        let (Some(activation), Some(reference), Some(air)) =
            (row("activation"), row("reference"), coldest(job))
        else {
            return Ok(1.0);
        };
        let mut tape = Tape::new();
        let [air, reference, activation] =
            [job.tape.value(air), reference, activation].map(|value| tape.literal(value, None));
        let hour_is_worth = age_factor(&mut tape, air, reference, activation, None)
            .map_err(|_| QuantityError::NotFinite)?;
        Ok((1.0 / tape.value(hour_is_worth).value).max(1.0))
    }

    pub(super) fn waits(&self) -> &[Wait<'t>] {
        &self.waits
    }
}

/// The rows of table `waits`. A pack without that table has no waits.
fn waits(tables: &Tables) -> Vec<Wait<'_>> {
    let mut waits = Vec::new();
    for before in tables.keys(WAITS, &[]).unwrap_or_default() {
        for after in tables.keys(WAITS, &[before]).unwrap_or_default() {
            let least = tables.factor(WAITS, &[before, after, "least"]);
            if let Some(least) = least.filter(|least| least.quantity.dim == Dim::TIME) {
                waits.push(Wait {
                    before,
                    after,
                    least,
                    cold_lengthens: tables.text(WAITS, &[before, after, "cold"])
                        == Some("lengthens"),
                });
            }
        }
    }
    waits
}
