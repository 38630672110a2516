//! What is known of the nodes of a tape before anything is computed for the rows.

use super::inputs::{Column, Columns};
use super::span::Span;
use crate::quantity::kernel::{self, Sides};
use crate::trace::{Comparison, Guard, NodeId, Op, Operator, Tape};
use std::collections::HashMap;

/// What is known of the values of a node.
#[derive(Debug, Clone, Copy)]
pub(super) enum Known {
    /// One value for all rows.
    Fixed(f64),
    Varying {
        /// The node whose values these are: its own number, or that of an earlier one.
        of: usize,
        span: Span,
        /// Whether there may be rows without a value. Those are out, so the span is of the others.
        doubtful: bool,
    },
}

impl Known {
    fn span(self) -> Option<Span> {
        match self {
            Self::Fixed(value) => Span::around(&[value]),
            Self::Varying { span, .. } => Some(span),
        }
    }

    fn side(self) -> Side {
        match self {
            Self::Fixed(value) => Side::Fixed(value.to_bits()),
            Self::Varying { of, .. } => Side::Node(of),
        }
    }

    /// The same of a later node with these values: rows without one are out already.
    fn looked_at(self) -> Self {
        match self {
            Self::Fixed(_) => self,
            Self::Varying { of, span, .. } => Self::Varying {
                of,
                span,
                doubtful: false,
            },
        }
    }
}

/// How a comparison turns out, as far as that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Outcome {
    AsBefore,
    Otherwise,
    DependsOnRow,
}

/// What is known of the nodes, by their numbers.
#[derive(Debug)]
pub(super) struct Knowledge(Vec<Known>);

/// What an operation works on; a figure that is fixed by its bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Side {
    Fixed(u64),
    Node(usize),
}

/// The operations so far that are done for each row, with their nodes.
type Done = HashMap<(Operator, Side, Side), usize>;

impl Knowledge {
    /// None where some node has no value, or one of another kind, for any row.
    pub(super) fn of(tape: &Tape, inputs: &Columns) -> Option<Self> {
        let mut all = Self(Vec::with_capacity(tape.nodes.len()));
        let mut done = Done::new();
        for (number, node) in tape.nodes.iter().enumerate() {
            let known = match node.op {
                Op::Input(slot) => input(inputs.columns.get(slot as usize)?, number),
                Op::Factor(_) | Op::Literal | Op::Constant => Known::Fixed(node.value.value),
                Op::Apply(function, a) => match all.node(a) {
                    Known::Fixed(a) => Known::Fixed(function.value(a)),
                    Known::Varying { span, .. } => varying(number, span.apply(function)),
                },
                Op::Combine(operator, left, right) => match (all.node(left), all.node(right)) {
                    (Known::Fixed(a), Known::Fixed(b)) => {
                        let whole = whole_power(tape, operator, left, right);
                        Known::Fixed(combined(operator, a, b, whole)?)
                    }
                    (a, b) => match same_as(operator, a, b) {
                        Some(known) => known,
                        None => all.combined(operator, a, b, number, &mut done),
                    },
                },
            };
            if matches!(known, Known::Fixed(value) if !value.is_finite()) {
                return None;
            }
            all.0.push(known);
        }
        Some(all)
    }

    /// What is known of an operation. Rules ask for the same product again and again; it is computed
    /// once. Not so a power, which rests on the kinds of its operands, too.
    fn combined(
        &self,
        operator: Operator,
        a: Known,
        b: Known,
        number: usize,
        done: &mut Done,
    ) -> Known {
        if operator != Operator::Power {
            let earlier = *done.entry((operator, a.side(), b.side())).or_insert(number);
            if let Some(known) = self.0.get(earlier) {
                return known.looked_at();
            }
        }
        let spans = a.span().zip(b.span());
        varying(
            number,
            spans.and_then(|(a, b)| Span::combine(operator, a, b)),
        )
    }

    /// A node of another tape counts as zero, as it does on the tape.
    pub(super) fn node(&self, node: NodeId) -> Known {
        let known = self.0.get(node.index());
        known.copied().unwrap_or(Known::Fixed(0.0))
    }

    /// The node whose values must be computed for those of a node to be there.
    pub(super) fn computed(&self, node: NodeId) -> Option<usize> {
        match self.node(node) {
            Known::Fixed(_) => None,
            Known::Varying { of, .. } => Some(of),
        }
    }

    pub(super) fn outcome(&self, guard: &Guard) -> Outcome {
        let comparison = needed(guard);
        match (self.node(guard.left), self.node(guard.right)) {
            (Known::Fixed(a), Known::Fixed(b)) => match holds(comparison, kernel::sides(a, b)) {
                true => Outcome::AsBefore,
                false => Outcome::Otherwise,
            },
            (a, b) => match a.span().zip(b.span()) {
                Some((a, b)) if Span::all(comparison, a, b) => Outcome::AsBefore,
                _ => Outcome::DependsOnRow,
            },
        }
    }

    /// Whether a node, by its number, must be looked at because rows may have no value in it.
    pub(super) fn is_doubtful(&self, node: usize) -> bool {
        matches!(
            self.0.get(node),
            Some(Known::Varying { doubtful: true, .. })
        )
    }
}

fn input(column: &Column, number: usize) -> Known {
    match column {
        Column::Same(value) => Known::Fixed(*value),
        Column::Each(_, span) => varying(number, *span),
    }
}

/// Whether a comparison holds. Without a branch where it is known which it is.
#[inline]
pub(super) fn holds(comparison: Comparison, sides: Sides) -> bool {
    match comparison {
        Comparison::Less => sides.less,
        Comparison::LessOrEqual => sides.less | sides.equal,
        Comparison::Greater => sides.greater,
        Comparison::GreaterOrEqual => sides.greater | sides.equal,
        Comparison::Equal => sides.equal,
        Comparison::NotEqual => sides.less | sides.greater,
    }
}

/// What must hold for a guard to turn out as it did.
pub(super) fn needed(guard: &Guard) -> Comparison {
    match guard.held {
        true => guard.comparison,
        false => guard.comparison.opposite(),
    }
}

/// The exponent of a power of a figure with a unit: the kind of the result rests on it, so it must
/// be the one of the tape. None for any other operation.
pub(super) fn whole_power(tape: &Tape, operator: Operator, a: NodeId, b: NodeId) -> Option<i8> {
    let of_kind = operator == Operator::Power && !tape.value(a).dim.is_none();
    let exponent = of_kind.then(|| tape.value(b).value);
    exponent.and_then(kernel::whole_exponent)
}

fn varying(of: usize, span: Option<Span>) -> Known {
    Known::Varying {
        of,
        span: span.unwrap_or(Span::ANY),
        doubtful: span.is_none(),
    }
}

/// The operand that an operation gives back to the last bit, where it does: rules multiply by a
/// factor of 1 where no condition makes the work slower, and begin sums with nothing.
fn same_as(operator: Operator, a: Known, b: Known) -> Option<Known> {
    let is = |known, value: f64| matches!(known, Known::Fixed(fixed) if fixed.to_bits() == value.to_bits());
    // To nothing, nothing below zero is added: the sum has no sign.
    let positive = |known: Known| known.span().is_some_and(Span::is_positive);
    let same = match operator {
        Operator::Multiply if is(a, 1.0) => b,
        Operator::Multiply | Operator::Divide if is(b, 1.0) => a,
        Operator::Subtract if is(b, 0.0) => a,
        Operator::Add if is(a, 0.0) && positive(b) => b,
        Operator::Add if is(b, 0.0) && positive(a) => a,
        _ => return None,
    };
    Some(same.looked_at())
}

/// The value of an operation, which may not be finite; none where the kind would be another one.
fn combined(operator: Operator, a: f64, b: f64, whole: Option<i8>) -> Option<f64> {
    Some(match operator {
        Operator::Add => kernel::sum(a, b),
        Operator::Subtract => kernel::difference(a, b),
        Operator::Multiply => kernel::product(a, b),
        Operator::Divide => kernel::quotient(a, b),
        Operator::Min => kernel::smaller(a, b),
        Operator::Max => kernel::larger(a, b),
        Operator::Power => match whole {
            None => kernel::power(a, b),
            Some(whole) if kernel::whole_exponent(b) == Some(whole) => {
                kernel::whole_power(a, whole)
            }
            Some(_) => return None,
        },
    })
}
