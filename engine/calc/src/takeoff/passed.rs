//! What stays of faces that were taken off and are no longer held: a job that is gone through part by
//! part needs the room of one part.

use super::{Takeoff, Totals};
use crate::days::{Phases, Steps};
use crate::pool::Sums;
use parge_base::{Code, Diagnostic, Factor, QuantityError};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What is known of faces that are no longer held. Each of it is where adding up begins, so that all
/// that follows comes to the same with faces here or gone.
#[derive(Debug, Clone, Default)]
pub struct Passed {
    /// What they take, by item and phase.
    pub(crate) sums: Sums,
    /// What they come to for the rules of the job.
    pub(crate) totals: Totals,
    /// The work on them, until it is planned.
    pub(crate) steps: Steps,
    /// The factors that their measures and layouts rest on, by name.
    pub(super) factors: BTreeMap<String, Arc<Factor>>,
}

impl Passed {
    /// Adds the faces of a part, whose first structure has a number in the whole job. Says what does
    /// not add up.
    pub(crate) fn add(
        &mut self,
        part: &Takeoff,
        first: usize,
        phases: &Phases<'_>,
    ) -> Vec<Diagnostic> {
        let mut said = self.sums.add(&part.faces);
        if let Err(error) = self.add_sizes(part, first, phases) {
            let help = "check the sizes and counts of the faces";
            said.push(Diagnostic::new(Code::NoValue, error.to_string(), help));
        }
        for factor in part.factors() {
            if !self.factors.contains_key(&factor.name) {
                self.factors.insert(factor.name.clone(), Arc::clone(factor));
            }
        }
        said
    }

    fn add_sizes(
        &mut self,
        part: &Takeoff,
        first: usize,
        phases: &Phases<'_>,
    ) -> Result<(), QuantityError> {
        self.totals.add_faces(&part.measured, first)?;
        self.totals.add_taken(&part.faces)?;
        self.steps
            .add_faces(&part.measured, &part.faces, first, phases)
    }
}
