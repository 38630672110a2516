//! What must come before what.

use super::phases::Phases;
use super::steps::Step;
use crate::job::Job;
use parge_base::{Dim, Factor, Quantity, QuantityError};
use std::collections::{BTreeMap, BTreeSet};
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
/// least 1. An error for a wait without end.
pub(super) fn links(
    steps: &[Step],
    job: &Job,
    phases: &Phases<'_>,
    cold: f64,
) -> Result<Vec<Link>, QuantityError> {
    let mut links = Vec::new();
    let by_structure = by_structure(steps);
    for of_one in by_structure.values() {
        let next = of_one.iter().zip(of_one.iter().skip(1));
        links.extend(next.map(|(before, after)| plain(*before, *after)));
        links.extend(waits(steps, of_one, phases, cold)?);
    }
    links.extend(of_the_job(steps, &by_structure));
    for (number, of_one) in &by_structure {
        if let Some(first) = of_one.first() {
            let before = last_before(*number, job, &by_structure);
            links.extend(before.into_iter().map(|last| plain(last, *first)));
        }
    }
    links.shrink_to_fit();
    Ok(links)
}

/// The last steps of the structures that one waits for. A structure without work, such as one that
/// an alternate omits, hands on what it waits for itself.
fn last_before(
    structure: usize,
    job: &Job,
    by_structure: &BTreeMap<usize, Vec<usize>>,
) -> BTreeSet<usize> {
    let after = |number: usize| {
        let structure = job.structures.get(number);
        structure.map_or(&[][..], |structure| &structure.after)
    };
    let mut open: Vec<usize> = after(structure).to_vec();
    let mut seen: BTreeSet<usize> = BTreeSet::new();
    let mut last = BTreeSet::new();
    while let Some(before) = open.pop() {
        if !seen.insert(before) {
            continue;
        }
        match by_structure.get(&before).and_then(|steps| steps.last()) {
            Some(step) => {
                last.insert(*step);
            }
            None => open.extend(after(before)),
        }
    }
    last
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
fn waits(
    steps: &[Step],
    of_one: &[usize],
    phases: &Phases<'_>,
    cold: f64,
) -> Result<Vec<Link>, QuantityError> {
    let doing = |phase: &str| {
        let mut all = of_one.iter().copied();
        all.find(|number| steps.get(*number).is_some_and(|step| step.does(phase)))
    };
    let mut found = Vec::new();
    for wait in phases.waits() {
        // Phases of one step are done together, and a row against the order of the phases would
        // make a circle: neither is a wait.
        let (Some(before), Some(after)) = (doing(wait.before), doing(wait.after)) else {
            continue;
        };
        if before >= after {
            continue;
        }
        let times = if wait.cold_lengthens {
            cold.max(1.0)
        } else {
            1.0
        };
        found.push(Link {
            before,
            after,
            row: Some(Arc::clone(wait.least)),
            wait: wait.least.quantity.times(Quantity::plain(times))?,
        });
    }
    Ok(found)
}

/// The job as a whole: what comes no later than all phases of the structures goes before them,
/// what comes no sooner behind them, and what lies between goes between.
fn of_the_job(steps: &[Step], by_structure: &BTreeMap<usize, Vec<usize>>) -> Vec<Link> {
    let mut links = Vec::new();
    let of_structures = steps.iter().filter(|step| step.structure.is_some());
    let first = of_structures.map(|step| step.order.0).min();
    let whole: Vec<(usize, &Step)> = steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.structure.is_none())
        .collect();
    let next = whole.iter().zip(whole.iter().skip(1));
    links.extend(next.map(|((before, _), (after, _))| plain(*before, *after)));
    for (number, step) in whole {
        let order = step.order.0;
        let is_first = first.is_some_and(|first| order <= first);
        for of_one in by_structure.values() {
            let later = |of: &&usize| {
                let found = steps.get(**of).map(|step| step.order.0);
                is_first || found.is_some_and(|found| found > order)
            };
            let last = of_one.iter().rfind(|of| !later(of));
            links.extend(last.map(|last| plain(*last, number)));
            links.extend(of_one.iter().find(later).map(|first| plain(number, *first)));
        }
    }
    links
}
