//! Measures in expressions: `street.area`, `sum("Entry planter".area)`.
//!
//! A measure of a face is that of one face, also where there are several equal ones; `sum` adds
//! up all of them. A structure has as many values as it has faces, so its measures stand only
//! where a function takes several: in `sum`, `min` and `max`.

use super::site::{Lost, Target};
use super::values::Values;
use crate::job::Face;
use crate::measure::{Faces, MeasuredFace};
use parge_base::{Code, Diagnostic, NodeId, Operator, Quantity, Span, suggest};
use parge_grammar::ast::Name;

/// What can be asked of a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Property {
    Area,
    GrossArea,
    DeductedArea,
    RevealArea,
    Perimeter,
    Width,
    Height,
    Top,
    Bottom,
    Sides,
    OpeningEdges,
    Count,
}

const PROPERTIES: [(&str, Property); 12] = [
    ("area", Property::Area),
    ("gross_area", Property::GrossArea),
    ("deducted_area", Property::DeductedArea),
    ("reveal_area", Property::RevealArea),
    ("perimeter", Property::Perimeter),
    ("width", Property::Width),
    ("height", Property::Height),
    ("top", Property::Top),
    ("bottom", Property::Bottom),
    ("sides", Property::Sides),
    ("opening_edges", Property::OpeningEdges),
    ("count", Property::Count),
];

impl Values<'_> {
    /// A measure that stands alone.
    pub(super) fn measure(&mut self, path: &[Name], property: &Name, span: Span) -> Option<NodeId> {
        let (target, wanted) = self.asked(path, property);
        match target? {
            Target::Face(face) => {
                let first = *self.measured(face)?.first()?;
                self.value(&first, face, 0, wanted?, false, span)
            }
            Target::Structure(_) => {
                let shown = shown(path);
                let message = format!("`{shown}` is a structure: it has a value for each face");
                let word = &property.node;
                let help = format!(
                    "write `sum({shown}.{word})` or `max({shown}.{word})`, or name the face"
                );
                self.diagnostics
                    .push(Diagnostic::new(Code::SeveralValues, message, help).at(span, ""));
                None
            }
        }
    }

    /// The measures of a face or of all faces of a structure, `by_count` each times the number of
    /// equal faces.
    pub(super) fn measures(
        &mut self,
        path: &[Name],
        property: &Name,
        span: Span,
        by_count: bool,
    ) -> Option<Vec<NodeId>> {
        let (target, wanted) = self.asked(path, property);
        let faces = match target? {
            Target::Face(face) => vec![face],
            Target::Structure(structure) => self.site.faces_of(structure),
        };
        let wanted = wanted?;
        let mut nodes = Vec::new();
        for face in faces {
            let measured = self.measured(face)?;
            // Reveals with a finish of their own are part of what is coated of a structure, and of
            // nothing else: a strip is no face that has a height.
            let structure = matches!(target, Some(Target::Structure(_)));
            let with_reveals = structure && by_count && wanted == Property::Area;
            let taken = if with_reveals { measured.len() } else { 1 };
            for (part, measured) in measured.iter().take(taken).enumerate() {
                nodes.push(self.value(measured, face, part, wanted, by_count, span)?);
            }
        }
        if nodes.is_empty() {
            let message = format!("structure `{}` has no face to measure", shown(path));
            let help = "add its faces, or take it out of this expression";
            self.diagnostics
                .push(Diagnostic::new(Code::NoValue, message, help).at(span, ""));
            return None;
        }
        Some(nodes)
    }

    /// What an expression asks for; what is not there is said.
    fn asked(&mut self, path: &[Name], property: &Name) -> (Option<Target>, Option<Property>) {
        let known = PROPERTIES.iter().find(|(name, _)| *name == property.node);
        if known.is_none() {
            let message = format!("a face has no measure `{}`", property.node);
            let names = PROPERTIES.iter().map(|(name, _)| *name);
            let help = suggest::help_for(&property.node, names);
            self.diagnostics
                .push(Diagnostic::new(Code::UnknownName, message, help).at(property.span, ""));
        }
        let target = match self.site.find(path, self.here) {
            Ok(target) => {
                self.tie(target);
                Some(target)
            }
            Err(lost) => {
                // Where other structures stand beside it, it may well be there.
                self.tied.extend(self.here.standing);
                self.report_lost(path, lost);
                None
            }
        };
        (target, known.map(|(_, property)| *property))
    }

    /// Notes an expression that asks for a measure of a structure from outside of it.
    fn tie(&mut self, target: Target) {
        let asked = match target {
            Target::Structure(structure) => Some(structure),
            Target::Face(face) => self.site.faces.get(face).and_then(|(_, of)| of.standing),
        };
        if asked != self.here.standing {
            self.tied
                .extend(asked.into_iter().chain(self.here.standing));
        }
    }

    fn report_lost(&mut self, path: &[Name], lost: Lost) {
        let (Some(first), Some(last)) = (path.first(), path.last()) else {
            return;
        };
        if path.iter().any(|name| self.told(&name.node)) || self.plan.damages_a("structure") {
            return;
        }
        let span = first.span.to(last.span);
        let shown = shown(path);
        let diagnostic = match lost {
            Lost::Several(one, other) => {
                let message = format!("more than one face is called `{shown}`");
                let of = |face: usize| {
                    let name = self
                        .site
                        .structure_of(face)
                        .map(|standing| &standing.name.node);
                    name.map_or(String::new(), |name| format!("`\"{name}\".{}`", last.node))
                };
                let help = format!("say of which structure: {} or {}", of(one), of(other));
                Diagnostic::new(Code::UnknownName, message, help)
            }
            Lost::Unknown => {
                let message = format!("no face or structure is called `{shown}`");
                let names = self.site.structure_names().chain(self.site.face_names());
                let help = match suggest::nearest(&last.node, names) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => "write the name of a face, or `structure.face`; names with blanks stand in quotes".to_owned(),
                };
                Diagnostic::new(Code::UnknownName, message, help)
            }
        };
        self.diagnostics.push(diagnostic.at(span, ""));
    }

    /// The measures of a face, and of its reveals that are faces of their own. Measured when
    /// first asked for.
    fn measured(&mut self, number: usize) -> Option<Vec<MeasuredFace>> {
        let slot = self.slots.get_mut(number)?;
        if slot.faces.is_empty() {
            return None;
        }
        if slot.measured.is_none() {
            let mut all = Vec::new();
            for face in &slot.faces {
                let structure = self.structures.get(face.structure);
                let conditions = structure.map_or(&[][..], |structure| &structure.conditions);
                let mut faces = Faces {
                    tape: &mut self.tape,
                    rule: &mut self.rule,
                    conditions,
                    diagnostics: &mut self.diagnostics,
                };
                all.extend(faces.face(number, face));
            }
            let whole = all.len() == slot.faces.len();
            slot.measured = Some(if whole { all } else { Vec::new() });
        }
        slot.measured
            .clone()
            .filter(|measured| !measured.is_empty())
    }

    fn value(
        &mut self,
        measured: &MeasuredFace,
        slot: usize,
        part: usize,
        property: Property,
        by_count: bool,
        span: Span,
    ) -> Option<NodeId> {
        let face: &Face = self.slots.get(slot)?.faces.get(part)?;
        let count = Quantity::plain(f64::from(face.count));
        let shape = &measured.shape;
        let node = match property {
            Property::Count => return Some(self.tape.literal(count, Some(face.span))),
            Property::Area => measured.net,
            Property::GrossArea => shape.area,
            Property::DeductedArea => measured.deducted,
            Property::RevealArea => measured.reveal,
            Property::Perimeter => shape.perimeter,
            Property::Width => shape.width,
            Property::Height => shape.height,
            Property::Top => shape.top,
            Property::Bottom => shape.bottom,
            Property::Sides => shape.sides,
            Property::OpeningEdges => measured.opening_edges,
        };
        if !by_count {
            return Some(node);
        }
        let times = self.tape.literal(count, Some(face.span));
        let all = self
            .tape
            .combine(Operator::Multiply, times, node, Some(span));
        self.checked(all, span)
    }
}

/// A path as it is written.
fn shown(path: &[Name]) -> String {
    let bare = |name: &str| {
        name.chars()
            .all(|letter| letter.is_alphanumeric() || letter == '_')
    };
    let names: Vec<String> = path
        .iter()
        .map(|name| match bare(&name.node) {
            true => name.node.clone(),
            false => format!("\"{}\"", name.node),
        })
        .collect();
    names.join(".")
}

#[cfg(test)]
mod tests;
