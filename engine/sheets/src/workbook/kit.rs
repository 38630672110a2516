//! The sheet of tools and equipment. There is none where the rules name none.

use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::Look;
use crate::shown;
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Kit";

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("Tool", 46.0),
        Column::number("Count", Look::Count),
        Column::text("From", 30.0),
        Column::text("Taken for", 60.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for tool in &estimate.takeoff.kit {
        page.blank()?;
        page.text(0, &tool.description)?;
        page.number(1, tool.count)?;
        page.text(2, shown::tool_from(tool, estimate).words())?;
        page.text(3, &tool.reasons.join("; "))?;
        page.next()?;
    }
    if let Some(text) = shown::hire_not_priced(estimate) {
        page.total(&text)?;
    }
    page.end()
}
