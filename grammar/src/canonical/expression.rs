//! Expressions.

use super::Text;
use crate::ast::{BinaryOp, Expr, ExprKind, Name};
use parge_base::Quantity;

impl Text {
    /// A word of the list and the expression behind it.
    pub(super) fn valued(&mut self, word: &str, value: &Expr) {
        self.word(word);
        self.expression(value);
    }

    /// The same for what may be left out.
    pub(super) fn maybe(&mut self, word: &str, value: Option<&Expr>) {
        if let Some(value) = value {
            self.valued(word, value);
        }
    }

    /// The same for a name that may be left out.
    pub(super) fn maybe_named(&mut self, word: &str, name: Option<&Name>) {
        if let Some(name) = name {
            self.named(word, name);
        }
    }

    pub(super) fn expression(&mut self, expression: &Expr) {
        match &expression.node {
            ExprKind::Literal(quantity) => self.quantity(*quantity),
            ExprKind::Name(name) => {
                self.word("name");
                self.said(name);
            }
            ExprKind::Measure(path, measure) => {
                self.word("of");
                self.within(|text| path.iter().for_each(|name| text.said(&name.node)));
                self.said(&measure.node);
            }
            ExprKind::Negate(inner) => self.valued("minus", inner),
            ExprKind::Binary(operator, left, right) => {
                self.word(symbol(*operator));
                self.expression(left);
                self.expression(right);
            }
            ExprKind::Call(function, values) => {
                self.named("call", function);
                self.within(|text| values.iter().for_each(|value| text.expression(value)));
            }
        }
    }

    fn quantity(&mut self, Quantity { value, dim }: Quantity) {
        // A sum with nothing takes the sign from a nothing; both are equal.
        self.word(&format!("{:?}", value + 0.0));
        self.word(&dim.symbols());
    }
}

fn symbol(operator: BinaryOp) -> &'static str {
    match operator {
        BinaryOp::Add => "+",
        BinaryOp::Subtract => "-",
        BinaryOp::Multiply => "*",
        BinaryOp::Divide => "/",
        BinaryOp::Power => "^",
    }
}
