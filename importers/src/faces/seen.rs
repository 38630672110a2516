//! What the cells of a row are, all of them looked at once.

use super::roles::Roles;
use super::sizes::is_blank;
use crate::columns::Role;
use crate::grid::{Cell, Content};

/// What was seen in the cells of a row.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Seen<'a> {
    /// The first column with anything in it.
    pub(super) first: Option<u32>,
    /// The first column of names of faces that holds words.
    pub(super) face: Option<u32>,
    /// The first words that are no measure.
    pub(super) text: Option<&'a str>,
    /// Any cell states a measure.
    pub(super) measure: bool,
    /// Any cell is of a measure that is no area and no count.
    pub(super) size: bool,
    /// Any cell is for more than people.
    pub(super) names: bool,
    /// Words stand in a column that is of no measure.
    pub(super) named: bool,
    /// Any cell is struck through.
    pub(super) struck: bool,
    /// A measure is below zero.
    pub(super) below_zero: bool,
    /// A length, width or height is below zero.
    pub(super) size_below: bool,
    /// An area is not below zero.
    pub(super) area_above: bool,
}

impl<'a> Seen<'a> {
    /// Looks at one more cell of the row, in their order.
    pub(super) fn cell(&mut self, cell: &'a Cell, roles: &Roles<'_>) {
        let role = roles.role(cell.column);
        let of_measure = role.filter(|role| role.is_measure());
        self.first.get_or_insert(cell.column);
        self.struck |= cell.struck;
        self.names |= !matches!(role, Some(Role::Note | Role::Ignore | Role::Number));
        if let Some(text) = cell.text() {
            self.named |= of_measure.is_none();
            if role == Some(Role::Face) {
                self.face.get_or_insert(cell.column);
            }
            if of_measure.is_none() || !text.starts_with(|ch: char| ch.is_ascii_digit()) {
                self.text.get_or_insert(text);
            }
        }
        if let Some(role) = of_measure {
            self.measure(cell, role);
        }
    }

    fn measure(&mut self, cell: &Cell, role: Role) {
        use Role::{Area, Count, Deduction, Height, Length, NetArea, Width};
        self.size |= !matches!(role, Area | NetArea | Count | Deduction);
        if !states_measure(cell) {
            return;
        }
        let is_below = is_below_zero(cell);
        self.measure = true;
        self.below_zero |= is_below;
        self.size_below |= is_below && matches!(role, Length | Width | Height);
        self.area_above |= !is_below && matches!(role, Area | NetArea);
    }
}

/// Whether a cell in a column of a measure states one.
pub(super) fn states_measure(cell: &Cell) -> bool {
    let has_digit = |text: &str| text.contains(|ch: char| ch.is_ascii_digit());
    cell.text().is_some_and(has_digit) || !is_blank(cell)
}

/// Whether a measure stands below zero: behind a minus, or in brackets as accountants write it.
fn is_below_zero(cell: &Cell) -> bool {
    match &cell.content {
        Content::Number(number) => *number < 0.0,
        Content::Text(text) => {
            let brackets = text.starts_with('(') && text.ends_with(')');
            let minus = text.starts_with(['-', '−']);
            (brackets || minus) && !is_blank(cell)
        }
        _ => false,
    }
}
