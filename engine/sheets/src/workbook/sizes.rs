//! The sheet of sizes: every figure that the plan states, once, as a cell to be changed.

use super::addresses::{Addresses, number};
use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
use super::style::Look;
use parge_base::Unit;
use parge_calc::live::{Size, System, Worked, words};
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Sizes";

pub(super) const STATED: usize = 4;
/// Where formulas read a size: in coherent units.
pub(super) const VALUE: usize = 6;
/// A mark: the cell is no number, or not above nothing where it was.
pub(super) const AMISS: usize = 9;
/// A mark: the days were planned for another figure.
pub(super) const PLANNED: usize = 10;

/// How many lines the sheet has.
pub(super) fn lines(of: &Addresses<'_>) -> usize {
    of.live.sizes().len() + of.live.worked().len()
}

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let live = of.live;
    let columns = vec![
        Column::text("Structure", 28.0),
        Column::text("Of", 26.0),
        Column::text("What", 24.0),
        Column::text("In the plan", 18.0),
        Column::number("Value", Look::Figure),
        Column::text("Unit", 10.0),
        Column::number("For formulas", Look::Figure),
        Column::text("In", 10.0),
        Column::text("Worked out as", 60.0),
        Column::number("Amiss", Look::Mark),
        Column::number("Days planned for another figure", Look::Mark),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.widen(VALUE, 12.0);
    page.note(
        "Figures that the plan states. A shaded cell may be changed; everything follows it.",
    )?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    page.lines(body, lines(of), &SizeLines(of))?;
    if lines(of) == 0 {
        page.nothing("no size")?;
    }
    let last = HEAD_ROW + live.sizes().len() as u32;
    page.numbers_between([HEAD_ROW + 1, last], STATED, [-1e6, 1e6], "a number")?;
    for column in [AMISS, PLANNED] {
        page.alarm_above_nothing([HEAD_ROW + 1, last], column)?;
    }
    page.filter(lines(of))?;
    page.end()
}

/// The lines of the sheet: sizes, then what is worked out of them.
struct SizeLines<'a>(&'a Addresses<'a>);

impl Lines for SizeLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError> {
        let live = self.0.live;
        if let Some(size) = live.sizes().get(line) {
            return write_size(page, line, size, self.0);
        }
        match live.worked().get(line - live.sizes().len()) {
            Some(worked) => write_worked(page, worked, self.0),
            None => page.next(),
        }
    }
}

fn write_size(
    page: &mut Page<'_, impl Cells>,
    number_of: usize,
    size: &Size,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let live = of.live;
    page.blank_at(&[8, PLANNED])?;
    page.text(0, &size.structure)?;
    page.text(1, &size.of)?;
    page.text(2, &size.what)?;
    page.text(3, &size.written)?;
    page.input_number(STATED, size.stated)?;
    page.text(5, &unit_words(size.unit.text()))?;
    let stated = page.here(STATED);
    let formula = format!("={}", converted(&stated, &size.unit, live.system));
    page.formula(VALUE, &formula, size.value)?;
    page.text(7, &unit_words(&live.system.unit(size.kind)))?;
    let is_fine = match size.stated > 0.0 {
        true => format!("IF(ISNUMBER({stated}),IF({stated}>0,1,0),0)=1"),
        false => format!("ISNUMBER({stated})"),
    };
    page.formula(AMISS, &format!("=IF({is_fine},0,1)"), 0.0)?;
    if live.is_planned_for(number_of) {
        let was = number(size.stated);
        page.formula(PLANNED, &format!("=IF({stated}={was},0,1)"), 0.0)?;
    }
    page.next()
}

fn write_worked(
    page: &mut Page<'_, impl Cells>,
    worked: &Worked,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let live = of.live;
    page.blank_at(&[0, 1, 3, STATED, 5, AMISS, PLANNED])?;
    page.text(2, &worked.what)?;
    let formula = format!("={}", of.formula(&worked.expr));
    page.formula(VALUE, &formula, worked.value)?;
    page.text(7, &unit_words(&live.system.unit(worked.kind)))?;
    page.text(8, &words(&worked.expr, live))?;
    page.next()
}

/// A unit as print shows it; a plain number has none.
pub(super) fn unit_words(text: &str) -> String {
    match text {
        "1" => String::new(),
        text => crate::shown::print_unit(text),
    }
}

/// A number in a unit as a formula for it in coherent units.
pub(super) fn converted(cell: &str, unit: &Unit, system: System) -> String {
    let scale = system.scale(unit.dim());
    let none = unit.quantity(0.0).map_or(0.0, |quantity| quantity.value) / scale;
    let times = unit.factor() / scale;
    let scaled = match times {
        1.0 => cell.to_owned(),
        times => {
            // A twelfth is written as a division, so that no digit is lost.
            let whole = (1.0 / times).round();
            match whole >= 2.0 && (times * whole - 1.0).abs() < 1e-15 {
                true => format!("{cell}/{}", number(whole)),
                false => format!("{cell}*{}", number(times)),
            }
        }
    };
    match none == 0.0 {
        true => scaled,
        false => format!("{scaled}+{}", number(none)),
    }
}
