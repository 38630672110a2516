//! What openings save of a layout, wherever they are.
//!
//! A plan states how large openings are, not where. So only that is saved which is saved in any
//! place: an opening of height `h` interrupts at least `⌊(h - width) / (width - side lap)⌋`
//! courses of a sheet over its whole width, since a range of that length holds so many steps
//! wherever it begins. In those courses the opening's width need not be covered, and each course is
//! in one part more.
//!
//! Where those parts begin is not known either, so what they take is bounded, part by part. With
//! sheets of length `L` that go on by `p = L - lap`, a part of length `s` takes, by its first piece:
//! a whole sheet and `⌈(s - L) / p⌉` more, less than `s / p + 1`; an offcut, which is longer than
//! a lap, and less than `s / p + 1`; half a sheet, where joints must be staggered, and
//! `⌈(s - L/2) / p⌉` more, less than `s / p + 3/2`. Nothing is reckoned for offcuts of one part that
//! are used in another, so that it is enough in any place; only long openings save anything.
//! A roll goes on from part to part, so of it the whole length is saved.

use super::Sheet;
use super::courses::Laid;
use crate::job::{Job, Opening, Shape};

/// The rectangle that an opening leaves free.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hole {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) count: f64,
}

/// How much a length may be off by binary noise, as a share of a course.
const NOISE: f64 = 1e-9;

impl Hole {
    /// The rectangle within an opening; none for shapes that are cut out of the sheets.
    pub(super) fn of(job: &Job, opening: &Opening) -> Option<Self> {
        let (width, height) = match &opening.shape.node {
            Shape::Rect([width, height]) => (job.value(*width).value, job.value(*height).value),
            Shape::Arch([width, crown]) => {
                let width = job.value(*width).value;
                (width, job.value(*crown).value - width / 2.0)
            }
            Shape::SegmentArch([width, crown, rise]) => {
                let upright = job.value(*crown).value - job.value(*rise).value;
                (job.value(*width).value, upright)
            }
            _ => return None,
        };
        Some(Self {
            width,
            height,
            count: opening.count.map_or(1.0, |count| job.value(count).value),
        })
    }

    /// The courses that it surely interrupts.
    fn courses(self, sheet: &Sheet) -> f64 {
        let steps = (self.height - sheet.width) / sheet.rise() + NOISE;
        steps.floor().max(0.0) * self.count
    }
}

/// What is enough for a face with openings, in any place; none where they save nothing.
pub(super) fn taken(laid: &Laid, sheet: &Sheet, holes: &[Hole]) -> Option<f64> {
    let (mut length, mut parts) = (0.0, laid.runs.len() as f64);
    length += laid.runs.iter().map(|run| run.length).sum::<f64>();
    let all = length;
    for hole in holes {
        let interrupted = hole.courses(sheet);
        length -= interrupted * hole.width;
        parts += interrupted;
    }
    if length >= all || length < 0.0 {
        return None;
    }
    let steps = length / sheet.run();
    if !sheet.whole_pieces {
        return Some(steps);
    }
    let each = if sheet.stagger > 0.0 { 1.5 } else { 1.0 };
    Some((steps + each * parts).floor())
}
