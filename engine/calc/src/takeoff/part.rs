//! The faces of a part of a job, taken off by themselves.

use super::classes::Classes;
use super::{FACE_HOOKS, Known, Rules, SeenFaces, Takeoff, Wall, layouts_of};
use crate::layout::Layout;
use crate::measure::Measured;
use parge_base::Diagnostic;
use parge_rules::Pack;

/// Measured faces, laid out and put into their classes, before any rule runs: no part knows of another
/// until then.
pub(crate) struct Part {
    measured: Measured,
    layouts: Vec<Vec<Layout>>,
    classes: Classes,
}

impl Part {
    /// Lays the faces out.
    pub(crate) fn of(measured: Measured, pack: &Pack) -> (Self, Vec<Diagnostic>) {
        let (layouts, said) = layouts_of(&measured, pack);
        let faces = SeenFaces::of(&measured, &layouts);
        let classes = Classes::of((0..faces.faces.len()).map_while(|at| faces.subject(at)));
        let part = Self {
            measured,
            layouts,
            classes,
        };
        (part, said)
    }

    /// Runs the rules over the faces, behind those of the parts before.
    pub(crate) fn taken_off(self, rules: &mut Rules<'_>) -> Takeoff {
        let faces = SeenFaces::of(&self.measured, &self.layouts);
        let subject = |at| faces.subject(at);
        let taken = rules.take_classed(FACE_HOOKS, self.classes, faces.places(), subject);
        Takeoff::of_wall(self.measured, wall(taken, self.layouts), rules.pack)
    }

    /// The same once the rules have run over all parts. `None` where they ran for others.
    pub(crate) fn taken_off_again(self, known: &Known<'_>, pack: &Pack) -> Option<Takeoff> {
        let faces = SeenFaces::of(&self.measured, &self.layouts);
        let counts = faces.places().map(|place| place.count);
        let taken = known.take_all(self.classes, counts)?;
        Some(Takeoff::of_wall(
            self.measured,
            wall(taken, self.layouts),
            pack,
        ))
    }
}

/// Faces without linear work: of a job in parts, that is taken off at the end.
fn wall(faces: Vec<super::Taken>, layouts: Vec<Vec<Layout>>) -> Wall {
    Wall {
        layouts,
        faces,
        edges: Vec::new(),
    }
}
