//! Values that must be of one kind and within some bounds.

use super::values::Values;
use crate::job::Figure;
use parge_base::{Code, Diagnostic, Dim, Quantity};
use parge_grammar::ast::Expr;

impl Values<'_> {
    /// Evaluates what must be of one kind, such as the width of a face.
    pub(super) fn of_kind(&mut self, expr: &Expr, dim: Dim, what: &str) -> Option<Figure> {
        let node = self.eval(expr)?;
        let value = self.tape.value(node);
        if value.dim == dim {
            return Some(Figure {
                node,
                span: expr.span,
            });
        }
        let (code, help) = if value.dim.is_none() {
            (Code::MissingUnit, missing_unit_help(dim, value))
        } else {
            (
                Code::WrongKind,
                format!("write {}, such as `{}`", dim.words(), example(dim)),
            )
        };
        let message = format!("{what} must be {}, not {}", dim.words(), value.dim.words());
        self.diagnostics
            .push(Diagnostic::new(code, message, help).at(expr.span, value.dim.words()));
        None
    }

    /// A size: of one kind, and more than nothing.
    pub(super) fn size(&mut self, expr: &Expr, dim: Dim, what: &str) -> Option<Figure> {
        let figure = self.of_kind(expr, dim, what)?;
        let help = format!("write a size above zero, such as `{}`", example(dim));
        self.within(
            figure,
            what,
            |value| value > 0.0,
            "more than nothing",
            &help,
        )
    }

    /// A share between nothing and all: `60%`.
    pub(super) fn share(&mut self, expr: &Expr, what: &str) -> Option<Figure> {
        let figure = self.of_kind(expr, Dim::NONE, what)?;
        let help = "write a percentage, such as `60%`";
        self.within(
            figure,
            what,
            |value| (0.0..=1.0).contains(&value),
            "between 0% and 100%",
            help,
        )
    }

    /// A whole number from one to a hundred thousand.
    pub(super) fn count(&mut self, expr: &Expr, what: &str) -> Option<(Figure, u32)> {
        const MOST: f64 = 100_000.0;
        let figure = self.of_kind(expr, Dim::NONE, what)?;
        let whole = |value: f64| value.fract() == 0.0 && (1.0..=MOST).contains(&value);
        let help = "write a whole number, such as `2`";
        let figure = self.within(
            figure,
            what,
            whole,
            "a whole number from 1 to 100,000",
            help,
        )?;
        Some((figure, self.tape.value(figure.node).value as u32))
    }

    /// A figure whose value must pass a test.
    pub(super) fn within(
        &mut self,
        figure: Figure,
        what: &str,
        test: impl Fn(f64) -> bool,
        wanted: &str,
        help: &str,
    ) -> Option<Figure> {
        if test(self.tape.value(figure.node).value) {
            return Some(figure);
        }
        let message = format!("{what} must be {wanted}");
        self.diagnostics
            .push(Diagnostic::new(Code::OutOfRange, message, help).at(figure.span, ""));
        None
    }
}

fn missing_unit_help(dim: Dim, value: Quantity) -> String {
    let number = value.value;
    match dim {
        Dim::LENGTH => format!(
            "write the unit directly after the number: `{number}ft`, `{number}in` or `{number}m`"
        ),
        _ => format!(
            "write the unit directly after the number, as in `{}`",
            example(dim)
        ),
    }
}

fn example(dim: Dim) -> &'static str {
    match dim {
        Dim::LENGTH => "22ft 4in",
        Dim::AREA => "40ft2",
        Dim::TEMPERATURE => "84F",
        Dim::SPEED => "9mph",
        Dim::TIME => "8h",
        _ => "2",
    }
}
