//! Shapes.

use super::Reader;
use crate::ast::{Expr, Form, Shape};
use crate::errors::statements;
use crate::syntax::{Pair, Rule};
use parge_base::Spanned;

/// A polygon with fewer corners has no inside.
const FEWEST_CORNERS: usize = 3;

impl Reader<'_> {
    pub(super) fn shape(&self, pair: Pair<'_>) -> Option<Shape> {
        let span = self.span(&pair);
        let form = self.form(pair.into_inner().next()?)?;
        Some(Spanned::new(form, span))
    }

    fn form(&self, pair: Pair<'_>) -> Option<Form> {
        let rule = pair.as_rule();
        if rule == Rule::polygon {
            return self.polygon(pair);
        }
        let sizes = self.exprs(pair)?;
        Some(match (rule, <[Expr; 3]>::try_from(sizes)) {
            (Rule::triangle_sides, Ok(sides)) => Form::TriangleSides(Box::new(sides)),
            (Rule::trapezoid, Ok([bottom, top, height])) => Form::Trapezoid {
                bottom,
                top,
                height,
            },
            (Rule::frustum, Ok([bottom, top, height])) => Form::Frustum {
                bottom,
                top,
                height,
            },
            (Rule::arc, Ok([radius, sweep, height])) => Form::Arc {
                radius,
                sweep,
                height,
            },
            (Rule::cylinder, Ok([diameter, sweep, height])) => Form::Cylinder {
                diameter,
                sweep: Some(sweep),
                height,
            },
            (rule, Err(sizes)) => return short_form(rule, sizes),
            _ => return None,
        })
    }

    fn polygon(&self, pair: Pair<'_>) -> Option<Form> {
        let span = self.span(&pair);
        let points = pair
            .into_inner()
            .filter(|part| part.as_rule() == Rule::point);
        let points: Vec<_> = points
            .map(|point| match <[Expr; 2]>::try_from(self.exprs(point)?) {
                Ok([x, y]) => Some((x, y)),
                Err(_) => None,
            })
            .collect();
        if points.len() < FEWEST_CORNERS {
            self.report(statements::few_corners(span));
            return None;
        }
        points.into_iter().collect::<Option<_>>().map(Form::Polygon)
    }

    /// All expressions of a node. All are read before one that is bad drops them.
    pub(super) fn exprs(&self, pair: Pair<'_>) -> Option<Vec<Expr>> {
        let exprs = pair
            .into_inner()
            .filter(|part| part.as_rule() == Rule::expr);
        let exprs: Vec<_> = exprs.map(|expr| self.expr(expr)).collect();
        exprs.into_iter().collect()
    }
}

/// The shapes of one or two sizes.
fn short_form(rule: Rule, sizes: Vec<Expr>) -> Option<Form> {
    let mut sizes = sizes.into_iter();
    let first = sizes.next()?;
    let second = sizes.next();
    Some(match (rule, second) {
        (Rule::circle, None) => Form::Circle { diameter: first },
        (Rule::rect, Some(height)) => Form::Rect {
            width: first,
            height,
        },
        (Rule::triangle, Some(height)) => Form::Triangle {
            base: first,
            height,
        },
        (Rule::arch, Some(height)) => Form::Arch {
            width: first,
            height,
        },
        (Rule::cylinder, Some(height)) => Form::Cylinder {
            diameter: first,
            sweep: None,
            height,
        },
        _ => return None,
    })
}
