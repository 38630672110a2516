//! The usual shapes.

use super::Quick;
use crate::ast::{Expr, Form, Shape};
use crate::read::shape::FEWEST_CORNERS;
use parge_base::Spanned;

impl Quick<'_, '_> {
    pub(super) fn shape(&mut self) -> Option<Shape> {
        let start = self.at;
        let form = self.form()?;
        Some(Spanned::new(form, self.span_from(start)))
    }

    fn form(&mut self) -> Option<Form> {
        let word = self.word()?;
        self.take(word.len());
        Some(match word {
            "rect" => Form::Rect {
                width: self.expr()?,
                height: self.if_times()?,
            },
            "triangle" if self.word() != Some("sides") => Form::Triangle {
                base: self.expr()?,
                height: self.times_expr()?,
            },
            "trapezoid" => Form::Trapezoid {
                bottom: self.expr()?,
                top: self.behind_word("to")?,
                height: self.times_expr()?,
            },
            "circle" => Form::Circle {
                diameter: self.behind_word("diameter")?,
            },
            "cylinder" => Form::Cylinder {
                diameter: self.behind_word("diameter")?,
                sweep: self.if_sweep()?,
                height: self.if_times()?,
            },
            "frustum" => Form::Frustum {
                bottom: self.expr()?,
                top: self.behind_word("to")?,
                height: self.if_times()?,
            },
            "arc" => Form::Arc {
                radius: self.behind_word("radius")?,
                sweep: self.if_sweep()??,
                height: self.if_times()?,
            },
            "ellipse" => Form::Ellipse {
                width: self.expr()?,
                height: self.times_expr()?,
            },
            "ring" => Form::Ring {
                outer: self.expr()?,
                inner: self.behind_word("to")?,
            },
            "arch" => return self.arch(),
            "cone" => Form::Cone {
                diameter: self.behind_word("diameter")?,
                height: self.times_expr()?,
            },
            "dome" => Form::Dome {
                diameter: self.behind_word("diameter")?,
                height: self.times_expr()?,
            },
            "polygon" => Form::Polygon(self.points(FEWEST_CORNERS)?),
            "stations" => Form::Stations {
                stepped: self.takes("stepped"),
                stations: self.points(1)?,
            },
            _ => return None,
        })
    }

    fn arch(&mut self) -> Option<Form> {
        let (width, height) = (self.expr()?, self.times_expr()?);
        if self.word() != Some("rise") {
            return Some(Form::Arch { width, height });
        }
        Some(Form::SegmentArch {
            width,
            height,
            rise: self.behind_word("rise")?,
        })
    }

    fn behind_word(&mut self, word: &str) -> Option<Expr> {
        self.need(word)?;
        self.expr()
    }

    fn times_expr(&mut self) -> Option<Expr> {
        self.times().then(|| self.expr())?
    }

    /// The outer layer is whether it could be read, the inner whether it is there.
    fn if_times(&mut self) -> Option<Option<Expr>> {
        match self.times() {
            true => self.expr().map(Some),
            false => Some(None),
        }
    }

    /// The same for the angle behind `sweep`. A bare number is a mistake there.
    fn if_sweep(&mut self) -> Option<Option<Expr>> {
        if !self.takes("sweep") {
            return Some(None);
        }
        let angle = self.expr()?;
        let written = self.reader.text(angle.span.range());
        let is_bare = written.ends_with(|letter: char| letter.is_ascii_digit());
        (!is_bare).then_some(Some(angle))
    }

    fn points(&mut self, fewest: usize) -> Option<Vec<(Expr, Expr)>> {
        let mut points = Vec::new();
        while self.mark(b'(') {
            let x = self.expr()?;
            let y = self.mark(b',').then(|| self.expr())??;
            self.mark(b')').then(|| points.push((x, y)))?;
        }
        points.shrink_to_fit();
        (points.len() >= fewest).then_some(points)
    }
}
