//! The sheet of factors: what the figures rest on, and who says so.

use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::Look;
use crate::shown;
use parge_base::{Factor, Sources};
use rust_xlsxwriter::{Worksheet, XlsxError};
use std::sync::Arc;

pub(super) const NAME: &str = "Factors";

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    factors: &[&Arc<Factor>],
    sources: &Sources,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("Factor", 48.0),
        Column::number("Value", Look::Written),
        Column::text("Unit", 14.0),
        Column::text("Source", 60.0),
        Column::text("Place", 44.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for factor in factors {
        page.text(0, &factor.name)?;
        page.number(1, factor.written)?;
        // A plain number has the unit 1, which beside a value reads like another value.
        let unit = match factor.unit.text() {
            "1" => "",
            text => text,
        };
        page.text(2, &shown::print_unit(unit))?;
        page.text(3, &factor.source.to_string())?;
        page.text(4, &shown::place(sources, factor.span))?;
        page.next()?;
    }
    if factors.is_empty() {
        page.nothing("no factor")?;
    }
    page.end()
}
