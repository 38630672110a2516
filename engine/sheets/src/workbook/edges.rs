//! The sheet of linear work. There is none where the plan has none.

use super::addresses::{Addresses, line, on};
use super::faces;
use super::page::{Column, Frame, HEAD_ROW, Lines, Page};
use super::rows::{Body, Cells};
use super::style::Look;
use crate::shown;
use parge_calc::job::{Edge, Job};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};
use std::collections::HashMap;

pub(super) const NAME: &str = "Edges";

const EACH: usize = 3;
/// A mark: the count is no number of things.
pub(super) const MISFIT: usize = 7;
pub(super) const COUNT: usize = 4;
pub(super) const LENGTH: usize = 5;
/// The length of all equal edges.
pub(super) const ALL: usize = 6;

pub(super) fn write(
    sheet: &mut Worksheet,
    body: &mut Body,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    let unit = shown::length_unit(job.units);
    let length = |what: &str| Column::number(format!("{what}, {unit}"), Look::Decimals(2));
    let columns = vec![
        Column::text("Structure", 30.0),
        Column::text("Face", 26.0),
        Column::text("Edge", 20.0),
        Column::number("Count on each face", Look::Count),
        Column::number("Count", Look::Count),
        length("Length of one"),
        length("Length of all"),
        Column::number("Does not fit", Look::Mark),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let faces = faces_by_name(estimate);
    let lines = EdgeLines {
        estimate,
        of,
        faces,
    };
    page.lines(body, job.edges.len(), &lines)?;
    let last = page.row().saturating_sub(1);
    page.total("All edges")?;
    let lengths = shown::edges(takeoff).map(|edge| edge.total_length());
    page.sum(ALL, lengths.fold(0.0, |sum, length| sum + length))?;
    page.alarm_above_nothing([HEAD_ROW + 1, last], MISFIT)?;
    page.whole_numbers([HEAD_ROW + 1, last], EACH)?;
    page.filter(job.edges.len())?;
    page.end()
}

/// The lines of the sheet.
struct EdgeLines<'a> {
    estimate: &'a Estimate,
    of: &'a Addresses<'a>,
    faces: HashMap<Name<'a>, (usize, u32)>,
}

impl Lines for EdgeLines<'_> {
    fn write(&self, page: &mut Page<'_, impl Cells>, line: usize) -> Result<(), XlsxError> {
        let (job, of) = (&self.estimate.takeoff.measured.job, self.of);
        let Some(edge) = job.edges.get(line) else {
            return page.next();
        };
        let shown = shown::edge(job, edge);
        page.text(0, shown.structure)?;
        page.text(1, shown.face.unwrap_or(""))?;
        page.text(2, shown.kind)?;
        let count = f64::from(edge.count);
        let (times, each_count) = match face_of(job, edge, &self.faces) {
            Some((row, faces)) => {
                let times = on(faces::NAME, self::line(row), faces::COUNT);
                (format!("*{times}"), count / f64::from(faces))
            }
            None => (String::new(), count),
        };
        match of.live.stated_count_of(edge) {
            Some(stated) => page.formula(EACH, &format!("={}", of.formula(&stated)), each_count)?,
            None => page.input_number(EACH, each_count)?,
        }
        let each = page.here(EACH);
        page.formula(COUNT, &format!("={each}{times}"), count)?;
        let formula = format!("={}", of.formula(&of.live.edge_length(edge)));
        page.formula(LENGTH, &formula, shown.length)?;
        let [count, length] = [COUNT, LENGTH].map(|column| page.here(column));
        page.formula(ALL, &format!("={count}*{length}"), shown.total_length())?;
        let misfit = format!("=IF({},0,1)", faces::whole(&each));
        page.formula(MISFIT, &misfit, 0.0)?;
        page.next()
    }
}

/// Structure and name of a face.
type Name<'a> = (usize, &'a str);

/// The rows of faces by their names. Reveals bear the name of their opening and have no edges.
fn faces_by_name(estimate: &Estimate) -> HashMap<Name<'_>, (usize, u32)> {
    let measured = &estimate.takeoff.measured;
    let faces = measured.faces.iter().enumerate().filter_map(|(row, face)| {
        let face = measured.job.faces.get(face.face)?;
        Some(((face.structure, face.name.as_str()), (row, face.count)))
    });
    faces.collect()
}

/// The row of the face that an edge belongs to, and how many equal ones there are.
fn face_of(
    job: &Job,
    edge: &Edge,
    faces: &HashMap<Name<'_>, (usize, u32)>,
) -> Option<(usize, u32)> {
    let name = edge.face.as_deref()?;
    let known = job.structures.get(edge.structure).map(|_| edge.structure)?;
    let (row, count) = *faces.get(&(known, name))?;
    (count > 0 && edge.count.is_multiple_of(count)).then_some((row, count))
}
