//! What is to be done: the phases of every structure as steps, with the mix that each places.

use super::phases::Phases;
use crate::job::Job;
use crate::measure::Measured;
use crate::takeoff::Taken;
use parge_base::{Dim, Quantity, QuantityError};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The phases of one structure that are done together, on the same day: a finish coat is stamped
/// while it is fresh.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The number of the structure in [`crate::job::Job::structures`]; none for the job as a whole.
    pub structure: Option<usize>,
    /// The phases with the time of one person, in their order.
    pub phases: Vec<(Arc<str>, Quantity)>,
    /// What is mixed and placed.
    pub mixed: Vec<Mixed>,
    /// Its place among the steps of a structure.
    pub(super) order: Order,
}

/// What a step mixes for one finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixed {
    /// The item, such as `finish-mix`.
    pub mix: Arc<str>,
    /// The number of the finish in [`crate::job::Job::finishes`].
    pub finish: usize,
    /// How much with waste, in the unit of the item: bags.
    pub amount: Quantity,
    /// The time of one person in which it is placed.
    pub placing: Quantity,
    /// The area on which it is placed.
    pub area: Quantity,
    /// The length along the ground of the faces on which it is placed.
    pub ground: Quantity,
}

/// The place of a phase in the table `phases`: its row `order`, then its row.
pub(super) type Order = (OrderOf, usize);

/// The row `order`, comparable as a whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct OrderOf(pub(super) f64);

impl Eq for OrderOf {}

impl PartialOrd for OrderOf {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for OrderOf {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl Step {
    fn new(structure: Option<usize>, order: Order) -> Self {
        Self {
            structure,
            phases: Vec::new(),
            mixed: Vec::new(),
            order,
        }
    }

    /// The time of one person for all of it.
    pub fn work(&self) -> Result<Quantity, QuantityError> {
        let mut work = Quantity::zero(Dim::TIME);
        for (_, time) in &self.phases {
            work = work.plus(*time)?;
        }
        Ok(work)
    }

    /// Whether a phase is part of it.
    pub(super) fn does(&self, phase: &str) -> bool {
        self.phases.iter().any(|(done, _)| **done == *phase)
    }

    fn add_hours(&mut self, phase: &Arc<str>, time: Quantity) -> Result<(), QuantityError> {
        match self.phases.iter_mut().find(|(done, _)| done == phase) {
            Some((_, sum)) => *sum = sum.plus(time)?,
            None => push_one(&mut self.phases, (Arc::clone(phase), time)),
        }
        Ok(())
    }

    fn add_mixed(&mut self, more: Mixed) -> Result<(), QuantityError> {
        let same = |of: &&mut Mixed| of.mix == more.mix && of.finish == more.finish;
        match self.mixed.iter_mut().find(same) {
            Some(of) => {
                of.amount = of.amount.plus(more.amount)?;
                of.placing = of.placing.plus(more.placing)?;
                of.area = of.area.plus(more.area)?;
                of.ground = of.ground.plus(more.ground)?;
            }
            None => push_one(&mut self.mixed, more),
        }
        Ok(())
    }
}

/// Adds one to a list of very few, without room for more: a large job has a step for each phase of
/// thousands of structures.
fn push_one<T>(list: &mut Vec<T>, one: T) {
    list.reserve_exact(1);
    list.push(one);
}

/// What the mixes of a face, or of linear work, cover in all its equal copies.
struct Covered {
    structure: usize,
    finish: usize,
    area: Quantity,
    ground: Quantity,
}

/// The steps of all structures in the order of the plan and then of the phases; those of the job
/// as a whole come first.
#[derive(Debug, Clone, Default)]
pub(crate) struct Steps(BTreeMap<(Option<usize>, Order), Step>);

impl Steps {
    /// Adds what measured faces take, whose first structure has a number in the whole job.
    pub(crate) fn add_faces(
        &mut self,
        measured: &Measured,
        faces: &[Taken],
        first: usize,
        phases: &Phases<'_>,
    ) -> Result<(), QuantityError> {
        for (measured_face, taken) in measured.faces.iter().zip(faces) {
            let Some(face) = measured.job.faces.get(measured_face.face) else {
                continue;
            };
            let structure = first + face.structure;
            self.hours(Some(structure), taken, phases)?;
            let count = Quantity::plain(f64::from(face.count));
            let of_all = |node| measured.job.tape.value(node).times(count);
            let covered = Covered {
                structure,
                finish: face.finish,
                area: of_all(measured_face.net)?,
                ground: of_all(measured_face.shape.bottom)?,
            };
            self.coats(&covered, taken, phases)?;
        }
        Ok(())
    }

    /// Adds what linear work takes.
    pub(super) fn add_edges(
        &mut self,
        job: &Job,
        edges: &[Taken],
        phases: &Phases<'_>,
    ) -> Result<(), QuantityError> {
        for (edge, taken) in job.edges.iter().zip(edges) {
            self.hours(Some(edge.structure), taken, phases)?;
            // Linear work has no area; without a finish nobody can say for which one its mix is.
            if let Some(finish) = edge.finish {
                let covered = Covered {
                    structure: edge.structure,
                    finish,
                    area: Quantity::zero(Dim::AREA),
                    ground: Quantity::zero(Dim::LENGTH),
                };
                self.coats(&covered, taken, phases)?;
            }
        }
        Ok(())
    }

    /// Adds what the job takes as a whole.
    pub(super) fn add_whole(
        &mut self,
        whole: Option<&Taken>,
        phases: &Phases<'_>,
    ) -> Result<(), QuantityError> {
        whole.map_or(Ok(()), |taken| self.hours(None, taken, phases))
    }

    /// All of them, each with its phases in their order.
    pub(super) fn in_order(self, phases: &Phases<'_>) -> Vec<Step> {
        let mut all: Vec<Step> = self.0.into_values().collect();
        for step in &mut all {
            step.phases.sort_by_key(|(phase, _)| phases.order(phase));
        }
        all
    }

    fn step(&mut self, structure: Option<usize>, phase: &str, phases: &Phases<'_>) -> &mut Step {
        let order = phases.order(phases.head(phase));
        let new = || Step::new(structure, order);
        self.0.entry((structure, order)).or_insert_with(new)
    }

    fn hours(
        &mut self,
        structure: Option<usize>,
        taken: &Taken,
        phases: &Phases<'_>,
    ) -> Result<(), QuantityError> {
        for line in taken.hours.iter().filter(|line| line.time.value > 0.0) {
            let step = self.step(structure, &line.phase, phases);
            step.add_hours(&line.phase, line.time)?;
        }
        Ok(())
    }

    /// The mixes that a face or linear work takes. What the crew spends no time on placing is
    /// placed by others and on no day of this crew.
    fn coats(
        &mut self,
        of: &Covered,
        taken: &Taken,
        phases: &Phases<'_>,
    ) -> Result<(), QuantityError> {
        for (phase, mixes) in mixes(taken, phases)? {
            let mut time = Quantity::zero(Dim::TIME);
            for line in taken.hours.iter().filter(|line| *line.phase == *phase) {
                time = time.plus(line.time)?;
            }
            if time.value <= 0.0 {
                continue;
            }
            let all: f64 = mixes.values().map(|amount| amount.value).sum();
            for (mix, amount) in mixes {
                // Two mixes placed in one phase share its time by their amounts.
                let placing = time.times(Quantity::plain(amount.value / all))?;
                let step = self.step(Some(of.structure), phase, phases);
                step.add_mixed(Mixed {
                    mix,
                    finish: of.finish,
                    amount,
                    placing,
                    area: of.area,
                    ground: of.ground,
                })?;
            }
        }
        Ok(())
    }
}

/// How much of each mix is taken with waste, by the phase in which it is placed. Several lines
/// of a rule for one mix are one coat.
fn mixes<'t>(taken: &Taken, phases: &Phases<'t>) -> Result<ByPhase<'t>, QuantityError> {
    let mut found = ByPhase::new();
    let mut mixes = Vec::with_capacity(taken.needs.len() + taken.placed.len());
    for need in &taken.needs {
        mixes.push((&need.item, need.amount.plus(need.waste)?));
    }
    mixes.extend(
        taken
            .placed
            .iter()
            .map(|placed| (&placed.mix, placed.amount)),
    );
    for (mix, amount) in mixes {
        let Some(phase) = phases.placing(mix) else {
            continue;
        };
        if amount.value > 0.0 {
            let of_phase = found.entry(phase).or_default();
            match of_phase.get_mut(mix) {
                Some(sum) => *sum = sum.plus(amount)?,
                None => {
                    of_phase.insert(Arc::clone(mix), amount);
                }
            }
        }
    }
    Ok(found)
}
/// Amounts of mixes by phase.
type ByPhase<'t> = BTreeMap<&'t str, BTreeMap<Arc<str>, Quantity>>;
