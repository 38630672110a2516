//! The sheet of days: which work is done on which day. There is none without a day plan.

use super::page::{Column, Frame, HEAD_ROW, Page};
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
    frame: &Frame,
    estimate: &Estimate,
    plan: &DayPlan,
) -> Result<(), XlsxError> {
    let mut columns = vec![Column::text("Day", 14.0)];
    if plan.is_dated {
        columns.push(Column::text("Weekday", 12.0));
    }
    let structure = columns.len();
    let [work, people, hours, share, critical] = [1, 2, 3, 4, 5].map(|more| structure + more);
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
    let mut total = 0.0;
    for line in shown_days::work(&estimate.takeoff, plan) {
        let WorkShown { day, weekday, .. } = line;
        total += line.hours;
        page.blank()?;
        page.text(0, day)?;
        if plan.is_dated {
            page.text(1, weekday)?;
        }
        page.text(structure, line.structure)?;
        page.text(work, &line.work)?;
        page.number(people, f64::from(line.people))?;
        page.number(hours, line.hours)?;
        page.number(share, round_to(line.share, SHARE_DECIMALS))?;
        page.text(critical, if line.critical { "yes" } else { "" })?;
        page.next()?;
    }
    page.total("Hours of work")?;
    page.sum(hours, total)?;
    page.end()
}
