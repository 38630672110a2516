//! How a face is drawn: its outline in metres, flat, unrolled or from the side, and a place for
//! each of its openings.
//!
//! A plan states how large openings are and not where they stand, so their places are chosen here
//! ([`place`]) and drawings say so.

mod find;
mod outline;
mod path;
mod place;

pub use find::find;
pub use path::{Edge, Path};

use crate::job::{EdgeSide, Job, Opening};
use crate::layout::outline::Outline;
use crate::measure::geometry;
use crate::measure::{Measured, MeasuredFace};
use parge_base::Tape;
use place::Boxed;

/// In which way a drawing shows a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum View {
    /// As it stands.
    Flat,
    /// A curved face laid flat: its width is the length around.
    Unrolled,
    /// A tapered face laid flat, a part of a ring: the lengths around at the foot and at the top,
    /// and the length along the slope, m.
    Fan([f64; 3]),
    /// From the side, since the face cannot be laid flat.
    Side,
    /// A reveal laid flat: a strip as long as the edges that have it.
    Strip,
    /// A rectangle as high and as large as the face, whose outline is not known.
    SameArea,
    /// The rectangle around the face, whose outline is not known.
    Around,
}

impl View {
    /// Whether what is drawn is as large as the face.
    pub fn is_true_to_area(self) -> bool {
        !matches!(self, Self::Side | Self::Around)
    }
}

/// An opening in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnOpening {
    /// The number of the opening in [`crate::job::Face::openings`].
    pub opening: usize,
    /// Its outline, where it is drawn.
    pub outline: Vec<Path>,
    /// The left and lower end of the box around it, and its width and height, m.
    pub at: [[f64; 2]; 2],
}

/// A face as it is drawn. Lengths are in metres, from the left and lower end of the box around the
/// outline to the right and up.
#[derive(Debug, Clone, PartialEq)]
pub struct Elevation {
    /// In which way it is shown.
    pub view: View,
    /// The closed lines around it: where there are two, the second is a hole.
    pub outline: Vec<Path>,
    /// Width and height of the box around it.
    pub size: [f64; 2],
    /// Where, across, the outline has corners or ends, from 0 to the width.
    pub across: Vec<f64>,
    /// The same for heights.
    pub up: Vec<f64>,
    /// Distances and heights of the stations of a wall whose top runs straight from one to the next.
    pub stations: Vec<[f64; 2]>,
    /// The openings, one after the other.
    pub openings: Vec<DrawnOpening>,
    /// The numbers of openings that are not drawn, since there is no room for all or their outline
    /// is not known.
    pub left_out: Vec<usize>,
}

/// Most openings that are drawn in one face.
const MOST_OPENINGS: f64 = 400.0;

/// Draws the faces of a job.
#[derive(Debug)]
pub struct Elevations<'m> {
    job: &'m Job,
    /// The tape of the job, and behind its end the measures of openings, which nobody keeps.
    tape: Tape,
}

impl<'m> Elevations<'m> {
    /// For the faces of that job.
    pub fn of(measured: &'m Measured) -> Self {
        Self {
            job: &measured.job,
            tape: measured.job.tape.clone(),
        }
    }

    /// One face.
    pub fn face(&mut self, measured: &MeasuredFace) -> Option<Elevation> {
        let face = self.job.faces.get(measured.face)?;
        let shape = &face.shape.node;
        let node = |node| self.job.tape.value(node).value;
        let sizes = [
            measured.shape.width,
            measured.shape.height,
            measured.shape.area,
        ];
        let mut elevation = outline::drawn(self.job, shape, sizes.map(node));
        self.put_openings(&mut elevation, &face.openings);
        Some(elevation)
    }

    /// Gives every opening a place, if all that can be drawn fit.
    fn put_openings(&mut self, elevation: &mut Elevation, openings: &[Opening]) {
        let (mut outlines, mut each, mut all) = (Vec::new(), Vec::new(), 0.0);
        for (number, opening) in openings.iter().enumerate() {
            let count = opening
                .count
                .map_or(1.0, |count| self.job.value(count).value);
            all += count;
            match self.opening(opening) {
                Some((outline, size)) if all <= MOST_OPENINGS => {
                    let on_ground = stands_on_ground(opening, size[1]);
                    let boxed = Boxed { size, on_ground };
                    let equal = (0..count as usize).map(|_| (number, outlines.len(), boxed));
                    each.extend(equal);
                    outlines.push(outline);
                }
                _ => elevation.left_out.push(number),
            }
        }
        let boxes: Vec<Boxed> = each.iter().map(|(.., boxed)| *boxed).collect();
        let Some(places) = place::places(&elevation.outline, elevation.size, &boxes) else {
            let mut numbers: Vec<usize> = each.iter().map(|(number, ..)| *number).collect();
            numbers.dedup();
            elevation.left_out.append(&mut numbers);
            elevation.left_out.sort_unstable();
            return;
        };
        for ((number, outline, boxed), at) in each.into_iter().zip(places) {
            let outline = outlines.get(outline).map_or(&[][..], Vec::as_slice);
            elevation.openings.push(DrawnOpening {
                opening: number,
                outline: outline.iter().map(|path| path.moved(at)).collect(),
                at: [at, boxed.size],
            });
        }
    }

    /// The outline of an opening and the size of the box around it; none where it is not flat.
    fn opening(&mut self, opening: &Opening) -> Option<(Vec<Path>, [f64; 2])> {
        let shape = &opening.shape;
        let measures = geometry::measure(&mut self.tape, &shape.node, shape.span).ok()?;
        let sizes = [measures.width, measures.height, measures.area];
        let sizes = sizes.map(|node| self.tape.value(node).value);
        Outline::of(self.job, &shape.node, sizes)?;
        let drawn = outline::drawn(self.job, &shape.node, sizes);
        (drawn.view == View::Flat).then_some((drawn.outline, drawn.size))
    }
}

/// The lowest opening that is walked through, m (common practice).
const DOOR: f64 = 1.8;

/// A door has no reveal along its threshold; a hatch without one is not high enough for a door.
fn stands_on_ground(opening: &Opening, height: f64) -> bool {
    height >= DOOR && !opening.sides.is_empty() && !opening.sides.contains(&EdgeSide::Bottom)
}

#[cfg(test)]
mod tests;
