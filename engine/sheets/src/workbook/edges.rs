//! The sheet of linear work. There is none where the plan has none.

use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::Look;
use crate::shown;
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Edges";

const COUNT: usize = 3;
const LENGTH: usize = 4;
const ALL: usize = 5;

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let takeoff = &estimate.takeoff;
    let unit = shown::length_unit(takeoff.measured.job.units);
    let length = |what: &str| Column::number(format!("{what}, {unit}"), Look::Decimals(2));
    let columns = vec![
        Column::text("Structure", 30.0),
        Column::text("Face", 26.0),
        Column::text("Edge", 20.0),
        Column::number("Count", Look::Count),
        length("Length of one"),
        length("Length of all"),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let mut all = 0.0;
    for edge in shown::edges(takeoff) {
        page.text(0, edge.structure)?;
        page.text(1, edge.face.unwrap_or(""))?;
        page.text(2, edge.kind)?;
        page.number(COUNT, f64::from(edge.count))?;
        page.number(LENGTH, edge.length)?;
        let [count, length] = [COUNT, LENGTH].map(|column| page.here(column));
        page.formula(ALL, &format!("={count}*{length}"), edge.total_length())?;
        page.next()?;
        all += edge.total_length();
    }
    page.total("All edges")?;
    page.sum(ALL, all)?;
    page.end()
}
