//! The sheet of layouts: sheets and rolls laid out on each face, beside the count by area. There
//! is none where nothing is laid out.

use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
use super::style::Look;
use crate::shown::{self, LaidShown};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Layout";

const COUNT: usize = 2;
const LAID: usize = 5;
const BY_AREA: usize = 6;
const MORE: usize = 7;

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let pieces = |what: &str| Column::number(what, Look::Decimals(2));
    let columns = vec![
        Column::text("Structure", 30.0),
        Column::text("Face", 26.0),
        Column::number("Count", Look::Count),
        Column::text("Item", 22.0),
        Column::text("Unit", 10.0),
        pieces("Laid out on all, one layer"),
        pieces("By area on all, one layer"),
        pieces("More than by area"),
        Column::text("How one is laid out", 70.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let laid: Vec<LaidShown<'_>> = shown::laid(&estimate.takeoff).collect();
    page.lines(body, laid.len(), &LaidLines(laid))?;
    page.end()
}

/// The lines of the sheet.
struct LaidLines<'a>(Vec<LaidShown<'a>>);

impl Lines for LaidLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError> {
        let Some(laid) = self.0.get(line) else {
            return page.next();
        };
        page.text(0, laid.structure)?;
        page.text(1, laid.name)?;
        page.number(COUNT, f64::from(laid.count))?;
        page.text(3, laid.item)?;
        page.text(4, laid.unit)?;
        page.number(LAID, laid.laid_out)?;
        page.number(BY_AREA, laid.by_area)?;
        let [all, by_area] = [LAID, BY_AREA].map(|column| page.here(column));
        let more = laid.laid_out - laid.by_area;
        page.formula(MORE, &format!("={all}-{by_area}"), more)?;
        page.text(8, laid.note)?;
        page.next()
    }
}
