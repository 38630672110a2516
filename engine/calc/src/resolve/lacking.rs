//! What faces lack that their structure could say for all of them: told once a structure, so that a
//! plan just made of a client's sheet is no wall of errors.

use super::values::Values;
use parge_base::{Code, Diagnostic};
use parge_grammar::ast::Name;

/// What a face lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Lack {
    /// Its finish.
    Finish,
    /// What it is built of.
    Substrate,
}

impl Lack {
    fn of_one(self, face: &Name) -> Diagnostic {
        let name = &face.node;
        let (message, help) = match self {
            Self::Finish => (
                format!("face `{name}` has no finish"),
                "put the name of a finish at the end of the face's line, or `finish NAME` in the structure's block",
            ),
            Self::Substrate => (
                format!("nothing says what face `{name}` is built of"),
                "write `on block` after the structure's name, or in the face's line",
            ),
        };
        Diagnostic::new(Code::MissingSetting, message, help).at(face.span, "")
    }

    fn of_several(self, structure: &Name, faces: &[&Name]) -> Diagnostic {
        let (count, name) = (faces.len(), &structure.node);
        let (message, help) = match self {
            Self::Finish => (
                format!("{count} faces of structure `{name}` have no finish"),
                "write `finish NAME` in the structure's block for all of them, or put a finish at the end of each line",
            ),
            Self::Substrate => (
                format!("nothing says what {count} faces of structure `{name}` are built of"),
                "write `on block` after the structure's name for all of them, or in each line",
            ),
        };
        let said = Diagnostic::new(Code::MissingSetting, message, help).at(structure.span, "");
        match faces {
            [first, ..] => said.at(first.span, "the first of them"),
            [] => said,
        }
    }
}

impl<'p> Values<'p> {
    /// Notes what a face lacks. Of a template it is told at once, with the structure it is made for.
    pub(super) fn lacks(&mut self, what: Lack, face: &'p Name) {
        match self.here.standing.filter(|_| !self.here.in_template) {
            Some(standing) => self.lacking.entry((standing, what)).or_default().push(face),
            None => self.diagnostics.push(what.of_one(face)),
        }
    }

    /// Tells what faces lack, once all of them are resolved.
    pub(super) fn tell_lacking(&mut self) {
        for ((standing, what), mut faces) in std::mem::take(&mut self.lacking) {
            faces.sort_by_key(|face| face.span);
            let structure = self.site.standings.get(standing);
            match (faces.as_slice(), structure) {
                ([one], _) => self.diagnostics.push(what.of_one(one)),
                (several, Some(standing)) => self
                    .diagnostics
                    .push(what.of_several(standing.name, several)),
                _ => {}
            }
        }
    }
}
