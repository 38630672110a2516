//! What rules see of the job as a whole, added up face by face and edge by edge.

use super::Taken;
use crate::job::{Face, Job};
use crate::measure::{Measured, MeasuredFace};
use crate::pool::general_item;
use parge_base::{Dim, NodeId, Quantity, QuantityError};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What faces and linear work come to together. Faces are added before linear work: sums go in that
/// order.
#[derive(Debug, Clone)]
pub(crate) struct Totals {
    /// The area to be coated.
    pub(crate) area: Quantity,
    /// The length along the ground.
    pub(super) run: Quantity,
    /// The highest work.
    pub(super) highest: Quantity,
    /// How many faces, equal ones counted.
    pub(super) faces: f64,
    /// The structures that have a face, by their numbers.
    pub(super) structures: BTreeSet<usize>,
    /// The time of one person.
    pub(super) hours: Quantity,
    pub(super) phases: Names,
    pub(super) items: Names,
    /// The lines of runs whose phases and whose items are among them.
    lines: [Seen; 2],
    /// Of all finishes that are put on.
    pub(super) techniques: Names,
    /// What the work is put on.
    pub(super) substrates: Names,
}

impl Default for Totals {
    fn default() -> Self {
        Self {
            area: Quantity::zero(Dim::AREA),
            run: Quantity::zero(Dim::LENGTH),
            highest: Quantity::zero(Dim::LENGTH),
            faces: 0.0,
            structures: BTreeSet::new(),
            hours: Quantity::zero(Dim::TIME),
            phases: Names::default(),
            items: Names::default(),
            lines: Default::default(),
            techniques: Names::default(),
            substrates: Names::default(),
        }
    }
}

impl Totals {
    /// Adds the sizes of measured faces, whose first structure has a number in the whole job.
    pub(crate) fn add_faces(
        &mut self,
        measured: &Measured,
        first: usize,
    ) -> Result<(), QuantityError> {
        for own in &measured.faces {
            if let Some(face) = measured.job.faces.get(own.face) {
                self.structures.insert(first + face.structure);
                self.add_face(&measured.job, face, own)?;
            }
        }
        Ok(())
    }

    fn add_face(
        &mut self,
        job: &Job,
        face: &Face,
        measured: &MeasuredFace,
    ) -> Result<(), QuantityError> {
        let times = Quantity::plain(f64::from(face.count));
        let value = |node: NodeId| job.tape.value(node);
        self.area = self.area.plus(value(measured.net).times(times)?)?;
        let run = value(measured.shape.bottom).times(times)?;
        self.run = self.run.plus(run)?;
        let height = value(measured.working_height);
        if height.order(self.highest)?.is_gt() {
            self.highest = height;
        }
        self.faces += times.value;
        if let Some(finish) = job.finishes.get(face.finish) {
            self.techniques.add(&finish.technique);
        }
        self.substrates.add(&face.substrate);
        Ok(())
    }

    /// Adds what linear work is made of and put on.
    pub(crate) fn add_edges(&mut self, job: &Job) {
        for edge in &job.edges {
            let finish = edge.finish.and_then(|finish| job.finishes.get(finish));
            if let Some(finish) = finish {
                self.techniques.add(&finish.technique);
            }
            if let Some(substrate) = &edge.substrate {
                self.substrates.add(substrate);
            }
        }
    }

    /// Adds what faces or linear work take.
    pub(crate) fn add_taken<'t>(
        &mut self,
        taken: impl IntoIterator<Item = &'t Taken>,
    ) -> Result<(), QuantityError> {
        let [of_hours, of_needs] = &mut self.lines;
        for taken in taken {
            for (number, line) in taken.hours.iter().enumerate() {
                if line.time.value > 0.0 {
                    self.hours = self.hours.plus(line.time)?;
                    if of_hours.is_new(taken.run, number) {
                        self.phases.add(&line.phase);
                    }
                }
            }
            for (number, line) in taken.needs.iter().enumerate() {
                if line.amount.value > 0.0 && of_needs.is_new(taken.run, number) {
                    self.items.add(general_item(&line.item));
                }
            }
        }
        Ok(())
    }
}

/// Lines of runs that were met: a line says the same word for every face.
#[derive(Debug, Clone, Default)]
struct Seen(Vec<Vec<bool>>);

impl Seen {
    /// Whether a line of a run is met for the first time.
    fn is_new(&mut self, run: usize, line: usize) -> bool {
        // A face that the rules could not run for has the number of no run.
        if run == usize::MAX {
            return true;
        }
        if self.0.len() <= run {
            self.0.resize(run + 1, Vec::new());
        }
        let Some(lines) = self.0.get_mut(run) else {
            return true;
        };
        if lines.len() <= line {
            lines.resize(line + 1, false);
        }
        let met = lines
            .get_mut(line)
            .is_some_and(|met| std::mem::replace(met, true));
        !met
    }
}

/// Different names, in the order in which they come.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    all: Vec<Arc<str>>,
    known: BTreeSet<Arc<str>>,
}

impl Names {
    fn add(&mut self, name: &str) {
        if !self.known.contains(name) {
            let name: Arc<str> = name.into();
            self.all.push(Arc::clone(&name));
            self.known.insert(name);
        }
    }

    /// In the order in which they came.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Arc<str>> {
        self.all.iter()
    }
}
