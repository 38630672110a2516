//! Shapes: sizes looked up and checked.

use super::values::Values;
use crate::job::{Figure, Shape};
use parge_base::{Dim, Spanned};
use parge_grammar::ast::{self, Expr, Form};
use std::f64::consts::TAU;

impl Values<'_> {
    /// A shape with all its sizes, or `None` after every fault in it was reported.
    pub(super) fn shape(&mut self, shape: &ast::Shape, of: &str) -> Option<Spanned<Shape>> {
        let mut length =
            |expr: &Expr, what: &str| self.size(expr, Dim::LENGTH, &format!("the {what} of {of}"));
        let node = match &shape.node {
            Form::Rect { width, height } => {
                let sizes = [length(width, "width"), length(height, "height")];
                Shape::Rect(all(sizes)?)
            }
            Form::Triangle { base, height } => {
                let sizes = [length(base, "base"), length(height, "height")];
                Shape::Triangle(all(sizes)?)
            }
            Form::TriangleSides(sides) => {
                let [a, b, c] = sides.as_ref();
                let sizes = [
                    length(a, "first side"),
                    length(b, "second side"),
                    length(c, "third side"),
                ];
                Shape::TriangleSides(all(sizes)?)
            }
            Form::Trapezoid {
                bottom,
                top,
                height,
            } => {
                let sizes = [
                    length(bottom, "bottom"),
                    length(top, "top"),
                    length(height, "height"),
                ];
                Shape::Trapezoid(all(sizes)?)
            }
            Form::Polygon(points) => self.polygon(points, of)?,
            Form::Circle { diameter } => Shape::Circle(length(diameter, "diameter")?),
            Form::Arch { width, height } => {
                let sizes = [length(width, "width"), length(height, "height")];
                Shape::Arch(all(sizes)?)
            }
            Form::Cylinder {
                diameter,
                sweep,
                height,
            } => {
                let sizes = [length(diameter, "diameter"), length(height, "height")];
                let sweep = sweep.as_ref().map(|sweep| self.sweep(sweep, of));
                let sweep = match sweep {
                    Some(found) => Some(found?),
                    None => None,
                };
                Shape::Cylinder(all(sizes)?, sweep)
            }
            Form::Frustum {
                bottom,
                top,
                height,
            } => {
                let sizes = [
                    length(bottom, "diameter at the bottom"),
                    length(top, "diameter at the top"),
                    length(height, "height"),
                ];
                Shape::Frustum(all(sizes)?)
            }
            Form::Arc {
                radius,
                sweep,
                height,
            } => {
                let (radius, height) = (length(radius, "radius"), length(height, "height"));
                let sweep = self.sweep(sweep, of);
                Shape::Arc(all([radius, sweep, height])?)
            }
        };
        Some(Spanned::new(node, shape.span))
    }

    fn polygon(&mut self, points: &[(Expr, Expr)], of: &str) -> Option<Shape> {
        let what = format!("a corner of {of}");
        let corners: Vec<_> = points
            .iter()
            .map(|(x, y)| {
                all([
                    self.of_kind(x, Dim::LENGTH, &what),
                    self.of_kind(y, Dim::LENGTH, &what),
                ])
            })
            .collect();
        Some(Shape::Polygon(corners.into_iter().collect::<Option<_>>()?))
    }

    fn sweep(&mut self, expr: &Expr, of: &str) -> Option<Figure> {
        let what = format!("the sweep of {of}");
        let figure = self.of_kind(expr, Dim::NONE, &what)?;
        // A full round in degrees may come out a rounding step above τ.
        let within = |angle: f64| angle > 0.0 && angle <= TAU * (1.0 + 1e-12);
        self.within(
            figure,
            &what,
            within,
            "an angle of at most 360deg",
            "write it in degrees: `sweep 90deg`",
        )
    }
}

fn all<const N: usize>(figures: [Option<Figure>; N]) -> Option<[Figure; N]> {
    let found: Vec<Figure> = figures.into_iter().collect::<Option<_>>()?;
    found.try_into().ok()
}
