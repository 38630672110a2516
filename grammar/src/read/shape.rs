//! Shapes.

use super::Reader;
use crate::ast::{Expr, Form, Shape};
use crate::errors::statements;
use crate::syntax::{Pair, Rule};
use parge_base::Spanned;

/// A polygon with fewer corners has no inside.
pub(super) const FEWEST_CORNERS: usize = 3;

impl Reader<'_> {
    pub(super) fn shape(&self, pair: Pair<'_>) -> Option<Shape> {
        let span = self.span(&pair);
        let form = self.form(pair.into_inner().next()?)?;
        Some(Spanned::new(form, span))
    }

    fn form(&self, pair: Pair<'_>) -> Option<Form> {
        let rule = pair.as_rule();
        match rule {
            Rule::polygon => return self.polygon(pair),
            Rule::stations => return self.stations(pair),
            Rule::measured_area => return self.measured_area(pair),
            Rule::pack_shape => return self.pack_shape(pair),
            Rule::cylinder | Rule::arc => self.check_sweep(&pair)?,
            _ => {}
        }
        if matches!(
            rule,
            Rule::cylinder | Rule::arc | Rule::frustum | Rule::rect
        ) {
            return self.upright(rule, pair);
        }
        let sizes = self.exprs(pair)?;
        Some(match (rule, <[Expr; 3]>::try_from(sizes)) {
            (Rule::triangle_sides, Ok(sides)) => Form::TriangleSides(Box::new(sides)),
            (Rule::trapezoid, Ok([bottom, top, height])) => Form::Trapezoid {
                bottom,
                top,
                height,
            },
            (Rule::segment_arch, Ok([width, height, rise])) => Form::SegmentArch {
                width,
                height,
                rise,
            },
            (rule, Err(sizes)) => return short_form(rule, sizes),
            _ => return None,
        })
    }

    /// The shapes whose height may be the structure's.
    fn upright(&self, rule: Rule, pair: Pair<'_>) -> Option<Form> {
        let has = |rule| pair.clone().into_inner().any(|part| part.as_rule() == rule);
        let (sweeps, high) = (has(Rule::kw_sweep), has(Rule::times));
        let mut sizes = self.exprs(pair)?.into_iter();
        let first = sizes.next()?;
        let second = match rule {
            Rule::rect => None,
            Rule::cylinder if !sweeps => None,
            _ => Some(sizes.next()?),
        };
        let height = if high { Some(sizes.next()?) } else { None };
        Some(match rule {
            Rule::rect => Form::Rect {
                width: first,
                height,
            },
            Rule::cylinder => Form::Cylinder {
                diameter: first,
                sweep: second,
                height,
            },
            Rule::frustum => Form::Frustum {
                bottom: first,
                top: second?,
                height,
            },
            _ => Form::Arc {
                radius: first,
                sweep: second?,
                height,
            },
        })
    }

    fn polygon(&self, pair: Pair<'_>) -> Option<Form> {
        let span = self.span(&pair);
        let points = self.points(pair)?;
        if points.len() < FEWEST_CORNERS {
            self.report(statements::few_corners(span));
            return None;
        }
        Some(Form::Polygon(points))
    }

    fn stations(&self, pair: Pair<'_>) -> Option<Form> {
        let mut parts = pair.clone().into_inner();
        let stepped = parts.any(|part| part.as_rule() == Rule::kw_stepped);
        let stations = self.points(pair)?;
        Some(Form::Stations { stepped, stations })
    }

    fn points(&self, pair: Pair<'_>) -> Option<Vec<(Expr, Expr)>> {
        let points = pair
            .into_inner()
            .filter(|part| part.as_rule() == Rule::point);
        let points: Vec<_> = points
            .map(|point| match <[Expr; 2]>::try_from(self.exprs(point)?) {
                Ok([x, y]) => Some((x, y)),
                Err(_) => None,
            })
            .collect();
        points.into_iter().collect()
    }

    fn measured_area(&self, pair: Pair<'_>) -> Option<Form> {
        let reason = self.name(pair.clone());
        match <[Expr; 3]>::try_from(self.exprs(pair)?) {
            Ok([area, around, high]) => Some(Form::Measured {
                area,
                around,
                high,
                reason: reason?.into(),
            }),
            Err(_) => None,
        }
    }

    fn pack_shape(&self, pair: Pair<'_>) -> Option<Form> {
        let name = self.name(pair.clone());
        let sizes = self.exprs(self.part(pair, &[Rule::arguments])?)?;
        Some(Form::OfPack { name: name?, sizes })
    }

    /// A bare number behind `sweep` would be taken for radians, which nobody means.
    fn check_sweep(&self, pair: &Pair<'_>) -> Option<()> {
        let mut parts = pair
            .clone()
            .into_inner()
            .skip_while(|part| part.as_rule() != Rule::kw_sweep);
        if let Some(sweep) = parts.nth(1) {
            let written = sweep.as_str().trim();
            if written
                .bytes()
                .all(|byte| byte.is_ascii_digit() || byte == b'.')
            {
                self.report(statements::bare_angle(self.span(&sweep), written));
                return None;
            }
        }
        Some(())
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
        (Rule::triangle, Some(height)) => Form::Triangle {
            base: first,
            height,
        },
        (Rule::arch, Some(height)) => Form::Arch {
            width: first,
            height,
        },
        (Rule::ellipse, Some(height)) => Form::Ellipse {
            width: first,
            height,
        },
        (Rule::ring, Some(inner)) => Form::Ring {
            outer: first,
            inner,
        },
        (Rule::cone, Some(height)) => Form::Cone {
            diameter: first,
            height,
        },
        (Rule::dome, Some(height)) => Form::Dome {
            diameter: first,
            height,
        },
        _ => return None,
    })
}
