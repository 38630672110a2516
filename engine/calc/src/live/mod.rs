//! The estimate as a model of cells and formulas, for a sheet that follows its inputs.
//!
//! Sizes, factors, counts and prices stand once. Figures of faces are formulas over sizes; needs
//! and hours are formulas over figures of faces and factors, written class by class as the rules
//! of the pack reckoned them (see [`rule`]). All figures are in coherent units, so that formulas
//! are the rules' own arithmetic and nothing else.
//!
//! What a formula cannot say is held as it was reckoned, and a mark says when it no longer holds:
//! a comparison that turns out differently, sheets laid out on a face whose sizes have changed,
//! days planned for other hours.

pub mod coherent;
mod cuts;
pub mod expr;
mod inputs;
mod lines;
mod plan;
mod rule;
mod version;
mod words;

pub use coherent::System;
pub use expr::{BidFigure, Cell, Expr, FACE_FIGURES, FaceFigure, Held, NOISE};
pub use plan::{Size, Worked};
pub use words::words;

use crate::job::Edge;
use crate::price::Estimate;
use parge_base::trace::Guard;
use parge_base::{Dim, Factor, NodeId, Sources, Span, Tape};
use plan::Plan;
use rule::Laid;
use std::collections::HashSet;
use std::ops::Range;
use std::sync::Arc;

/// What one class of faces or edges takes, as a table with a row each.
#[derive(Debug)]
pub struct Class {
    /// What they have in common: `drystone on block`.
    pub title: String,
    /// Who they are.
    pub rows: Rows,
    /// The columns.
    pub terms: Vec<Term>,
    /// How many there are, over all rows.
    pub count: f64,
    /// Whether rows hold what was laid out or counted for the sizes as they were.
    pub is_laid_out: bool,
    tape: Tape,
    guards: Vec<Guard>,
    laid: Laid,
    /// The version it belongs to.
    version: usize,
}

/// Who the rows of a class are.
#[derive(Debug)]
pub enum Rows {
    /// Faces: the row of each in the table of faces, and its number in the take-off of the version.
    Faces(Vec<[usize; 2]>),
    /// Edges: the row of each in the table of edges, and its number in the job of the version.
    Edges(Vec<[usize; 2]>),
}

impl Rows {
    /// How many rows.
    pub fn len(&self) -> usize {
        match self {
            Self::Faces(rows) | Self::Edges(rows) => rows.len(),
        }
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The cell that says how many equal ones a row stands for.
    pub fn count(&self, row: usize) -> Option<Cell> {
        match self {
            Self::Faces(rows) => rows.get(row).map(|[face, _]| Cell::FaceCount(*face)),
            Self::Edges(rows) => rows.get(row).map(|[edge, _]| Cell::EdgeCount(*edge)),
        }
    }
}

/// A column of a class.
#[derive(Debug)]
pub struct Term {
    /// What it is, in words.
    pub what: String,
    /// Its kind.
    pub kind: Dim,
    /// Over all rows, each as often as there are equal ones, in coherent units.
    pub total: f64,
    /// The largest of a row.
    pub largest: f64,
    node: NodeId,
}

/// What a line of the workings is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goes {
    /// Other lines use it.
    On,
    /// The need of a material, by its line.
    Need(usize),
    /// The waste of a material, by its line.
    Waste(usize),
    /// The hours of a phase, by its line.
    Hours(usize),
    /// A charge, by its line.
    Charge(usize),
    /// A comparison that must turn out as it did.
    Check,
}

/// A line of the workings.
#[derive(Debug)]
pub struct Working {
    /// The version of the estimate.
    pub version: usize,
    /// Whose it is: a class, the job, a day.
    pub of: String,
    /// What it is, in words.
    pub what: String,
    /// What it is for.
    pub goes: Goes,
    /// How.
    pub content: Content,
    /// Its number in coherent units; 0 for a comparison that holds.
    pub value: f64,
    /// Its kind.
    pub kind: Dim,
    /// Whether the days were planned for it, so that another value needs another plan.
    pub is_planned_for: bool,
    /// The line of the rule.
    pub place: Option<Span>,
}

/// What stands in a line of the workings.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// A formula.
    Figure(Expr),
    /// A figure that was counted, and that no formula gives.
    Counted(f64),
    /// A comparison.
    Held(Held),
}

/// One version of the estimate: the estimate itself, or one of its alternates.
#[derive(Debug)]
pub struct Version<'a> {
    /// Its name; none for the estimate itself.
    pub name: Option<&'a str>,
    /// The priced job.
    pub estimate: &'a Estimate,
    /// Its classes.
    pub classes: Range<usize>,
    /// Its workings.
    pub workings: Range<usize>,
    /// Whether work was put on days.
    pub has_days: bool,
}

/// The model.
#[derive(Debug)]
pub struct Live<'a> {
    /// The units of all figures.
    pub system: System,
    /// The classes of all versions.
    pub classes: Vec<Class>,
    /// The workings of all versions. Each rests on earlier ones, and on classes.
    pub workings: Vec<Working>,
    /// The estimate itself, then its alternates with a price.
    pub versions: Vec<Version<'a>>,
    plan: Plan<'a>,
    /// What the days of any version were planned for: sizes by number, and factors by place.
    planned: Planned,
}

/// The inputs that the rules about the days were given.
#[derive(Debug, Default)]
struct Planned {
    sizes: HashSet<usize>,
    factors: HashSet<Span>,
}

impl<'a> Live<'a> {
    /// Lays an estimate and its alternates out as cells and formulas.
    pub fn of(estimate: &'a Estimate, sources: &Sources) -> Self {
        version::lay_out(estimate, sources)
    }

    /// The sizes that the plan states.
    pub fn sizes(&self) -> &[Size] {
        &self.plan.sizes
    }

    /// What is worked out of them and has a cell of its own.
    pub fn worked(&self) -> &[Worked] {
        &self.plan.worked
    }

    /// The factors that formulas use.
    pub fn factors(&self) -> &[Arc<Factor>] {
        &self.plan.factors.all
    }

    /// The cell of a factor, where a formula uses it.
    pub fn factor(&self, factor: &Factor) -> Option<Cell> {
        self.plan.factors.known(factor)
    }

    /// Whether the days were planned for a size, so that another one asks for another plan.
    pub fn is_planned_for(&self, size: usize) -> bool {
        self.planned.sizes.contains(&size)
    }

    /// The same for a factor.
    pub fn is_factor_planned_for(&self, factor: &Factor) -> bool {
        self.planned.factors.contains(&factor.span)
    }

    /// The formula of a figure of a face, by its row.
    pub fn face(&self, row: usize, figure: FaceFigure) -> Expr {
        self.plan.face(row, figure)
    }

    /// The number of a figure of a face in coherent units.
    pub fn face_value(&self, row: usize, figure: FaceFigure) -> f64 {
        self.plan.face_value(row, figure)
    }

    /// The formula of the number of equal faces, by the face's row, where the plan states it.
    pub fn stated_count(&self, row: usize) -> Option<Expr> {
        let face = self.plan.measured.faces.get(row)?.face;
        let node = self.plan.job().faces.get(face)?.stated_count?;
        Some(self.plan.expr(node))
    }

    /// The formula of the number of an edge on each face, or of the structure, where the plan
    /// states it.
    pub fn stated_count_of(&self, edge: &Edge) -> Option<Expr> {
        Some(self.plan.expr(edge.stated_count?))
    }

    /// The cells that the measures of a face and the edges of its openings are formulas over.
    pub fn face_cells(&self, row: usize) -> Vec<Cell> {
        let mut cells = Vec::new();
        for figure in FACE_FIGURES {
            self.plan.face(row, figure).cells(&mut cells);
        }
        if let Some(face) = self.plan.measured.faces.get(row) {
            self.plan.expr(face.opening_edges).cells(&mut cells);
        }
        let mut known = HashSet::new();
        cells.retain(|cell| matches!(cell, Cell::Size(_) | Cell::Worked(_)) && known.insert(*cell));
        cells
    }

    /// The comparisons that the measures of a face hold under.
    pub fn face_guards(&self, row: usize) -> Vec<Held> {
        self.plan.guards(row)
    }

    /// Whether other figures of the plan use the number of equal faces of a row and cannot follow
    /// it: faces of templates.
    pub fn has_fixed_count(&self, row: usize) -> bool {
        self.plan.fixed_counts.contains(&row)
    }

    /// The formula of the length of an edge, by its row.
    pub fn edge_length(&self, edge: &Edge) -> Expr {
        self.plan.expr(edge.length.node)
    }

    /// The formula of a cell of a class.
    pub fn term(&self, class: usize, row: usize, term: usize) -> Expr {
        let Some((of, found)) = self
            .classes
            .get(class)
            .and_then(|class| Some((class, class.terms.get(term)?)))
        else {
            return Expr::Number(f64::NAN);
        };
        let input = |slot| self.input(of, row, slot);
        of.laid.written_out(&of.tape, found.node, row, &input)
    }

    /// The comparisons of the rules that differ from row to row of a class.
    pub fn row_guards(&self, class: usize, row: usize) -> Vec<Held> {
        let Some(of) = self.classes.get(class) else {
            return Vec::new();
        };
        let input = |slot| self.input(of, row, slot);
        of.guards
            .iter()
            .filter(|guard| of.laid.differs(guard.left) || of.laid.differs(guard.right))
            .map(|guard| of.laid.held_in_row(&of.tape, guard, row, &input))
            .collect()
    }

    fn input(&self, class: &Class, row: usize, slot: u32) -> Expr {
        let version = self.versions.get(class.version);
        let name = class.tape.input_name(slot).unwrap_or("");
        match version {
            Some(version) => inputs::in_row(&self.plan, version.estimate, &class.rows, row, name),
            None => Expr::Number(f64::NAN),
        }
    }

    /// The number in a cell, in coherent units.
    pub fn value(&self, cell: Cell) -> f64 {
        let class = |number: usize| self.classes.get(number);
        let term = |number: usize, term: usize| class(number).and_then(|of| of.terms.get(term));
        let found = match cell {
            Cell::Size(number) => self.plan.sizes.get(number).map(|size| size.value),
            Cell::Worked(number) => self.plan.worked.get(number).map(|worked| worked.value),
            Cell::Factor(number) => self
                .factors()
                .get(number)
                .map(|factor| self.system.value(factor.quantity)),
            Cell::Face(row, figure) => Some(self.plan.face_value(row, figure)),
            Cell::FaceCount(row) => inputs::face_count(&self.plan, row),
            Cell::EdgeCount(row) => self
                .plan
                .job()
                .edges
                .get(row)
                .map(|edge| f64::from(edge.count)),
            Cell::Term {
                class,
                row,
                term: column,
            } => Some(
                self.term(class, row, column)
                    .value(&|cell| self.value(cell)),
            ),
            Cell::TermTotal {
                class,
                term: column,
            } => term(class, column).map(|term| term.total),
            Cell::TermColumn {
                class,
                term: column,
            } => term(class, column).map(|term| term.largest),
            Cell::ClassCount(number) => class(number).map(|class| class.count),
            Cell::Working(number) => self.workings.get(number).map(|line| line.value),
            Cell::Bid(version, figure) => self
                .versions
                .get(version)
                .map(|version| version::bid_value(version.estimate, figure)),
        };
        found.unwrap_or(f64::NAN)
    }
}

#[cfg(test)]
mod tests;
