//! Shapes: sizes looked up and checked.

use super::site::Scoped;
use super::values::Values;
use crate::contract::{COUNTED_SIZE, SHAPES};
use crate::job::{Figure, Shape};
use parge_base::{Code, Diagnostic, Dim, Spanned, suggest};
use parge_grammar::ast::{self, Expr, Form, Name};
use std::f64::consts::TAU;

impl<'p> Values<'p> {
    /// A shape with all its sizes, or `None` after every fault in it was reported. `inherited` is
    /// the height for a shape that leaves it out.
    pub(super) fn shape(
        &mut self,
        shape: &'p ast::Shape,
        of: &str,
        inherited: Option<Scoped<'p, Expr>>,
    ) -> Option<Spanned<Shape>> {
        let open = |height: &'p Option<Expr>| (height.as_ref(), inherited);
        let mut length =
            |expr: &Expr, what: &str| self.size(expr, Dim::LENGTH, &format!("the {what} of {of}"));
        let node = match &shape.node {
            Form::Rect { width, height } => {
                let width = length(width, "width");
                let height = self.height(open(height), shape, of);
                Shape::Rect(all([width, height])?)
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
            Form::Polygon(points) => Shape::Polygon(self.points(points, "a corner", of)?),
            Form::Stations { stepped, stations } => Shape::Stations {
                stepped: *stepped,
                stations: self.points(stations, "a station", of)?,
            },
            Form::Ellipse { width, height } => {
                let sizes = [length(width, "width"), length(height, "height")];
                Shape::Ellipse(all(sizes)?)
            }
            Form::Ring { outer, inner } => {
                let sizes = [
                    length(outer, "outer diameter"),
                    length(inner, "inner diameter"),
                ];
                Shape::Ring(all(sizes)?)
            }
            Form::SegmentArch {
                width,
                height,
                rise,
            } => {
                let sizes = [
                    length(width, "width"),
                    length(height, "height"),
                    length(rise, "rise"),
                ];
                Shape::SegmentArch(all(sizes)?)
            }
            Form::Cone { diameter, height } => {
                let sizes = [length(diameter, "diameter"), length(height, "height")];
                Shape::Cone(all(sizes)?)
            }
            Form::Dome { diameter, height } => {
                let sizes = [length(diameter, "diameter"), length(height, "height")];
                Shape::Dome(all(sizes)?)
            }
            Form::OfPack { name, sizes } => self.shape_of_pack(name, sizes, of)?,
            Form::Measured {
                area,
                around,
                high,
                reason,
            } => {
                let sizes = [length(around, "length around"), length(high, "height")];
                let area = self.size(area, Dim::AREA, &format!("the area of {of}"));
                let [around, high] = all(sizes)?;
                Shape::Measured([area?, around, high], reason.node.clone())
            }
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
                let diameter = length(diameter, "diameter");
                let height = self.height(open(height), shape, of);
                let sweep = sweep.as_ref().map(|sweep| self.sweep(sweep, of));
                let sweep = match sweep {
                    Some(found) => Some(found?),
                    None => None,
                };
                Shape::Cylinder(all([diameter, height])?, sweep)
            }
            Form::Frustum {
                bottom,
                top,
                height,
            } => {
                let bottom = length(bottom, "diameter at the bottom");
                let top = length(top, "diameter at the top");
                let height = self.height(open(height), shape, of);
                Shape::Frustum(all([bottom, top, height])?)
            }
            Form::Arc {
                radius,
                sweep,
                height,
            } => {
                let radius = length(radius, "radius");
                let height = self.height(open(height), shape, of);
                let sweep = self.sweep(sweep, of);
                Shape::Arc(all([radius, sweep, height])?)
            }
        };
        Some(Spanned::new(node, shape.span))
    }

    /// A shape of the rule pack, whose table says how many sizes it has and what they are.
    fn shape_of_pack(&mut self, name: &Name, sizes: &'p [Expr], of: &str) -> Option<Shape> {
        let known = self.tables.keys(SHAPES, &[]).unwrap_or_default();
        if !known.contains(&name.node.as_str()) {
            let message = format!("the rule pack has no shape `{}`", name.node);
            let help = match known.is_empty() {
                true => {
                    "this pack adds no shapes: write one of the language, such as `rect 22ft x 4ft`"
                        .to_owned()
                }
                false => suggest::help_for(&name.node, known),
            };
            self.diagnostics
                .push(Diagnostic::new(Code::UnknownWord, message, help).at(name.span, ""));
            return None;
        }
        let wanted = self.tables.keys(SHAPES, &[&name.node]).unwrap_or_default();
        if wanted.len() != sizes.len() {
            let message = format!(
                "shape `{}` takes {} sizes, and gets {}",
                name.node,
                wanted.len(),
                sizes.len()
            );
            let help = format!("write `shape {}({})`", name.node, wanted.join(", "));
            self.diagnostics
                .push(Diagnostic::new(Code::WrongSizes, message, help).at(name.span, ""));
            return None;
        }
        let found: Vec<_> = wanted
            .iter()
            .zip(sizes)
            .map(|(size, expr)| {
                let what = format!("the size `{size}` of {of}");
                let words = self.tables.text(SHAPES, &[&name.node, size]);
                let is_counted = words.is_some_and(|words| words.starts_with(COUNTED_SIZE));
                let figure = match is_counted {
                    true => self.counted(expr, &what),
                    false => self.size(expr, Dim::LENGTH, &what),
                };
                Some(((*size).to_owned(), figure?))
            })
            .collect();
        let sizes = found.into_iter().collect::<Option<_>>()?;
        Some(Shape::OfPack(name.node.clone(), sizes))
    }

    /// A size that counts something: a whole number, which may be none.
    fn counted(&mut self, expr: &'p Expr, what: &str) -> Option<Figure> {
        let figure = self.of_kind(expr, Dim::NONE, what)?;
        self.within(
            figure,
            what,
            |number| number >= 0.0 && number.fract() == 0.0,
            "a whole number, 0 where there is none",
            "write it without a unit, such as `4`",
        )
    }

    /// The height that a shape states, or else its structure's.
    fn height(
        &mut self,
        (own, inherited): (Option<&'p Expr>, Option<Scoped<'p, Expr>>),
        shape: &ast::Shape,
        of: &str,
    ) -> Option<Figure> {
        let what = format!("the height of {of}");
        match (own, inherited) {
            (Some(own), _) => self.size(own, Dim::LENGTH, &what),
            (None, Some(inherited)) => self.elsewhere(inherited, |values, expr| {
                values.size(expr, Dim::LENGTH, &what)
            }),
            (None, None) if self.may_be_in_template() => None,
            (None, None) => {
                let message = format!("nothing says how high {of} is");
                let help = "write it behind an `x`, as in `rect 22ft x 4ft`, or once for all faces in the structure's block: `height 4ft`";
                self.diagnostics
                    .push(Diagnostic::new(Code::MissingSetting, message, help).at(shape.span, ""));
                None
            }
        }
    }

    fn points(
        &mut self,
        points: &[(Expr, Expr)],
        what: &str,
        of: &str,
    ) -> Option<Vec<[Figure; 2]>> {
        let what = format!("{what} of {of}");
        let points: Vec<_> = points
            .iter()
            .map(|(x, y)| {
                all([
                    self.of_kind(x, Dim::LENGTH, &what),
                    self.of_kind(y, Dim::LENGTH, &what),
                ])
            })
            .collect();
        points.into_iter().collect()
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
