//! Rows that add up others, each figure held against the rows.

use super::import::doubt;
use super::reader::TableReader;
use super::row::Cells;
use super::running::{Held, Says};
use super::shown::shown;
use super::sizes::is_blank;
use super::{Remark, TotalRead, Verdict, Weight};
use crate::cells::{self, UnitWord};
use crate::columns::{Role, RowWord};
use crate::grid::{At, Cell, Content};

impl TableReader<'_> {
    /// Holds a total against the rows that it can be of; `place` is its own among those of the table.
    pub(super) fn total(&mut self, cells: &mut Cells<'_>, place: usize) -> Verdict {
        let says = self.says(cells, place);
        let first = self.out.totals.len();
        for (column, role) in self.totalled(cells) {
            let at = cells.place(column);
            let Some(cell) = cells.row.cell(column).filter(|cell| !is_blank(cell)) else {
                continue;
            };
            match figure_of(cells, cell, at, role) {
                Some(stated) => self.hold(cells, (at, role), stated, says),
                None => no_result(cells, cell, at),
            }
        }
        cells.figures.clear();
        Verdict::Total((self.out.totals.len() > first).then_some(first))
    }

    /// What the words and the place of a total say of the rows that it adds up.
    fn says(&mut self, cells: &Cells<'_>, place: usize) -> Says {
        let text = cells.first_text().unwrap_or_default();
        let words = cells.words().of_row(text);
        let has = |word: RowWord| words.has(word);
        let text = text.to_lowercase();
        let says = |word: &str| {
            let mut words = text.split(|ch: char| !ch.is_alphanumeric());
            words.any(|own| own == word)
        };
        let heading = self
            .under
            .heading
            .as_ref()
            .or(self.under.structure.as_ref());
        let names_heading =
            heading.is_some_and(|heading| text.contains(&heading.as_str().to_lowercase()));
        Says {
            part: has(RowWord::Part),
            whole: has(RowWord::Whole) || has(RowWord::Carried) && !has(RowWord::Part),
            heading: names_heading,
            gross: says("gross"),
            net: says("net"),
            last: place == usize::MAX || !self.leads_to_figures(place),
            again: self.running.is_again(&text),
        }
    }

    /// The columns that can be totalled. In a bill, what the unit calls an area is one.
    fn totalled(&self, cells: &Cells<'_>) -> Vec<(u32, Role)> {
        let bills_areas = matches!(cells.unit, Some(UnitWord::Area(_)));
        let columns = self.roles.columns().iter();
        let measures = columns.filter(|column| column.role.is_measure());
        measures
            .map(|column| match column.role {
                Role::Count if bills_areas => (column.column, Role::Area),
                role => (column.column, role),
            })
            .collect()
    }

    /// Holds one figure, and how far it may be off, against the sums so far.
    fn hold(
        &mut self,
        cells: &mut Cells<'_>,
        (at, role): (At, Role),
        (stated, off): (f64, f64),
        says: Says,
    ) {
        let header = cells.header(role).unwrap_or_default().to_lowercase();
        let says = Says {
            gross: says.gross || header.contains("gross"),
            ..says
        };
        let held = self.running.hold(role, (stated, off), says);
        self.running.total(role, stated);
        if !held.agrees {
            let remark = contradicts(cells, (at, role), stated, &held);
            cells.remarks.push(remark);
        }
        self.out.totals.push(TotalRead {
            at,
            role,
            stated,
            found: held.found,
            of: held.of.to_owned(),
            agrees: held.agrees,
            only: held.only,
        });
    }
}

fn contradicts(cells: &Cells<'_>, (at, role): (At, Role), stated: f64, held: &Held) -> Remark {
    let manner = cells.manner(role);
    let (weight, why, help) = match (&held.only, held.hint) {
        (Some(only), _) => (
            Weight::Doubt,
            format!(": it agrees with {only}, and with nothing else"),
            "see whether that is what the client means; the plan has the rows and not the total",
        ),
        (None, hint) => (
            Weight::Contradiction,
            hint.map(|hint| format!(": {hint}")).unwrap_or_default(),
            "the plan has the rows and not the total; ask which is right",
        ),
    };
    Remark {
        weight,
        at,
        text: format!(
            "{} totals {}, and {} make {}{}",
            cells.name(at),
            shown(stated, role, &manner),
            held.of,
            shown(held.found, role, &manner),
            why,
        ),
        help: help.to_owned(),
    }
}

/// A total whose formula was never computed, or failed.
fn no_result(cells: &mut Cells<'_>, cell: &Cell, at: At) {
    if matches!(cell.content, Content::Nothing | Content::Fault(_)) {
        let text = format!(
            "{}, a total, has no result that could be held against the rows",
            cells.name(at)
        );
        let help = "open the file in a spreadsheet program, save it, and import it again";
        cells.remarks.push(doubt(at, text, help));
    }
}

/// What a cell of a total states, and how far it may be off for having been rounded.
fn figure_of(cells: &Cells<'_>, cell: &Cell, at: At, role: Role) -> Option<(f64, f64)> {
    let manner = cells.manner(role);
    match role {
        Role::Count | Role::OpeningCount => {
            let count = cells::count(cell, at, &manner).ok()?;
            Some((f64::from(count.number), 0.0))
        }
        Role::Area | Role::NetArea | Role::Deduction => {
            let area = cells::area(cell, at, &manner).ok()?;
            Some((area.size(), area.half_digit()))
        }
        _ => match cells::lengths(cell, at, &manner).ok()?.as_slice() {
            [one] => Some((one.size(), one.half_digit())),
            _ => None,
        },
    }
}
