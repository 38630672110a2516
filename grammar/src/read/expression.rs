//! Expressions.
//!
//! Tightest first: the sign `-`, then `^` from the right, then `*` and `/`, then `+` and `-`.
//! The sign binds tighter than `^` as it does in a spreadsheet: `-2^2` is 4.
//!
//! `a / b` is a division. A fraction of whole numbers written directly before a unit is one
//! number, so `1/2ft` is half a foot and not one over two feet.

use super::Reader;
use crate::ast::{BinaryOp, Expr, ExprKind, Name};
use crate::errors::{literals, statements};
use crate::syntax::{Pair, Rule};
use parge_base::{Quantity, Span, Spanned};
use pest::pratt_parser::{Assoc, Op, PrattParser};
use std::sync::LazyLock;

/// How deep an expression may be, so that whatever walks it later needs little stack.
pub(crate) const MAX_DEPTH: usize = 64;

/// The most names behind the first one of a measure: a face, and what of it is meant.
const MAX_PATH: usize = 2;

/// How many terms are joined one after the other. Longer sums are joined in halves: that keeps
/// them shallow, and means the same.
const MAX_RUN: usize = 32;

static PRECEDENCE: LazyLock<PrattParser<Rule>> = LazyLock::new(|| {
    PrattParser::new()
        .op(Op::infix(Rule::add, Assoc::Left) | Op::infix(Rule::subtract, Assoc::Left))
        .op(Op::infix(Rule::multiply, Assoc::Left) | Op::infix(Rule::divide, Assoc::Left))
        .op(Op::infix(Rule::power, Assoc::Right))
        .op(Op::prefix(Rule::negate))
});

/// An expression with its depth.
struct Built {
    expr: Expr,
    depth: usize,
}

/// A run of operators of one strength, not joined yet.
struct Run {
    first: Built,
    /// Each operator with what stands behind it. Empty for a single expression.
    rest: Vec<(BinaryOp, Built)>,
}

impl Reader<'_> {
    pub(super) fn expr(&self, pair: Pair<'_>) -> Option<Expr> {
        self.built(pair).map(|built| built.expr)
    }

    fn built(&self, pair: Pair<'_>) -> Option<Built> {
        let span = self.span(&pair);
        let parts: Vec<_> = pair.into_inner().collect();
        if longest_climb(&parts) > MAX_DEPTH {
            self.report(statements::expression_too_deep(span, MAX_DEPTH));
            return None;
        }
        let run = PRECEDENCE
            .map_primary(|pair| self.primary(pair).map(Run::single))
            .map_prefix(|sign, run| {
                let Built { expr, depth } = run?.joined();
                let span = self.span(&sign).to(expr.span);
                let expr = Spanned::new(ExprKind::Negate(Box::new(expr)), span);
                Some(Run::single(Built {
                    expr,
                    depth: depth + 1,
                }))
            })
            .map_infix(|left, op, right| self.infix(left, op, right))
            .parse(parts.into_iter());
        let built = run?.joined();
        if built.depth > MAX_DEPTH {
            self.report(statements::expression_too_deep(span, MAX_DEPTH));
            return None;
        }
        Some(built)
    }

    fn infix(&self, left: Option<Run>, op: Pair<'_>, right: Option<Run>) -> Option<Run> {
        // Both sides are read already, so a mistake on either is told.
        let (left, right) = (left?, right?.joined());
        let op_span = self.span(&op);
        let op = match op.as_rule() {
            Rule::add => BinaryOp::Add,
            Rule::subtract => BinaryOp::Subtract,
            Rule::multiply => BinaryOp::Multiply,
            Rule::divide => BinaryOp::Divide,
            _ => BinaryOp::Power,
        };
        if op == BinaryOp::Subtract && self.reads_two_ways(left.last(), &right) {
            let (left, right) = (left.last().expr.span, right.expr.span);
            let (feet, inches) = (self.text(left.range()), self.text(right.range()));
            self.report(literals::two_ways_marks(
                op_span,
                left.to(right),
                feet,
                inches,
            ));
            return None;
        }
        Some(left.with(op, right))
    }

    /// `12' - 6"` is a length on a drawing and a difference here.
    fn reads_two_ways(&self, left: &Built, right: &Built) -> bool {
        let ends = |built: &Built, marks| {
            matches!(built.expr.node, ExprKind::Literal(_))
                && self
                    .text(built.expr.span.range())
                    .ends_with::<[char; 2]>(marks)
        };
        ends(left, ['\'', '′']) && ends(right, ['"', '″'])
    }

    fn primary(&self, pair: Pair<'_>) -> Option<Built> {
        let span = self.span(&pair);
        let leaf = |node| {
            Some(Built {
                expr: Spanned::new(node, span),
                depth: 1,
            })
        };
        match pair.as_rule() {
            Rule::named => self.named(pair, span),
            Rule::of_quoted => {
                let mut inner = pair.into_inner();
                let (first, path) = (inner.next()?, inner.next()?);
                let first = self.name(first);
                leaf(self.measure(first?, path)?)
            }
            Rule::group => {
                let built = self.built(self.part(pair, &[Rule::expr])?)?;
                // The place takes in the brackets, so that an underline does.
                Some(Built {
                    expr: Spanned::new(built.expr.node, span),
                    depth: built.depth,
                })
            }
            _ => leaf(ExprKind::Literal(self.literal(pair)?)),
        }
    }

    /// `street.area`, from its first name and what is behind that.
    fn measure(&self, first: Name, path: Pair<'_>) -> Option<ExprKind> {
        let span = first.span.to(self.span(&path));
        let parts = path
            .into_inner()
            .filter(|part| part.as_rule() != Rule::dot)
            .map(|part| (part.as_rule() == Rule::quoted, self.name(part)));
        let parts: Vec<_> = parts.collect();
        if parts.len() > MAX_PATH {
            self.report(statements::long_path(span));
            return None;
        }
        let ends_quoted = parts.last().is_some_and(|(quoted, _)| *quoted);
        let parts: Vec<Name> = parts
            .into_iter()
            .map(|(_, name)| name)
            .collect::<Option<_>>()?;
        let (property, between) = parts.split_last()?;
        if ends_quoted {
            self.report(statements::no_property(property.span));
            return None;
        }
        let names = std::iter::once(first).chain(between.iter().cloned());
        Some(ExprKind::Measure(names.collect(), property.clone().into()))
    }

    /// The name of a `let`, a measure, or a function with what it is called with.
    fn named(&self, pair: Pair<'_>, span: Span) -> Option<Built> {
        let mut inner = pair.into_inner();
        let name = inner.next()?;
        let name = Name::new(name.as_str().to_owned(), self.span(&name));
        let behind = inner.next();
        if let Some(path) = behind.clone().filter(|pair| pair.as_rule() == Rule::path) {
            let span = name.span.to(self.span(&path));
            let expr = Spanned::new(self.measure(name, path)?, span);
            return Some(Built { expr, depth: 1 });
        }
        let Some(arguments) = behind else {
            // Blanks behind the name, where brackets could have followed, are not of it.
            let node = ExprKind::Name(name.node);
            return Some(Built {
                expr: Spanned::new(node, name.span),
                depth: 1,
            });
        };
        let parts = arguments
            .into_inner()
            .filter(|part| part.as_rule() == Rule::expr);
        let parts: Vec<_> = parts.map(|part| self.built(part)).collect();
        let parts: Vec<Built> = parts.into_iter().collect::<Option<_>>()?;
        let depth = parts.iter().map(|part| part.depth).max().unwrap_or(0) + 1;
        let parts = parts.into_iter().map(|part| part.expr).collect();
        Some(Built {
            expr: Spanned::new(ExprKind::Call(name.into(), parts), span),
            depth,
        })
    }
}

/// The longest row of signs and powers, which nest to the right.
fn longest_climb(parts: &[Pair<'_>]) -> usize {
    let (mut longest, mut climb) = (0, 0);
    for part in parts {
        match part.as_rule() {
            Rule::power | Rule::negate => climb += 1,
            Rule::add | Rule::subtract | Rule::multiply | Rule::divide => climb = 0,
            _ => {}
        }
        longest = longest.max(climb);
    }
    longest
}

impl Run {
    fn single(first: Built) -> Self {
        Self {
            first,
            rest: Vec::new(),
        }
    }

    fn last(&self) -> &Built {
        self.rest.last().map_or(&self.first, |(_, last)| last)
    }

    fn with(mut self, op: BinaryOp, right: Built) -> Self {
        let goes_on = self
            .rest
            .last()
            .is_none_or(|(last, _)| inverse(*last).is_some() && same_strength(*last, op));
        if !goes_on {
            self = Self::single(self.joined());
        }
        self.rest.push((op, right));
        self
    }

    fn joined(self) -> Built {
        join(self.first, self.rest)
    }
}

/// Joins a run to one expression. A long run is cut in halves; behind a `-` or `/` the second
/// half is taken together, which turns its signs around: `a - b + c` is `a - (b - c)`.
fn join(first: Built, mut rest: Vec<(BinaryOp, Built)>) -> Built {
    if rest.len() < MAX_RUN {
        return rest
            .into_iter()
            .fold(first, |left, (op, right)| binary(op, left, right));
    }
    let mut half = rest.split_off(rest.len() / 2).into_iter();
    let left = join(first, rest);
    let Some((op, first)) = half.next() else {
        return left;
    };
    let turns = matches!(op, BinaryOp::Subtract | BinaryOp::Divide);
    let turned = |op| if turns { inverse(op).unwrap_or(op) } else { op };
    let right = join(first, half.map(|(op, built)| (turned(op), built)).collect());
    binary(op, left, right)
}

fn binary(op: BinaryOp, left: Built, right: Built) -> Built {
    let depth = left.depth.max(right.depth) + 1;
    let span = left.expr.span.to(right.expr.span);
    let node = ExprKind::Binary(op, Box::new(left.expr), Box::new(right.expr));
    Built {
        expr: Spanned::new(node, span),
        depth,
    }
}

fn inverse(op: BinaryOp) -> Option<BinaryOp> {
    Some(match op {
        BinaryOp::Add => BinaryOp::Subtract,
        BinaryOp::Subtract => BinaryOp::Add,
        BinaryOp::Multiply => BinaryOp::Divide,
        BinaryOp::Divide => BinaryOp::Multiply,
        BinaryOp::Power => return None,
    })
}

fn same_strength(one: BinaryOp, other: BinaryOp) -> bool {
    one == other || inverse(one) == Some(other)
}

/// A plain number, for where the kind of a literal is settled.
pub(super) fn plain(value: f64) -> Option<Quantity> {
    Quantity::new(value, parge_base::Dim::NONE).ok()
}
