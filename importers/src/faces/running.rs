//! What the rows of a table add up to, so that the sheet's own totals can be held against it.

use super::Verdict;
use super::areas::is_area;
use crate::columns::Role;
use std::collections::BTreeMap;

/// Sums of one column over a stretch of rows.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    /// Of faces.
    faces: f64,
    /// Of openings in rows of their own.
    openings: f64,
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
#[derive(Debug, Default)]
pub(super) struct Running {
    columns: BTreeMap<Role, Column>,
}

/// What a total was held against.
pub(super) struct Held {
    pub(super) found: f64,
    pub(super) of: &'static str,
    pub(super) agrees: bool,
    /// What the total seems to count wrongly, where it does not agree.
    pub(super) hint: Option<&'static str>,
}

impl Running {
    /// Adds the figures of a row; the block that it stands in is there so many times, and its areas
    /// have that already.
    pub(super) fn add(&mut self, figures: &[(Role, f64)], verdict: &Verdict, times: u32) {
        for (role, value) in figures {
            let column = self.columns.entry(*role).or_default();
            let times = if is_area(*role) {
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
                        sum.once -= value.abs() / times;
                    }
                    Verdict::Rejected(_) => sum.rejected += value,
                    _ => {}
                }
            }
            column.slack = column.slack.max(value.abs() * 1e-9);
        }
    }

    /// Adds figures that are text in a file that has numbers.
    pub(super) fn add_text(&mut self, figures: &[(Role, f64)]) {
        for (role, value) in figures {
            self.columns.entry(*role).or_default().as_text += value;
        }
    }

    /// A heading begins a stretch.
    pub(super) fn heading(&mut self) {
        for column in self.columns.values_mut() {
            column.since_heading = Sum::default();
            column.since_total = Sum::default();
        }
    }

    /// Holds a total against the stretches it can be of.
    pub(super) fn hold(&mut self, role: Role, stated: f64, off: f64, is_last: bool) -> Held {
        let column = self.columns.get(&role).copied().unwrap_or_default();
        let off = off + column.slack + stated.abs() * 1e-9;
        let near = |value: f64| (value - stated).abs() <= off;
        let stretches = [
            (column.since_total, "the rows since the last total"),
            (column.since_heading, "the rows under the heading"),
            (column.all, "all rows of the table"),
        ];
        let sums = |sum: Sum| {
            [
                sum.faces - sum.openings,
                sum.faces,
                sum.faces + sum.openings,
            ]
        };
        for (sum, of) in stretches {
            if let Some(found) = sums(sum).into_iter().find(|value| near(*value)) {
                return Held {
                    found,
                    of,
                    agrees: true,
                    hint: None,
                };
            }
        }
        let (sum, of) = match is_last || column.since_total.faces == 0.0 {
            true => (column.all, "all rows of the table"),
            false => (column.since_total, "the rows since the last total"),
        };
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
        let hint = hints
            .iter()
            .find(|(value, _)| near(*value))
            .map(|(_, hint)| *hint);
        Held {
            found: sum.faces - sum.openings,
            of,
            agrees: false,
            hint,
        }
    }

    /// Whether a figure is what the rows since the last total add up to.
    pub(super) fn is_sum(&self, role: Role, stated: f64, off: f64) -> bool {
        self.columns.get(&role).is_some_and(|column| {
            let sum = column.since_total;
            let rows = sum.faces != 0.0 && sum.faces != stated.abs() * 2.0;
            let near = |value: f64| (value - stated).abs() <= off + stated.abs() * 1e-9;
            rows && (near(sum.faces) || near(sum.faces - sum.openings) || near(column.all.faces))
        })
    }

    /// A total ends a stretch.
    pub(super) fn total(&mut self, role: Role, stated: f64) {
        let column = self.columns.entry(role).or_default();
        column.since_total = Sum::default();
        column.totals += stated;
        column.last_total = stated;
    }
}
