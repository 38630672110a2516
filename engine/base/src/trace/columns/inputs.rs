//! The inputs of many subjects.

use super::span::Span;
use crate::dim::Dim;
use crate::quantity::Quantity;

/// The inputs of many subjects of one class: a row a subject, a column an input.
#[derive(Debug, Clone)]
pub struct Columns {
    pub(super) kinds: Vec<Dim>,
    pub(super) columns: Vec<Column>,
    rows: usize,
}

/// The values of an input. Most are the same for all subjects of a class: what the finish of a face
/// says is, and only sizes differ.
#[derive(Debug, Clone)]
pub(super) enum Column {
    /// To the last bit.
    Same(f64),
    /// A value a row, and where they lie; nowhere once one is not finite.
    Each(Vec<f64>, Option<Span>),
}

impl Column {
    fn push(&mut self, value: f64, rows: usize) {
        match self {
            Self::Each(values, span) => {
                values.push(value);
                *span = span.and_then(|span| span.with(value));
            }
            Self::Same(same) if same.to_bits() == value.to_bits() => (),
            Self::Same(same) if rows == 0 => *same = value,
            Self::Same(same) => {
                let span = Span::around(&[*same, value]);
                let mut values = vec![*same; rows];
                values.push(value);
                *self = Self::Each(values, span);
            }
        }
    }
}

impl Columns {
    /// No rows yet, of the kinds that these inputs have by slot.
    pub fn of_kinds(inputs: &[Quantity]) -> Self {
        Self {
            kinds: inputs.iter().map(|input| input.dim).collect(),
            columns: inputs
                .iter()
                .map(|input| Column::Same(input.value))
                .collect(),
            rows: 0,
        }
    }

    /// Adds a row and answers with its number; none, and nothing is added, where the inputs are
    /// not of the kinds of these columns.
    pub fn push(&mut self, inputs: &[Quantity]) -> Option<usize> {
        if !inputs.iter().map(|input| &input.dim).eq(&self.kinds) {
            return None;
        }
        for (column, input) in self.columns.iter_mut().zip(inputs) {
            column.push(input.value, self.rows);
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
