//! Which steps of a tape get a cell of their own.
//!
//! A formula that says all its steps in one cell can be read only while it is short, and a
//! spreadsheet takes only so many letters. So what is used more than once, what has a name of its
//! own, and what has grown long stands in a cell, and the rest is written out where it is used.

use parge_base::{NodeId, Op, Tape};

/// Steps that one cell may hold. A formula with that many stays far below the 8,192 letters that
/// a cell takes (ECMA-376 leaves the bound to programs; this is the common one).
const MOST: usize = 120;

/// From so many steps on, what is used twice stands in a cell.
const SHORT: usize = 6;

/// The nodes that an operation works on.
pub(super) fn operands(op: Op) -> impl Iterator<Item = NodeId> {
    let both = match op {
        Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => [None, None],
        Op::Apply(_, a) => [Some(a), None],
        Op::Combine(_, a, b) => [Some(a), Some(b)],
    };
    both.into_iter().flatten()
}

/// What of a tape is needed, and how often each node is used by what is needed.
#[derive(Debug)]
pub(super) struct Needed {
    uses: Vec<u32>,
}

impl Needed {
    /// All that the roots rest on. A root counts as a use.
    pub(super) fn of(tape: &Tape, roots: impl Iterator<Item = NodeId>) -> Self {
        let mut uses = vec![0u32; tape.len()];
        let mut open = Vec::new();
        let mut visit = |node: NodeId, open: &mut Vec<NodeId>| {
            if let Some(count) = uses.get_mut(node.index()) {
                *count = count.saturating_add(1);
                if *count == 1 {
                    open.push(node);
                }
            }
        };
        for root in roots {
            visit(root, &mut open);
            while let Some(node) = open.pop() {
                let op = tape.node(node).map(|node| node.op);
                for operand in op.into_iter().flat_map(operands) {
                    visit(operand, &mut open);
                }
            }
        }
        Self { uses }
    }

    pub(super) fn uses(&self, node: NodeId) -> u32 {
        self.uses.get(node.index()).copied().unwrap_or(0)
    }

    pub(super) fn has(&self, node: NodeId) -> bool {
        self.uses(node) > 0
    }
}

/// How long formulas have grown, node by node in the order of their tape.
#[derive(Debug)]
pub(super) struct Sizes(Vec<usize>);

impl Sizes {
    pub(super) fn of(tape: &Tape) -> Self {
        Self(vec![0; tape.len()])
    }

    /// Takes in the next node; says whether it should stand in a cell of its own, from where it
    /// is used `uses` times.
    pub(super) fn should_cut(&mut self, node: NodeId, op: Op, uses: u32) -> bool {
        let of = |id: NodeId| self.0.get(id.index()).copied().unwrap_or(0);
        let size = 1 + operands(op).map(of).sum::<usize>();
        let cut = size > MOST || (uses > 1 && size > SHORT);
        self.set(node, if cut { 1 } else { size });
        cut
    }

    /// Takes in a node that stands in a cell whatever its length.
    pub(super) fn set(&mut self, node: NodeId, size: usize) {
        if let Some(slot) = self.0.get_mut(node.index()) {
            *slot = size;
        }
    }
}
