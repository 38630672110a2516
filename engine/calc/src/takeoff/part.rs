//! The faces of a part of a job, taken off by themselves.

use super::classes::Classes;
use super::{FACE_HOOKS, Known, Rules, SeenFaces, Taken, Takeoff, Wall, layouts_of};
use crate::layout::Layout;
use crate::measure::Measured;
use parge_base::Diagnostic;
use parge_rules::Pack;

/// Measured faces with what is laid out on them, before any rule runs: no part knows of another until
/// then.
pub(crate) struct Part {
    measured: Measured,
    layouts: Vec<Vec<Layout>>,
}

impl Part {
    /// Lays the faces out.
    pub(crate) fn of(measured: Measured, pack: &Pack) -> (Self, Vec<Diagnostic>) {
        let (layouts, said) = layouts_of(&measured, pack);
        (Self { measured, layouts }, said)
    }

    /// Puts the faces into their classes.
    pub(crate) fn classes(&self) -> Classes {
        let faces = self.faces();
        Classes::of((0..faces.faces.len()).map_while(|at| faces.subject(at)))
    }

    /// Runs the rules over the faces, behind those of the parts before.
    pub(crate) fn taken_off(self, classes: Classes, rules: &mut Rules<'_>) -> Takeoff {
        let faces = self.faces();
        let subject = |at| faces.subject(at);
        let taken = rules.take_classed(FACE_HOOKS, classes, faces.places(), subject);
        self.with(taken, rules.pack)
    }

    /// The same once the rules have run over all parts, with the run that held for each face. `None`
    /// where they ran for others.
    pub(crate) fn taken_off_again(
        self,
        known: &Known<'_>,
        held: &[u32],
        pack: &Pack,
    ) -> Option<Takeoff> {
        let taken = known.take_all(&self.faces(), held)?;
        (taken.len() == self.measured.faces.len()).then(|| self.with(taken, pack))
    }

    fn faces(&self) -> SeenFaces<'_> {
        SeenFaces::of(&self.measured, &self.layouts)
    }

    /// Linear work is none of a part: it is taken off at the end.
    fn with(self, faces: Vec<Taken>, pack: &Pack) -> Takeoff {
        let wall = Wall {
            layouts: self.layouts,
            faces,
            edges: Vec::new(),
        };
        Takeoff::of_wall(self.measured, wall, pack)
    }
}
