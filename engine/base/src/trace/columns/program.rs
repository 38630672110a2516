//! A tape laid out for columns: which node is computed into which column, and when each
//! comparison is tried. A column is used again as soon as nothing needs its node any more, so that
//! a long tape takes no more room than what it has in hand at once.

use crate::quantity::kernel;
use crate::trace::{Comparison, Function, NodeId, Op, Operator, Tape};

/// Where the values of a node are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Place {
    /// One value for all rows: no input takes part in it.
    Fixed(f64),
    /// The number of a column.
    Column(usize),
}

/// One thing to do for all rows.
#[derive(Debug, Clone, Copy)]
pub(super) enum Step {
    Input {
        slot: usize,
        out: usize,
    },
    Apply {
        function: Function,
        a: usize,
        out: usize,
    },
    Combine {
        operator: Operator,
        a: Place,
        b: Place,
        out: usize,
    },
    /// A power of a figure with a unit: the kind of the result rests on the exponent, so it must
    /// be the one of the tape.
    WholePower {
        a: Place,
        exponent: Place,
        whole: i8,
        out: usize,
    },
    Guard {
        a: Place,
        comparison: Comparison,
        b: Place,
        held: bool,
    },
}

/// The steps of a tape in their order.
#[derive(Debug)]
pub(super) struct Program {
    pub(super) steps: Vec<Step>,
    /// How many columns it takes.
    pub(super) columns: usize,
    /// The nodes to keep, each once and in their order; their columns are not used again.
    pub(super) kept: Vec<(NodeId, Place)>,
}

impl Program {
    pub(super) fn new(tape: &Tape, keep: &[NodeId]) -> Self {
        let mut layout = Layout {
            tape,
            last_use: last_uses(tape, keep),
            places: Vec::with_capacity(tape.nodes.len()),
            free: Vec::new(),
            columns: 0,
            steps: Vec::new(),
        };
        let mut guards = tape.guards.iter().zip(guard_times(tape)).peekable();
        for (now, node) in tape.nodes.iter().enumerate() {
            layout.node(node.op, node.value.value);
            let mut done = operands(node.op).to_vec();
            done.push(Some(NodeId(now as u32)));
            while let Some((guard, _)) = guards.next_if(|(_, time)| *time == now) {
                let (a, b) = (layout.place(guard.left), layout.place(guard.right));
                done.extend([Some(guard.left), Some(guard.right)]);
                // Between two figures that no input takes part in, it turns out as it did.
                if !matches!((a, b), (Place::Fixed(_), Place::Fixed(_))) {
                    layout.steps.push(Step::Guard {
                        a,
                        comparison: guard.comparison,
                        b,
                        held: guard.held,
                    });
                }
            }
            for node in done.into_iter().flatten() {
                layout.release(node, now);
            }
        }
        let mut kept: Vec<NodeId> = keep.to_vec();
        kept.sort_unstable();
        kept.dedup();
        kept.retain(|node| (node.0 as usize) < tape.nodes.len());
        Self {
            kept: kept
                .into_iter()
                .map(|node| (node, layout.place(node)))
                .collect(),
            steps: layout.steps,
            columns: layout.columns,
        }
    }
}

fn operands(op: Op) -> [Option<NodeId>; 2] {
    match op {
        Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => [None, None],
        Op::Apply(_, a) => [Some(a), None],
        Op::Combine(_, a, b) => [Some(a), Some(b)],
    }
}

/// After which node each comparison is tried: as soon as both its sides are known, and none before
/// those that were made earlier. Most rows of another run are told apart by one of the first.
fn guard_times(tape: &Tape) -> Vec<usize> {
    let mut time = 0;
    let times = tape.guards.iter().map(|guard| {
        time = time.max(guard.left.0 as usize).max(guard.right.0 as usize);
        time
    });
    times.collect()
}

/// For each node, the last one after which it is still needed.
fn last_uses(tape: &Tape, keep: &[NodeId]) -> Vec<usize> {
    let mut last: Vec<usize> = (0..tape.nodes.len()).collect();
    let mut used = |node: NodeId, time: usize| {
        if let Some(last) = last.get_mut(node.0 as usize) {
            *last = time.max(*last);
        }
    };
    for (now, node) in tape.nodes.iter().enumerate() {
        let operands = operands(node.op);
        operands
            .into_iter()
            .flatten()
            .for_each(|node| used(node, now));
    }
    for (guard, time) in tape.guards.iter().zip(guard_times(tape)) {
        used(guard.left, time);
        used(guard.right, time);
    }
    keep.iter().for_each(|node| used(*node, usize::MAX));
    last
}

struct Layout<'t> {
    tape: &'t Tape,
    last_use: Vec<usize>,
    places: Vec<Place>,
    free: Vec<usize>,
    columns: usize,
    steps: Vec<Step>,
}

impl Layout<'_> {
    /// A node's place; a node of another tape counts as zero, as it does on the tape.
    fn place(&self, node: NodeId) -> Place {
        let place = self.places.get(node.0 as usize);
        place.copied().unwrap_or(Place::Fixed(0.0))
    }

    /// Lays out the next node, which has this value on the tape.
    fn node(&mut self, op: Op, value: f64) {
        let place = match op {
            Op::Input(slot) => {
                let out = self.take();
                let slot = slot as usize;
                self.steps.push(Step::Input { slot, out });
                Place::Column(out)
            }
            Op::Factor(_) | Op::Literal | Op::Constant => Place::Fixed(value),
            Op::Apply(function, a) => match self.place(a) {
                Place::Fixed(_) => Place::Fixed(value),
                Place::Column(a) => {
                    let out = self.take();
                    self.steps.push(Step::Apply { function, a, out });
                    Place::Column(out)
                }
            },
            Op::Combine(operator, left, right) => match (self.place(left), self.place(right)) {
                (Place::Fixed(_), Place::Fixed(_)) => Place::Fixed(value),
                (a, b) => {
                    let out = self.take();
                    let step = self.combine(operator, (left, a), (right, b), out);
                    self.steps.push(step);
                    Place::Column(out)
                }
            },
        };
        self.places.push(place);
    }

    fn combine(
        &self,
        operator: Operator,
        (left, a): (NodeId, Place),
        (right, b): (NodeId, Place),
        out: usize,
    ) -> Step {
        let of_kind = !self.tape.value(left).dim.is_none();
        let whole = kernel::whole_exponent(self.tape.value(right).value);
        match (operator, whole) {
            (Operator::Power, Some(whole)) if of_kind => Step::WholePower {
                a,
                exponent: b,
                whole,
                out,
            },
            _ => Step::Combine {
                operator,
                a,
                b,
                out,
            },
        }
    }

    fn take(&mut self) -> usize {
        self.free.pop().unwrap_or_else(|| {
            self.columns += 1;
            self.columns - 1
        })
    }

    /// Frees the column of a node that is not needed any more; only once.
    fn release(&mut self, node: NodeId, now: usize) {
        let Some(last_use) = self.last_use.get_mut(node.0 as usize) else {
            return;
        };
        if *last_use == now
            && let Some(Place::Column(column)) = self.places.get(node.0 as usize)
        {
            self.free.push(*column);
            *last_use = usize::MAX;
        }
    }
}
