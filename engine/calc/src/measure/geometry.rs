//! The measures of each shape, as expressions on the job's tape.
//!
//! Formulas are those of plane and solid mensuration as handbooks print them: Heron's formula
//! for three sides, the shoelace formula for a polygon, the developed surfaces of cylinder and
//! cone frustum (*Machinery's Handbook*, "Mensuration"; from memory).
//!
//! A curved face is measured developed: its width is the length around. Edges are named as they
//! stand on the wall: what it stands on is the bottom, what sheds water is the top, the rest
//! are sides. A polygon's edge is top or bottom when it is at most 45° from level.

use super::ops::Geometry;
use crate::job::{Figure, Shape};
use parge_base::trace::Comparison;
use parge_base::{Function, NodeId, Operator, QuantityError, Span, Tape};
use std::f64::consts::PI;

/// What a shape measures. All nodes are of the job's tape.
#[derive(Debug, Clone, Copy)]
pub struct Measures {
    /// Area.
    pub area: NodeId,
    /// Length of the whole edge.
    pub perimeter: NodeId,
    /// Width; the length around for a curved face.
    pub width: NodeId,
    /// Height; along the slope for a tapered column.
    pub height: NodeId,
    /// Height above its foot, measured upright.
    pub upright: NodeId,
    /// Length of the top edge.
    pub top: NodeId,
    /// Length of the bottom edge.
    pub bottom: NodeId,
    /// Length of the edges at the sides.
    pub sides: NodeId,
    /// Radius of a curved face; the smallest where it varies.
    pub radius: Option<NodeId>,
}

/// Why sizes make no shape.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShapeError {
    /// An expression of the formula has no value.
    NoValue(String),
    /// What does not fit, and what to do.
    Impossible(String, &'static str),
}

impl From<QuantityError> for ShapeError {
    fn from(error: QuantityError) -> Self {
        Self::NoValue(error.to_string())
    }
}

pub(super) type Outcome<T> = Result<T, ShapeError>;

/// Measures a shape; `span` is where it is written.
pub fn measure(tape: &mut Tape, shape: &Shape, span: Span) -> Outcome<Measures> {
    let mut geo = Geometry { tape, span };
    match shape {
        Shape::Rect([w, h]) => geo.rect(w.node, h.node),
        Shape::Triangle([base, height]) => geo.triangle(base.node, height.node),
        Shape::TriangleSides([a, b, c]) => geo.triangle_sides(a.node, b.node, c.node),
        Shape::Trapezoid([bottom, top, height]) => {
            geo.trapezoid(bottom.node, top.node, height.node)
        }
        Shape::Polygon(points) => geo.polygon(points),
        Shape::Circle(diameter) => geo.circle(diameter.node),
        Shape::Arch([w, h]) => geo.arch(w.node, h.node),
        Shape::Cylinder([diameter, height], sweep) => {
            let radius = geo.half(diameter.node)?;
            match sweep {
                Some(sweep) => geo.arc(radius, sweep.node, height.node),
                None => geo.cylinder(radius, height.node),
            }
        }
        Shape::Frustum([bottom, top, height]) => geo.frustum(bottom.node, top.node, height.node),
        Shape::Arc([radius, sweep, height]) => geo.arc(radius.node, sweep.node, height.node),
        Shape::Ellipse([w, h]) => geo.ellipse(w.node, h.node),
        Shape::Ring([outer, inner]) => geo.ring(outer.node, inner.node),
        Shape::SegmentArch([w, h, rise]) => geo.segment_arch(w.node, h.node, rise.node),
        Shape::Cone([diameter, height]) => geo.cone(diameter.node, height.node),
        Shape::Dome([diameter, height]) => geo.dome(diameter.node, height.node),
        Shape::Stations { stepped, stations } => geo.stations(*stepped, stations),
        Shape::Measured([area, around, high], _) => geo.measured(area.node, around.node, high.node),
        // These rest on more than their own sizes: see `super::Faces::shape`.
        Shape::Reveal(_) | Shape::OfPack(..) => Err(ShapeError::NoValue(
            "this shape is not measured by a formula".to_owned(),
        )),
    }
}

impl Geometry<'_> {
    fn rect(&mut self, w: NodeId, h: NodeId) -> Outcome<Measures> {
        let area = self.times(w, h)?;
        let sides = self.twice(h)?;
        self.flat(area, w, h, [w, w, sides])
    }

    /// Isosceles: `area = base × height / 2`, each slope `√((base/2)² + height²)`.
    fn triangle(&mut self, base: NodeId, height: NodeId) -> Outcome<Measures> {
        let double = self.times(base, height)?;
        let area = self.half(double)?;
        let run = self.half(base)?;
        let slope = self.hypotenuse(run, height)?;
        let slopes = self.twice(slope)?;
        let none = self.nothing();
        self.flat(area, base, height, [slopes, base, none])
    }

    /// Heron: `area = √(s (s-a) (s-b) (s-c))` with `s = (a+b+c)/2`; the first side is the bottom.
    fn triangle_sides(&mut self, a: NodeId, b: NodeId, c: NodeId) -> Outcome<Measures> {
        let around = self.sum(&[a, b, c])?;
        let s = self.half(around)?;
        let mut product = s;
        let none = self.nothing();
        for side in [a, b, c] {
            let rest = self.minus(s, side)?;
            if self.is(rest, Comparison::LessOrEqual, none)? {
                let text = "the longest side is no shorter than the other two together";
                return Err(ShapeError::Impossible(text.into(), "check the three sides"));
            }
            product = self.times(product, rest)?;
        }
        let area = self.apply(Function::Root, product)?;
        let double = self.twice(area)?;
        let height = self.over(double, a)?;
        let slopes = self.plus(b, c)?;
        self.flat(area, a, height, [slopes, a, none])
    }

    /// Symmetric: `area = (bottom + top) / 2 × height`, each leg `√(((bottom-top)/2)² + height²)`.
    fn trapezoid(&mut self, bottom: NodeId, top: NodeId, height: NodeId) -> Outcome<Measures> {
        let both = self.plus(bottom, top)?;
        let middle = self.half(both)?;
        let area = self.times(middle, height)?;
        let spread = self.minus(bottom, top)?;
        let run = self.half(spread)?;
        let leg = self.hypotenuse(run, height)?;
        let legs = self.twice(leg)?;
        let width = self.combine(Operator::Max, bottom, top)?;
        self.flat(area, width, height, [top, bottom, legs])
    }

    /// `area = π d² / 4`; the upper half of the edge is top, the lower bottom.
    fn circle(&mut self, diameter: NodeId) -> Outcome<Measures> {
        let radius = self.half(diameter)?;
        let square = self.times(radius, radius)?;
        let pi = self.number(PI);
        let area = self.times(pi, square)?;
        let half_round = self.times(pi, radius)?;
        let none = self.nothing();
        self.flat(area, diameter, diameter, [half_round, half_round, none])
    }

    /// A rectangle under a half circle: `area = w × (h - w/2) + π (w/2)² / 2`.
    fn arch(&mut self, w: NodeId, h: NodeId) -> Outcome<Measures> {
        let radius = self.half(w)?;
        let upright = self.minus(h, radius)?;
        let none = self.nothing();
        if self.is(upright, Comparison::Less, none)? {
            let text =
                "the height is less than half the width, so there is no room for the half circle";
            return Err(ShapeError::Impossible(
                text.into(),
                "give the height at the crown, at least half the width",
            ));
        }
        let below = self.times(w, upright)?;
        let square = self.times(radius, radius)?;
        let pi = self.number(PI);
        let full = self.times(pi, square)?;
        let above = self.half(full)?;
        let area = self.plus(below, above)?;
        let crown = self.times(pi, radius)?;
        let sides = self.twice(upright)?;
        self.flat(area, w, h, [crown, w, sides])
    }

    /// All around: `area = 2 π r h`.
    fn cylinder(&mut self, radius: NodeId, height: NodeId) -> Outcome<Measures> {
        let turn = self.number(2.0 * PI);
        let around = self.times(turn, radius)?;
        let area = self.times(around, height)?;
        let none = self.nothing();
        let mut measures = self.flat(area, around, height, [around, around, none])?;
        measures.radius = Some(radius);
        Ok(measures)
    }

    /// Part of a round: `area = r × angle × h`.
    fn arc(&mut self, radius: NodeId, sweep: NodeId, height: NodeId) -> Outcome<Measures> {
        let around = self.times(radius, sweep)?;
        let mut measures = self.rect(around, height)?;
        measures.radius = Some(radius);
        Ok(measures)
    }

    /// `area = π (r₁ + r₂) s` with the slope `s = √((r₁-r₂)² + h²)`.
    fn frustum(&mut self, bottom: NodeId, top: NodeId, height: NodeId) -> Outcome<Measures> {
        let (r1, r2) = (self.half(bottom)?, self.half(top)?);
        let taper = self.minus(r1, r2)?;
        let slope = self.hypotenuse(taper, height)?;
        let both = self.plus(r1, r2)?;
        let pi = self.number(PI);
        let mean_around = self.times(pi, both)?;
        let area = self.times(mean_around, slope)?;
        let (low, high) = (self.times(pi, bottom)?, self.times(pi, top)?);
        let width = self.combine(Operator::Max, low, high)?;
        let none = self.nothing();
        let mut measures = self.flat(area, width, slope, [high, low, none])?;
        measures.upright = height;
        measures.radius = Some(self.combine(Operator::Min, r1, r2)?);
        Ok(measures)
    }

    /// Shoelace: `area = |Σ (xᵢ yᵢ₊₁ - xᵢ₊₁ yᵢ)| / 2`.
    fn polygon(&mut self, points: &[[Figure; 2]]) -> Outcome<Measures> {
        let corners: Vec<[f64; 2]> = points
            .iter()
            .map(|[x, y]| [self.size(x.node), self.size(y.node)])
            .collect();
        super::polygon::check(&corners)?;
        let double = self.double_area(points)?;
        let (no_area, no_length) = (self.nothing_of(double), self.nothing());
        let counter_clockwise = self.is(double, Comparison::Greater, no_area)?;
        let size = self.apply(Function::Abs, double)?;
        let area = self.half(size)?;
        let (width, height) = (self.extent(points, 0)?, self.extent(points, 1)?);
        if self.size(area) <= 1e-9 * self.size(width) * self.size(height) {
            let text = "the corners lie in one line: the polygon has no area";
            return Err(ShapeError::Impossible(text.into(), "check the corners"));
        }

        let (mut top, mut bottom, mut sides) = (Vec::new(), Vec::new(), Vec::new());
        let edges = points.iter().zip(points.iter().cycle().skip(1));
        for ([x1, y1], [x2, y2]) in edges {
            let (dx, dy) = (self.minus(x2.node, x1.node)?, self.minus(y2.node, y1.node)?);
            let length = self.hypotenuse(dx, dy)?;
            let (run, rise) = (
                self.apply(Function::Abs, dx)?,
                self.apply(Function::Abs, dy)?,
            );
            if self.is(rise, Comparison::Greater, run)? {
                sides.push(length);
                continue;
            }
            // Walking counter-clockwise the inside is on the left: to the right means below it.
            match self.is(dx, Comparison::Greater, no_length)? == counter_clockwise {
                true => bottom.push(length),
                false => top.push(length),
            }
        }
        let edges = [self.sum(&top)?, self.sum(&bottom)?, self.sum(&sides)?];
        self.flat(area, width, height, edges)
    }

    /// The shoelace formula: twice the area, positive where the corners go round to the left.
    /// Corners are taken from the first one: those of a survey may lie far from its origin, and
    /// products of large numbers would leave few digits for their difference.
    fn double_area(&mut self, points: &[[Figure; 2]]) -> Outcome<NodeId> {
        let Some(([x0, y0], rest)) = points.split_first() else {
            return Ok(self.nothing());
        };
        let mut corners = Vec::with_capacity(rest.len());
        for [x, y] in rest {
            corners.push((self.minus(x.node, x0.node)?, self.minus(y.node, y0.node)?));
        }
        let mut cross = Vec::with_capacity(corners.len());
        for ((x1, y1), (x2, y2)) in corners.iter().zip(corners.iter().skip(1)) {
            let (down, up) = (self.times(*x1, *y2)?, self.times(*x2, *y1)?);
            cross.push(self.minus(down, up)?);
        }
        self.sum(&cross)
    }

    /// The largest coordinate less the smallest.
    fn extent(&mut self, points: &[[Figure; 2]], axis: usize) -> Outcome<NodeId> {
        let nodes: Vec<NodeId> = points
            .iter()
            .filter_map(|point| point.get(axis))
            .map(|f| f.node)
            .collect();
        let most = self.fold(Operator::Max, &nodes)?;
        let least = self.fold(Operator::Min, &nodes)?;
        self.minus(most, least)
    }

    pub(super) fn flat(
        &mut self,
        area: NodeId,
        width: NodeId,
        height: NodeId,
        edges: [NodeId; 3],
    ) -> Outcome<Measures> {
        let [top, bottom, sides] = edges;
        let perimeter = self.sum(&edges)?;
        Ok(Measures {
            area,
            perimeter,
            width,
            height,
            upright: height,
            top,
            bottom,
            sides,
            radius: None,
        })
    }
}

#[cfg(test)]
mod tests;
