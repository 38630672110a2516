//! A tape laid out for columns: what must be computed, into which column, and when each comparison
//! is tried.
//!
//! Nothing is computed but what is kept, what a comparison rests on that may turn out otherwise,
//! and what may have no value. A column is used again as soon as nothing needs its node any more,
//! so that a long tape takes no more room than what it has in hand at once.

use super::inputs::Columns;
use super::known::{Knowledge, Known, Outcome, needed, whole_power};
use crate::trace::{Comparison, Function, Guard, NodeId, Op, Operator, Tape};

/// Where the values of a node are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Place {
    /// One value for all rows.
    Fixed(f64),
    /// The number of a column.
    Column(usize),
}

/// One thing to do for all rows.
#[derive(Debug, Clone, Copy)]
pub(super) enum Step {
    Fill {
        out: usize,
        with: Work,
        /// Whether there may be rows that have no value in it.
        doubtful: bool,
    },
    /// Rows for which this does not hold drop out.
    Guard {
        a: Place,
        comparison: Comparison,
        b: Place,
    },
}

/// What fills a column.
#[derive(Debug, Clone, Copy)]
pub(super) enum Work {
    /// An input, by its slot.
    Input(usize),
    Apply(Function, Place),
    Combine(Operator, Place, Place),
    /// A power whose exponent must be this one.
    WholePower(Place, Place, i8),
}

/// The steps of a tape in their order.
#[derive(Debug, Default)]
pub(super) struct Program {
    pub(super) steps: Vec<Step>,
    /// For each column, whether the values of all rows are kept in it. The others have those of a
    /// block only.
    pub(super) lasting: Vec<bool>,
    /// The nodes to keep, each once and in their order.
    pub(super) kept: Vec<(NodeId, Place)>,
}

/// A node that is needed to the end.
const TO_THE_END: usize = usize::MAX;

impl Program {
    /// None where the tape holds for no row of the inputs.
    pub(super) fn new(tape: &Tape, inputs: &Columns, keep: &[NodeId]) -> Option<Self> {
        let known = Knowledge::of(tape, inputs)?;
        let guards = open_guards(tape, &known)?;
        let mut kept: Vec<NodeId> = keep.to_vec();
        kept.sort_unstable();
        kept.dedup();
        kept.retain(|node| node.index() < tape.nodes.len());
        let mut layout = Layout {
            tape,
            known,
            last_use: vec![None; tape.nodes.len()],
            columns: vec![0; tape.nodes.len()],
            free: Vec::new(),
            program: Self::default(),
        };
        layout.find_uses(&guards, &kept);
        layout.lay_out(&guards);
        let kept = kept.into_iter().map(|node| (node, layout.place(node)));
        Some(Self {
            kept: kept.collect(),
            ..layout.program
        })
    }
}

/// The comparisons that must be tried for each row, with the node after which they are: as soon as
/// both sides are known, and none before those that were made earlier. Most rows of another run are
/// told apart by one of the first. None where one turns out otherwise for all rows.
fn open_guards<'t>(tape: &'t Tape, known: &Knowledge) -> Option<Vec<(&'t Guard, usize)>> {
    let (mut time, mut open) = (0, Vec::new());
    for guard in &tape.guards {
        match known.outcome(guard) {
            Outcome::AsBefore => (),
            Outcome::Otherwise => return None,
            Outcome::DependsOnRow => {
                time = time.max(guard.left.index()).max(guard.right.index());
                open.push((guard, time));
            }
        }
    }
    Some(open)
}

fn operands(op: Op) -> [Option<NodeId>; 2] {
    match op {
        Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => [None, None],
        Op::Apply(_, a) => [Some(a), None],
        Op::Combine(_, a, b) => [Some(a), Some(b)],
    }
}

struct Layout<'t> {
    tape: &'t Tape,
    known: Knowledge,
    /// For each node, the last one after which it is still needed; none where nothing needs it.
    last_use: Vec<Option<usize>>,
    /// For each node that is computed, its column.
    columns: Vec<usize>,
    free: Vec<usize>,
    program: Program,
}

impl Layout<'_> {
    /// From the end to the beginning, so that the first to use a node is the last.
    fn find_uses(&mut self, guards: &[(&Guard, usize)], kept: &[NodeId]) {
        for node in kept {
            self.used(*node, TO_THE_END);
        }
        let mut guards = guards.iter().rev().peekable();
        for (now, node) in self.tape.nodes.iter().enumerate().rev() {
            while let Some((guard, _)) = guards.next_if(|(_, time)| *time == now) {
                self.used(guard.left, now);
                self.used(guard.right, now);
            }
            if self.known.is_doubtful(now) {
                self.used(NodeId(now as u32), now);
            }
            if self.is_computed(now) {
                for operand in operands(node.op).into_iter().flatten() {
                    self.used(operand, now);
                }
            }
        }
    }

    fn used(&mut self, node: NodeId, now: usize) {
        let computed = self.known.computed(node);
        if let Some(last_use) = computed.and_then(|node| self.last_use.get_mut(node)) {
            last_use.get_or_insert(now);
        }
    }

    fn is_computed(&self, node: usize) -> bool {
        self.last_use.get(node).is_some_and(Option::is_some)
    }

    fn lay_out(&mut self, guards: &[(&Guard, usize)]) {
        let mut guards = guards.iter().peekable();
        for (now, node) in self.tape.nodes.iter().enumerate() {
            let computed = self.is_computed(now);
            if computed {
                let out = self.take(now);
                self.program.steps.push(Step::Fill {
                    out,
                    with: self.work(node.op),
                    doubtful: self.known.is_doubtful(now),
                });
            }
            while let Some((guard, _)) = guards.next_if(|(_, time)| *time == now) {
                self.program.steps.push(Step::Guard {
                    a: self.place(guard.left),
                    comparison: needed(guard),
                    b: self.place(guard.right),
                });
                self.release(guard.left, now);
                self.release(guard.right, now);
            }
            if computed {
                let operands = operands(node.op).into_iter().flatten();
                operands.for_each(|operand| self.release(operand, now));
                self.release(NodeId(now as u32), now);
            }
        }
    }

    fn work(&self, op: Op) -> Work {
        match op {
            Op::Input(slot) => Work::Input(slot as usize),
            Op::Apply(function, a) => Work::Apply(function, self.place(a)),
            Op::Combine(operator, a, b) => {
                let places = (self.place(a), self.place(b));
                match whole_power(self.tape, operator, a, b) {
                    Some(whole) => Work::WholePower(places.0, places.1, whole),
                    None => Work::Combine(operator, places.0, places.1),
                }
            }
            // These are fixed, and so not computed.
            Op::Factor(_) | Op::Literal | Op::Constant => Work::Input(usize::MAX),
        }
    }

    fn place(&self, node: NodeId) -> Place {
        match self.known.node(node) {
            Known::Fixed(value) => Place::Fixed(value),
            Known::Varying { of, .. } => {
                Place::Column(self.columns.get(of).copied().unwrap_or_default())
            }
        }
    }

    /// A column for a node. What lasts has one of its own.
    fn take(&mut self, node: usize) -> usize {
        let lasting = self.last_use.get(node) == Some(&Some(TO_THE_END));
        let free = if lasting { None } else { self.free.pop() };
        let column = free.unwrap_or_else(|| {
            self.program.lasting.push(lasting);
            self.program.lasting.len() - 1
        });
        if let Some(known) = self.columns.get_mut(node) {
            *known = column;
        }
        column
    }

    /// Frees the column of a node that is not needed any more; only once.
    fn release(&mut self, node: NodeId, now: usize) {
        let Some(node) = self.known.computed(node) else {
            return;
        };
        if let (Some(last_use), Some(column)) =
            (self.last_use.get_mut(node), self.columns.get(node))
            && *last_use == Some(now)
        {
            self.free.push(*column);
            *last_use = Some(TO_THE_END);
        }
    }
}
