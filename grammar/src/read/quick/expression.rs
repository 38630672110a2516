//! Expressions of sizes and names, joined by `+`, `-`, `*` and `/`.

use super::{Quick, run};
use crate::ast::{BinaryOp, Expr, ExprKind};
use crate::read::compound::Part;
use crate::read::expression::plain;
use crate::read::literal::{DEGREE, value};
use parge_base::{Quantity, Spanned};

/// More operators in a row are left to the other reader, which joins long rows in halves.
const MOST_OPERATORS: usize = 8;

const SUM: [(u8, BinaryOp); 2] = [(b'+', BinaryOp::Add), (b'-', BinaryOp::Subtract)];
const PRODUCT: [(u8, BinaryOp); 2] = [(b'*', BinaryOp::Multiply), (b'/', BinaryOp::Divide)];

/// Words behind a number that are no unit which stands apart from it.
const BEHIND_NUMBER: [&str; 9] = [
    "x", "to", "on", "at", "count", "reveal", "sweep", "rise", "from",
];

impl<'a> Quick<'_, 'a> {
    pub(super) fn expr(&mut self) -> Option<Expr> {
        self.joined(SUM, |quick| quick.joined(PRODUCT, Self::operand))
    }

    /// Parts joined from the left by operators of one strength.
    fn joined(
        &mut self,
        operators: [(u8, BinaryOp); 2],
        part: fn(&mut Self) -> Option<Expr>,
    ) -> Option<Expr> {
        let mut left = part(self)?;
        for _ in 0..MOST_OPERATORS {
            let next = self.next();
            let Some((_, op)) = operators.iter().find(|(mark, _)| next == Some(*mark)) else {
                return Some(left);
            };
            self.take(1);
            let right = part(self)?;
            let span = left.span.to(right.span);
            let node = ExprKind::Binary(*op, Box::new(left), Box::new(right));
            left = Spanned::new(node, span);
        }
        None
    }

    fn operand(&mut self) -> Option<Expr> {
        let start = self.at;
        let node = match self.next()? {
            b'0'..=b'9' => ExprKind::Literal(self.literal()?),
            _ => self.named()?,
        };
        Some(Spanned::new(node, self.span_from(start)))
    }

    /// `low`, `f0.width` or `south.street.width`; with a bracket behind it, a name is a call.
    fn named(&mut self) -> Option<ExprKind> {
        let first = self.bare()?;
        if !self.mark(b'.') {
            return (self.next() != Some(b'(')).then_some(ExprKind::Name(first.node));
        }
        let second = self.any_word()?;
        if !self.mark(b'.') {
            return Some(ExprKind::Measure([first].into(), second.into()));
        }
        let (names, property) = ([first, second].into(), self.any_word()?.into());
        (self.next() != Some(b'.')).then_some(ExprKind::Measure(names, property))
    }

    /// `2`, `2.5`, `90deg`, `22ft`, `22ft 4in`, `12ft 6 3/4in`.
    fn literal(&mut self) -> Option<Quantity> {
        let start = self.at;
        let (number, unit) = self.number();
        let quantity = match unit {
            "" => self.ends_number().then(|| plain(number.parse().ok()?))?,
            "deg" => DEGREE.quantity(number.parse().ok()?),
            _ => {
                let first = Part::usual(value(number).ok()?, unit, self.span_from(start))?;
                self.length(first)
            }
        };
        quantity.filter(|_| self.ends_literal())
    }

    /// A length of one part or two.
    fn length(&mut self, first: Part) -> Option<Quantity> {
        let (whole, start) = (first.span.range().start, self.at);
        let length = if self.next_is_digit() {
            let (number, unit) = self.number();
            let second = Part::usual(value(number).ok()?, unit, self.span_from(start))?;
            self.reader.joined(self.span_from(whole), &[first, second])
        } else {
            self.reader.joined(first.span, &[first])
        };
        length.ok()?
    }

    /// Takes a number and what letters stand directly behind it.
    fn number(&mut self) -> (&'a str, &'a str) {
        let rest = self.rest();
        let length = number_length(rest.as_bytes());
        let (number, behind) = rest.split_at_checked(length).unwrap_or_default();
        let unit = behind.get(..run(behind)).unwrap_or("");
        self.take(number.len() + unit.len());
        (number, unit)
    }

    fn next_is_digit(&self) -> bool {
        self.next().is_some_and(|byte| byte.is_ascii_digit())
    }

    /// Whether nothing stands behind a number that could be its unit.
    fn ends_number(&self) -> bool {
        match self.next() {
            None | Some(b')' | b',' | b'+' | b'-' | b'*' | b'/') => true,
            _ => self
                .word()
                .is_some_and(|word| BEHIND_NUMBER.contains(&word)),
        }
    }

    /// Whether a literal does not go on, as in `6-3/4in`, `12ft-6in` or `2ft 3in 4mm`.
    fn ends_literal(&self) -> bool {
        let ends = matches!(self.behind(), None | Some(b' ' | b')' | b',' | b'+' | b'*'));
        ends && !self.next_is_digit()
    }
}

/// The length of the number at the start of a text: `22`, `2.5`, `3/4`, `6 3/4`.
fn number_length(text: &[u8]) -> usize {
    let digits = |at| {
        let rest = text.iter().skip(at);
        rest.take_while(|byte| byte.is_ascii_digit()).count()
    };
    let behind = |mark, at| match digits(at + 1) {
        0 => None,
        digits => (text.get(at) == Some(&mark)).then_some(at + 1 + digits),
    };
    let whole = digits(0);
    let mixed = || behind(b'/', behind(b' ', whole)?);
    let end = behind(b'.', whole).or_else(|| behind(b'/', whole));
    end.or_else(mixed).unwrap_or(whole)
}
