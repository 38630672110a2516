//! Leaves out what rests on a finish with a fault, and numbers anew what remains.

use super::values::Slot;
use crate::job::{AlternateChange, BidContent, Edge, Face, Finish};
use crate::measure::MeasuredFace;
use std::collections::BTreeMap;

/// The finishes without a fault.
pub(super) struct Whole {
    pub(super) finishes: Vec<Finish>,
    /// For each finish of the plan its number among those without a fault.
    numbers: Vec<Option<usize>>,
}

impl Whole {
    pub(super) fn new(all: Vec<Option<Finish>>) -> Self {
        let mut finishes = Vec::new();
        let numbers = all
            .into_iter()
            .map(|finish| {
                let number = finishes.len();
                finishes.push(finish?);
                Some(number)
            })
            .collect();
        Self { finishes, numbers }
    }

    fn number(&self, of_plan: usize) -> Option<usize> {
        *self.numbers.get(of_plan)?
    }

    /// The faces, and by their new numbers the measures of those that are measured.
    pub(super) fn faces(&self, slots: Vec<Slot>) -> (Vec<Face>, BTreeMap<usize, MeasuredFace>) {
        let (mut faces, mut measures) = (Vec::new(), BTreeMap::new());
        for slot in slots {
            let measured = slot.measured.unwrap_or_default();
            for (part, face) in slot.faces.into_iter().enumerate() {
                let Some(face) = self.face(face) else {
                    continue;
                };
                if let Some(measured) = measured.get(part) {
                    let face = faces.len();
                    measures.insert(face, MeasuredFace { face, ..*measured });
                }
                faces.push(face);
            }
        }
        (faces, measures)
    }

    fn face(&self, mut face: Face) -> Option<Face> {
        face.finish = self.number(face.finish)?;
        for opening in &mut face.openings {
            if let Some(finish) = opening.finish {
                opening.finish = Some(self.number(finish)?);
            }
        }
        Some(face)
    }

    pub(super) fn edges(&self, edges: Vec<Edge>) -> Vec<Edge> {
        let renumbered = edges.into_iter().filter_map(|edge| {
            let finish = match edge.finish {
                Some(finish) => Some(self.number(finish)?),
                None => None,
            };
            Some(Edge { finish, ..edge })
        });
        renumbered.collect()
    }

    pub(super) fn content(&self, mut content: BidContent) -> BidContent {
        content.alternates.retain_mut(|alternate| {
            alternate.changes.iter_mut().all(|change| match change {
                AlternateChange::Finish { finish, .. } => match self.number(*finish) {
                    Some(number) => {
                        *finish = number;
                        true
                    }
                    None => false,
                },
                AlternateChange::Omit(_) => true,
            })
        });
        content
    }
}
