//! What the rows of a table add up to, so that the sheet's own totals can be held against it.

use super::Verdict;
use super::areas::is_area;
use crate::columns::Role;
use std::collections::BTreeSet;

/// Sums of one column over a stretch of rows.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    /// Of faces.
    faces: f64,
    /// Of openings in rows of their own.
    openings: f64,
    /// Of those of them that stand in the column, without their signs.
    in_column: f64,
    /// The same with their signs.
    signed: f64,
    /// Of rows that are not taken over.
    rejected: f64,
    /// Faces without openings, of blocks that are there several times one alone.
    once: f64,
}

/// Sums of one column.
#[derive(Debug, Clone, Copy, Default)]
struct Column {
    since_total: Sum,
    since_heading: Sum,
    all: Sum,
    /// What totals state that were met so far.
    totals: f64,
    /// What the last of them states.
    last_total: f64,
    /// What stands as text where there are numbers.
    as_text: f64,
    /// How far rows may be off for having been rounded.
    slack: f64,
}

/// The sums of a table.
#[derive(Debug)]
pub(super) struct Running {
    /// By the numbers of the roles.
    columns: [Column; Role::ALL.len()],
    /// What totals are called.
    called: BTreeSet<String>,
}

/// What the words and the place of a total say of it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Says {
    /// It is of a part: `Subtotal`, `Page total`.
    pub(super) part: bool,
    /// It is of all: `Grand total`, `Carried forward`.
    pub(super) whole: bool,
    /// It names the heading above: `Total Hall`.
    pub(super) heading: bool,
    /// It says, or its column, that openings are not off.
    pub(super) gross: bool,
    /// It says that openings are off.
    pub(super) net: bool,
    /// No rows follow it.
    pub(super) last: bool,
    /// One above is called the same.
    pub(super) again: bool,
}

/// What a total was held against.
pub(super) struct Held {
    /// What the rows make that its words and its place speak of.
    pub(super) found: f64,
    /// Which rows those are.
    pub(super) of: &'static str,
    pub(super) agrees: bool,
    /// The other reading with which it agrees, where it does not with that one.
    pub(super) only: Option<String>,
    /// What the total seems to count wrongly, where it agrees with no reading.
    pub(super) hint: Option<&'static str>,
}

const SINCE_TOTAL: &str = "the rows since the last total";
const SINCE_HEADING: &str = "the rows under the heading";
const ALL: &str = "all rows of the table";

impl Sum {
    fn is_empty(&self) -> bool {
        self.faces == 0.0 && self.openings == 0.0
    }

    /// What the column adds up to, as it is meant: an area of an opening in it is off, whatever its
    /// sign; all else is added as it stands.
    fn meant(&self, role: Role, says: Says) -> f64 {
        match is_area(role) {
            true if says.gross => self.faces,
            true if says.net => self.faces - self.openings,
            true => self.faces - self.in_column,
            false => self.faces + self.signed,
        }
    }

    /// What else a total can have added up, with the words for it.
    fn otherwise(&self) -> [(f64, &'static str); 3] {
        [
            (self.faces - self.openings, "their openings taken off"),
            (self.faces, "their openings left out"),
            (self.faces + self.openings, "their openings added to them"),
        ]
    }
}

impl Default for Running {
    fn default() -> Self {
        Self {
            columns: [Column::default(); Role::ALL.len()],
            called: BTreeSet::new(),
        }
    }
}

impl Running {
    fn column(&self, role: Role) -> Column {
        self.columns.get(role as usize).copied().unwrap_or_default()
    }

    /// Adds a figure of a row, one that stands in its column or that its sizes make; the block that
    /// the row stands in is there so many times, and an area has that already.
    pub(super) fn add(
        &mut self,
        (role, value): (Role, f64),
        in_column: bool,
        verdict: &Verdict,
        times: u32,
    ) {
        let Some(column) = self.columns.get_mut(role as usize) else {
            return;
        };
        let times = if is_area(role) {
            f64::from(times.max(1))
        } else {
            1.0
        };
        for sum in [
            &mut column.since_total,
            &mut column.since_heading,
            &mut column.all,
        ] {
            match verdict {
                Verdict::Face(_) => {
                    sum.faces += value;
                    sum.once += value / times;
                }
                Verdict::Opening(..) => {
                    sum.openings += value.abs();
                    if in_column {
                        sum.in_column += value.abs();
                        sum.signed += value;
                    }
                    sum.once -= value.abs() / times;
                }
                Verdict::Rejected(_) => sum.rejected += value,
                _ => {}
            }
        }
        column.slack = column.slack.max(value.abs() * 1e-9);
    }

    /// Adds figures that are text in a file that has numbers.
    pub(super) fn add_text(&mut self, figures: &[(Role, f64)]) {
        for (role, value) in figures {
            if let Some(column) = self.columns.get_mut(*role as usize) {
                column.as_text += value;
            }
        }
    }

    /// A heading begins a stretch.
    pub(super) fn heading(&mut self) {
        for column in &mut self.columns {
            column.since_heading = Sum::default();
            column.since_total = Sum::default();
        }
    }

    /// Holds a total against the rows that its words and its place speak of. Where other rows or
    /// another sum of them is what agrees, that is said, and nothing is taken for granted.
    pub(super) fn hold(&self, role: Role, (stated, off): (f64, f64), says: Says) -> Held {
        let column = self.column(role);
        let off = off + column.slack + stated.abs() * 1e-9;
        let near = |value: f64| (value - stated).abs() <= off;
        let (sum, of) = self.stretch(&column, says);
        let found = sum.meant(role, says);
        if near(found) {
            return Held {
                found,
                of,
                agrees: true,
                only: None,
                hint: None,
            };
        }
        let only = other_reading(&column, (sum, of), role, says, near);
        let hint = match only {
            Some(_) => None,
            None => hint(&column, sum, near),
        };
        Held {
            found,
            of,
            agrees: false,
            only,
            hint,
        }
    }

    /// The rows of which a total is, by its words, or by its place where they do not say.
    fn stretch(&self, column: &Column, says: Says) -> (Sum, &'static str) {
        let all = (column.all, ALL);
        let part = match column.since_total.is_empty() {
            true => (column.since_heading, SINCE_HEADING),
            false => (column.since_total, SINCE_TOTAL),
        };
        match says {
            _ if says.heading => (column.since_heading, SINCE_HEADING),
            _ if says.part => part,
            _ if says.whole => all,
            // `Total` below every section, the last one as well.
            _ if says.last && says.again && !column.since_total.is_empty() => part,
            _ if says.last || part.0.is_empty() => all,
            _ if column.since_total.is_empty() => all,
            _ => part,
        }
    }

    /// Notes what a total is called; whether one above is called the same.
    pub(super) fn is_again(&mut self, called: &str) -> bool {
        !self.called.insert(called.to_owned())
    }

    /// Whether a figure is what the rows since the last total add up to.
    pub(super) fn is_sum(&self, role: Role, stated: f64, off: f64) -> bool {
        let column = self.column(role);
        let sum = column.since_total;
        let rows = sum.faces != 0.0 && sum.faces != stated.abs() * 2.0;
        let near = |value: f64| (value - stated).abs() <= off + stated.abs() * 1e-9;
        rows && (near(sum.faces) || near(sum.faces - sum.openings) || near(column.all.faces))
    }

    /// A total ends a stretch.
    pub(super) fn total(&mut self, role: Role, stated: f64) {
        if let Some(column) = self.columns.get_mut(role as usize) {
            column.since_total = Sum::default();
            column.totals += stated;
            column.last_total = stated;
        }
    }
}

/// The reading with which a total agrees that its words and its place do not speak of.
fn other_reading(
    column: &Column,
    (sum, of): (Sum, &str),
    role: Role,
    says: Says,
    near: impl Fn(f64) -> bool,
) -> Option<String> {
    let sums = sum.otherwise().into_iter();
    let sums = sums.map(|(value, how)| (value, format!("{of}, {how}")));
    let stretches = [
        (column.since_total, SINCE_TOTAL),
        (column.since_heading, SINCE_HEADING),
        (column.all, ALL),
    ];
    let stretches = stretches.into_iter().filter(|(_, other)| *other != of);
    let stretches = stretches.map(|(sum, of)| (sum.meant(role, says), of.to_owned()));
    let mut readings = sums.chain(stretches).filter(|(value, _)| *value != 0.0);
    readings
        .find(|(value, _)| near(*value))
        .map(|(_, reading)| reading)
}

/// What a total seems to count wrongly.
fn hint(column: &Column, sum: Sum, near: impl Fn(f64) -> bool) -> Option<&'static str> {
    let all = column.all.faces - column.all.openings;
    let rejected = column.all.rejected;
    let hints = [
        (all - column.as_text, "it passes over numbers that are text"),
        (all + column.totals, "it counts rows and their subtotals"),
        (
            all + column.last_total,
            "it counts what was carried forward twice",
        ),
        (
            column.all.once,
            "it counts blocks once that their headings say are there several times",
        ),
        (
            sum.once,
            "it counts blocks once that their headings say are there several times",
        ),
        (all * 2.0, "it counts every row twice"),
        (
            all + column.all.rejected,
            "it counts rows that are not taken over",
        ),
        (
            column.all.faces + column.all.rejected,
            "it counts rows that are not taken over",
        ),
        (
            sum.faces - sum.openings + sum.rejected,
            "it counts rows that are not taken over",
        ),
        (
            all + rejected + column.last_total,
            "it counts what was carried forward twice, and rows that are not taken over",
        ),
    ];
    hints
        .iter()
        .find(|(value, _)| near(*value))
        .map(|(_, hint)| *hint)
}
