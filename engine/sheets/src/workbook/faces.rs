//! The sheet of measured faces.

use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::Look;
use crate::shown::{self, FaceShown};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Faces";

const COUNT: usize = 4;
const GROSS: usize = 7;
const DEDUCTED: usize = 8;
const REVEAL: usize = 9;
const NET: usize = 10;

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let takeoff = &estimate.takeoff;
    let system = takeoff.measured.job.units;
    let length = shown::length_unit(system);
    let area = shown::print_unit(shown::area_unit(system));
    let size = |what: &str| Column::number(format!("{what}, {length}"), Look::Decimals(2));
    let areas = |what: &str| Column::number(format!("{what}, {area}"), Look::Decimals(2));
    let columns = vec![
        Column::text("Structure", 30.0),
        Column::text("Face", 26.0),
        Column::text("Substrate", 20.0),
        Column::text("Finish", 20.0),
        Column::number("Count", Look::Count),
        size("Width of one"),
        size("Height of one"),
        areas("Gross area of all"),
        areas("Deducted from all"),
        areas("Reveals of all"),
        areas("Net area of all"),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let mut count = 0.0;
    for face in shown::faces(takeoff) {
        line(&mut page, &face)?;
        count += f64::from(face.count);
    }
    if takeoff.measured.faces.is_empty() {
        page.nothing("no face")?;
    }
    let sums = shown::total_areas(takeoff);
    page.total("All faces")?;
    page.sum(COUNT, count)?;
    page.sum(GROSS, sums.gross)?;
    page.sum(DEDUCTED, sums.deducted)?;
    page.sum(REVEAL, sums.reveal)?;
    page.sum(NET, sums.net)?;
    page.end()
}

fn line(page: &mut Page<'_>, face: &FaceShown<'_>) -> Result<(), XlsxError> {
    page.text(0, face.structure)?;
    page.text(1, face.name)?;
    page.text(2, face.substrate)?;
    page.text(3, face.finish)?;
    page.number(COUNT, f64::from(face.count))?;
    page.number(5, face.width)?;
    page.number(6, face.height)?;
    page.number(GROSS, face.areas.gross)?;
    page.number(DEDUCTED, face.areas.deducted)?;
    page.number(REVEAL, face.areas.reveal)?;
    let [gross, deducted, reveal] = [GROSS, DEDUCTED, REVEAL].map(|column| page.here(column));
    page.formula(
        NET,
        &format!("={gross}-{deducted}+{reveal}"),
        face.areas.net,
    )?;
    page.next()
}
