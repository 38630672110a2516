//! The columns of a table laid so that roles and columns find each other at once: each cell of a
//! sheet is looked up by both, and several times.

use crate::columns::{Column, Role};

/// The columns of a table by their numbers and by their roles.
pub(crate) struct Roles<'a> {
    columns: &'a [Column],
    /// In the order of the numbers.
    by_number: Vec<(u32, Role)>,
    by_role: Vec<Vec<&'a Column>>,
    has_openings: bool,
}

/// What is of the openings in the row of a face: without any of these, `own_opening` has nothing to
/// read.
const OF_OPENINGS: [Role; 5] = [
    Role::OpeningSize,
    Role::OpeningWidth,
    Role::OpeningHeight,
    Role::OpeningCount,
    Role::Deduction,
];

impl<'a> Roles<'a> {
    /// Lays the columns of a table.
    pub(crate) fn of(columns: &'a [Column]) -> Self {
        let numbers = columns.iter().map(|own| (own.column, own.role));
        let mut by_number: Vec<(u32, Role)> = numbers.collect();
        by_number.sort_by_key(|(number, _)| *number);
        by_number.dedup_by_key(|(number, _)| *number);
        let of_role = |role: &Role| columns.iter().filter(|own| own.role == *role).collect();
        Self {
            columns,
            by_number,
            by_role: Role::ALL.iter().map(of_role).collect(),
            has_openings: columns.iter().any(|own| OF_OPENINGS.contains(&own.role)),
        }
    }

    /// All of them, in their order.
    pub(super) fn columns(&self) -> &'a [Column] {
        self.columns
    }

    /// What a column is.
    pub(super) fn role(&self, column: u32) -> Option<Role> {
        // In most tables a column is in the place of its number.
        let in_place = self.by_number.get(column as usize);
        if let Some((_, role)) = in_place.filter(|own| own.0 == column) {
            return Some(*role);
        }
        let found = self.by_number.binary_search_by_key(&column, |own| own.0);
        found.ok().and_then(|at| Some(self.by_number.get(at)?.1))
    }

    /// The columns of a role, in their order.
    pub(super) fn with(&self, role: Role) -> &[&'a Column] {
        self.by_role.get(role as usize).map_or(&[], Vec::as_slice)
    }

    /// Whether any column is of openings.
    pub(super) fn has_openings(&self) -> bool {
        self.has_openings
    }

    /// Whether any column has a role.
    pub(super) fn has(&self, role: Role) -> bool {
        !self.with(role).is_empty()
    }
}
