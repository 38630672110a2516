//! Places for openings that a plan does not place: in a row, evenly spaced, at half the height of
//! the face, or on the ground where they stand there. Where the outline leaves no room at that
//! height the row goes down; where one row is too long they stand in several.

use super::Path;

/// The box around an opening.
#[derive(Debug, Clone, Copy)]
pub(super) struct Boxed {
    /// Width and height.
    pub(super) size: [f64; 2],
    /// Whether it stands on the ground.
    pub(super) on_ground: bool,
}

/// How far a length may be off by binary noise, as a share of the face's size.
const NOISE: f64 = 1e-9;

/// The heights at which a row is tried, as shares of what is left of the face's height above and
/// below an opening.
const LIFTS: [f64; 3] = [0.5, 0.25, 0.0];

/// The left and lower ends of the boxes, in their order; none where they do not fit without
/// overlapping.
pub(super) fn places(outline: &[Path], size: [f64; 2], boxes: &[Boxed]) -> Option<Vec<[f64; 2]>> {
    let lines: Vec<Vec<[f64; 2]>> = outline.iter().map(Path::corners).collect();
    let face = Face {
        lines: &lines,
        size,
    };
    let one_row = LIFTS.iter().find_map(|lift| face.row(boxes, *lift));
    one_row.or_else(|| (2..=boxes.len()).find_map(|rows| face.rows(boxes, rows)))
}

struct Face<'a> {
    lines: &'a [Vec<[f64; 2]>],
    size: [f64; 2],
}

impl Face<'_> {
    fn row(&self, boxes: &[Boxed], lift: f64) -> Option<Vec<[f64; 2]>> {
        let [_, high] = self.size;
        let foot = |of: &Boxed| match of.on_ground {
            true => 0.0,
            false => (high - of.size[1]) * lift,
        };
        let feet: Vec<f64> = boxes.iter().map(foot).collect();
        let tops = boxes.iter().zip(&feet).map(|(of, foot)| foot + of.size[1]);
        let top = tops.fold(0.0, f64::max);
        let least = feet.iter().copied().fold(high, f64::min);
        let places = self.spaced(boxes, least, top)?;
        Some(
            places
                .into_iter()
                .zip(feet)
                .map(|(x, foot)| [x, foot])
                .collect(),
        )
    }

    /// So many rows, each in a level strip of its own, the first ones on top.
    fn rows(&self, boxes: &[Boxed], rows: usize) -> Option<Vec<[f64; 2]>> {
        let [_, high] = self.size;
        let strip = high / rows as f64;
        let mut places = Vec::with_capacity(boxes.len());
        for (number, row) in boxes.chunks(boxes.len().div_ceil(rows)).enumerate() {
            let tallest = row.iter().map(|of| of.size[1]).fold(0.0, f64::max);
            if tallest > strip {
                return None;
            }
            let foot = high - strip * (number as f64 + 1.0) + (strip - tallest) / 2.0;
            let spaced = self.spaced(row, foot, foot + tallest)?;
            places.extend(spaced.into_iter().map(|x| [x, foot]));
        }
        Some(places)
    }

    /// The left ends of boxes in a row with equal gaps between and beside them, in the widest part
    /// of the face that is free between two heights.
    fn spaced(&self, boxes: &[Boxed], from: f64, to: f64) -> Option<Vec<f64>> {
        let [wide, high] = self.size;
        let room = NOISE * high;
        if from < -room || to > high + room {
            return None;
        }
        let [left, right] = self.widest(from + room, to - room)?;
        let taken: f64 = boxes.iter().map(|of| of.size[0]).sum();
        let free = right - left - taken;
        if free < -NOISE * wide {
            return None;
        }
        let gap = free.max(0.0) / (boxes.len() as f64 + 1.0);
        let mut x = left;
        let place = |of: &Boxed| {
            let here = x + gap;
            x = here + of.size[0];
            here
        };
        Some(boxes.iter().map(place).collect())
    }

    /// The widest part between two heights that no edge runs through.
    fn widest(&self, from: f64, to: f64) -> Option<[f64; 2]> {
        let middle = f64::midpoint(from, to);
        let (mut crossings, mut blocked) = (Vec::new(), Vec::new());
        for line in self.lines {
            for (a, b) in line.iter().zip(line.iter().cycle().skip(1)) {
                let ([x1, y1], [x2, y2]) = (*a, *b);
                if y1.max(y2) <= from || y1.min(y2) >= to {
                    continue;
                }
                let at = |y: f64| x1 + (x2 - x1) * ((y - y1) / (y2 - y1)).clamp(0.0, 1.0);
                let ends = if y1 == y2 {
                    [x1, x2]
                } else {
                    [at(y1.clamp(from, to)), at(y2.clamp(from, to))]
                };
                blocked.push([ends[0].min(ends[1]), ends[0].max(ends[1])]);
                if (y1 <= middle) != (y2 <= middle) {
                    crossings.push(at(middle));
                }
            }
        }
        crossings.sort_by(f64::total_cmp);
        blocked.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let inside = crossings.chunks_exact(2).filter_map(|pair| match pair {
            [a, b] => Some([*a, *b]),
            _ => None,
        });
        let free = inside.flat_map(|part| without(part, &blocked));
        free.max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))
    }
}

/// What parts that are blocked, in order, leave of another.
fn without([mut left, right]: [f64; 2], blocked: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut free = Vec::new();
    for [from, to] in blocked {
        if *from > left && *from <= right {
            free.push([left, *from]);
        }
        if *from <= right {
            left = left.max(*to);
        }
    }
    if left < right {
        free.push([left, right]);
    }
    free
}
