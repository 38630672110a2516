//! What a level strip covers of a polygon.

use super::outline::Interval;

/// The parts of the width over which some of the polygon lies between two heights: the edges as
/// far as they run there, and what lies between edges at the two heights themselves.
pub(super) fn strips(corners: &[[f64; 2]], from: f64, to: f64) -> Vec<Interval> {
    let mut parts = Vec::new();
    let (mut low, mut high) = (Vec::new(), Vec::new());
    let ends = corners.iter().cycle().skip(1);
    for ([x1, y1], [x2, y2]) in corners.iter().zip(ends) {
        let at = |y: f64| x1 + (x2 - x1) * ((y - y1) / (y2 - y1)).clamp(0.0, 1.0);
        // Just above the lower height, and just below the upper one.
        if (*y1 <= from) != (*y2 <= from) {
            low.push(at(from));
        }
        if (*y1 < to) != (*y2 < to) {
            high.push(at(to));
        }
        if y1.max(*y2) <= from || y1.min(*y2) >= to {
            continue;
        }
        let (a, b) = if y1 == y2 {
            (*x1, *x2)
        } else {
            (at(y1.clamp(from, to)), at(y2.clamp(from, to)))
        };
        parts.push([a.min(b), a.max(b)]);
    }
    for mut crossings in [low, high] {
        crossings.sort_by(f64::total_cmp);
        parts.extend(crossings.chunks_exact(2).filter_map(|pair| match pair {
            [a, b] => Some([*a, *b]),
            _ => None,
        }));
    }
    union(parts)
}

/// The same parts without those that lie over each other.
pub(super) fn union(mut parts: Vec<Interval>) -> Vec<Interval> {
    parts.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut whole: Vec<Interval> = Vec::new();
    for [from, to] in parts {
        match whole.last_mut() {
            Some(last) if from <= last[1] => last[1] = last[1].max(to),
            _ => whole.push([from, to]),
        }
    }
    whole.retain(|[from, to]| to > from);
    whole
}
