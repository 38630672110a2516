//! What a row is, before its sizes are read.

use super::row::{Cells, Trouble};
use super::seen::states_measure;
use crate::columns::{Role, RowWord, RowWords};
use crate::grid::{At, Cell};
use crate::profile::OpeningRows;

/// What a row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Figures of a face.
    Face,
    /// Figures of an opening, and why.
    Opening,
    /// It adds others up.
    Total,
    /// Words alone, which may name what follows.
    Words,
    /// Words for people.
    Note,
}

impl Cells<'_> {
    /// Whether any cell states a measure.
    pub(crate) fn has_measure(&self) -> bool {
        self.seen.measure
    }

    /// What the row is.
    pub(super) fn kind(&self) -> Result<Kind, Trouble> {
        let says = self.words().of_row(self.first_text().unwrap_or_default());
        let adds_up = [
            RowWord::Total,
            RowWord::Part,
            RowWord::Whole,
            RowWord::Carried,
        ];
        if adds_up.into_iter().any(|word| says.has(word)) || self.only_adds_up() {
            return Ok(Kind::Total);
        }
        if !self.has_measure() {
            let is_note = says.has(RowWord::Note) || !self.seen.names;
            return Ok(if is_note { Kind::Note } else { Kind::Words });
        }
        self.opening_or_face(says)
    }

    fn opening_or_face(&self, says: RowWords) -> Result<Kind, Trouble> {
        let says_opening = |says: RowWords| says.has(RowWord::Less) || says.has(RowWord::Opening);
        if let Some(kind) = self.shown(Role::Kind) {
            return Ok(match says_opening(self.words().of_row(&kind)) {
                true => Kind::Opening,
                false => Kind::Face,
            });
        }
        // A size below zero beside an area that is not is a slip, and no opening.
        if self.seen.size_below && self.seen.area_above {
            let why = "a size is below zero, and its area is not";
            return Err(Trouble::Reject(why.to_owned()));
        }
        if self.seen.below_zero || says.has(RowWord::Less) {
            return Ok(Kind::Opening);
        }
        if !says_opening(says) {
            return Ok(Kind::Face);
        }
        match self.answers().openings {
            Some(OpeningRows::Deduct) => Ok(Kind::Opening),
            Some(OpeningRows::Faces) => Ok(Kind::Face),
            None => {
                let text = format!(
                    "row `{}` and others begin with the word of an opening",
                    self.first_text().unwrap_or_default()
                );
                Err(Trouble::Ask("openings", text, self.at()))
            }
        }
    }

    /// A row without a name whose formulas add other rows up.
    fn only_adds_up(&self) -> bool {
        let adds = |cell: &Cell| {
            let formula = cell.formula.as_deref().unwrap_or("").to_uppercase();
            formula.contains("SUM(") || formula.contains("SUBTOTAL(")
        };
        let of_measure = |cell: &&Cell| {
            let role = self.role(cell.column);
            role.is_some_and(|role| role.is_measure()) && states_measure(cell)
        };
        !self.seen.named && self.cells().filter(of_measure).any(adds)
    }

    /// The place of the first cell.
    pub(crate) fn at(&self) -> At {
        self.place(self.seen.face.or(self.seen.first).unwrap_or(0))
    }
}
