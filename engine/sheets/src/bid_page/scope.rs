//! What is to be done: structures, faces, linear work and finishes, in words.

use crate::drawing::dimension;
use crate::explained::grouped;
use crate::shown;
use parge_calc::job::{Edge, Face, Finish, Job, Shape};
use parge_calc::measure::MeasuredFace;
use parge_calc::takeoff::Takeoff;
use serde::Serialize;

/// What is to be done.
#[derive(Serialize)]
pub(super) struct Scope<'a> {
    structures: Vec<StructureRow<'a>>,
    finishes: Vec<FinishRow<'a>>,
    area: String,
    unit: String,
    /// How openings are deducted, behind `measured`.
    measuring: String,
}

#[derive(Serialize)]
struct StructureRow<'a> {
    name: &'a str,
    faces: Vec<FaceRow<'a>>,
    edges: Vec<EdgeRow<'a>>,
    area: String,
}

#[derive(Serialize)]
struct FaceRow<'a> {
    name: &'a str,
    finish: &'a str,
    on: &'a str,
    count: u32,
    size: String,
    area: String,
}

#[derive(Serialize)]
struct EdgeRow<'a> {
    kind: &'a str,
    face: Option<&'a str>,
    count: u32,
    length: String,
    total: String,
}

#[derive(Serialize)]
struct FinishRow<'a> {
    name: &'a str,
    words: String,
}

pub(super) fn scope(takeoff: &Takeoff) -> Scope<'_> {
    let measured = &takeoff.measured;
    let job = &measured.job;
    let structures = job.structures.iter().enumerate();
    let rows = structures.map(|(number, structure)| {
        let of = |face: &Face| face.structure == number;
        let faces = measured.faces.iter().filter_map(|measured| {
            let face = job.faces.get(measured.face).filter(|face| of(face))?;
            Some((face, measured))
        });
        let faces: Vec<_> = faces.collect();
        let area = faces
            .iter()
            .map(|(face, measured)| net(job, face, measured))
            .sum();
        let edges = job.edges.iter().filter(|edge| edge.structure == number);
        StructureRow {
            name: &structure.name,
            faces: faces
                .iter()
                .map(|(face, measured)| row(job, face, measured))
                .collect(),
            edges: edges.map(|edge| edge_row(job, edge)).collect(),
            area: area_text(area),
        }
    });
    let rows = rows.filter(|row| !row.faces.is_empty() || !row.edges.is_empty());
    Scope {
        structures: rows.collect(),
        finishes: finishes(takeoff),
        area: area_text(shown::total_areas(takeoff).net),
        unit: shown::print_unit(shown::area_unit(job.units)),
        measuring: shown::measuring_words(&job.measuring),
    }
}

/// The net area of all equal faces, in the unit shown.
fn net(job: &Job, face: &Face, measured: &MeasuredFace) -> f64 {
    let one = shown::area(job.tape.value(measured.net), job.units).0;
    one * f64::from(face.count)
}

fn area_text(area: f64) -> String {
    grouped(&format!("{area:.1}"))
}

fn row<'a>(job: &'a Job, face: &'a Face, measured: &MeasuredFace) -> FaceRow<'a> {
    let finish = job.finishes.get(face.finish);
    FaceRow {
        name: &face.name,
        finish: finish.map_or("", |finish| &finish.name),
        on: &face.substrate,
        count: face.count,
        size: size(job, face, measured),
        area: area_text(net(job, face, measured)),
    }
}

/// Width and height; a reveal has neither, and what was measured on the wall no width.
fn size(job: &Job, face: &Face, measured: &MeasuredFace) -> String {
    let length = |node| dimension(job.tape.value(node).value, job.units);
    let (width, height) = (measured.shape.width, measured.shape.height);
    match face.shape.node {
        Shape::Reveal(_) => format!("reveal, {} deep", length(width)),
        Shape::Measured(..) => format!("measured, {} high", length(height)),
        _ => format!("{} x {}", length(width), length(height)),
    }
}

fn edge_row<'a>(job: &'a Job, edge: &'a Edge) -> EdgeRow<'a> {
    let one = job.value(edge.length).value;
    EdgeRow {
        kind: &edge.kind,
        face: edge.face.as_deref(),
        count: edge.count,
        length: dimension(one, job.units),
        total: dimension(one * f64::from(edge.count), job.units),
    }
}

/// The finishes that faces or edges get, in the order of the plan.
fn finishes(takeoff: &Takeoff) -> Vec<FinishRow<'_>> {
    let job = &takeoff.measured.job;
    let faces = takeoff.measured.faces.iter();
    let of_faces = faces
        .filter_map(|of| job.faces.get(of.face))
        .map(|face| face.finish);
    let of_edges = job.edges.iter().filter_map(|edge| edge.finish);
    let used: Vec<usize> = of_faces.chain(of_edges).collect();
    let all = job.finishes.iter().enumerate();
    let rows = all
        .filter(|(number, _)| used.contains(number))
        .map(|(_, finish)| FinishRow {
            name: &finish.name,
            words: words(job, finish),
        });
    rows.collect()
}

/// A finish in words: `Stamp, 3/4" thick; colours granite 60%, moss 40%; sealer matte, 2 coats`.
fn words(job: &Job, finish: &Finish) -> String {
    let thickness = dimension_of_coat(job, finish);
    let mut words = vec![format!(
        "{}, {thickness} thick",
        shown::sentence(&finish.technique)
    )];
    if !finish.colours.is_empty() {
        let colours = finish.colours.iter().map(|(name, share)| {
            let percent = parge_base::number::round_to(job.value(*share).value * 100.0, 2);
            format!("{name} {percent}%")
        });
        words.push(format!(
            "colours {}",
            colours.collect::<Vec<_>>().join(", ")
        ));
    }
    if let Some(sheen) = &finish.sheen {
        let coats = finish.sealer_coats.map(|coats| job.value(coats).value);
        let coats = coats.map(|coats| match coats {
            1.0 => ", 1 coat".to_owned(),
            more => format!(", {more} coats"),
        });
        words.push(format!("sealer {sheen}{}", coats.unwrap_or_default()));
    }
    words.join("; ")
}

/// A thickness, which metric plans write in millimetres.
fn dimension_of_coat(job: &Job, finish: &Finish) -> String {
    let metres = job.value(finish.thickness).value;
    match job.units {
        parge_calc::job::UnitSystem::Us => dimension(metres, job.units),
        parge_calc::job::UnitSystem::Metric => {
            format!("{} mm", parge_base::number::round_to(metres * 1000.0, 1))
        }
    }
}
