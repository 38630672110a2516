//! The sheet of days: which work is done on which day. There is none without a day plan.

use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
use super::style::Look;
use crate::shown_days::{self, WorkShown};
use parge_base::number::round_to;
use parge_calc::days::DayPlan;
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Days";

const NOTE: &str = "Hours are those of the work. What a day takes beside it, such as travel and setting up, stands on sheet Labour.";

/// Decimals of a share as a number: hundredths of a percent.
const SHARE_DECIMALS: u32 = 4;

/// The lines that the sheet takes.
pub(super) fn lines(plan: &DayPlan) -> usize {
    plan.days.iter().map(|day| day.work.len()).sum()
}

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    estimate: &Estimate,
    plan: &DayPlan,
) -> Result<(), XlsxError> {
    let mut columns = vec![Column::text("Day", 14.0)];
    if plan.is_dated {
        columns.push(Column::text("Weekday", 12.0));
    }
    let structure = columns.len();
    columns.extend([
        Column::text("Structure", 30.0),
        Column::text("Work", 84.0),
        Column::number("People", Look::Count),
        Column::number("Hours", Look::Decimals(2)),
        Column::number("Share done", Look::Rate),
        Column::text("Sets the end", 14.0),
    ]);
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.note(NOTE)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let work: Vec<WorkShown<'_>> = shown_days::work(&estimate.takeoff, plan).collect();
    let total = work.iter().fold(0.0, |sum, line| sum + line.hours);
    page.lines(body, work.len(), &WorkLines { work, structure })?;
    page.total("Hours of work")?;
    page.sum(structure + HOURS, total)?;
    page.end()
}

/// Columns from that of the structures on.
const HOURS: usize = 3;

/// The lines of the sheet.
struct WorkLines<'a> {
    work: Vec<WorkShown<'a>>,
    /// The column of the structures, behind that of weekdays where days have dates.
    structure: usize,
}

impl Lines for WorkLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError> {
        let Some(line) = self.work.get(line) else {
            return page.next();
        };
        let [work, people, hours, share, critical] =
            [1, 2, HOURS, 4, 5].map(|more| self.structure + more);
        page.blank()?;
        page.text(0, line.day)?;
        if self.structure > 1 {
            page.text(1, line.weekday)?;
        }
        page.text(self.structure, line.structure)?;
        page.text(work, &line.work)?;
        page.number(people, f64::from(line.people))?;
        page.number(hours, line.hours)?;
        page.number(share, round_to(line.share, SHARE_DECIMALS))?;
        page.text(critical, if line.critical { "yes" } else { "" })?;
        page.next()
    }
}
