//! Formulas over cells.

use super::coherent::System;
use parge_base::trace::Comparison;
use parge_base::{Function, Operator, Quantity};
use std::cmp::Ordering;

/// A figure of a face that stands in the table of faces, for ONE of its equal faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FaceFigure {
    /// Width; the length around for a curved face.
    Width,
    /// Height.
    Height,
    /// The area of the shape.
    Gross,
    /// What openings take away.
    Deducted,
    /// What reveals add.
    Reveal,
    /// What is coated.
    Net,
    /// The length along the ground.
    Foot,
    /// The height above ground of the top of the work.
    Top,
}

/// All of them, in the order of their columns.
pub const FACE_FIGURES: [FaceFigure; 8] = [
    FaceFigure::Width,
    FaceFigure::Height,
    FaceFigure::Gross,
    FaceFigure::Deducted,
    FaceFigure::Reveal,
    FaceFigure::Net,
    FaceFigure::Foot,
    FaceFigure::Top,
];

/// A step of the price that a rule for the price can see.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BidFigure {
    /// The sum of the materials.
    Materials,
    /// The sum of the labour.
    Labour,
    /// Burden on the labour.
    Burden,
    /// Overhead.
    Overhead,
    /// Profit.
    Profit,
    /// The sums set aside.
    Allowances,
    /// What suppliers ask for bringing the materials.
    Freight,
    /// For what is not foreseen.
    Contingency,
    /// The price before charges and tax.
    Total,
    /// The hours that are paid.
    Hours,
}

/// A cell. Rows and columns are those of the tables of [`super::Live`], all counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cell {
    /// A size that the plan states.
    Size(usize),
    /// A figure of the plan that is worked out of others.
    Worked(usize),
    /// A cell of a pack's table.
    Factor(usize),
    /// A figure of a face.
    Face(usize, FaceFigure),
    /// How many equal faces there are.
    FaceCount(usize),
    /// How many equal edges there are, over all equal faces.
    EdgeCount(usize),
    /// What one row of a class has of a term.
    Term {
        /// The class.
        class: usize,
        /// The row.
        row: usize,
        /// The term.
        term: usize,
    },
    /// A term over all rows of a class, each as often as there are equal ones.
    TermTotal {
        /// The class.
        class: usize,
        /// The term.
        term: usize,
    },
    /// All cells of a term, of one each. Only the largest of them can be asked for.
    TermColumn {
        /// The class.
        class: usize,
        /// The term.
        term: usize,
    },
    /// How many a class has, over all its rows.
    ClassCount(usize),
    /// A line of the workings.
    Working(usize),
    /// A step of the price of a version of the estimate.
    Bid(usize, BidFigure),
}

/// A formula. Its figures are in the coherent units of a [`System`], so that no operation needs a
/// factor of conversion.
#[derive(Debug, Clone, PartialEq)]
pub enum Expr {
    /// A number.
    Number(f64),
    /// What stands in a cell.
    At(Cell),
    /// A function.
    Apply(Function, Box<Expr>),
    /// An operation.
    Combine(Operator, Box<[Expr; 2]>),
    /// The sum of all.
    Sum(Vec<Expr>),
    /// The largest of all.
    Largest(Vec<Expr>),
}

impl Expr {
    /// A number of a tape.
    pub(super) fn number(of: Quantity, system: System) -> Self {
        Self::Number(system.value(of))
    }

    /// An operation; one that leaves a side as it is, as adding nothing, is left out.
    pub(super) fn combine(operator: Operator, a: Self, b: Self) -> Self {
        const NOTHING: Expr = Expr::Number(0.0);
        const ONE: Expr = Expr::Number(1.0);
        match operator {
            Operator::Add if a == NOTHING => b,
            Operator::Add | Operator::Subtract if b == NOTHING => a,
            Operator::Multiply if a == ONE => b,
            Operator::Multiply | Operator::Divide if b == ONE => a,
            _ => Self::Combine(operator, Box::new([a, b])),
        }
    }

    pub(super) fn apply(function: Function, a: Self) -> Self {
        Self::Apply(function, Box::new(a))
    }

    /// Adds the cells that it refers to.
    pub(super) fn cells(&self, into: &mut Vec<Cell>) {
        match self {
            Self::Number(_) => {}
            Self::At(cell) => into.push(*cell),
            Self::Apply(_, a) => a.cells(into),
            Self::Combine(_, sides) => sides.iter().for_each(|side| side.cells(into)),
            Self::Sum(of) | Self::Largest(of) => of.iter().for_each(|part| part.cells(into)),
        }
    }

    /// Whether it refers to a cell.
    pub(super) fn has_cell(&self) -> bool {
        match self {
            Self::Number(_) => false,
            Self::At(_) => true,
            Self::Apply(_, a) => a.has_cell(),
            Self::Combine(_, sides) => sides.iter().any(Self::has_cell),
            Self::Sum(of) | Self::Largest(of) => of.iter().any(Self::has_cell),
        }
    }

    /// The value for what stands in the cells. Not finite where there is none.
    pub fn value(&self, cells: &dyn Fn(Cell) -> f64) -> f64 {
        match self {
            Self::Number(number) => *number,
            Self::At(cell) => cells(*cell),
            Self::Apply(function, a) => {
                let a = Quantity::plain(a.value(cells));
                function.of(a).map_or(f64::NAN, |value| value.value)
            }
            Self::Combine(operator, sides) => {
                let [a, b] = sides.as_ref();
                let [a, b] = [a, b].map(|side| Quantity::plain(side.value(cells)));
                operator.of(a, b).map_or(f64::NAN, |value| value.value)
            }
            Self::Sum(of) => of.iter().map(|part| part.value(cells)).sum(),
            Self::Largest(of) => {
                let values = of.iter().map(|part| part.value(cells));
                values.fold(f64::NEG_INFINITY, f64::max)
            }
        }
    }
}

/// A comparison that must turn out as it did.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Left side.
    pub left: Expr,
    /// How.
    pub comparison: Comparison,
    /// Right side.
    pub right: Expr,
    /// How it turned out.
    pub held: bool,
}

impl Held {
    /// Whether it turns out as it did, for what stands in the cells.
    pub fn holds(&self, cells: &dyn Fn(Cell) -> f64) -> bool {
        let [left, right] = [&self.left, &self.right].map(|side| side.value(cells));
        order_of(left, right).is_some_and(|order| self.comparison.holds(order) == self.held)
    }
}

/// The order of two figures as a tape sees it: equal where they differ by noise alone.
fn order_of(a: f64, b: f64) -> Option<Ordering> {
    let order = a.partial_cmp(&b)?;
    let noise = NOISE * a.abs().max(b.abs());
    Some(if (a - b).abs() <= noise {
        Ordering::Equal
    } else {
        order
    })
}

/// The share of their size by which figures differ that are taken as equal, as in
/// [`parge_base::Tape::compare`].
pub const NOISE: f64 = 1e-12;
