//! What a row is, before its sizes are read.

use super::row::{Cells, Trouble};
use super::sizes::is_blank;
use crate::columns::{Role, RowWord};
use crate::grid::{At, Cell, Content};
use crate::profile::OpeningRows;

/// What a row is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kind {
    /// Figures of a face.
    Face,
    /// Figures of an opening, and why.
    Opening,
    /// It adds others up.
    Total,
    /// Words alone, which may name what follows.
    Words(String),
    /// Words for people.
    Note,
}

impl Cells<'_> {
    /// Whether a cell states a measure.
    fn is_measure(&self, cell: &Cell) -> bool {
        let role = self.role(cell.column);
        let states = match &cell.content {
            Content::Text(text) => text.chars().any(|ch| ch.is_ascii_digit()) || !is_blank(cell),
            _ => !is_blank(cell),
        };
        role.is_some_and(|role| role.is_measure()) && states
    }

    /// Whether any cell states a measure.
    pub(crate) fn has_measure(&self) -> bool {
        self.cells().any(|cell| self.is_measure(cell))
    }

    /// What the row is.
    pub(super) fn kind(&self) -> Result<Kind, Trouble> {
        let first = self.first_text().unwrap_or_default();
        let says = self.words().of_row(first);
        let has = |word: RowWord| says.iter().any(|(kind, _)| *kind == word);
        let adds_up = [
            RowWord::Total,
            RowWord::Part,
            RowWord::Whole,
            RowWord::Carried,
        ];
        if adds_up.into_iter().any(has) || self.only_adds_up() {
            return Ok(Kind::Total);
        }
        if !self.has_measure() {
            let has_names = self.cells().any(|cell| {
                let role = self.role(cell.column);
                !matches!(role, Some(Role::Note | Role::Ignore | Role::Number))
            });
            let is_note = has(RowWord::Note) || !has_names;
            return Ok(match is_note {
                true => Kind::Note,
                false => Kind::Words(first.to_owned()),
            });
        }
        self.opening_or_face(&says)
    }

    fn opening_or_face(&self, says: &[(RowWord, String)]) -> Result<Kind, Trouble> {
        let says_opening = |words: &[(RowWord, String)]| {
            let of_opening = |kind: &RowWord| matches!(kind, RowWord::Less | RowWord::Opening);
            words.iter().any(|(kind, _)| of_opening(kind))
        };
        if let Some(kind) = self.text(Role::Kind) {
            return Ok(match says_opening(&self.words().of_row(&kind)) {
                true => Kind::Opening,
                false => Kind::Face,
            });
        }
        if self.is_below_and_above() {
            let why = "a size is below zero, and its area is not";
            return Err(Trouble::Reject(why.to_owned()));
        }
        if self.is_negative() || says.iter().any(|(kind, _)| *kind == RowWord::Less) {
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

    /// Whether a figure of the row stands below zero.
    fn is_negative(&self) -> bool {
        self.cells().any(|cell| self.is_below_zero(cell))
    }

    fn is_below_zero(&self, cell: &Cell) -> bool {
        match &cell.content {
            Content::Number(number) => *number < 0.0 && self.is_measure(cell),
            Content::Text(text) => {
                let brackets = text.starts_with('(') && text.ends_with(')');
                let minus = text.starts_with(['-', '−']);
                self.is_measure(cell) && (brackets || minus) && !is_blank(cell)
            }
            _ => false,
        }
    }

    /// Whether a size is below zero and the area beside it is not: a slip, and no opening.
    fn is_below_and_above(&self) -> bool {
        let any = |roles: &[Role], below: bool| {
            let of_role = |cell: &&Cell| {
                let role = self.role(cell.column);
                role.is_some_and(|role| roles.contains(&role)) && self.is_measure(cell)
            };
            let mut cells = self.cells().filter(of_role);
            cells.any(|cell| self.is_below_zero(cell) == below)
        };
        any(&[Role::Length, Role::Width, Role::Height], true)
            && any(&[Role::Area, Role::NetArea], false)
    }

    /// A row without a name whose formulas add other rows up.
    fn only_adds_up(&self) -> bool {
        let named = self.cells().any(|cell| {
            let role = self.role(cell.column);
            cell.text().is_some() && !role.is_some_and(|role| role.is_measure())
        });
        let adds = |cell: &Cell| {
            let formula = cell.formula.as_deref().unwrap_or("").to_uppercase();
            formula.contains("SUM(") || formula.contains("SUBTOTAL(")
        };
        !named && self.cells().any(|cell| self.is_measure(cell) && adds(cell))
    }

    /// The place of the first cell.
    pub(crate) fn at(&self) -> At {
        let named = self.cells().find(|cell| {
            matches!(self.role(cell.column), Some(Role::Face)) && cell.text().is_some()
        });
        let first = named.or_else(|| self.cells().next());
        self.place(first.map_or(0, |cell| cell.column))
    }
}
