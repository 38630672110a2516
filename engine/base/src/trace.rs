//! The tape: every figure together with the expression that made it.
//!
//! A tape is a list of nodes, each an input, a factor from a table, a literal, or an operation
//! on earlier nodes. From it a figure can be explained, written as a spreadsheet formula, or
//! computed again for other inputs without running the script that made it: for one set of them
//! ([`Tape::replay`]), or for many together ([`Tape::replay_columns`]). Every operation is
//! evaluated by one function, so a replay gives the same bits as the first run.

pub mod columns;
mod slopes;

use crate::dim::Dim;
use crate::number::{round_to, whole_up};
use crate::quantity::{Quantity, QuantityError, kernel};
use crate::source::Span;
use crate::unit::Unit;
use std::cmp::Ordering;
use std::fmt;
use std::sync::Arc;

/// A node of one tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(u32);

impl NodeId {
    /// Its place on its tape, from 0.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// Where a factor comes from. Everybody who bids on it can ask.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum FactorSource {
    /// A standard, handbook or paper: title, year, clause or table.
    Published(String),
    /// Common practice of the trade, with no source.
    CommonPractice,
    /// The company's own experience.
    Company,
    /// The company's own past jobs, as `parge learn` writes it: how many, and from when to when.
    OwnJobs(String),
    /// A published source that could not be seen when the value was written down.
    FromMemory(String),
}

impl FactorSource {
    /// Reads a source column: `common practice`, `company`, `own jobs: …`, `from memory: …`, or the
    /// name of a published source. `None` where nothing is said.
    pub fn parse(text: &str) -> Option<Self> {
        const MEMORY: &str = "from memory";
        const OWN_JOBS: &str = "own jobs:";
        let text = text.trim();
        Some(match text.to_ascii_lowercase().as_str() {
            "" => return None,
            "common practice" => Self::CommonPractice,
            "company" => Self::Company,
            lower if lower.starts_with(OWN_JOBS) => {
                let rest = text.get(OWN_JOBS.len()..).unwrap_or("");
                Self::OwnJobs(rest.trim().to_owned())
            }
            lower if lower.starts_with(MEMORY) => {
                let rest = text.get(MEMORY.len()..).unwrap_or("");
                Self::FromMemory(rest.trim_start_matches([':', ' ']).to_owned())
            }
            _ => Self::Published(text.to_owned()),
        })
    }
}

impl fmt::Display for FactorSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Published(text) => f.write_str(text),
            Self::CommonPractice => f.write_str("common practice, no source"),
            Self::Company => f.write_str("company"),
            Self::OwnJobs(jobs) => write!(f, "own jobs: {jobs}"),
            Self::FromMemory(text) if text.is_empty() => f.write_str("from memory"),
            Self::FromMemory(text) => write!(f, "from memory: {text}"),
        }
    }
}

/// A cell of a rule pack's table.
#[derive(Debug, Clone)]
pub struct Factor {
    /// Table and keys: `placing: stamp, place`.
    pub name: String,
    /// The value in base units.
    pub quantity: Quantity,
    /// The value as written.
    pub written: f64,
    /// The unit as written.
    pub unit: Unit,
    /// Who says so.
    pub source: FactorSource,
    /// The row.
    pub span: Span,
}

/// A function of one quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Function {
    /// The negative.
    Negate,
    /// The size without its sign.
    Abs,
    /// The square root.
    Root,
    /// The angle, in radians, that has this sine.
    ArcSine,
    /// The power of Euler's number; of a plain number only.
    Exp,
    /// The natural logarithm; of a plain number above zero only.
    Ln,
    /// Rounded up to a whole number of the kind's base unit, free of binary noise.
    WholeUp,
    /// Rounded to the nearest whole number, half away from zero.
    Round,
}

/// An operation on two quantities.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Operator {
    /// Sum.
    Add,
    /// Difference.
    Subtract,
    /// Product.
    Multiply,
    /// Quotient.
    Divide,
    /// Power.
    Power,
    /// The smaller.
    Min,
    /// The larger.
    Max,
}

/// What made a node.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Op {
    /// An input by its slot; its name is [`Tape::input_name`].
    Input(u32),
    /// A factor by its number on the tape; [`Tape::factor`] has it.
    Factor(u32),
    /// A number written in a plan or script.
    Literal,
    /// A number of a formula that nobody states: the 2 of a half, or nothing to begin a sum with.
    Constant,
    /// A function of an earlier node.
    Apply(Function, NodeId),
    /// An operation on two earlier nodes.
    Combine(Operator, NodeId, NodeId),
}

/// A figure and how it came about.
#[derive(Debug, Clone, Copy)]
pub struct Node {
    /// What made it.
    pub op: Op,
    /// Its value.
    pub value: Quantity,
    /// The place in a plan, script or table that asked for it.
    pub place: Option<Span>,
}

/// How two figures were compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Comparison {
    /// `<`
    Less,
    /// `<=`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`
    GreaterOrEqual,
    /// `==`
    Equal,
    /// `!=`
    NotEqual,
}

impl Comparison {
    /// The one that holds where this one does not, of figures that can be compared.
    fn opposite(self) -> Self {
        match self {
            Self::Less => Self::GreaterOrEqual,
            Self::LessOrEqual => Self::Greater,
            Self::Greater => Self::LessOrEqual,
            Self::GreaterOrEqual => Self::Less,
            Self::Equal => Self::NotEqual,
            Self::NotEqual => Self::Equal,
        }
    }

    /// Whether the comparison holds for an order.
    pub fn holds(self, order: Ordering) -> bool {
        match self {
            Self::Less => order.is_lt(),
            Self::LessOrEqual => order.is_le(),
            Self::Greater => order.is_gt(),
            Self::GreaterOrEqual => order.is_ge(),
            Self::Equal => order.is_eq(),
            Self::NotEqual => order.is_ne(),
        }
    }
}

/// A comparison that a rule made on the way: what the tape says holds only while it turns out
/// the same.
#[derive(Debug, Clone, Copy)]
pub struct Guard {
    /// Left side.
    pub left: NodeId,
    /// How.
    pub comparison: Comparison,
    /// Right side.
    pub right: NodeId,
    /// How it turned out.
    pub held: bool,
    /// Where in the script.
    pub place: Option<Span>,
}

/// Why a tape says nothing for other inputs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReplayError {
    /// A comparison turns out differently: the script must be run for these inputs.
    GuardFailed,
    /// An operation has no result for these inputs.
    NoValue(QuantityError),
    /// The inputs are not of the kinds the tape was made with.
    OtherInputs,
}

/// A list of nodes, each made from earlier ones.
#[derive(Debug, Clone, Default)]
pub struct Tape {
    nodes: Vec<Node>,
    guards: Vec<Guard>,
    inputs: Vec<(Arc<str>, NodeId)>,
    factors: Vec<(Arc<Factor>, NodeId)>,
}

impl Tape {
    /// An empty tape.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds an input in the next slot.
    pub fn input(&mut self, name: Arc<str>, value: Quantity, place: Option<Span>) -> NodeId {
        let node = self.push(Op::Input(self.inputs.len() as u32), value, place);
        self.inputs.push((name, node));
        node
    }

    /// The node of a factor; one node a factor, however often it is used.
    pub fn factor_node(&mut self, factor: &Arc<Factor>) -> NodeId {
        if let Some((_, node)) = self
            .factors
            .iter()
            .find(|(known, _)| Arc::ptr_eq(known, factor))
        {
            return *node;
        }
        let op = Op::Factor(self.factors.len() as u32);
        let node = self.push(op, factor.quantity, Some(factor.span));
        self.factors.push((Arc::clone(factor), node));
        node
    }

    /// Adds a number as written.
    pub fn literal(&mut self, value: Quantity, place: Option<Span>) -> NodeId {
        self.push(Op::Literal, value, place)
    }

    /// Adds a number of a formula that nobody states.
    pub fn constant(&mut self, value: Quantity, place: Option<Span>) -> NodeId {
        self.push(Op::Constant, value, place)
    }

    /// Applies a function to a node.
    pub fn apply(
        &mut self,
        function: Function,
        node: NodeId,
        place: Option<Span>,
    ) -> Result<NodeId, QuantityError> {
        let value = function.of(self.value(node))?;
        Ok(self.push(Op::Apply(function, node), value, place))
    }

    /// Combines two nodes.
    pub fn combine(
        &mut self,
        operator: Operator,
        left: NodeId,
        right: NodeId,
        place: Option<Span>,
    ) -> Result<NodeId, QuantityError> {
        let value = operator.of(self.value(left), self.value(right))?;
        Ok(self.push(Op::Combine(operator, left, right), value, place))
    }

    /// Compares two nodes and records how it turned out.
    pub fn compare(
        &mut self,
        comparison: Comparison,
        left: NodeId,
        right: NodeId,
        place: Option<Span>,
    ) -> Result<bool, QuantityError> {
        let held = comparison.holds(order_of(self.value(left), self.value(right))?);
        self.guards.push(Guard {
            left,
            comparison,
            right,
            held,
            place,
        });
        Ok(held)
    }

    /// A node's value; zero for a node of another tape.
    #[inline]
    pub fn value(&self, node: NodeId) -> Quantity {
        self.node(node)
            .map_or(Quantity::zero(Dim::NONE), |node| node.value)
    }

    /// A node with its provenance.
    #[inline]
    pub fn node(&self, node: NodeId) -> Option<&Node> {
        self.nodes.get(node.0 as usize)
    }

    /// All nodes, each after those that it is made from.
    pub fn nodes(&self) -> impl Iterator<Item = (NodeId, &Node)> {
        let numbered = self.nodes.iter().enumerate();
        numbered.map(|(number, node)| (NodeId(number as u32), node))
    }

    /// The number of nodes.
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// Whether there is no node.
    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }

    /// The comparisons made on the way.
    pub fn guards(&self) -> &[Guard] {
        &self.guards
    }

    /// The name of the input in a slot.
    pub fn input_name(&self, slot: u32) -> Option<&str> {
        self.inputs.get(slot as usize).map(|(name, _)| &**name)
    }

    /// Whether an operation or comparison makes use of an input, by its name.
    pub fn uses_input(&self, name: &str) -> bool {
        let Some((_, input)) = self.inputs.iter().find(|(known, _)| **known == *name) else {
            return false;
        };
        let in_nodes = self.nodes.iter().any(|node| match node.op {
            Op::Apply(_, a) => a == *input,
            Op::Combine(_, a, b) => a == *input || b == *input,
            Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => false,
        });
        in_nodes
            || self
                .guards
                .iter()
                .any(|guard| guard.left == *input || guard.right == *input)
    }

    /// A factor by its number.
    pub fn factor(&self, number: u32) -> Option<&Arc<Factor>> {
        self.factors.get(number as usize).map(|(factor, _)| factor)
    }

    /// The factors used, in order of first use.
    pub fn factors(&self) -> impl Iterator<Item = &Arc<Factor>> {
        self.factors.iter().map(|(factor, _)| factor)
    }

    /// Computes all nodes again for other inputs, given by slot. The values come in the order
    /// of the nodes; look one up with [`Replay::value`].
    pub fn replay(&self, inputs: &[Quantity]) -> Result<Replay, ReplayError> {
        if inputs.len() != self.inputs.len() {
            return Err(ReplayError::OtherInputs);
        }
        let mut replay = Replay(Vec::new());
        let mut guards = self.guards.iter().peekable();
        for node in &self.nodes {
            let value = match node.op {
                Op::Input(slot) => match inputs.get(slot as usize) {
                    Some(value) if value.dim == node.value.dim => Ok(*value),
                    _ => return Err(ReplayError::OtherInputs),
                },
                Op::Factor(_) | Op::Literal | Op::Constant => Ok(node.value),
                Op::Apply(function, a) => function.of(replay.value(a)),
                Op::Combine(operator, a, b) => operator.of(replay.value(a), replay.value(b)),
            };
            replay.0.push(value.map_err(ReplayError::NoValue)?);
            // A guard is tried as soon as both its sides are known: most faces of another class
            // are told apart by one of the first.
            while let Some(guard) =
                guards.next_if(|guard| replay.knows(guard.left) && replay.knows(guard.right))
            {
                let order = order_of(replay.value(guard.left), replay.value(guard.right));
                if guard.comparison.holds(order.map_err(ReplayError::NoValue)?) != guard.held {
                    return Err(ReplayError::GuardFailed);
                }
            }
        }
        Ok(replay)
    }

    /// The tape that its script would make for other inputs, each with its place, given by slot.
    pub fn again(&self, inputs: &[(Quantity, Option<Span>)]) -> Result<Self, ReplayError> {
        let values: Vec<Quantity> = inputs.iter().map(|(value, _)| *value).collect();
        let replay = self.replay(&values)?;
        let mut tape = self.clone();
        for (node, value) in tape.nodes.iter_mut().zip(replay.0) {
            node.value = value;
            if let Op::Input(slot) = node.op {
                node.place = inputs.get(slot as usize).and_then(|(_, place)| *place);
            }
        }
        Ok(tape)
    }

    /// Computes all nodes of another tape again for inputs that are nodes of this one, given by
    /// slot, and takes them over. The answer has the node of this tape for each node of the
    /// other, in their order. Nothing is taken over when the other tape says nothing for these
    /// inputs.
    pub fn graft(&mut self, other: &Tape, inputs: &[NodeId]) -> Result<Grafted, ReplayError> {
        let values: Vec<Quantity> = inputs.iter().map(|node| self.value(*node)).collect();
        other.replay(&values)?;
        let mut taken: Vec<NodeId> = Vec::with_capacity(other.nodes.len());
        for node in &other.nodes {
            let here = |of: NodeId| taken.get(of.0 as usize).copied().unwrap_or(of);
            let made = match node.op {
                Op::Input(slot) => inputs.get(slot as usize).copied(),
                Op::Factor(number) => other.factor(number).map(|factor| self.factor_node(factor)),
                Op::Literal => Some(self.literal(node.value, node.place)),
                Op::Constant => Some(self.constant(node.value, node.place)),
                Op::Apply(function, a) => self.apply(function, here(a), node.place).ok(),
                Op::Combine(operator, a, b) => {
                    self.combine(operator, here(a), here(b), node.place).ok()
                }
            };
            // The replay has shown that every node has a value.
            taken.push(made.ok_or(ReplayError::OtherInputs)?);
        }
        // The replay has shown that each turns out as it did there.
        let here = |of: NodeId| taken.get(of.0 as usize).copied().unwrap_or(of);
        self.guards.extend(other.guards.iter().map(|guard| Guard {
            left: here(guard.left),
            right: here(guard.right),
            ..*guard
        }));
        Ok(Grafted(taken))
    }

    fn push(&mut self, op: Op, value: Quantity, place: Option<Span>) -> NodeId {
        let id = NodeId(self.nodes.len() as u32);
        self.nodes.push(Node { op, value, place });
        id
    }
}

/// The nodes that a tape took over from another one.
#[derive(Debug, Clone)]
pub struct Grafted(Vec<NodeId>);

impl Grafted {
    /// The node that stands for a node of the other tape.
    pub fn node(&self, of: NodeId) -> Option<NodeId> {
        self.0.get(of.0 as usize).copied()
    }
}

/// The order of two figures of one kind as an estimator would see it.
fn order_of(left: Quantity, right: Quantity) -> Result<Ordering, QuantityError> {
    left.order(right)?;
    kernel::order(left.value, right.value).ok_or(QuantityError::NotFinite)
}

/// The values of a tape for other inputs.
#[derive(Debug, Clone)]
pub struct Replay(Vec<Quantity>);

impl Replay {
    fn knows(&self, node: NodeId) -> bool {
        (node.0 as usize) < self.0.len()
    }

    /// A node's value; zero for a node of another tape.
    pub fn value(&self, node: NodeId) -> Quantity {
        self.0
            .get(node.0 as usize)
            .copied()
            .unwrap_or(Quantity::zero(Dim::NONE))
    }
}

impl Function {
    /// The function's value.
    pub fn of(self, a: Quantity) -> Result<Quantity, QuantityError> {
        match self {
            Self::Root => a.root(),
            Self::Negate | Self::Abs => Quantity::new(self.value(a.value), a.dim),
            Self::ArcSine => a
                .to_plain()
                .and_then(|sine| Quantity::new(self.value(sine), Dim::NONE)),
            Self::Exp | Self::Ln => a
                .to_plain()
                .and_then(|number| Quantity::new(self.value(number), Dim::NONE)),
            Self::WholeUp | Self::Round => {
                countable(a).and_then(|a| Quantity::new(self.value(a.value), a.dim))
            }
        }
    }

    /// The function's value for one of the right kind; not finite where it has none. Every way to
    /// compute comes through here.
    fn value(self, a: f64) -> f64 {
        match self {
            Self::Negate => -a,
            Self::Abs => a.abs(),
            Self::Root => kernel::root(a),
            Self::ArcSine => kernel::arc_sine(a),
            Self::Exp => a.exp(),
            Self::Ln => a.ln(),
            Self::WholeUp => whole_up(a),
            Self::Round => round_to(a, 0),
        }
    }
}

/// Only numbers and counts have whole values: rounding a length would round it in base units,
/// which no estimator means.
fn countable(a: Quantity) -> Result<Quantity, QuantityError> {
    if a.dim.is_none() || a.dim.as_item().is_some() {
        Ok(a)
    } else {
        Err(QuantityError::NotPlain(a.dim))
    }
}

impl Operator {
    /// The operation's value.
    pub fn of(self, a: Quantity, b: Quantity) -> Result<Quantity, QuantityError> {
        match self {
            Self::Add => a.plus(b),
            Self::Subtract => a.minus(b),
            Self::Multiply => a.times(b),
            Self::Divide => a.over(b),
            Self::Power => a.power(b),
            Self::Min => a.smaller(b),
            Self::Max => a.larger(b),
        }
    }
}

#[cfg(test)]
mod tests;
