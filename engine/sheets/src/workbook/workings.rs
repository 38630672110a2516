//! The sheet of workings: each rule's formula once a class, in cells and in words.

use super::addresses::{Addresses, number};
use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
use super::sizes::unit_words;
use super::style::Look;
use crate::shown;
use parge_base::Sources;
use parge_calc::live::{Content, Goes, Working, words};
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Workings";

pub(super) const VALUE: usize = 2;
pub(super) const GOES: usize = 5;
/// A mark: the days were planned for another figure.
pub(super) const PLANNED: usize = 7;

/// What a check goes to.
pub(super) const CHECK: &str = "check";

/// Where a figure goes, as the sheets of materials and labour ask for it.
pub(super) fn goes(version: usize, goes: Goes) -> String {
    let of = match version {
        0 => String::new(),
        alternate => format!("A{alternate} "),
    };
    match goes {
        Goes::On => String::new(),
        Goes::Need(line) => format!("{of}M{} need", line + 1),
        Goes::Waste(line) => format!("{of}M{} waste", line + 1),
        Goes::Hours(line) => format!("{of}L{}", line + 1),
        Goes::Charge(line) => format!("{of}C{}", line + 1),
        Goes::Check => format!("{of}{CHECK}"),
    }
}

/// The line of a sheet that a figure goes to: `A1 M3`.
pub(super) fn line_of(version: usize, to: Goes) -> String {
    let text = goes(version, to);
    text.strip_suffix(" need").unwrap_or(&text).to_owned()
}

/// The sum of all figures that go somewhere.
pub(super) fn sum_of(of: &Addresses<'_>, version: usize, to: Goes) -> String {
    let lines = of.live.workings.len();
    let [goes_to, values] =
        [GOES, VALUE].map(|column| super::addresses::column(NAME, column, lines));
    format!("SUMIF({goes_to},\"{}\",{values})", goes(version, to))
}

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    of: &Addresses<'_>,
    sources: &Sources,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("Of", 34.0),
        Column::text("What", 44.0),
        Column::number("Value", Look::Figure),
        Column::text("Unit", 12.0),
        Column::text("Worked out as", 80.0),
        Column::text("Goes to", 14.0),
        Column::number("When written", Look::Figure),
        Column::number("Days planned for another figure", Look::Mark),
        Column::text("Rule", 40.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.widen(VALUE, 14.0);
    page.note("M1 and L1 are lines of sheets Materials and Labour. A check is 0 while its comparison turns out as it did, and 1 when the rules would go another way.")?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let lines = of.live.workings.len();
    page.lines(body, lines, &WorkingLines { of, sources })?;
    if lines == 0 {
        page.nothing("nothing to work out")?;
    }
    let last = page.row().saturating_sub(1);
    page.alarm_above_nothing([HEAD_ROW + 1, last], PLANNED)?;
    page.filter(lines)?;
    page.end()
}

/// The lines of the sheet.
struct WorkingLines<'a> {
    of: &'a Addresses<'a>,
    sources: &'a Sources,
}

impl Lines for WorkingLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError> {
        match self.of.live.workings.get(line) {
            Some(line) => write_line(page, line, self.of, self.sources),
            None => page.next(),
        }
    }
}

fn write_line(
    page: &mut Page<'_, impl Cells>,
    line: &Working,
    of: &Addresses<'_>,
    sources: &Sources,
) -> Result<(), XlsxError> {
    let live = of.live;
    let version = live.versions.get(line.version);
    let whose = match version.and_then(|version| version.name) {
        Some(name) => format!("{}, alternate “{name}”", line.of),
        None => line.of.clone(),
    };
    page.text(0, &whose)?;
    page.text(1, &line.what)?;
    let said = match &line.content {
        Content::Figure(expr) => {
            page.formula(VALUE, &format!("={}", of.formula(expr)), line.value)?;
            words(expr, live)
        }
        Content::Counted(value) => {
            page.number(VALUE, *value)?;
            "counted; no formula gives it".to_owned()
        }
        Content::Held(held) => {
            let mark = format!("=IF({},0,1)", of.condition(held));
            page.formula(VALUE, &mark, 0.0)?;
            held.words(live)
        }
    };
    page.text(3, &unit_words(&live.system.unit(line.kind)))?;
    page.text(4, &said)?;
    page.text(GOES, &goes(line.version, line.goes))?;
    page.number(6, line.value)?;
    match line.is_planned_for {
        true => {
            let (now, room) = (page.here(VALUE), number(1e-11 * (1.0 + line.value.abs())));
            let mark = format!("=IF(ABS({now}-{})>{room},1,0)", number(line.value));
            page.formula(PLANNED, &mark, 0.0)?;
        }
        false => page.number(PLANNED, 0.0)?,
    }
    let place = line.place.map(|place| shown::place(sources, place));
    page.text(8, &place.unwrap_or_default())?;
    page.next()
}
