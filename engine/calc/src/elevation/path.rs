//! Closed lines of straight edges and arcs.

use std::f64::consts::PI;

/// How far an arc turns from one point to the next where it is taken for straight pieces.
const STEP: f64 = PI / 90.0;

/// An edge from where the one before ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// Straight to a point.
    Line([f64; 2]),
    /// Along a circle or an ellipse that is not turned.
    Arc {
        /// Where it ends.
        to: [f64; 2],
        /// Half axes across and up.
        radii: [f64; 2],
        /// Whether it is the longer one of the two that there are.
        large: bool,
        /// Whether it goes round to the left, counter-clockwise.
        left: bool,
    },
}

impl Edge {
    /// Where it ends.
    pub fn end(self) -> [f64; 2] {
        match self {
            Self::Line(to) | Self::Arc { to, .. } => to,
        }
    }
}

/// A closed line: after the last edge it goes straight back to its start.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// Where it begins.
    pub start: [f64; 2],
    /// Edge by edge.
    pub edges: Vec<Edge>,
}

impl Path {
    /// A line through corners.
    pub(super) fn polygon(corners: &[[f64; 2]]) -> Self {
        let (start, rest) = corners.split_first().unwrap_or((&[0.0, 0.0], &[]));
        Self {
            start: *start,
            edges: rest.iter().map(|corner| Edge::Line(*corner)).collect(),
        }
    }

    /// An ellipse with such half axes around a point.
    pub(super) fn ellipse([x, y]: [f64; 2], radii: [f64; 2]) -> Self {
        let half = |to: f64| Edge::Arc {
            to: [to, y],
            radii,
            large: false,
            left: true,
        };
        let [a, _] = radii;
        Self {
            start: [x - a, y],
            edges: vec![half(x + a), half(x - a)],
        }
    }

    /// The same elsewhere.
    pub fn moved(&self, [dx, dy]: [f64; 2]) -> Self {
        self.mapped(false, |[x, y]| [x + dx, y + dy])
    }

    /// The same upside down, at the other side of the height 0.
    pub(super) fn upside_down(&self) -> Self {
        self.mapped(true, |[x, y]| [x, -y])
    }

    fn mapped(&self, turned: bool, map: impl Fn([f64; 2]) -> [f64; 2]) -> Self {
        let edge = |edge: &Edge| match *edge {
            Edge::Line(to) => Edge::Line(map(to)),
            Edge::Arc {
                to,
                radii,
                large,
                left,
            } => Edge::Arc {
                to: map(to),
                radii,
                large,
                left: left != turned,
            },
        };
        Self {
            start: map(self.start),
            edges: self.edges.iter().map(edge).collect(),
        }
    }

    /// The line as corners, with arcs taken for straight pieces of two degrees.
    pub fn corners(&self) -> Vec<[f64; 2]> {
        let mut corners = vec![self.start];
        let mut from = self.start;
        for edge in &self.edges {
            if let Edge::Arc {
                to,
                radii,
                large,
                left,
            } = *edge
            {
                corners.extend(along(from, to, radii, large, left));
            }
            from = edge.end();
            corners.push(from);
        }
        corners
    }
}

/// Points between the ends of an arc.
fn along(from: [f64; 2], to: [f64; 2], [a, b]: [f64; 2], large: bool, left: bool) -> Vec<[f64; 2]> {
    // On the circle of radius 1 that the ellipse becomes when its axes are made equal.
    let on_circle = |[x, y]: [f64; 2]| [x / a, y / b];
    let ([x1, y1], [x2, y2]) = (on_circle(from), on_circle(to));
    let (dx, dy) = (x2 - x1, y2 - y1);
    let chord = dx.hypot(dy);
    if chord == 0.0 {
        return Vec::new();
    }
    // The centre lies this far off the chord, on one side or the other.
    let off = (1.0 - chord * chord / 4.0).max(0.0).sqrt();
    let side = if large == left { -1.0 } else { 1.0 };
    let centre = [
        f64::midpoint(x1, x2) - side * off * dy / chord,
        f64::midpoint(y1, y2) + side * off * dx / chord,
    ];
    let angle = |x: f64, y: f64| (y - centre[1]).atan2(x - centre[0]);
    let (begin, end) = (angle(x1, y1), angle(x2, y2));
    let turn = if left { end - begin } else { begin - end }.rem_euclid(2.0 * PI);
    let steps = (turn / STEP).ceil().max(1.0);
    // An even number, so that the middle of the arc, its highest or lowest point, is one.
    let steps = steps as usize + steps as usize % 2;
    let sense = if left { 1.0 } else { -1.0 };
    let at = |step: usize| {
        let angle = begin + sense * turn * step as f64 / steps as f64;
        [a * (centre[0] + angle.cos()), b * (centre[1] + angle.sin())]
    };
    (1..steps).map(at).collect()
}
