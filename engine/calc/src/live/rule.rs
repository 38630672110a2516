//! One run of a pack's rules as cells.
//!
//! What is the same for every face of a class is worked out once. What differs is taken together
//! where a rule is linear in it: `rate × (area of one face)`, added up over faces, is `rate ×
//! (area of all)`. So a class of any number of faces needs a few cells for each of its faces, and
//! its rules stand once. Where a rule is not linear, as in a product of two sizes, that product
//! stands in a cell of each face, and is added up from there.

use super::coherent::System;
use super::cuts::{Needed, Sizes, operands};
use super::expr::{Cell, Expr, Held};
use super::plan::Factors;
use parge_base::trace::Guard;
use parge_base::{Function, NodeId, Op, Operator, Tape};
use std::collections::HashMap;

/// What an input of a run is.
#[derive(Debug, Clone)]
pub(super) enum Given {
    /// The same for all.
    Same(Expr),
    /// Different from face to face.
    Differs,
}

/// What of a node's value is asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Wanted {
    /// Its sum over all rows, each as often as there are equal ones.
    total: bool,
    /// Its value in each row.
    rows: bool,
}

/// A run laid out in cells.
#[derive(Debug)]
pub(super) struct Laid {
    /// The nodes that have a cell in each row, in the order of their columns.
    pub(super) terms: Vec<NodeId>,
    term_of: HashMap<NodeId, usize>,
    differs: Vec<bool>,
    same: HashMap<NodeId, Expr>,
    totals: HashMap<NodeId, Expr>,
    /// The class that the rows are of.
    class: usize,
}

/// Takes formulas that want a cell of their own, and says which cell they got.
pub(super) trait Workings {
    /// `total` says that the figure is taken over all rows.
    fn add(&mut self, node: NodeId, expr: Expr, total: bool) -> Cell;
}

/// What is laid out of a run.
pub(super) struct Lay<'g> {
    pub(super) tape: &'g Tape,
    pub(super) system: System,
    pub(super) class: usize,
    /// By slot.
    pub(super) given: &'g [Given],
    /// Figures whose sum over all rows is asked for.
    pub(super) lines: &'g [NodeId],
    /// Figures that have a cell in each row, whatever asks for them.
    pub(super) columns: &'g [NodeId],
    /// Comparisons that must turn out as they did.
    pub(super) guards: &'g [Guard],
}

impl Lay<'_> {
    /// Lays out the run.
    pub(super) fn out(&self, factors: &mut Factors, workings: &mut dyn Workings) -> Laid {
        let sides = self
            .guards
            .iter()
            .flat_map(|guard| [guard.left, guard.right]);
        let lines = self.lines.iter().chain(self.columns).copied();
        let needed = Needed::of(self.tape, lines.chain(sides));
        let differs = self.differing(&needed);
        let wanted = self.wanted(&needed, &differs);
        let mut laid = Laid {
            terms: Vec::new(),
            term_of: HashMap::new(),
            differs,
            same: HashMap::new(),
            totals: HashMap::new(),
            class: self.class,
        };
        self.choose_terms(&needed, &wanted, &mut laid);
        self.write_same(&needed, &mut laid, factors, workings);
        self.write_totals(&needed, &wanted, &mut laid, workings);
        laid
    }

    /// Which nodes differ from row to row.
    fn differing(&self, needed: &Needed) -> Vec<bool> {
        let mut differs = vec![false; self.tape.len()];
        for (id, node) in self.tape.nodes().filter(|(id, _)| needed.has(*id)) {
            let moves = match node.op {
                Op::Input(slot) => {
                    matches!(self.given.get(slot as usize), Some(Given::Differs) | None)
                }
                op => operands(op).any(|on| flag(&differs, on)),
            };
            if let Some(slot) = differs.get_mut(id.index()) {
                *slot = moves;
            }
        }
        differs
    }

    /// What is asked for of each node, from the lines down.
    fn wanted(&self, needed: &Needed, differs: &[bool]) -> Vec<Wanted> {
        let mut wanted = vec![Wanted::default(); self.tape.len()];
        let mut ask = |node: NodeId, how: fn(&mut Wanted)| {
            if let Some(slot) = wanted.get_mut(node.index()).filter(|_| flag(differs, node)) {
                how(slot);
            }
        };
        const TOTAL: fn(&mut Wanted) = |wanted| wanted.total = true;
        const ROWS: fn(&mut Wanted) = |wanted| wanted.rows = true;
        self.lines.iter().for_each(|node| ask(*node, TOTAL));
        self.columns.iter().for_each(|node| ask(*node, TOTAL));
        for guard in self.guards {
            ask(guard.left, ROWS);
            ask(guard.right, ROWS);
        }
        let all: Vec<_> = self
            .tape
            .nodes()
            .filter(|(id, _)| needed.has(*id))
            .collect();
        for (id, node) in all.into_iter().rev() {
            let here = wanted.get(id.index()).copied().unwrap_or_default();
            let linear = is_linear(node.op, differs);
            let mut ask = |node: NodeId, how: fn(&mut Wanted)| {
                if let Some(slot) = wanted.get_mut(node.index()).filter(|_| flag(differs, node)) {
                    how(slot);
                }
            };
            if here.total && linear {
                operands(node.op).for_each(|on| ask(on, TOTAL));
            }
            if here.rows || (here.total && !linear) {
                operands(node.op).for_each(|on| ask(on, ROWS));
            }
        }
        wanted
    }

    /// Which nodes get a cell in each row: what is added up and is not linear, and what would make
    /// the formula of a row too long.
    fn choose_terms(&self, needed: &Needed, wanted: &[Wanted], laid: &mut Laid) {
        let mut sizes = Sizes::of(self.tape);
        for (id, node) in self.tape.nodes().filter(|(id, _)| needed.has(*id)) {
            if !flag(&laid.differs, id) {
                sizes.set(id, 1);
                continue;
            }
            let here = wanted.get(id.index()).copied().unwrap_or_default();
            let is_operation = operands(node.op).next().is_some();
            let added_up = here.total && !(is_operation && is_linear(node.op, &laid.differs));
            let uses = if here.rows { needed.uses(id) } else { 1 };
            let long = sizes.should_cut(id, node.op, uses) && here.rows && is_operation;
            if added_up || long || self.columns.contains(&id) {
                sizes.set(id, 1);
                laid.term_of.insert(id, laid.terms.len());
                laid.terms.push(id);
            }
        }
    }

    /// Writes what is the same for all rows.
    fn write_same(
        &self,
        needed: &Needed,
        laid: &mut Laid,
        factors: &mut Factors,
        workings: &mut dyn Workings,
    ) {
        let mut sizes = Sizes::of(self.tape);
        for (id, node) in self.tape.nodes().filter(|(id, _)| needed.has(*id)) {
            if flag(&laid.differs, id) {
                continue;
            }
            let expr = self.same(id, node.op, laid, factors);
            let is_operation = operands(node.op).next().is_some();
            let cut = sizes.should_cut(id, node.op, needed.uses(id)) && is_operation;
            let expr = match cut {
                true => Expr::At(workings.add(id, expr, false)),
                false => expr,
            };
            laid.same.insert(id, expr);
        }
    }

    /// Writes the sums over all rows. They come after all that is the same, on which rows rest.
    fn write_totals(
        &self,
        needed: &Needed,
        wanted: &[Wanted],
        laid: &mut Laid,
        workings: &mut dyn Workings,
    ) {
        let mut sizes = Sizes::of(self.tape);
        let total = |id: NodeId| wanted.get(id.index()).is_some_and(|wanted| wanted.total);
        let all = self.tape.nodes();
        for (id, node) in all.filter(|(id, _)| needed.has(*id) && total(*id)) {
            let expr = self.total(id, node.op, laid);
            let cut =
                !laid.term_of.contains_key(&id) && sizes.should_cut(id, node.op, needed.uses(id));
            let expr = match cut {
                true => Expr::At(workings.add(id, expr, true)),
                false => expr,
            };
            laid.totals.insert(id, expr);
        }
    }

    fn same(&self, id: NodeId, op: Op, laid: &Laid, factors: &mut Factors) -> Expr {
        let of = |node: NodeId| laid.same_expr(node);
        match op {
            Op::Input(slot) => match self.given.get(slot as usize) {
                Some(Given::Same(expr)) => expr.clone(),
                _ => Expr::Number(f64::NAN),
            },
            Op::Factor(number) => match self.tape.factor(number) {
                Some(factor) => Expr::At(factors.cell(factor)),
                None => Expr::Number(f64::NAN),
            },
            Op::Literal | Op::Constant => Expr::number(self.tape.value(id), self.system),
            Op::Apply(function, a) => Expr::apply(function, of(a)),
            Op::Combine(operator, a, b) => Expr::combine(operator, of(a), of(b)),
        }
    }

    /// The sum of a node over all rows.
    fn total(&self, id: NodeId, op: Op, laid: &Laid) -> Expr {
        if let Some(term) = laid.term_of.get(&id) {
            return Expr::At(Cell::TermTotal {
                class: self.class,
                term: *term,
            });
        }
        match op {
            Op::Apply(function, a) => Expr::apply(function, laid.total_expr(a)),
            Op::Combine(operator, a, b) => {
                let [a, b] = match operator {
                    Operator::Multiply | Operator::Divide => {
                        [a, b].map(|side| match flag(&laid.differs, side) {
                            true => laid.total_expr(side),
                            false => laid.same_expr(side),
                        })
                    }
                    _ => [laid.total_expr(a), laid.total_expr(b)],
                };
                Expr::combine(operator, a, b)
            }
            _ => Expr::Number(f64::NAN),
        }
    }
}

impl Laid {
    /// Whether a node differs from row to row.
    pub(super) fn differs(&self, node: NodeId) -> bool {
        flag(&self.differs, node)
    }

    fn same_expr(&self, node: NodeId) -> Expr {
        let found = self.same.get(&node);
        found.cloned().unwrap_or(Expr::Number(f64::NAN))
    }

    /// The sum of a figure over all rows; one that is the same for all counts once for each.
    pub(super) fn total_expr(&self, node: NodeId) -> Expr {
        if let Some(found) = self.totals.get(&node) {
            return found.clone();
        }
        let of_one = self.same_expr(node);
        match of_one {
            // Nothing stays nothing, however often.
            Expr::Number(0.0) => of_one,
            of_one => {
                let count = Expr::At(Cell::ClassCount(self.class));
                Expr::combine(Operator::Multiply, count, of_one)
            }
        }
    }

    /// A figure that is the same for all.
    pub(super) fn same_for_all(&self, node: NodeId) -> Option<Expr> {
        self.same.get(&node).cloned()
    }

    /// The column of a node.
    pub(super) fn column(&self, node: NodeId) -> Option<usize> {
        self.term_of.get(&node).copied()
    }

    /// A node in a row, as its cell there or written out.
    pub(super) fn in_row(
        &self,
        tape: &Tape,
        node: NodeId,
        row: usize,
        input: &dyn Fn(u32) -> Expr,
    ) -> Expr {
        match self.term_of.get(&node) {
            Some(term) => Expr::At(Cell::Term {
                class: self.class,
                row,
                term: *term,
            }),
            None => self.written_out(tape, node, row, input),
        }
    }

    /// A node in a row by its formula.
    pub(super) fn written_out(
        &self,
        tape: &Tape,
        node: NodeId,
        row: usize,
        input: &dyn Fn(u32) -> Expr,
    ) -> Expr {
        if !self.differs(node) {
            return self.same_expr(node);
        }
        let of = |node: NodeId| self.in_row(tape, node, row, input);
        match tape.node(node).map(|node| node.op) {
            Some(Op::Input(slot)) => input(slot),
            Some(Op::Apply(function, a)) => Expr::apply(function, of(a)),
            Some(Op::Combine(operator, a, b)) => Expr::combine(operator, of(a), of(b)),
            _ => Expr::Number(f64::NAN),
        }
    }

    /// A comparison in a row.
    pub(super) fn held_in_row(
        &self,
        tape: &Tape,
        guard: &Guard,
        row: usize,
        input: &dyn Fn(u32) -> Expr,
    ) -> Held {
        let side = |node: NodeId| self.in_row(tape, node, row, input);
        Held {
            left: side(guard.left),
            comparison: guard.comparison,
            right: side(guard.right),
            held: guard.held,
        }
    }
}

fn flag(flags: &[bool], node: NodeId) -> bool {
    flags.get(node.index()).copied().unwrap_or(false)
}

/// Whether the sum of an operation's values over rows is that operation of sums.
fn is_linear(op: Op, differs: &[bool]) -> bool {
    match op {
        Op::Apply(function, _) => function == Function::Negate,
        Op::Combine(operator, a, b) => match operator {
            Operator::Add | Operator::Subtract => true,
            Operator::Multiply => !(flag(differs, a) && flag(differs, b)),
            Operator::Divide => !flag(differs, b),
            Operator::Power | Operator::Min | Operator::Max => false,
        },
        Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => false,
    }
}
