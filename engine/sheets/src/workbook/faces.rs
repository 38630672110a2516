//! The sheet of measured faces: each figure a formula over the sizes of the plan.

use super::addresses::{Addresses, MOST_LETTERS, here, line, on, push_figure};
use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
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
    body: &mut Body,
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
        Column::number("Count", Look::Count),
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
    let lines = takeoff.measured.faces.len();
    page.lines(body, lines, &FaceLines { estimate, of })?;
    if lines == 0 {
        page.nothing("no face")?;
    }
    let last = page.row().saturating_sub(1);
    page.total("All faces")?;
    let counts = shown::faces(takeoff).map(|face| f64::from(face.count));
    page.sum(COUNT, counts.fold(0.0, |sum, count| sum + count))?;
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

/// The lines of the sheet, a face each.
struct FaceLines<'a> {
    estimate: &'a Estimate,
    of: &'a Addresses<'a>,
}

impl Lines for FaceLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError> {
        let takeoff = &self.estimate.takeoff;
        let face = takeoff.measured.faces.get(line);
        match face.and_then(|face| shown::face(takeoff, face)) {
            Some(face) => write_line(page, line, &face, self.estimate, self.of),
            None => page.next(),
        }
    }
}

fn write_line(
    page: &mut Page<'_, impl Cells>,
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
    write_count(page, row, face, estimate, of)?;
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
    let is_whole = whole(&page.here(COUNT));
    page.formula(MISFIT, &format!("=IF({is_whole},{misfit},1)"), 0.0)?;
    page.next()
}

/// That a cell holds a number of equal things.
pub(super) fn whole(cell: &str) -> String {
    format!("IF(ISNUMBER({cell}),IF({cell}>=1,IF({cell}=INT({cell}),1,0),0),0)=1")
}

/// How many equal faces there are: as the plan states it; of a reveal, as many as of its face; or
/// else one, to be changed.
fn write_count(
    page: &mut Page<'_, impl Cells>,
    row: usize,
    face: &FaceShown<'_>,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let count = f64::from(face.count);
    if let Some(stated) = of.live.stated_count(row) {
        return page.formula(COUNT, &format!("={}", of.formula(&stated)), count);
    }
    match face_of_reveal(row, estimate) {
        Some(of_face) => {
            let cell = here(line(of_face), COUNT);
            page.formula(COUNT, &format!("={cell}"), count)
        }
        None => page.input_number(COUNT, count),
    }
}

/// The row of the face that a reveal belongs to: reveals follow their face.
fn face_of_reveal(row: usize, estimate: &Estimate) -> Option<usize> {
    let measured = &estimate.takeoff.measured;
    let is_reveal = |row: usize| {
        let face = measured
            .faces
            .get(row)
            .and_then(|face| measured.job.faces.get(face.face));
        face.is_some_and(|face| matches!(face.shape.node, Shape::Reveal(_)))
    };
    let above = (0..row).rev().find(|above| !is_reveal(*above));
    above.filter(|_| is_reveal(row))
}

/// A mark that is 1 when a figure of the face is no longer what it was.
fn changed(
    page: &Page<'_, impl Cells>,
    row: usize,
    face: &FaceShown<'_>,
    of: &Addresses<'_>,
) -> String {
    let live = of.live;
    let mut text = "IF(".to_owned();
    let mut push = |cell: &str, was: f64| {
        text.push_str("+ABS(");
        text.push_str(cell);
        text.push('-');
        push_figure(&mut text, was);
        text.push(')');
        text.len()
    };
    push(&page.here(COUNT), f64::from(face.count));
    let mut size = 1.0;
    let mut short = 0;
    for (column, figure) in (FIGURES..).zip(FACE_FIGURES) {
        let was = live.face_value(row, figure);
        size += was.abs();
        short = push(&page.here(column), was);
    }
    // An opening that lies where it stood is as large, and laid around in another way.
    let mut all = short;
    for cell in live.face_cells(row) {
        let was = live.value(cell);
        size += was.abs();
        all = push(&of.cell(cell), was);
    }
    // Sizes so many that a cell cannot hold them are told by what they come to.
    if all > MOST_LETTERS - 100 {
        text.truncate(short);
    }
    text.push('>');
    push_figure(&mut text, size * 1e-11);
    text.push_str(",1,0)");
    text.replacen("IF(+", "IF(", 1)
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
