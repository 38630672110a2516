//! What openings save of a layout, wherever they are.
//!
//! A plan states how large openings are, not where. So only that is saved which is saved in any
//! place: an opening of height `h` interrupts at least `⌊(h - width) / (width - side lap)⌋`
//! courses of a sheet over its whole width, since a range of that length holds so many steps
//! wherever it begins. In those courses the opening's width need not be covered, and each course is
//! in one part more.
//!
//! Where those parts begin is not known either, so what they take is bounded: cut one after the
//! other from sheets of length `L`, parts of length `S` in all, `n` of them, take up `S`, an end
//! lap for each joint, of which there are no more than `S / (L - lap) + 2n` (staggering takes one a
//! part), and lose at most an offcut too short to use for each part, and what is cut off it so that
//! its joint is clear of those below. One half sheet may be left over from staggering. Where offcuts are not used again, a part takes at most `S / (L - lap) + 1`
//! sheets and one more for staggering.

use super::Sheet;
use super::courses::Laid;
use crate::job::{Job, Opening, Shape};
use parge_base::number::whole_up;

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
    Some(match (sheet.whole_pieces, sheet.smallest_piece) {
        (false, _) => steps,
        (true, None) => whole_up(steps + 2.0 * parts),
        (true, Some(least)) => {
            let laps = sheet.end_lap * (steps + 2.0 * parts);
            let lost = parts * (least + 2.0 * sheet.stagger);
            whole_up((length + laps + lost) / sheet.length) + 1.0
        }
    })
}
