//! Measuring: gross, deducted, reveal and net area of every face, and the lengths of its edges.

mod alone;
mod areas;
pub mod geometry;
mod more_shapes;
mod ops;
mod plain;
mod polygon;
mod reveal;
pub(crate) mod rule;

pub use alone::measure_alone;
pub use areas::AreasOfAll;
pub use plain::{PlainAreas, areas_of_parts, plain_areas};

use crate::contract::Packs;
use crate::job::{Face, Job, Opening, Shape};
use geometry::{Measures, ShapeError};
use parge_base::trace::Comparison;
use parge_base::{
    Code, Diagnostic, Dim, NodeId, Operator, Quantity, QuantityError, Span, Spanned, Tape,
    diagnostic,
};
use rule::{AskedOpening, Counted, MeasuringRule};

/// A face with its measures, for ONE of its [`Face::count`] equal faces. All nodes are of
/// [`Job::tape`].
#[derive(Debug, Clone, Copy)]
pub struct MeasuredFace {
    /// The number of the face in [`Job::faces`].
    pub face: usize,
    /// The measures of its shape; the area is the gross one.
    pub shape: Measures,
    /// The area deducted for openings.
    pub deducted: NodeId,
    /// The area of reveals added.
    pub reveal: NodeId,
    /// What is coated: gross less deducted plus reveal.
    pub net: NodeId,
    /// The length of all edges of openings.
    pub opening_edges: NodeId,
    /// The height above ground of the top of the work.
    pub working_height: NodeId,
    /// The comparisons that were made on the way, as the first of [`Tape::guards`] and the one
    /// behind the last: the measures hold only while they turn out the same.
    pub guards: [usize; 2],
}

/// A job with its measured faces. Faces that cannot be measured are not among them.
#[derive(Debug, Clone)]
pub struct Measured {
    /// The job.
    pub job: Job,
    /// The faces that could be measured, in the order of the plan.
    pub faces: Vec<MeasuredFace>,
}

/// Measures every face that is not measured yet: shapes of the rule pack by its rule, and openings
/// by the measuring rule.
pub fn measure(mut job: Job, packs: Packs<'_>) -> (Measured, Vec<Diagnostic>) {
    let mut diagnostics = Vec::new();
    let mut faces = Vec::with_capacity(job.faces.len());
    let mut rule = MeasuringRule::new(packs);
    for (number, face) in job.faces.iter().enumerate() {
        if let Some(measured) = job.measured.get(&number) {
            faces.push(*measured);
            continue;
        }
        let mut said = Vec::new();
        let structure = job.structures.get(face.structure);
        let conditions = structure.map_or(&[][..], |structure| &structure.conditions);
        let mut measuring = Faces {
            tape: &mut job.tape,
            rule: &mut rule,
            conditions,
            diagnostics: &mut said,
        };
        faces.extend(measuring.face(number, face));
        let made = structure.filter(|structure| structure.from_template);
        diagnostics.extend(said.into_iter().map(|said| match made {
            Some(structure) => said.at(structure.span, "made from the template for this structure"),
            None => said,
        }));
    }
    diagnostics.append(&mut rule.warnings());
    diagnostic::tidy(&mut diagnostics);
    (Measured { job, faces }, diagnostics)
}

/// Measures faces onto a tape.
pub(crate) struct Faces<'j, 'p> {
    pub(crate) tape: &'j mut Tape,
    pub(crate) rule: &'j mut MeasuringRule<'p>,
    /// The conditions that hold at the faces.
    pub(crate) conditions: &'j [(String, String)],
    pub(crate) diagnostics: &'j mut Vec<Diagnostic>,
}

/// The openings of one face, added up under a measuring rule.
struct Openings {
    deducted: NodeId,
    reveal: NodeId,
    edges: NodeId,
}

impl Faces<'_, '_> {
    /// Measures one face; `None` after what keeps it from being measured was said.
    pub(crate) fn face(&mut self, number: usize, face: &Face) -> Option<MeasuredFace> {
        let first_guard = self.tape.guards().len();
        let drawn = self.shape(&face.shape)?;
        let found: Vec<_> = face
            .openings
            .iter()
            .map(|opening| self.opening(opening, face, &drawn))
            .collect();
        let found: Vec<(Measures, NodeId)> = found.into_iter().collect::<Option<_>>()?;
        self.fits(face, &drawn, &found)?;
        let shape = Measures {
            area: self.gross(face, &drawn)?,
            ..drawn
        };
        let openings = self.openings(face, &shape, &found)?;
        let net = self.net_area(&shape, &openings, face.span);
        let net = self.valued(net, face.span)?;
        Some(MeasuredFace {
            face: number,
            shape,
            deducted: openings.deducted,
            reveal: openings.reveal,
            net,
            opening_edges: openings.edges,
            working_height: self.working_height(face, &shape),
            guards: [first_guard, self.tape.guards().len()],
        })
    }

    fn shape(&mut self, shape: &Spanned<Shape>) -> Option<Measures> {
        let measured = match &shape.node {
            Shape::OfPack(name, sizes) => {
                let (tape, said) = (&mut *self.tape, &mut *self.diagnostics);
                return self.rule.shape(tape, name, sizes, shape.span, said);
            }
            Shape::Reveal(opening) => {
                let around = self.shape(&opening.shape)?;
                reveal::measure(self.tape, opening, &around).map_err(ShapeError::from)
            }
            _ => geometry::measure(self.tape, &shape.node, shape.span),
        };
        match measured {
            Ok(measures) => Some(measures),
            Err(ShapeError::NoValue(text)) => {
                let help = "check the sizes of this shape";
                self.diagnostics
                    .push(Diagnostic::new(Code::NoValue, text, help).at(shape.span, ""));
                None
            }
            Err(ShapeError::Impossible(text, help)) => {
                self.diagnostics
                    .push(Diagnostic::new(Code::ImpossibleShape, text, help).at(shape.span, ""));
                None
            }
        }
    }

    /// An opening's measures and its count, when it fits its face.
    fn opening(
        &mut self,
        opening: &Opening,
        face: &Face,
        shape: &Measures,
    ) -> Option<(Measures, NodeId)> {
        let measures = self.shape(&opening.shape)?;
        let count = reveal::count(self.tape, opening);
        let mut larger = |of: NodeId, than: NodeId| {
            let compared = self
                .tape
                .compare(Comparison::Greater, of, than, Some(opening.span));
            compared.unwrap_or(true)
        };
        let wider = larger(measures.width, shape.width);
        let higher = larger(measures.height, shape.height);
        if wider || higher {
            let how = if wider { "wider" } else { "higher" };
            let message = format!(
                "opening `{}` is {how} than face `{}`",
                opening.name, face.name
            );
            let help = "check the sizes of both; an opening lies within its face";
            let diagnostic = Diagnostic::new(Code::OpeningTooLarge, message, help)
                .at(opening.shape.span, "this opening")
                .at(face.shape.span, "in this face");
            self.diagnostics.push(diagnostic);
            return None;
        }
        Some((measures, count))
    }

    /// What the face counts for by the measuring rule, before its openings are deducted.
    fn gross(&mut self, face: &Face, shape: &Measures) -> Option<NodeId> {
        let top = face.working_height.map(|stated| stated.node);
        let mut inputs = vec![
            ("area", shape.area),
            ("width", shape.width),
            ("height", shape.height),
            ("perimeter", shape.perimeter),
            ("upright", shape.upright),
            ("working_height", top.unwrap_or(shape.upright)),
        ];
        inputs.extend(shape.radius.map(|radius| ("radius", radius)));
        let (tape, said) = (&mut *self.tape, &mut *self.diagnostics);
        self.rule
            .gross(tape, &inputs, self.conditions, face.span, said)
    }

    /// What all openings of a face count for by the measuring rule.
    fn openings(
        &mut self,
        face: &Face,
        shape: &Measures,
        found: &[(Measures, NodeId)],
    ) -> Option<Openings> {
        let none = self
            .tape
            .constant(Quantity::zero(Dim::AREA), Some(face.span));
        let mut sum = Openings {
            deducted: none,
            reveal: none,
            edges: self
                .tape
                .constant(Quantity::zero(Dim::LENGTH), Some(face.span)),
        };
        for (opening, (measures, count)) in face.openings.iter().zip(found) {
            let counted = self.counted(opening, measures, shape)?;
            for (total, of_one) in [
                (&mut sum.deducted, counted.deducted),
                (&mut sum.reveal, counted.reveal),
                (&mut sum.edges, measures.perimeter),
            ] {
                let at = Some(opening.span);
                let all = self.tape.combine(Operator::Multiply, *count, of_one, at);
                let more = all.and_then(|all| self.tape.combine(Operator::Add, *total, all, at));
                *total = self.valued(more, face.span)?;
            }
        }
        Some(sum)
    }

    /// What one of an opening counts for. A reveal with a finish of its own is a face of its own.
    fn counted(
        &mut self,
        opening: &Opening,
        measures: &Measures,
        shape: &Measures,
    ) -> Option<Counted> {
        let depth = opening.reveal.filter(|_| opening.finish.is_none());
        let reveal = match depth {
            Some(depth) => {
                let edges = reveal::edges(self.tape, opening, measures);
                let area = edges.and_then(|edges| {
                    let at = Some(opening.span);
                    self.tape.combine(Operator::Multiply, edges, depth.node, at)
                });
                self.valued(area, opening.span)?
            }
            None => self
                .tape
                .constant(Quantity::zero(Dim::AREA), Some(opening.span)),
        };
        let asked = AskedOpening {
            area: measures.area,
            perimeter: measures.perimeter,
            width: measures.width,
            height: measures.height,
            reveal,
            depth: depth.map(|depth| depth.node),
            face: shape.area,
        };
        let (tape, said) = (&mut *self.tape, &mut *self.diagnostics);
        self.rule
            .opening(tape, &asked, self.conditions, opening.span, said)
    }

    fn fits(&mut self, face: &Face, shape: &Measures, found: &[(Measures, NodeId)]) -> Option<()> {
        if found.is_empty() {
            return Some(());
        }
        let taken = self.taken(found, face.span);
        let taken = self.valued(taken, face.span)?;
        let at = Some(face.span);
        let fits = self
            .tape
            .compare(Comparison::LessOrEqual, taken, shape.area, at);
        if self.valued(fits, face.span)? {
            return Some(());
        }
        let message = format!(
            "the openings of face `{}` take more than the whole face",
            face.name
        );
        let mut diagnostic = Diagnostic::new(
            Code::OpeningsExceedFace,
            message,
            "check the sizes and counts of its openings",
        )
        .at(face.shape.span, "this face");
        for opening in &face.openings {
            diagnostic = diagnostic.at(opening.span, "");
        }
        self.diagnostics.push(diagnostic);
        None
    }

    /// The area of all openings.
    fn taken(&mut self, found: &[(Measures, NodeId)], span: Span) -> Result<NodeId, QuantityError> {
        let at = Some(span);
        let mut sum = self.tape.constant(Quantity::zero(Dim::AREA), at);
        for (measures, count) in found {
            let all = self
                .tape
                .combine(Operator::Multiply, *count, measures.area, at)?;
            sum = self.tape.combine(Operator::Add, sum, all, at)?;
        }
        Ok(sum)
    }

    /// Gross less deducted, never below nothing by the noise that [`ROOM`] allows, plus reveal.
    fn net_area(
        &mut self,
        shape: &Measures,
        openings: &Openings,
        span: Span,
    ) -> Result<NodeId, QuantityError> {
        let at = Some(span);
        let left = self
            .tape
            .combine(Operator::Subtract, shape.area, openings.deducted, at)?;
        let left = if self.size(left) < 0.0 {
            let none = self.tape.constant(Quantity::zero(Dim::AREA), at);
            self.tape.combine(Operator::Max, left, none, at)?
        } else {
            left
        };
        self.tape.combine(Operator::Add, left, openings.reveal, at)
    }

    /// The height stated, or else the face's own. A stated one below the face's own would take
    /// scaffold and cautions away, so it is said.
    fn working_height(&mut self, face: &Face, shape: &Measures) -> NodeId {
        let Some(stated) = face.working_height else {
            return shape.upright;
        };
        if self.size(stated.node) < self.size(shape.upright) / ROOM {
            let message = format!(
                "`at` of face `{}` is below the face's own height",
                face.name
            );
            let help = "`at` is the height above ground of the top of the work; leave it out for a face that stands on the ground";
            let diagnostic = Diagnostic::new(Code::LowWorkingHeight, message, help)
                .at(stated.span, "the top of the work is here")
                .at(face.shape.span, "and the face is higher");
            self.diagnostics.push(diagnostic);
        }
        stated.node
    }

    fn valued<T>(&mut self, result: Result<T, QuantityError>, span: Span) -> Option<T> {
        result
            .map_err(|error| {
                let help = "check the sizes of this face and its openings";
                self.diagnostics
                    .push(Diagnostic::new(Code::NoValue, error.to_string(), help).at(span, ""));
            })
            .ok()
    }

    fn size(&self, node: NodeId) -> f64 {
        self.tape.value(node).value
    }
}

/// An opening as large as its face is allowed, whatever the last binary digit says.
const ROOM: f64 = 1.0 + 1e-12;

#[cfg(test)]
mod tests;
