//! What must come before what.

use super::phases::Phases;
use super::steps::Step;
use crate::job::Job;
use parge_base::{Dim, Factor, Quantity};
use std::collections::BTreeMap;
use std::sync::Arc;

/// That a step begins when another has ended, and a wait is over.
#[derive(Debug, Clone)]
pub struct Link {
    /// The step before, by its number.
    pub before: usize,
    /// The step after.
    pub after: usize,
    /// The row of table `waits` that asks for a wait.
    pub row: Option<Arc<Factor>>,
    /// The least time between them by the clock, longer where it is cold.
    pub wait: Quantity,
}

/// All links between steps. `cold` is how many times longer a wait takes that cold lengthens; at
/// least 1.
pub(super) fn links(steps: &[Step], job: &Job, phases: &Phases<'_>, cold: f64) -> Vec<Link> {
    let mut links = Vec::new();
    let by_structure = by_structure(steps);
    for of_one in by_structure.values() {
        let next = of_one.iter().zip(of_one.iter().skip(1));
        links.extend(next.map(|(before, after)| plain(*before, *after)));
        links.extend(waits(steps, of_one, phases, cold));
    }
    links.extend(of_the_job(steps, &by_structure));
    for (number, structure) in job.structures.iter().enumerate() {
        let first = by_structure.get(&number).and_then(|steps| steps.first());
        for before in &structure.after {
            let last = by_structure.get(before).and_then(|steps| steps.last());
            if let (Some(last), Some(first)) = (last, first) {
                links.push(plain(*last, *first));
            }
        }
    }
    links
}

fn plain(before: usize, after: usize) -> Link {
    Link {
        before,
        after,
        row: None,
        wait: Quantity::zero(Dim::TIME),
    }
}

/// The numbers of the steps of every structure, in order.
fn by_structure(steps: &[Step]) -> BTreeMap<usize, Vec<usize>> {
    let mut found: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (number, step) in steps.iter().enumerate() {
        if let Some(structure) = step.structure {
            found.entry(structure).or_default().push(number);
        }
    }
    found
}

/// The waits between steps of one structure.
fn waits(steps: &[Step], of_one: &[usize], phases: &Phases<'_>, cold: f64) -> Vec<Link> {
    let doing = |phase: &str| {
        let mut all = of_one.iter().copied();
        all.find(|number| steps.get(*number).is_some_and(|step| step.does(phase)))
    };
    let found = phases.waits().iter().filter_map(|wait| {
        let (before, after) = (doing(wait.before)?, doing(wait.after)?);
        let times = if wait.cold_lengthens {
            cold.max(1.0)
        } else {
            1.0
        };
        let least = wait.least.quantity.times(Quantity::plain(times)).ok()?;
        // Phases of one step are done together, and a row against the order of the phases would
        // make a circle: the pack's own check says so.
        (before < after).then(|| Link {
            before,
            after,
            row: Some(Arc::clone(wait.least)),
            wait: least,
        })
    });
    found.collect()
}

/// The job as a whole: what comes no later than all phases of the structures goes before them,
/// what comes no sooner behind them, and what lies between goes between.
fn of_the_job(steps: &[Step], by_structure: &BTreeMap<usize, Vec<usize>>) -> Vec<Link> {
    let mut links = Vec::new();
    let orders = || steps.iter().filter(|step| step.structure.is_some());
    let first = orders().map(|step| step.order.0).min();
    let whole: Vec<usize> = (0..steps.len())
        .filter(|number| {
            steps
                .get(*number)
                .is_some_and(|step| step.structure.is_none())
        })
        .collect();
    let next = whole.iter().zip(whole.iter().skip(1));
    links.extend(next.map(|(before, after)| plain(*before, *after)));
    for number in whole {
        let Some(order) = steps.get(number).map(|step| step.order.0) else {
            continue;
        };
        let is_first = first.is_some_and(|first| order <= first);
        for of_one in by_structure.values() {
            let later = |of: &&usize| {
                let found = steps.get(**of).map(|step| step.order.0);
                found.is_some_and(|found| found > order || is_first)
            };
            let last = of_one.iter().filter(|of| !later(of)).next_back();
            links.extend(last.map(|last| plain(*last, number)));
            links.extend(of_one.iter().find(later).map(|first| plain(number, *first)));
        }
    }
    links
}
