//! Structures, faces and openings.

use super::settings::Once;
use super::values::{Values, twice};
use crate::contract::SUBSTRATES;
use crate::job::{EdgeSide, Face, Opening};
use parge_base::{Code, Diagnostic, Dim, Span, Spanned, suggest};
use parge_grammar::ast::{self, FaceDetail, Name, OpeningDetail, Structure};
use parge_rules::Tables;
use std::collections::{BTreeMap, BTreeSet};

/// The finishes by name: whole ones with their number, broken ones without.
pub(super) type FinishNumbers<'p> = BTreeMap<&'p str, Option<usize>>;

/// What a face inherits where it says nothing itself.
struct Inherited<'p> {
    structure: usize,
    substrate: Option<&'p Name>,
    finish: Option<&'p Name>,
}

/// What resolving faces looks things up in.
pub(super) struct Known<'a, 'p> {
    pub(super) tables: &'a Tables,
    pub(super) finishes: &'a FinishNumbers<'p>,
    pub(super) used: BTreeSet<&'p str>,
}

impl<'p> Values<'p> {
    /// The faces of a structure; those with a fault are reported and left out.
    pub(super) fn structure(
        &mut self,
        number: usize,
        structure: &'p Structure,
        known: &mut Known<'_, 'p>,
    ) -> Vec<Face> {
        let mut once = Once::default();
        for finish in &structure.finishes {
            once.first("finish", finish.span, self);
        }
        let inherited = Inherited {
            structure: number,
            substrate: structure.substrate.as_ref(),
            finish: structure.finishes.last(),
        };
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        let mut faces = Vec::new();
        for face in &structure.faces {
            if let Some(first) = seen.insert(&face.name.node, face.name.span) {
                self.diagnostics.push(twice("face", &face.name, first));
            }
            faces.extend(self.face(face, &inherited, known));
        }
        faces
    }

    fn face(
        &mut self,
        face: &'p ast::Face,
        inherited: &Inherited<'p>,
        known: &mut Known<'_, 'p>,
    ) -> Option<Face> {
        let of = format!("face `{}`", face.name.node);
        let shape = self.shape(&face.shape, &of);
        let (mut count, mut working_height) = (Some(1), Some(None));
        let (mut substrate, mut finish) = (inherited.substrate, inherited.finish);
        let mut once = Once::default();
        for Spanned { node, span } in &face.details {
            match node {
                FaceDetail::Count(expr) => {
                    once.first("count", *span, self);
                    count = self
                        .count(expr, &format!("the count of {of}"))
                        .map(|(_, count)| count);
                }
                FaceDetail::At(expr) => {
                    once.first("at", *span, self);
                    working_height = self
                        .size(expr, Dim::LENGTH, &format!("the working height of {of}"))
                        .map(Some);
                }
                FaceDetail::Substrate(name) => {
                    once.first("on", *span, self);
                    substrate = Some(name);
                }
                FaceDetail::Finish(name) => {
                    once.first("finish", *span, self);
                    finish = Some(name);
                }
            }
        }
        let substrate = self.substrate(substrate, face, known.tables);
        let finish = self.face_finish(finish, face, known);
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        for opening in &face.openings {
            if let Some(first) = seen.insert(&opening.name.node, opening.name.span) {
                self.diagnostics
                    .push(twice("opening", &opening.name, first));
            }
        }
        let openings: Vec<_> = face
            .openings
            .iter()
            .map(|opening| self.opening(opening))
            .collect();
        Some(Face {
            structure: inherited.structure,
            name: face.name.node.clone(),
            shape: shape?,
            count: count?,
            substrate: substrate?,
            finish: finish?,
            working_height: working_height?,
            openings: openings.into_iter().collect::<Option<_>>()?,
            span: face.span,
        })
    }

    fn substrate(
        &mut self,
        name: Option<&Name>,
        face: &ast::Face,
        tables: &Tables,
    ) -> Option<String> {
        let known = tables.keys(SUBSTRATES, &[]).unwrap_or_default();
        let Some(name) = name else {
            let message = format!("nothing says what face `{}` is built of", face.name.node);
            let help = "write `on block` after the structure's name, or in the face's line";
            self.diagnostics
                .push(Diagnostic::new(Code::MissingSetting, message, help).at(face.name.span, ""));
            return None;
        };
        if known.contains(&name.node.as_str()) {
            return Some(name.node.clone());
        }
        let message = format!("the rule pack has no substrate `{}`", name.node);
        let help = suggest::help_for(&name.node, known);
        // Faces that inherit one wrong word share one diagnostic: the list is freed of repeats.
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownSubstrate, message, help).at(name.span, ""));
        None
    }

    fn face_finish(
        &mut self,
        name: Option<&'p Name>,
        face: &ast::Face,
        known: &mut Known<'_, 'p>,
    ) -> Option<usize> {
        let Some(name) = name else {
            let message = format!("face `{}` has no finish", face.name.node);
            let help = "put the name of a finish at the end of the face's line, or `finish NAME` in the structure's block";
            self.diagnostics
                .push(Diagnostic::new(Code::MissingSetting, message, help).at(face.name.span, ""));
            return None;
        };
        known.used.insert(&name.node);
        if let Some(number) = known.finishes.get(name.node.as_str()) {
            return *number;
        }
        if self.told(&name.node) {
            return None;
        }
        let message = format!("no finish is called `{}`", name.node);
        let names = known.finishes.keys().copied();
        let help = match known.finishes.is_empty() {
            true => format!(
                "define it: `finish {} {{ technique stamp  thickness 3/4in }}`",
                name.node
            ),
            false => suggest::help_for(&name.node, names),
        };
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownFinish, message, help).at(name.span, ""));
        None
    }

    fn opening(&mut self, opening: &ast::Opening) -> Option<Opening> {
        let of = format!("opening `{}`", opening.name.node);
        let shape = self.shape(&opening.shape, &of);
        let (mut reveal, mut count) = (Some(None), Some(None));
        let mut sides = Vec::new();
        let mut once = Once::default();
        for Spanned { node, span } in &opening.details {
            match node {
                OpeningDetail::Reveal(expr, on) => {
                    sides = on.iter().filter_map(|name| side(&name.node)).collect();
                    once.first("reveal", *span, self);
                    reveal = self
                        .size(expr, Dim::LENGTH, &format!("the reveal of {of}"))
                        .map(Some);
                }
                OpeningDetail::Count(expr) => {
                    once.first("count", *span, self);
                    count = self
                        .count(expr, &format!("the count of {of}"))
                        .map(|(figure, _)| Some(figure));
                }
            }
        }
        Some(Opening {
            name: opening.name.node.clone(),
            shape: shape?,
            reveal: reveal?,
            sides,
            count: count?,
            span: opening.span,
        })
    }
}

fn side(word: &str) -> Option<EdgeSide> {
    match word {
        "top" => Some(EdgeSide::Top),
        "bottom" => Some(EdgeSide::Bottom),
        "sides" => Some(EdgeSide::Sides),
        _ => None,
    }
}
