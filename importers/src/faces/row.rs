//! The cells of one row within its table.

use super::ahead::Ahead;
use super::import::doubt;
use super::roles::Roles;
use super::seen::Seen;
use super::setup::Setup;
use super::sizes::is_blank;
use super::{Remark, RowFigures};
use crate::cells::{self, Decimal, LengthUnit, Manner, UnitFrom, UnitWord};
use crate::columns::{Role, Words};
use crate::grid::{At, Cell, Content, Row};
use crate::profile::Answers;
use std::borrow::Cow;

/// What keeps a row from being read.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Trouble {
    /// It is not taken over, and why.
    Reject(String),
    /// Something has to be answered: the key, the question, and where.
    Ask(&'static str, String, At),
}

/// The cells of one row within its table.
pub(crate) struct Cells<'a> {
    setup: &'a Setup<'a>,
    roles: &'a Roles<'a>,
    pub(crate) row: &'a Row,
    /// What all its cells are.
    pub(super) seen: Seen<'a>,
    /// The unit that the row names for its figures.
    pub(super) unit: Option<UnitWord>,
    pub(super) figures: RowFigures,
    /// Those of them that are text in a file that has numbers.
    pub(super) as_text: Vec<(Role, f64)>,
    pub(crate) remarks: Vec<Remark>,
    /// What was read of it before its turn.
    pub(super) ahead: Ahead,
}

impl<'a> Cells<'a> {
    pub(crate) fn new(setup: &'a Setup<'a>, roles: &'a Roles<'a>, row: &'a Row) -> Self {
        let mut cells = Self {
            setup,
            roles,
            row,
            seen: Seen::default(),
            unit: None,
            figures: RowFigures::new(),
            as_text: Vec::new(),
            remarks: Vec::new(),
            ahead: Ahead::default(),
        };
        let mut seen = Seen::default();
        cells.cells().for_each(|cell| seen.cell(cell, roles));
        cells.seen = seen;
        let unit = cells.shown(Role::Unit);
        cells.unit = unit.and_then(|text| cells::whole_unit(&text));
        cells
    }

    /// Whether nothing of the table stands in the row.
    pub(super) fn is_empty(&self) -> bool {
        self.seen.first.is_none()
    }

    pub(crate) fn cells(&self) -> impl Iterator<Item = &'a Cell> {
        let columns = self.setup.table.columns.clone();
        self.row
            .cells
            .iter()
            .filter(move |cell| columns.contains(&cell.column))
    }

    pub(crate) fn words(&self) -> &'a Words {
        &self.setup.profile.words
    }

    pub(crate) fn answers(&self) -> &'a Answers {
        &self.setup.profile.answers
    }

    /// Whether any column of the table is of openings.
    pub(super) fn has_openings(&self) -> bool {
        self.roles.has_openings()
    }

    pub(super) fn role(&self, column: u32) -> Option<Role> {
        self.roles.role(column)
    }

    pub(super) fn place(&self, column: u32) -> At {
        At {
            sheet: self.setup.table.sheet,
            row: self.row.number,
            column,
        }
    }

    pub(crate) fn name(&self, at: At) -> String {
        self.setup.book.cell_name(at)
    }

    pub(super) fn dates_are_days(&self) -> bool {
        self.answers().dates == Some(false)
    }

    /// The cell of the first column of a role that has anything in it.
    pub(crate) fn filled(&self, role: Role) -> Option<(&'a Cell, At)> {
        self.all_of(role).next().map(|(cell, at, _)| (cell, at))
    }

    /// The first cell of a role that says anything.
    pub(crate) fn stated_cell(&self, role: Role) -> Option<(&'a Cell, At)> {
        let mut stated = self.all_of(role).filter(|(cell, ..)| !is_blank(cell));
        stated.next().map(|(cell, at, _)| (cell, at))
    }

    /// The header of the first column of a role.
    pub(crate) fn header(&self, role: Role) -> Option<&'a str> {
        let column = self.roles.with(role).first()?;
        Some(&column.header)
    }

    /// What stands before decimals.
    pub(crate) fn decimal(&self) -> Decimal {
        self.setup.decimal
    }

    /// The cells of all columns of a role, with the units of their headers.
    pub(super) fn all_of(
        &self,
        role: Role,
    ) -> impl Iterator<Item = (&'a Cell, At, Option<UnitWord>)> + use<'a> {
        let (row, sheet) = (self.row, self.setup.table.sheet);
        self.roles.with(role).iter().filter_map(move |own| {
            let at = At {
                sheet,
                row: row.number,
                column: own.column,
            };
            Some((row.cell(own.column)?, at, own.unit))
        })
    }

    /// The words in the columns of a role, joined.
    pub(crate) fn text(&self, role: Role) -> Option<String> {
        self.shown(role).map(Cow::into_owned)
    }

    /// The same, not copied where they stand in one cell.
    pub(super) fn shown(&self, role: Role) -> Option<Cow<'a, str>> {
        if !self.roles.has(role) {
            return None;
        }
        let stated = self.all_of(role).filter(|(cell, ..)| !is_blank(cell));
        let shown = stated.map(|(cell, ..)| match cell.text() {
            Some(text) => Cow::Borrowed(text),
            None => Cow::Owned(cell.content.to_string()),
        });
        shown.reduce(|text, next| text + " " + next)
    }

    /// The first words of the row that are no measure.
    pub(crate) fn first_text(&self) -> Option<&'a str> {
        self.seen.text
    }

    pub(super) fn manner(&self, role: Role) -> Manner {
        let unit = self.roles.with(role).first();
        self.manner_of(unit.and_then(|column| column.unit))
    }

    pub(super) fn manner_of(&self, header: Option<UnitWord>) -> Manner {
        let answers = self.answers();
        let (note_length, note_area) = self.setup.note_units;
        let first = |header: Option<LengthUnit>, row, note: Option<LengthUnit>, own: Option<_>| {
            let stands = [
                header.map(|unit| (unit, UnitFrom::Header)),
                row,
                note.map(|unit| (unit, UnitFrom::Note)),
                own.map(|unit| (unit, UnitFrom::Profile)),
            ];
            stands.into_iter().flatten().next()
        };
        let of_row = |area: bool| match (self.unit, area) {
            (Some(UnitWord::Length(unit)), false) | (Some(UnitWord::Area(unit)), true) => {
                Some((unit, UnitFrom::Row))
            }
            _ => None,
        };
        let header_area = match header {
            Some(UnitWord::Area(unit)) => Some(unit),
            _ => None,
        };
        let header_length = header.and_then(UnitWord::length);
        Manner {
            decimal: self.setup.decimal,
            length: first(header_length, of_row(false), note_length, answers.length),
            area: first(header_area, of_row(true), note_area, answers.area),
            dates_are_fractions: answers.dates == Some(true),
            has_numbers: self.setup.book.kind.has_numbers(),
        }
    }

    pub(super) fn was_text(&mut self, was_text: bool, at: At) {
        if was_text {
            let text = format!("{} holds a number as text", self.name(at));
            let help = "sums of the sheet pass over it: look at its totals";
            self.remarks.push(doubt(at, text, help));
        }
    }

    pub(super) fn was_a_day(&mut self, cell: &Cell, at: At) {
        if matches!(cell.content, Content::Date(..)) && self.answers().dates == Some(true) {
            let day = &cell.content;
            let text = format!("{} holds the day {day}, taken as a fraction", self.name(at));
            let help = "ask the client what was typed; it counts as answered";
            self.remarks.push(doubt(at, text, help));
        }
    }

    /// The area that a row states which is not taken over, for the sums of what is left out.
    pub(super) fn keep_area(&mut self) {
        for role in [Role::Area, Role::NetArea] {
            if !self.figures.iter().any(|(known, _)| *known == role) {
                let _ = self.area(role);
            }
        }
        self.remarks.clear();
    }
}
