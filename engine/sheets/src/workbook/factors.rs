//! The sheet of factors: what the figures rest on, and who says so. Those that formulas use may be
//! changed there; the others went into what no formula says, such as the days.

use super::addresses::Addresses;
use super::page::{Column, Frame, HEAD_ROW, Page};
use super::sizes::{converted, unit_words};
use super::style::Look;
use crate::shown;
use parge_base::Sources;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Factors";

pub(super) const STATED: usize = 1;
/// As the pack has it, whatever is written beside it.
pub(super) const WRITTEN: usize = 3;
/// Where formulas read a factor: in coherent units.
pub(super) const VALUE: usize = 4;
/// A mark: the value differs by more than half from that of the pack.
pub(super) const FAR: usize = 6;
/// A mark: the days were planned for another figure.
pub(super) const PLANNED: usize = 7;

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    of: &Addresses<'_>,
    sources: &Sources,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("Factor", 48.0),
        Column::number("Value", Look::Written),
        Column::text("Unit", 14.0),
        Column::number("In the rule pack", Look::Written),
        Column::number("For formulas", Look::Figure),
        Column::text("In", 14.0),
        Column::number("Far off", Look::Mark),
        Column::number("Days planned for another figure", Look::Mark),
        Column::text("Source", 60.0),
        Column::text("Place", 44.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.widen(VALUE, 12.0);
    page.note("A shaded cell may be changed; what rests on it follows, or sheet Checks tells. What is not shaded went into what no formula says.")?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let system = of.live.system;
    for factor in &of.factors {
        page.blank()?;
        page.text(0, &factor.name)?;
        match of.live.factor(factor) {
            Some(_) => {
                page.input_number(STATED, factor.written)?;
                let formula = converted(&page.here(STATED), &factor.unit, system);
                let value = system.value(factor.quantity);
                page.formula(VALUE, &format!("={formula}"), value)?;
                page.text(5, &unit_words(&system.unit(factor.quantity.dim)))?;
                let [now, was] = [STATED, WRITTEN].map(|column| page.here(column));
                let far = format!("=IF(ABS({now}-{was})>ABS({was})/2,1,0)");
                page.formula(FAR, &far, 0.0)?;
                if of.live.is_factor_planned_for(factor) {
                    page.formula(PLANNED, &format!("=IF({now}={was},0,1)"), 0.0)?;
                }
            }
            None => page.number(STATED, factor.written)?,
        }
        page.text(2, &unit_words(factor.unit.text()))?;
        page.number(WRITTEN, factor.written)?;
        page.text(8, &factor.source.to_string())?;
        page.text(9, &shown::place(sources, factor.span))?;
        page.next()?;
    }
    if of.factors.is_empty() {
        page.nothing("no factor")?;
    }
    let last = HEAD_ROW + of.factors.len() as u32;
    page.numbers_between([HEAD_ROW + 1, last], STATED, [-1e9, 1e9], "a number")?;
    for column in [FAR, PLANNED] {
        page.alarm_above_nothing([HEAD_ROW + 1, last], column)?;
    }
    page.filter(of.factors.len())?;
    page.end()
}
