//! Faces, openings and linear work.

use super::lacking::Lack;
use super::settings::Once;
use super::site::{Scoped, Standing};
use super::values::{Values, twice};
use crate::contract::{EDGES, SUBSTRATES};
use crate::job::{Edge, EdgeSide, Face, Figure, Opening, Shape};
use parge_base::{Code, Diagnostic, Dim, NodeId, Span, Spanned, suggest};
use parge_grammar::ast::{self, Expr, FaceDetail, Name, OpeningDetail};
use std::collections::BTreeMap;

impl<'p> Values<'p> {
    /// Resolves a face of the site and puts it, with its reveals that are faces of their own,
    /// into its slot. One with a fault is reported and left out.
    pub(super) fn place(&mut self, number: usize) {
        let site = self.site.clone();
        let (Some((face, scope)), Some(standing)) =
            (site.faces.get(number).copied(), site.structure_of(number))
        else {
            return;
        };
        self.here = scope;
        let said = self.diagnostics.len();
        let found = self.face(face, standing);
        if scope.in_template {
            self.tell_structure(said, standing.name);
        }
        if let (Some(face), Some(slot)) = (found, self.slots.get_mut(number)) {
            let reveals = reveals(&face);
            slot.faces.push(face);
            slot.faces.extend(reveals);
        }
    }

    /// Adds to what was said of a template the structure that it was said for. What was said of
    /// the template before is not said again.
    fn tell_structure(&mut self, from: usize, structure: &Name) {
        for said in self.diagnostics.split_off(from) {
            let same = |known: &Diagnostic| {
                known.code == said.code
                    && known.message == said.message
                    && known.span() == said.span()
            };
            if !self.diagnostics.iter().any(same) {
                let words = "made from the template for this structure";
                self.diagnostics.push(said.at(structure.span, words));
            }
        }
    }

    fn face(&mut self, face: &'p ast::Face, standing: &Standing<'p>) -> Option<Face> {
        let of = format!("face `{}`", face.name.node);
        let shape = self.shape(&face.shape, &of, standing.height);
        let mut count = Some((1, None));
        let mut working_height = None;
        let (mut substrate, mut finish) = (standing.substrate, standing.finish);
        let mut once = Once::default();
        for Spanned { node, span } in &face.details {
            match node {
                FaceDetail::Count(expr) => {
                    once.first("count", *span, &mut self.diagnostics);
                    count = self
                        .count(expr, &format!("the count of {of}"))
                        .map(|(figure, count)| (count, Some(figure.node)));
                }
                FaceDetail::At(expr) => {
                    once.first("at", *span, &mut self.diagnostics);
                    working_height = Some(self.working_height(expr, &of));
                }
                FaceDetail::Substrate(name) => {
                    once.first("on", *span, &mut self.diagnostics);
                    substrate = Some(name);
                }
                FaceDetail::Finish(name) => {
                    once.first("finish", *span, &mut self.diagnostics);
                    finish = Some(name);
                }
                FaceDetail::From(cell) => {
                    once.first("from", *span, &mut self.diagnostics);
                    self.origins.insert(face.span, cell.node.clone());
                }
            }
        }
        let working_height = match (working_height, standing.working_height) {
            (Some(own), _) => own.map(Some),
            (None, Some(inherited)) => self
                .elsewhere(inherited, |values, expr| values.working_height(expr, &of))
                .map(Some),
            (None, None) => Some(None),
        };
        let substrate = self.substrate(substrate, face);
        let finish = self.face_finish(finish, face);
        let openings = self.openings(face);
        let (count, stated_count) = count?;
        Some(Face {
            structure: self.here.standing?,
            name: face.name.node.clone(),
            shape: shape?,
            count,
            stated_count,
            substrate: substrate?,
            finish: finish?,
            working_height: working_height?,
            openings: openings?,
            span: face.span,
        })
    }

    /// Whether the structure around is made from a template that is not there, which was told.
    pub(super) fn may_be_in_template(&self) -> bool {
        let around = self
            .here
            .standing
            .and_then(|number| self.site.standings.get(number));
        around.is_some_and(|standing| standing.lacks_template)
    }

    /// Looks at an expression where it is written, which may be another place than here.
    pub(super) fn elsewhere<T>(
        &mut self,
        (expr, scope): Scoped<'p, Expr>,
        look: impl FnOnce(&mut Self, &'p Expr) -> T,
    ) -> T {
        let here = std::mem::replace(&mut self.here, scope);
        let found = look(self, expr);
        self.here = here;
        found
    }

    fn working_height(&mut self, expr: &Expr, of: &str) -> Option<Figure> {
        self.size(expr, Dim::LENGTH, &format!("the working height of {of}"))
    }

    fn substrate(&mut self, name: Option<&Name>, face: &'p ast::Face) -> Option<String> {
        let Some(name) = name else {
            if self.may_be_in_template() {
                return None;
            }
            self.lacks(Lack::Substrate, &face.name);
            return None;
        };
        if self.tables.has_key(SUBSTRATES, &name.node) {
            return Some(name.node.clone());
        }
        let known = self.tables.keys(SUBSTRATES, &[]).unwrap_or_default();
        let message = format!("the rule pack has no substrate `{}`", name.node);
        let help = suggest::help_for(&name.node, known);
        // Faces that inherit one wrong word share one diagnostic: the list is freed of repeats.
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownSubstrate, message, help).at(name.span, ""));
        None
    }

    fn face_finish(&mut self, name: Option<&'p Name>, face: &'p ast::Face) -> Option<usize> {
        let Some(name) = name else {
            if self.may_be_in_template() {
                return None;
            }
            self.lacks(Lack::Finish, &face.name);
            return None;
        };
        self.finish_number(name)
    }

    /// The number of a finish in the order of the plan.
    pub(super) fn finish_number(&mut self, name: &'p Name) -> Option<usize> {
        if let Some(number) = self.finishes.get(name.node.as_str()) {
            return Some(*number);
        }
        if self.told(&name.node) {
            return None;
        }
        let near = suggest::nearest(&name.node, self.finishes.keys().copied());
        self.used_finishes.extend(near);
        // Where it is no slip of the pen, one line mends all faces that ask for it.
        if near.is_none() && !self.undefined.insert(&name.node) {
            return None;
        }
        let message = format!("no finish is called `{}`", name.node);
        let help = match self.finishes.is_empty() {
            true => format!(
                "define it: `finish {} {{ technique stamp  thickness 3/4in }}`",
                as_written(&name.node)
            ),
            false => suggest::help_for(&name.node, self.finishes.keys().copied()),
        };
        self.diagnostics
            .push(Diagnostic::new(Code::UnknownFinish, message, help).at(name.span, ""));
        None
    }

    fn openings(&mut self, face: &'p ast::Face) -> Option<Vec<Opening>> {
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
        openings.into_iter().collect()
    }

    fn opening(&mut self, opening: &'p ast::Opening) -> Option<Opening> {
        let of = format!("opening `{}`", opening.name.node);
        let shape = self.shape(&opening.shape, &of, None);
        let (mut reveal, mut count, mut finish) = (Some(None), Some(None), Some(None));
        let mut sides = Vec::new();
        let mut once = Once::default();
        for Spanned { node, span } in &opening.details {
            match node {
                OpeningDetail::Reveal(expr, on) => {
                    sides = on.iter().filter_map(|name| side(&name.node)).collect();
                    once.first("reveal", *span, &mut self.diagnostics);
                    reveal = self
                        .size(expr, Dim::LENGTH, &format!("the reveal of {of}"))
                        .map(Some);
                }
                OpeningDetail::Count(expr) => {
                    once.first("count", *span, &mut self.diagnostics);
                    count = self
                        .count(expr, &format!("the count of {of}"))
                        .map(|(figure, _)| Some(figure));
                }
                OpeningDetail::Finish(name) => {
                    once.first("finish", *span, &mut self.diagnostics);
                    finish = self.finish_number(name).map(|number| Some((number, *span)));
                }
                OpeningDetail::From(cell) => {
                    once.first("from", *span, &mut self.diagnostics);
                    self.origins.insert(opening.span, cell.node.clone());
                }
            }
        }
        if let (Some(Some((_, span))), Some(None)) = (finish, reveal) {
            let message = format!("{of} has a finish, but no reveal that could take it");
            let help = "state how deep its reveal is: `reveal 4in`, or leave the finish out";
            self.diagnostics
                .push(Diagnostic::new(Code::MissingSetting, message, help).at(span, ""));
            return None;
        }
        Some(Opening {
            name: opening.name.node.clone(),
            shape: shape?,
            reveal: reveal?,
            sides,
            count: count?,
            finish: finish?.map(|(number, _)| number),
            span: opening.span,
        })
    }

    /// The linear work of all structures and faces. That of a face with a fault is left out.
    pub(super) fn edges(&mut self) -> Vec<Edge> {
        let site = self.site.clone();
        let mut edges = Vec::new();
        for (number, standing) in site.standings.iter().enumerate() {
            for (edge, scope) in &standing.edges {
                self.here = *scope;
                edges.extend(self.edge_of_structure(number, standing, edge));
            }
        }
        for (number, (face, scope)) in site.faces.iter().enumerate() {
            for edge in &face.edges {
                self.here = *scope;
                let resolved = self.edge(edge);
                let of = self.slots.get(number).and_then(|slot| slot.faces.first());
                if let (Some((kind, length, (count, stated_count))), Some(of)) = (resolved, of) {
                    edges.push(Edge {
                        structure: of.structure,
                        face: Some(of.name.clone()),
                        kind,
                        length,
                        count: count.saturating_mul(of.count),
                        stated_count,
                        substrate: Some(of.substrate.clone()),
                        finish: Some(of.finish),
                        working_height: of.working_height,
                        span: edge.span,
                    });
                }
            }
        }
        edges.sort_by_key(|edge| edge.structure);
        edges
    }

    fn edge_of_structure(
        &mut self,
        number: usize,
        standing: &Standing<'p>,
        edge: &'p ast::Edge,
    ) -> Option<Edge> {
        let resolved = self.edge(edge);
        let of = format!("the edges of structure `{}`", standing.name.node);
        let working_height = standing
            .working_height
            .map(|at| self.elsewhere(at, |values, expr| values.working_height(expr, &of)));
        let finish = standing.finish.map(|name| self.finish_number(name));
        let known = |name: &&Name| self.tables.has_key(SUBSTRATES, &name.node);
        let substrate = standing.substrate.filter(known);
        let (kind, length, (count, stated_count)) = resolved?;
        Some(Edge {
            structure: number,
            face: None,
            kind,
            length,
            count,
            stated_count,
            substrate: substrate.map(|name| name.node.clone()),
            finish: finish.flatten(),
            working_height: working_height.flatten(),
            span: edge.span,
        })
    }

    fn edge(&mut self, edge: &'p ast::Edge) -> Option<(String, Figure, Counted)> {
        let kind = &edge.kind;
        let known_kind = self.tables.has_key(EDGES, &kind.node);
        if !known_kind {
            let known = self.tables.keys(EDGES, &[]).unwrap_or_default();
            let message = format!("the rule pack has no edge `{}`", kind.node);
            let help = match known.is_empty() {
                true => format!("add its rows to table `{EDGES}` of the pack"),
                false => suggest::help_for(&kind.node, known),
            };
            self.diagnostics
                .push(Diagnostic::new(Code::UnknownWord, message, help).at(kind.span, ""));
        }
        let of = format!("edge `{}`", kind.node);
        let length = self.size(&edge.length, Dim::LENGTH, &format!("the length of {of}"));
        let count = match &edge.count {
            Some(expr) => {
                let (figure, count) = self.count(expr, &format!("the count of {of}"))?;
                (count, Some(figure.node))
            }
            None => (1, None),
        };
        known_kind.then_some((kind.node.clone(), length?, count))
    }
}

/// How many there are, and the node that says so.
type Counted = (u32, Option<NodeId>);

/// The reveals of a face that have a finish of their own, as faces.
fn reveals(face: &Face) -> Vec<Face> {
    let own = face.openings.iter().filter_map(|opening| {
        Some(Face {
            name: format!("{}, reveal of {}", face.name, opening.name),
            shape: Spanned::new(Shape::Reveal(Box::new(opening.clone())), opening.span),
            finish: opening.finish?,
            openings: Vec::new(),
            span: opening.span,
            ..face.clone()
        })
    });
    own.collect()
}

/// A name as a plan writes it: in quotes where it is not one plain word.
fn as_written(name: &str) -> String {
    let begins = name.starts_with(|ch: char| ch.is_ascii_lowercase());
    let is_plain = |ch: char| ch.is_ascii_lowercase() || ch.is_ascii_digit() || ch == '_';
    match begins && name.chars().all(is_plain) {
        true => name.to_owned(),
        false => format!("\"{name}\""),
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

#[cfg(test)]
mod tests;
