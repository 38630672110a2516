//! The sheet of measured faces: each figure a formula over the sizes of the plan.

use super::addresses::{Addresses, MOST_LETTERS, line, number, on};
use super::page::{Column, Frame, HEAD_ROW, Page};
use super::style::Look;
use crate::shown::{self, FaceShown};
use parge_calc::job::Shape;
use parge_calc::live::{FACE_FIGURES, Held};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Faces";

pub(super) const COUNT: usize = 4;
/// The first of the figures, in the order of [`FACE_FIGURES`].
pub(super) const FIGURES: usize = 5;
/// The net area of all equal faces.
pub(super) const ALL: usize = FIGURES + FACE_FIGURES.len();
/// A mark: the face is no longer as it was when the workbook was written.
pub(super) const CHANGED: usize = ALL + 1;
/// A mark: the sizes of the face and its openings do not go together.
pub(super) const MISFIT: usize = ALL + 2;

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
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
        Column::number("Count", Look::Count).input(),
        size("Width of one"),
        size("Height of one"),
        areas("Gross area of one"),
        areas("Deducted from one"),
        areas("Reveals of one"),
        areas("Net area of one"),
        size("Foot of one"),
        size("Working height"),
        areas("Net area of all"),
        Column::number("Changed", Look::Mark),
        Column::number("Does not fit", Look::Mark),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let mut count = 0.0;
    for (row, face) in shown::faces(takeoff).enumerate() {
        write_line(&mut page, row, &face, estimate, of)?;
        count += f64::from(face.count);
    }
    let lines = takeoff.measured.faces.len();
    if lines == 0 {
        page.nothing("no face")?;
    }
    let last = page.row().saturating_sub(1);
    page.total("All faces")?;
    page.sum(COUNT, count)?;
    page.sum(ALL, shown::total_areas(takeoff).net)?;
    page.sum(CHANGED, 0.0)?;
    page.sum(MISFIT, 0.0)?;
    for column in [CHANGED, MISFIT] {
        page.alarm_above_nothing([HEAD_ROW + 1, last], column)?;
    }
    page.whole_numbers([HEAD_ROW + 1, last], COUNT)?;
    page.filter(lines)?;
    page.end()
}

fn write_line(
    page: &mut Page<'_>,
    row: usize,
    face: &FaceShown<'_>,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let live = of.live;
    page.text(0, face.structure)?;
    page.text(1, face.name)?;
    page.text(2, face.substrate)?;
    page.text(3, face.finish)?;
    page.number(COUNT, f64::from(face.count))?;
    for (column, figure) in (FIGURES..).zip(FACE_FIGURES) {
        let formula = format!("={}", of.formula(&live.face(row, figure)));
        page.formula(column, &formula, live.face_value(row, figure))?;
    }
    let net = FIGURES + 5;
    let [count, net] = [COUNT, net].map(|column| page.here(column));
    page.formula(ALL, &format!("={count}*{net}"), face.areas.net)?;
    let changed = changed(page, row, face, of);
    page.formula(CHANGED, &format!("={changed}"), 0.0)?;
    let misfit = misfit(row, &live.face_guards(row), estimate, of);
    page.formula(MISFIT, &format!("={misfit}"), 0.0)?;
    page.next()
}

/// A mark that is 1 when a figure of the face is no longer what it was.
fn changed(page: &Page<'_>, row: usize, face: &FaceShown<'_>, of: &Addresses<'_>) -> String {
    let live = of.live;
    let mut terms = vec![format!("ABS({}-{})", page.here(COUNT), face.count)];
    let mut size = 1.0;
    for (column, figure) in (FIGURES..).zip(FACE_FIGURES) {
        let was = live.face_value(row, figure);
        size += was.abs();
        terms.push(format!("ABS({}-{})", page.here(column), number(was)));
    }
    if let Some((edges, was)) = live.opening_edges(row).filter(|(_, was)| *was != 0.0) {
        let edges = of.formula(&edges);
        // Openings so many that a cell cannot hold them are told by their area.
        if edges.len() < MOST_LETTERS / 2 {
            terms.push(format!("ABS(({edges})-{})", number(was)));
            size += was.abs();
        }
    }
    format!("IF({}>{},1,0)", terms.join("+"), number(size * 1e-11))
}

/// A mark that is 1 when the sizes do not go together any more. Whether the sides of a polygon
/// cross no formula of one cell can say, nor whether so many sizes fit: there every change is
/// marked.
fn misfit(row: usize, guards: &[Held], estimate: &Estimate, of: &Addresses<'_>) -> String {
    let measured = &estimate.takeoff.measured;
    let face = measured
        .faces
        .get(row)
        .and_then(|face| measured.job.faces.get(face.face));
    let is_polygon = face.is_some_and(|face| {
        let openings = face.openings.iter().map(|opening| &opening.shape.node);
        let mut shapes = openings.chain([&face.shape.node]);
        shapes.any(|shape| matches!(shape, Shape::Polygon(_)))
    });
    let mark = of
        .mark(guards)
        .filter(|_| !is_polygon && !of.live.has_fixed_count(row));
    mark.unwrap_or_else(|| on(NAME, line(row), CHANGED))
}
