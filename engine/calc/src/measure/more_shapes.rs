//! The measures of the shapes that come up less often.
//!
//! Formulas are those of handbooks of mensuration (*Machinery's Handbook*, "Mensuration"; from
//! memory); the edge of an ellipse is Ramanujan's second approximation (1914; from memory).

use super::geometry::{Measures, Outcome, ShapeError};
use super::ops::Geometry;
use crate::job::Figure;
use parge_base::trace::Comparison;
use parge_base::{Function, NodeId, Operator};
use std::f64::consts::PI;

impl Geometry<'_> {
    /// `area = π w h / 4`. The edge, for half axes a and b and `q = ((a-b)/(a+b))²`, is
    /// `π (a+b) (1 + 3q / (10 + √(4 - 3q)))`; its upper half is top, its lower bottom.
    pub(super) fn ellipse(&mut self, w: NodeId, h: NodeId) -> Outcome<Measures> {
        let (a, b) = (self.half(w)?, self.half(h)?);
        let pi = self.number(PI);
        let product = self.times(a, b)?;
        let area = self.times(pi, product)?;
        let (sum, difference) = (self.plus(a, b)?, self.minus(a, b)?);
        let ratio = self.over(difference, sum)?;
        let q = self.times(ratio, ratio)?;
        let (one, three, four, ten) = (
            self.number(1.0),
            self.number(3.0),
            self.number(4.0),
            self.number(10.0),
        );
        let q3 = self.times(three, q)?;
        let under = self.minus(four, q3)?;
        let root = self.apply(Function::Root, under)?;
        let below = self.plus(ten, root)?;
        let extra = self.over(q3, below)?;
        let factor = self.plus(one, extra)?;
        let around = self.times(pi, sum)?;
        let edge = self.times(around, factor)?;
        let half = self.half(edge)?;
        let none = self.nothing();
        self.flat(area, w, h, [half, half, none])
    }

    /// `area = π (D² - d²) / 4`; the outer edge is top and bottom, the inner one sides.
    pub(super) fn ring(&mut self, outer: NodeId, inner: NodeId) -> Outcome<Measures> {
        if self.is(inner, Comparison::GreaterOrEqual, outer)? {
            let text = "the hole is as large as the ring, or larger";
            return Err(ShapeError::Impossible(
                text.into(),
                "write the outer diameter first: `ring 6ft to 4ft`",
            ));
        }
        let (r1, r2) = (self.half(outer)?, self.half(inner)?);
        let (square1, square2) = (self.times(r1, r1)?, self.times(r2, r2)?);
        let between = self.minus(square1, square2)?;
        let pi = self.number(PI);
        let area = self.times(pi, between)?;
        let half_round = self.times(pi, r1)?;
        let hole = self.times(pi, inner)?;
        self.flat(area, outer, outer, [half_round, half_round, hole])
    }

    /// A rectangle under a segment of a circle. With half the width `a` and the rise `r` the
    /// circle's radius is `R = (a² + r²) / 2r`, half its angle `θ = asin(a/R)`; the segment has
    /// the area `R² θ - a (R - r)` and the edge `2 R θ`.
    pub(super) fn segment_arch(&mut self, w: NodeId, h: NodeId, rise: NodeId) -> Outcome<Measures> {
        let a = self.half(w)?;
        // A rise of exactly half the width is the half circle, whatever the last digit says.
        if self.is(rise, Comparison::Greater, a)? {
            let text = "the rise is more than half the width, so it is no segment of a circle";
            return Err(ShapeError::Impossible(
                text.into(),
                "for a half circle leave the rise out: `arch 4ft x 7ft`",
            ));
        }
        let upright = self.minus(h, rise)?;
        let none = self.nothing();
        if self.is(upright, Comparison::Less, none)? {
            let text = "the rise is more than the whole height";
            return Err(ShapeError::Impossible(
                text.into(),
                "give the height at the crown, with the rise in it",
            ));
        }
        let (a2, r2) = (self.times(a, a)?, self.times(rise, rise)?);
        let squares = self.plus(a2, r2)?;
        let double_rise = self.twice(rise)?;
        let radius = self.over(squares, double_rise)?;
        let sine = self.over(a, radius)?;
        let one = self.number(1.0);
        let sine = self.combine(Operator::Min, sine, one)?;
        let angle = self.apply(Function::ArcSine, sine)?;
        let square = self.times(radius, radius)?;
        let sector = self.times(square, angle)?;
        let below_crown = self.minus(radius, rise)?;
        let triangle = self.times(a, below_crown)?;
        let segment = self.minus(sector, triangle)?;
        let rectangle = self.times(w, upright)?;
        let area = self.plus(rectangle, segment)?;
        let half_edge = self.times(radius, angle)?;
        let crown = self.twice(half_edge)?;
        let sides = self.twice(upright)?;
        self.flat(area, w, h, [crown, w, sides])
    }

    /// The slope of a cone: `area = π r s` with `s = √(r² + h²)`.
    pub(super) fn cone(&mut self, diameter: NodeId, height: NodeId) -> Outcome<Measures> {
        let radius = self.half(diameter)?;
        let slope = self.hypotenuse(radius, height)?;
        let pi = self.number(PI);
        let half_around = self.times(pi, radius)?;
        let area = self.times(half_around, slope)?;
        let around = self.twice(half_around)?;
        let none = self.nothing();
        let mut measures = self.flat(area, around, slope, [none, around, none])?;
        measures.upright = height;
        measures.radius = Some(radius);
        Ok(measures)
    }

    /// A cap of a sphere: `area = π (a² + h²)` with `a` half the diameter at the foot; the
    /// sphere's radius is `(a² + h²) / 2h`.
    pub(super) fn dome(&mut self, diameter: NodeId, height: NodeId) -> Outcome<Measures> {
        let a = self.half(diameter)?;
        let (a2, h2) = (self.times(a, a)?, self.times(height, height)?);
        let squares = self.plus(a2, h2)?;
        let pi = self.number(PI);
        let area = self.times(pi, squares)?;
        let around = self.times(pi, diameter)?;
        let double_height = self.twice(height)?;
        let radius = self.over(squares, double_height)?;
        let none = self.nothing();
        let mut measures = self.flat(area, around, height, [none, around, none])?;
        measures.radius = Some(radius);
        Ok(measures)
    }

    /// A wall by its heights along the way: trapezoids, or rectangles where it goes in steps.
    pub(super) fn stations(
        &mut self,
        stepped: bool,
        stations: &[[Figure; 2]],
    ) -> Outcome<Measures> {
        self.check_stations(stepped, stations)?;
        let (mut areas, mut tops, mut rises) = (Vec::new(), Vec::new(), Vec::new());
        for ([x1, h1], [x2, h2]) in stations.iter().zip(stations.iter().skip(1)) {
            let run = self.minus(x2.node, x1.node)?;
            // Looked at above already; a replay and a workbook look here.
            let none = self.nothing();
            self.is(run, Comparison::Greater, none)?;
            let rise = self.minus(h2.node, h1.node)?;
            if stepped {
                areas.push(self.times(run, h1.node)?);
                tops.push(run);
                rises.push(self.apply(Function::Abs, rise)?);
            } else {
                let both = self.plus(h1.node, h2.node)?;
                let mean = self.half(both)?;
                areas.push(self.times(run, mean)?);
                tops.push(self.hypotenuse(run, rise)?);
            }
        }
        let (area, top) = (self.sum(&areas)?, self.sum(&tops)?);
        let heights: Vec<NodeId> = stations.iter().map(|[_, height]| height.node).collect();
        let (first, last) = match (stations, heights.as_slice()) {
            ([[start, _], .., [end, _]], [first, .., last]) => {
                let bottom = self.minus(end.node, start.node)?;
                rises.extend([*first, *last]);
                (bottom, self.fold(Operator::Max, &heights)?)
            }
            _ => return Err(too_few()),
        };
        let sides = self.sum(&rises)?;
        self.flat(area, first, last, [top, first, sides])
    }

    fn check_stations(&self, stepped: bool, stations: &[[Figure; 2]]) -> Outcome<()> {
        let sizes: Vec<[f64; 2]> = stations
            .iter()
            .map(|[x, h]| [self.size(x.node), self.size(h.node)])
            .collect();
        if sizes.len() < 2 {
            return Err(too_few());
        }
        let impossible = |text: String, help| Err(ShapeError::Impossible(text, help));
        for (at, (here, next)) in sizes.iter().zip(sizes.iter().skip(1)).enumerate() {
            if next[0] <= here[0] {
                let text = format!("station {} does not come behind station {}", at + 2, at + 1);
                return impossible(
                    text,
                    "name the stations in order along the wall, by their distance from its beginning",
                );
            }
        }
        if let Some(at) = sizes.iter().position(|[_, height]| *height < 0.0) {
            return impossible(
                format!("the height at station {} is less than nothing", at + 1),
                "heights are measured up from the foot",
            );
        }
        if let (true, [.., before, last]) = (stepped, sizes.as_slice())
            && last[1] != 0.0
            && (last[1] - before[1]).abs() > 1e-9
        {
            let text = "the height at the last station holds for nothing: in a stepped wall it ends the last step";
            return impossible(
                text.into(),
                "repeat the height of the last step there, or write 0ft",
            );
        }
        Ok(())
    }

    /// What was measured on the wall: as wide as its area over its height, standing on that
    /// width; the rest of the edge is sides.
    pub(super) fn measured(
        &mut self,
        area: NodeId,
        around: NodeId,
        high: NodeId,
    ) -> Outcome<Measures> {
        let (size, edge) = (self.size(area), self.size(around));
        // No edge is shorter than the circle's around the same area.
        if edge * edge < 4.0 * PI * size * (1.0 - 1e-9) {
            let text = "an edge that short cannot go around that area";
            return Err(ShapeError::Impossible(
                text.into(),
                "measure the area and the length around again",
            ));
        }
        let width = self.over(area, high)?;
        let left = self.minus(around, width)?;
        let none = self.nothing();
        let sides = self.combine(Operator::Max, left, none)?;
        self.flat(area, width, high, [none, width, sides])
    }
}

fn too_few() -> ShapeError {
    let text = "a wall by stations has at least two of them";
    ShapeError::Impossible(
        text.into(),
        "write distance and height of each: `stations (0ft, 4ft) (12ft, 6ft)`",
    )
}

#[cfg(test)]
mod tests;
