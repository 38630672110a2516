//! What past jobs teach as rows of a company's pack, and what those do to the price of a job.

use super::lesson::{Learned, Lesson, Proposed, Verdict};
use super::source::source;
use super::spread::{FACTOR, GROUPS, JOB, LINE, TOGETHER};
use crate::contract::SPREAD;
use crate::price::Estimate;
use crate::whatif::Basis;
use jiff::civil::Date;
use parge_base::{Diagnostic, Money, Sources, Span};
use parge_rules::{NewRow, OtherValue, Pack};
use std::sync::Arc;

impl Lesson {
    /// Its cells that are to move.
    pub fn moving(&self) -> impl Iterator<Item = &Proposed> {
        let cells = self.cells.iter();
        cells.filter(|cell| cell.verdict == Verdict::Moves)
    }
}

/// The rows of the cells that are to move.
pub fn rows(learned: &Learned) -> Vec<NewRow> {
    let lessons = learned.lessons.iter();
    let moving = lessons.flat_map(|lesson| lesson.moving().map(move |cell| (lesson, cell)));
    let row = |(lesson, proposed): (&Lesson, &Proposed)| NewRow {
        table: proposed.cell.table.clone(),
        key_columns: Vec::new(),
        keys: proposed.cell.keys.clone(),
        value: proposed.value.to_string(),
        unit: proposed.factor.unit.text().to_owned(),
        source: source(lesson.jobs(), lesson.days, Some(proposed.before)),
    };
    moving.map(row).collect()
}

/// The rows of table `spread`: how far each cell that jobs were put down to still strays, and jobs and
/// lines by themselves.
pub fn spread_rows(learned: &Learned) -> Vec<NewRow> {
    let mut rows = Vec::new();
    for lesson in &learned.lessons {
        let Some((first, others)) = lesson.cells.split_first() else {
            continue;
        };
        let source = source(lesson.jobs(), lesson.days, None);
        let name = first.cell.to_string();
        rows.push(spread(FACTOR, &name, Says::Share(lesson.shift.sd), &source));
        for other in others {
            let of = other.cell.to_string();
            rows.push(spread(TOGETHER, &of, Says::Text(&name), &source));
        }
    }
    for (word, group) in GROUPS {
        let at = group as usize;
        let told = learned
            .jobs
            .iter()
            .filter(|job| job.lines.get(at) > Some(&0));
        let days = told.clone().filter_map(|job| job.days);
        let source = source(told.count(), span(days), None);
        let of = [(JOB, learned.variances.job), (LINE, learned.variances.line)];
        for (kind, sds) in of {
            let sd = sds.get(at).copied().unwrap_or_default();
            rows.push(spread(kind, word, Says::Share(sd), &source));
        }
    }
    rows
}

/// From the first to the last of days.
pub(super) fn span(days: impl Iterator<Item = (Date, Date)>) -> Option<(Date, Date)> {
    days.reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)))
}

enum Says<'s> {
    Share(f64),
    Text(&'s str),
}

fn spread(kind: &str, of: &str, says: Says<'_>, source: &str) -> NewRow {
    let (value, unit) = match says {
        Says::Share(share) => (format!("{:.1}", share * 100.0), "%"),
        Says::Text(text) => (text.to_owned(), "text"),
    };
    NewRow {
        table: SPREAD.to_owned(),
        key_columns: ["spread", "of"].map(str::to_owned).to_vec(),
        keys: vec![kind.to_owned(), of.to_owned()],
        value,
        unit: unit.to_owned(),
        source: source.to_owned(),
    }
}

/// What the rows do to the total of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// The job.
    pub job: String,
    /// Its total as it is.
    pub now: Money,
    /// Its total with all of the rows.
    pub then: Money,
    /// By how much the cells of each lesson change it alone, in the order of the lessons; none for
    /// those that move nothing.
    pub by: Vec<Option<Money>>,
}

/// What the rows do to the total of a job, all together and each lesson alone; each a whole
/// estimate of its own. `None` after an error that leaves no figures.
pub fn effect(
    basis: &Basis,
    learned: &Learned,
    sources: &Sources,
    place: Span,
) -> (Option<Effect>, Vec<Diagnostic>) {
    let (now, said) = basis.total(sources);
    let Some(now) = now else {
        return (None, said);
    };
    let total = |lessons: &[&Lesson]| -> Option<Money> {
        let values = others(lessons, &basis.rules, place);
        let rules = Arc::new(basis.rules.with_values(&values));
        let other = Basis {
            rules,
            ..basis.clone()
        };
        let (estimate, _) = other.total(sources);
        estimate.map(|estimate: Estimate| estimate.price.total)
    };
    let moves = |lesson: &&Lesson| lesson.moving().next().is_some();
    let moving: Vec<&Lesson> = learned.lessons.iter().filter(moves).collect();
    let by = learned.lessons.iter().map(|lesson| {
        let alone = moves(&lesson).then(|| total(&[lesson]))??;
        alone.minus(now.price.total).ok()
    });
    let by = by.collect();
    let effect = total(&moving).map(|then| Effect {
        job: now.takeoff.measured.job.name.clone(),
        now: now.price.total,
        then,
        by,
    });
    (effect, said)
}

/// The values that lessons propose.
fn others(lessons: &[&Lesson], pack: &Pack, place: Span) -> Vec<OtherValue> {
    let moving = lessons.iter().flat_map(|lesson| lesson.moving());
    let value = |proposed: &Proposed| {
        let (table, keys) = (&proposed.cell.table, &proposed.cell.keys);
        let words: Vec<&str> = keys.iter().map(String::as_str).collect();
        let row = pack.tables().find(table, &words).ok()?;
        let text = format!("{} {}", proposed.value, proposed.factor.unit.text());
        let text = match proposed.factor.unit.text() {
            "1" => proposed.value.to_string(),
            _ => text,
        };
        Some(OtherValue {
            table: table.clone(),
            keys: keys.clone(),
            cell: row.other(&text, pack.units(), place).ok()?,
        })
    };
    moving.filter_map(value).collect()
}
