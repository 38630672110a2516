//! A tape replayed for many sets of inputs together: node by node, over columns of values.
//!
//! All rows of a column are of one kind, so kinds are looked at once and not once a row: what is
//! left of an operation is its kernel (`quantity/kernel.rs`), the one that [`Tape::replay`] and a
//! first run use. Rows for which a comparison turns out differently, or some node has no value,
//! drop out; for the others the tape holds, to the same bits.
//!
//! What is the same for all rows is computed once, and what the smallest and the largest inputs
//! already say of every row between them is not asked of each: `known.rs` finds both out,
//! `program.rs` lays out what is left to do, and `block.rs` does it.

mod block;
mod inputs;
mod known;
mod program;
mod span;

pub use inputs::Columns;

use super::{NodeId, ReplayError, Tape};
use crate::dim::Dim;
use crate::quantity::Quantity;
use program::{Place, Program};

/// What a tape says for the rows that it holds for.
#[derive(Debug, Clone, Default)]
pub struct Replayed {
    rows: Vec<usize>,
    /// In the order of the nodes.
    kept: Vec<(NodeId, Dim, Place)>,
    /// Those that have places in them have a value for each of the rows.
    columns: Vec<Vec<f64>>,
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
        let (_, dim, place) = self.kept.get(at.ok()?)?;
        let value = match place {
            Place::Fixed(value) if position < self.rows.len() => *value,
            Place::Fixed(_) => return None,
            Place::Column(column) => *self.columns.get(*column)?.get(position)?,
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
        let Some(program) = Program::new(self, inputs, keep) else {
            return Ok(Replayed::default());
        };
        let (rows, columns) = block::run(&program, inputs, rows);
        let kept = program.kept.into_iter();
        Ok(Replayed {
            rows,
            kept: kept
                .map(|(node, place)| (node, self.value(node).dim, place))
                .collect(),
            columns,
        })
    }
}

#[cfg(test)]
mod tests;
