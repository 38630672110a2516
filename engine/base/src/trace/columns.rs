//! A tape replayed for many sets of inputs together: node by node, over columns of values.
//!
//! All rows of a column are of one kind, so kinds are looked at once and not once a row: what is
//! left of an operation is its kernel (`quantity/kernel.rs`), the one that [`Tape::replay`] and a
//! first run use. Rows for which a comparison turns out differently, or some node has no value,
//! drop out; for the others the tape holds, to the same bits.

mod program;

use super::{Comparison, NodeId, Operator, ReplayError, Tape};
use crate::dim::Dim;
use crate::quantity::kernel::Sides;
use crate::quantity::{Quantity, kernel};
use program::{Place, Program, Step};

/// Rows that are computed together: few enough that the columns of a rule stay in the cache of a
/// processor, many enough that going from node to node costs nothing beside them.
const BLOCK: usize = 256;

/// The inputs of many subjects of one class: a row a subject, a column an input.
#[derive(Debug, Clone)]
pub struct Columns {
    kinds: Vec<Dim>,
    values: Vec<Vec<f64>>,
    rows: usize,
}

impl Columns {
    /// No rows yet, of the kinds that these inputs have by slot.
    pub fn of_kinds(inputs: &[Quantity]) -> Self {
        Self {
            kinds: inputs.iter().map(|input| input.dim).collect(),
            values: vec![Vec::new(); inputs.len()],
            rows: 0,
        }
    }

    /// Adds a row and answers with its number; none, and nothing is added, where the inputs are
    /// not of the kinds of these columns.
    pub fn push(&mut self, inputs: &[Quantity]) -> Option<usize> {
        if !inputs.iter().map(|input| &input.dim).eq(&self.kinds) {
            return None;
        }
        for (column, input) in self.values.iter_mut().zip(inputs) {
            column.push(input.value);
        }
        self.rows += 1;
        Some(self.rows - 1)
    }

    /// The number of rows.
    pub fn len(&self) -> usize {
        self.rows
    }

    /// Whether there is no row.
    pub fn is_empty(&self) -> bool {
        self.rows == 0
    }
}

/// What a tape says for the rows that it holds for.
#[derive(Debug, Clone)]
pub struct Replayed {
    rows: Vec<usize>,
    /// By node.
    kept: Vec<(NodeId, Dim, Kept)>,
}

/// The values of a node.
#[derive(Debug, Clone)]
enum Kept {
    /// No input takes part in it.
    Same(f64),
    /// In the order of the rows.
    Each(Vec<f64>),
}

impl Replayed {
    /// The rows that the tape holds for, in the order in which they were asked for.
    pub fn rows(&self) -> &[usize] {
        &self.rows
    }

    /// The value of a node that was kept, for the row that stands at a position of
    /// [`Self::rows`]; none for another node or position.
    pub fn value(&self, position: usize, node: NodeId) -> Option<Quantity> {
        let at = self.kept.binary_search_by_key(&node, |(node, ..)| *node);
        let (_, dim, kept) = self.kept.get(at.ok()?)?;
        let value = match kept {
            Kept::Same(value) if position < self.rows.len() => *value,
            Kept::Same(_) => return None,
            Kept::Each(values) => *values.get(position)?,
        };
        Some(Quantity { value, dim: *dim })
    }
}

impl Tape {
    /// Computes all nodes again for some rows of inputs, and keeps the values of some nodes.
    ///
    /// A row drops out where [`Tape::replay`] would answer with an error, and also where the
    /// exponent of a figure with a unit is another one: then the kind of the result is, too.
    pub fn replay_columns(
        &self,
        inputs: &Columns,
        rows: &[usize],
        keep: &[NodeId],
    ) -> Result<Replayed, ReplayError> {
        let own = self.inputs.iter().map(|(_, node)| self.value(*node).dim);
        if !own.eq(inputs.kinds.iter().copied()) {
            return Err(ReplayError::OtherInputs);
        }
        let program = Program::new(self, keep);
        let mut replayed = Replayed {
            rows: Vec::with_capacity(rows.len()),
            kept: Vec::with_capacity(program.kept.len()),
        };
        for (node, place) in &program.kept {
            let kept = match place {
                Place::Fixed(value) => Kept::Same(*value),
                Place::Column(_) => Kept::Each(Vec::with_capacity(rows.len())),
            };
            replayed.kept.push((*node, self.value(*node).dim, kept));
        }
        let mut block = Block::new(program.columns);
        for rows in rows.chunks(BLOCK) {
            block.begin(rows);
            block.run(&program, inputs);
            block.hand_over(&program, &mut replayed);
        }
        Ok(replayed)
    }
}

/// The rows that are computed together.
struct Block {
    /// Those that the tape may still hold for, and some that have dropped out.
    rows: Vec<usize>,
    /// For each of them, whether it is still in.
    holds: Vec<bool>,
    /// How many have dropped out.
    dropped: usize,
    /// Those in use have a value a row.
    columns: Vec<Vec<f64>>,
}

impl Block {
    fn new(columns: usize) -> Self {
        Self {
            rows: Vec::with_capacity(BLOCK),
            holds: Vec::with_capacity(BLOCK),
            dropped: 0,
            columns: vec![Vec::new(); columns],
        }
    }

    fn begin(&mut self, rows: &[usize]) {
        self.rows.clear();
        self.rows.extend_from_slice(rows);
        self.holds.clear();
        self.holds.resize(rows.len(), true);
        self.dropped = 0;
    }

    fn run(&mut self, program: &Program, inputs: &Columns) {
        for step in &program.steps {
            match *step {
                Step::Input { slot, out } => {
                    let column = inputs.values.get(slot).map_or(&[][..], Vec::as_slice);
                    // A row that is not there has no value, and so drops out.
                    let value = |row: &usize| column.get(*row).copied().unwrap_or(f64::NAN);
                    self.fill(out, |block, made| {
                        made.extend(block.rows.iter().map(value));
                    });
                }
                Step::Apply { function, a, out } => self.fill(out, |block, made| {
                    made.extend(block.column(a).iter().map(|a| function.value(*a)));
                }),
                Step::Combine {
                    operator,
                    a,
                    b,
                    out,
                } => self.fill(out, |block, made| block.combine(operator, a, b, made)),
                Step::WholePower {
                    a,
                    exponent,
                    whole,
                    out,
                } => self.fill(out, |block, made| {
                    let same = |exponent: f64| kernel::whole_exponent(exponent) == Some(whole);
                    block.pairs(a, exponent, |a, exponent| {
                        made.push(if same(exponent) {
                            kernel::whole_power(a, whole)
                        } else {
                            f64::NAN
                        });
                    });
                }),
                Step::Guard {
                    a,
                    comparison,
                    b,
                    held,
                } => {
                    let mut holds = std::mem::take(&mut self.holds);
                    self.guard(comparison, held, a, b, &mut holds);
                    self.holds = holds;
                    self.take_out();
                }
            }
            if self.rows.is_empty() {
                return;
            }
        }
    }

    /// Makes a column from others; rows that have no value in it drop out.
    fn fill(&mut self, out: usize, make: impl FnOnce(&Self, &mut Vec<f64>)) {
        let mut made = self
            .columns
            .get_mut(out)
            .map_or_else(Vec::new, std::mem::take);
        made.clear();
        make(self, &mut made);
        let all_finite = made.iter().fold(true, |all, value| all & value.is_finite());
        if !all_finite {
            for (value, holds) in made.iter().zip(&mut self.holds) {
                *holds &= value.is_finite();
            }
        }
        if let Some(column) = self.columns.get_mut(out) {
            *column = made;
        }
        if !all_finite {
            self.take_out();
        }
    }

    /// Has those rows drop out for which a comparison turns out differently, or not at all. A loop for
    /// each comparison, without a branch in it.
    fn guard(&self, comparison: Comparison, held: bool, a: Place, b: Place, holds: &mut [bool]) {
        use Comparison as C;
        let comparison = match held {
            true => comparison,
            false => comparison.opposite(),
        };
        match comparison {
            C::Less => self.tried(a, b, holds, |sides| sides.less),
            C::LessOrEqual => self.tried(a, b, holds, |sides| sides.less | sides.equal),
            C::Greater => self.tried(a, b, holds, |sides| sides.greater),
            C::GreaterOrEqual => self.tried(a, b, holds, |sides| sides.greater | sides.equal),
            C::Equal => self.tried(a, b, holds, |sides| sides.equal),
            C::NotEqual => self.tried(a, b, holds, |sides| sides.less | sides.greater),
        }
    }

    fn tried(&self, a: Place, b: Place, holds: &mut [bool], same: impl Fn(Sides) -> bool) {
        let same = |a: f64, b: f64| same(kernel::sides(a, b));
        match (a, b) {
            (Place::Column(a), Place::Column(b)) => {
                let rows = self.column(a).iter().zip(self.column(b));
                let rows = holds.iter_mut().zip(rows);
                rows.for_each(|(holds, (a, b))| *holds &= same(*a, *b));
            }
            (Place::Column(a), Place::Fixed(b)) => {
                let rows = holds.iter_mut().zip(self.column(a));
                rows.for_each(|(holds, a)| *holds &= same(*a, b));
            }
            (Place::Fixed(a), Place::Column(b)) => {
                let rows = holds.iter_mut().zip(self.column(b));
                rows.for_each(|(holds, b)| *holds &= same(a, *b));
            }
            (Place::Fixed(a), Place::Fixed(b)) => {
                holds.iter_mut().for_each(|holds| *holds &= same(a, b));
            }
        }
    }

    /// Once half of the rows have dropped out, they are taken out of all columns: those that
    /// belong to another run mostly do so early, and cost no more from then on.
    fn take_out(&mut self) {
        self.dropped = self.holds.iter().filter(|holds| !**holds).count();
        if self.dropped * 2 >= self.rows.len() {
            self.close_up();
        }
    }

    fn close_up(&mut self) {
        if self.dropped == 0 {
            return;
        }
        let holds = std::mem::take(&mut self.holds);
        for column in &mut self.columns {
            // A column that is out of use may be shorter or longer; nobody reads it again.
            let mut each = holds.iter().copied();
            column.retain(|_| each.next().unwrap_or(false));
        }
        let mut each = holds.iter().copied();
        self.rows.retain(|_| each.next().unwrap_or(false));
        self.holds = holds;
        self.holds.retain(|holds| *holds);
        self.dropped = 0;
    }

    fn column(&self, number: usize) -> &[f64] {
        self.columns.get(number).map_or(&[], Vec::as_slice)
    }

    /// A loop for each operation, so that no row asks which it is.
    fn combine(&self, operator: Operator, a: Place, b: Place, made: &mut Vec<f64>) {
        match operator {
            Operator::Add => self.combined(a, b, made, kernel::sum),
            Operator::Subtract => self.combined(a, b, made, kernel::difference),
            Operator::Multiply => self.combined(a, b, made, kernel::product),
            Operator::Divide => self.combined(a, b, made, kernel::quotient),
            Operator::Power => self.combined(a, b, made, kernel::power),
            Operator::Min => self.combined(a, b, made, kernel::smaller),
            Operator::Max => self.combined(a, b, made, kernel::larger),
        }
    }

    fn combined(&self, a: Place, b: Place, made: &mut Vec<f64>, value: impl Fn(f64, f64) -> f64) {
        match (a, b) {
            (Place::Column(a), Place::Column(b)) => {
                let rows = self.column(a).iter().zip(self.column(b));
                made.extend(rows.map(|(a, b)| value(*a, *b)));
            }
            (Place::Column(a), Place::Fixed(b)) => {
                made.extend(self.column(a).iter().map(|a| value(*a, b)));
            }
            (Place::Fixed(a), Place::Column(b)) => {
                made.extend(self.column(b).iter().map(|b| value(a, *b)));
            }
            (Place::Fixed(a), Place::Fixed(b)) => {
                made.extend(self.rows.iter().map(|_| value(a, b)))
            }
        }
    }

    fn pairs(&self, a: Place, b: Place, mut each: impl FnMut(f64, f64)) {
        match (a, b) {
            (Place::Column(a), Place::Column(b)) => {
                let rows = self.column(a).iter().zip(self.column(b));
                rows.for_each(|(a, b)| each(*a, *b));
            }
            (Place::Column(a), Place::Fixed(b)) => {
                self.column(a).iter().for_each(|a| each(*a, b));
            }
            (Place::Fixed(a), Place::Column(b)) => {
                self.column(b).iter().for_each(|b| each(a, *b));
            }
            (Place::Fixed(a), Place::Fixed(b)) => self.rows.iter().for_each(|_| each(a, b)),
        }
    }

    /// Adds what is left of the block to the answer.
    fn hand_over(&mut self, program: &Program, replayed: &mut Replayed) {
        self.close_up();
        replayed.rows.extend_from_slice(&self.rows);
        for ((_, place), (_, _, kept)) in program.kept.iter().zip(&mut replayed.kept) {
            if let (Place::Column(column), Kept::Each(values)) = (place, kept) {
                // Where no row is left, columns may be none of this block.
                let column = self.column(*column).get(..self.rows.len());
                values.extend_from_slice(column.unwrap_or(&[]));
            }
        }
    }
}

#[cfg(test)]
mod tests;
