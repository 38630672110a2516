//! What stands before decimals in the texts of a sheet: what the figures of its tables show, and else
//! what is answered.

use super::import::question;
use super::setup::{self, Setup};
use super::{BLOCK, Guess, Import};
use crate::cells::{Decimal, Evidence, LengthUnit, UnitWord, evidence};
use crate::columns::{Column, Role, Subject};
use crate::grid::{At, Cell};
use crate::profile::Profile;
use rayon::prelude::*;

/// All that the figures of a sheet show, and where it is open first.
#[derive(Debug, Default)]
struct Shown {
    all: Evidence,
    /// Whether the open ones are of feet or inches, so that a point is before decimals.
    by_unit: bool,
    /// The first figure that can be read in two ways.
    open_at: Option<At>,
    /// The first that stands against others.
    comma_at: Option<At>,
}

/// What stands before decimals on one sheet. Only the columns of figures are looked at: `1.2` before
/// the name of a wall says nothing of its sizes.
pub(super) fn of_sheet(setups: &[Setup<'_>], profile: &Profile, out: &mut Import) -> Decimal {
    if let Some(decimal) = profile.answers.decimal {
        return decimal;
    }
    let mut shown = Shown::default();
    for setup in setups {
        // Questions about the columns are noted when they are read for good.
        let columns = setup::columns(setup, &mut Import::default()).unwrap_or_default();
        for column in columns.iter().filter(|column| is_of_figures(column.role)) {
            shown = shown.and(look(setup, column));
        }
    }
    decide(&shown, setups, out)
}

fn is_of_figures(role: Role) -> bool {
    role.is_measure() || matches!(role, Role::Pack | Role::PackUnit)
}

impl Shown {
    /// With what figures below show.
    fn and(self, below: Self) -> Self {
        Self {
            all: self.all.with(below.all),
            by_unit: self.by_unit || below.by_unit,
            open_at: self.open_at.or(below.open_at),
            comma_at: self.comma_at.or(below.comma_at),
        }
    }
}

/// Looks through the texts of a column, on all cores.
fn look(setup: &Setup<'_>, column: &Column) -> Shown {
    if !setup.has_text(column.column) {
        return Shown::default();
    }
    let is_imperial = unit_of(setup, column).is_some_and(LengthUnit::is_imperial);
    let blocks = setup.table.rows.par_chunks(BLOCK);
    blocks
        .map(|rows| look_through(setup, rows, column, is_imperial))
        .reduce(Shown::default, Shown::and)
}

fn look_through(setup: &Setup<'_>, rows: &[usize], column: &Column, is_imperial: bool) -> Shown {
    let mut shown = Shown::default();
    let rows = rows.iter();
    for row in rows.filter_map(|at| setup.sheet.rows.get(*at)) {
        let Some((cell, text)) = row.cell(column.column).and_then(with_text) else {
            continue;
        };
        let found = evidence(text);
        let at = At {
            sheet: setup.table.sheet,
            row: row.number,
            column: cell.column,
        };
        // A thousand is written with a point where nobody measures in feet.
        let in_feet = is_imperial || text.contains(['\'', '"', '′', '″', '’', '”']);
        shown.by_unit |= found.open_point && in_feet;
        shown.all.open_point |= found.open_point && !in_feet;
        shown.all.open |= found.open;
        shown.all.point |= found.point;
        shown.all.comma |= found.comma;
        if found.open || found.open_point && !in_feet {
            shown.open_at.get_or_insert(at);
        }
        if found.comma {
            shown.comma_at.get_or_insert(at);
        }
    }
    shown
}

fn with_text(cell: &Cell) -> Option<(&Cell, &str)> {
    cell.text().map(|text| (cell, text))
}

/// The unit of what a column holds, from wherever it is known without its cells.
fn unit_of(setup: &Setup<'_>, column: &Column) -> Option<LengthUnit> {
    if setup.of == Subject::Prices {
        return None;
    }
    let own = match column.unit {
        Some(UnitWord::Area(unit)) => Some(unit),
        Some(word) => word.length(),
        None => None,
    };
    let (note_length, note_area) = setup.note_units;
    let answers = &setup.profile.answers;
    let is_area = matches!(column.role, Role::Area | Role::NetArea | Role::Deduction);
    own.or(match is_area {
        true => note_area.or(answers.area),
        false => note_length.or(answers.length),
    })
}

fn decide(shown: &Shown, setups: &[Setup<'_>], out: &mut Import) -> Decimal {
    let all = shown.all;
    let is_open = all.open || all.open_point;
    let of = setups.first().map(|setup| setup.sheet.name.clone());
    let mut guess = |mark: &str, reason: &str| {
        out.guesses.push(Guess {
            what: format!(
                "a {mark} stands before decimals on sheet `{}`",
                of.clone().unwrap_or_default()
            ),
            reason: reason.to_owned(),
        });
    };
    const NO_OTHER: &str = "some numbers can be read in no other way";
    match (all.point || shown.by_unit, all.comma) {
        (true, true) => {}
        (true, false) => {
            if all.point && is_open {
                guess("point", NO_OTHER);
            } else if shown.by_unit {
                guess("point", "it stands in sizes of feet or inches");
            }
            return Decimal::Point;
        }
        (false, true) => {
            guess("comma", NO_OTHER);
            return Decimal::Comma;
        }
        (false, false) if !is_open => return Decimal::Point,
        (false, false) => {}
    }
    let mark = match (all.open, all.open_point) {
        (true, false) => "comma",
        (false, true) => "point",
        _ => "point or a comma",
    };
    let text = match all.comma {
        true => "some numbers have a comma before their decimals, and others a point".to_owned(),
        false => format!(
            "some numbers have a {mark} in them, and nothing says whether it stands before thousands \
             or before decimals"
        ),
    };
    if let Some(at) = shown.comma_at.or(shown.open_at) {
        out.questions.push(question("decimal", &text, at));
    }
    Decimal::Point
}
