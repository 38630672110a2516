//! Warnings for what is probably a slip of the pen: a size in the wrong unit, an opening that
//! leaves nothing of its face. The figures stand as they are written.
//!
//! A size is held against the same size of the other faces of its structure. That it differs is
//! no slip: a wall has short returns and low ledges. A slip shows in the unit: `12m` among faces
//! in feet is out of line, and as `12ft` it would be in line. So the text of the plan is looked
//! at, through the literals that the measures rest on.

use crate::measure::{Measured, MeasuredFace};
use parge_base::{Code, Diagnostic, Dim, NodeId, Op, Sources, Span, Tape, Units, diagnostic};
use std::collections::{BTreeMap, BTreeSet};

/// What is left of a face, as a share of it, below which its openings are doubted.
const NEXT_TO_NOTHING: f64 = 0.02;
/// The fewest neighbours that make a line.
const FEWEST: usize = 3;
/// How far outside of its neighbours a size may lie and still be in line with them.
const ROOM: f64 = 1.2;
/// The same where both units are of one system: a short return is written in inches beside walls
/// in feet, so only a number that is nearly one of theirs is doubted.
const LITTLE_ROOM: f64 = 1.05;
/// The least factor between two units that a slip is told by: a yard is too near to a metre.
const FURTHER: f64 = 2.0;

/// What is probably a slip in a measured job. `sources` holds the texts of its plan.
pub fn slips(measured: &Measured, sources: &Sources) -> Vec<Diagnostic> {
    let lengths = Lengths {
        tape: &measured.job.tape,
        sources,
        units: Units::standard(),
    };
    let mut structures: BTreeMap<usize, Vec<&MeasuredFace>> = BTreeMap::new();
    for face in &measured.faces {
        if let Some(found) = measured.job.faces.get(face.face) {
            structures.entry(found.structure).or_default().push(face);
        }
    }
    let mut diagnostics: Vec<Diagnostic> = (measured.faces.iter())
        .filter_map(|face| nearly_all_opening(face, measured))
        .collect();
    for (number, faces) in structures {
        let name = measured.job.structure_name(number);
        let sizes = |size: fn(&MeasuredFace) -> NodeId| -> Vec<Size<'_>> {
            let nodes = faces.iter().map(|face| size(face));
            let mut sizes: Vec<_> = nodes.filter_map(|node| lengths.size(node)).collect();
            // A length that several faces share was written once, and makes no line by itself.
            sizes.sort_by_key(|size| size.written.span);
            sizes.dedup_by_key(|size| size.written.span);
            sizes
        };
        let widths = sizes(|face| face.shape.width);
        let heights = sizes(|face| face.shape.height);
        diagnostics.extend(out_of_line(&widths, "widths", name));
        diagnostics.extend(out_of_line(&heights, "heights", name));
    }
    diagnostic::tidy(&mut diagnostics);
    diagnostics
}

/// A face whose openings leave next to nothing to be coated, reveals counted.
fn nearly_all_opening(measured: &MeasuredFace, job: &Measured) -> Option<Diagnostic> {
    let face = job.job.faces.get(measured.face)?;
    let area = |node| job.job.tape.value(node).value;
    let left = area(measured.net) / area(measured.shape.area);
    if face.openings.is_empty() || left.is_nan() || left >= NEXT_TO_NOTHING {
        return None;
    }
    let message = format!(
        "the openings of face `{}` leave {:.1}% of it to be coated",
        face.name,
        left.max(0.0) * 100.0
    );
    let help = "check the sizes and counts of both; if they are meant so, nothing needs to be done";
    let diagnostic = Diagnostic::new(Code::NearlyAllOpening, message, help);
    let diagnostic = diagnostic.at(face.shape.span, "this face");
    let openings = face.openings.iter();
    Some(openings.fold(diagnostic, |told, opening| told.at(opening.shape.span, "")))
}

/// A length as it is written in the plan: `22ft 4in`.
#[derive(Debug, Clone, Copy)]
struct Written<'t> {
    text: &'t str,
    span: Span,
    /// Its first unit: `ft`.
    unit: &'t str,
    /// Metres in one of that unit.
    metres: f64,
    /// Whether it is written in that unit alone.
    alone: bool,
}

impl<'t> Written<'t> {
    /// Reads a text that is nothing but numbers and units of length.
    fn read(text: &'t str, span: Span, units: &Units) -> Option<Self> {
        let is_unit = |letter: char| letter.is_alphabetic() || "'\"′″".contains(letter);
        let words = text.split(|letter| !is_unit(letter));
        let mut words = words.filter(|word| !word.is_empty());
        let unit = words.next()?;
        let metres = metres_in(unit, units)?;
        let more: Vec<&str> = words.collect();
        let all = more.iter().all(|word| metres_in(word, units).is_some());
        all.then_some(Self {
            text,
            span,
            unit,
            metres,
            alone: more.is_empty(),
        })
    }

    fn is_metric(&self) -> bool {
        [1.0, 0.01, 0.001].contains(&self.metres)
    }
}

/// Metres in one of a unit of length.
fn metres_in(word: &str, units: &Units) -> Option<f64> {
    let word = match word {
        "'" | "′" => "ft",
        "\"" | "″" => "in",
        word => word,
    };
    let unit = units.parse(word).ok()?;
    (unit.dim() == Dim::LENGTH).then(|| unit.factor())
}

/// A width or a height that rests on one written length.
#[derive(Debug, Clone, Copy)]
struct Size<'t> {
    metres: f64,
    written: Written<'t>,
}

struct Lengths<'t> {
    tape: &'t Tape,
    sources: &'t Sources,
    units: Units,
}

impl<'t> Lengths<'t> {
    /// A size; `None` where it rests on no written length, or on several.
    fn size(&self, node: NodeId) -> Option<Size<'t>> {
        let mut written: Option<Written<'t>> = None;
        let (mut open, mut seen) = (vec![node], BTreeSet::new());
        while let Some(id) = open.pop() {
            let node = self.tape.node(id)?;
            match node.op {
                _ if !seen.insert(id) => {}
                Op::Apply(_, from) => open.push(from),
                Op::Combine(_, left, right) => open.extend([left, right]),
                Op::Literal if node.value.dim == Dim::LENGTH => {
                    let Some(span) = node.place else { continue };
                    let found = Written::read(self.sources.slice(span), span, &self.units);
                    if found.is_some() && written.is_some() {
                        return None;
                    }
                    written = written.or(found);
                }
                Op::Literal | Op::Constant | Op::Input(_) | Op::Factor(_) => {}
            }
        }
        Some(Size {
            metres: self.tape.value(node).value,
            written: written?,
        })
    }
}

/// Sizes of a structure in one unit, from the smallest to the largest.
struct Line<'s, 't> {
    sizes: Vec<&'s Size<'t>>,
}

impl<'s, 't> Line<'s, 't> {
    /// The size in the middle, and how many times the smallest the largest is.
    fn middle(&self) -> Option<(&'s Size<'t>, f64)> {
        let (first, last) = (self.sizes.first()?, self.sizes.last()?);
        let middle = self.sizes.get(self.sizes.len() / 2)?;
        Some((middle, last.metres / first.metres))
    }

    /// Whether a length in metres is about as large as these sizes.
    fn holds(&self, metres: f64, room: f64) -> bool {
        let ends = self.sizes.first().zip(self.sizes.last());
        ends.is_some_and(|(first, last)| {
            metres >= first.metres / room && metres <= last.metres * room
        })
    }
}

/// Sizes in another unit than their neighbours, which fit in only when read in that unit.
fn out_of_line(sizes: &[Size<'_>], kind: &str, structure: &str) -> Vec<Diagnostic> {
    // By unit; for lengths above zero the bits of a number stand in the order of its size.
    let mut lines: BTreeMap<u64, Line<'_, '_>> = BTreeMap::new();
    for size in sizes {
        let key = size.written.metres.to_bits();
        let line = lines.entry(key).or_insert(Line { sizes: Vec::new() });
        line.sizes.push(size);
    }
    for line in lines.values_mut() {
        line.sizes.sort_by(|a, b| a.metres.total_cmp(&b.metres));
    }
    let mut diagnostics = Vec::new();
    for (unit, few) in &lines {
        let others = lines.iter().filter(|(other, _)| *other != unit);
        let many = others
            .map(|(_, line)| line)
            .filter(|line| line.sizes.len() >= FEWEST && line.sizes.len() > few.sizes.len());
        for line in many {
            for size in few.sizes.iter().filter(|size| size.written.alone) {
                diagnostics.extend(slip(size, line, (kind, structure)));
            }
        }
    }
    diagnostics
}

fn slip(
    size: &Size<'_>,
    line: &Line<'_, '_>,
    (kind, structure): (&str, &str),
) -> Option<Diagnostic> {
    let (middle, spread) = line.middle()?;
    let written = size.written;
    let swapped = size.metres / written.metres * middle.written.metres;
    let away = (size.metres / middle.metres).max(middle.metres / size.metres);
    // Sizes compare by factors: three times the spread of the others is its third power.
    let one_system = written.is_metric() == middle.written.is_metric();
    let room = if one_system { LITTLE_ROOM } else { ROOM };
    if !line.holds(swapped, room) || away < FURTHER || away <= spread.powi(3) {
        return None;
    }
    let meant = written.text.replace(written.unit, middle.written.unit);
    let message = format!(
        "`{}` is out of line with the other {kind} of `{structure}`",
        written.text
    );
    let help = format!("was `{meant}` meant? if the size is right, nothing needs to be done");
    let diagnostic = Diagnostic::new(Code::OutOfLine, message, help);
    Some(
        diagnostic
            .at(written.span, "")
            .at(middle.written.span, "the others are like this"),
    )
}

#[cfg(test)]
mod tests;
