//! What stands beneath a face, in words.

use super::dimension::dimension;
use crate::shown;
use crate::text::isolated;
use parge_calc::elevation::{Elevation, View};
use parge_calc::job::{Face, Job, Opening, Shape};
use parge_calc::measure::MeasuredFace;

/// The name of a face and the lines beneath it.
pub(super) struct Words {
    pub(super) name: String,
    pub(super) lines: Vec<String>,
}

/// The words of a face.
pub(super) fn words(job: &Job, measured: &MeasuredFace, face: &Face, of: &Elevation) -> Words {
    let mut lines = vec![finish(job, face), area(job, measured, face)];
    lines.extend(view(job, measured, of.view));
    let mut seen = None;
    for drawn in &of.openings {
        if seen == Some(drawn.opening) {
            continue;
        }
        seen = Some(drawn.opening);
        if let Some(opening) = face.openings.get(drawn.opening) {
            lines.push(opening_words(job, drawn.opening, opening, drawn.at[1]));
        }
    }
    if !of.openings.is_empty() {
        lines.push("Openings: position not stated.".to_owned());
    }
    for number in &of.left_out {
        if let Some(opening) = face.openings.get(*number) {
            let (letter, name) = (letter(*number), isolated(&opening.name));
            lines.push(format!(
                "{letter} {name}{}: not drawn.",
                count(job, opening)
            ));
        }
    }
    Words {
        name: isolated(&face.name),
        lines,
    }
}

/// The letter of an opening: A to Z, then A1 to Z1, and so on.
pub(super) fn letter(number: usize) -> String {
    let letter = char::from(b'A' + (number % 26) as u8);
    match number / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

fn finish(job: &Job, face: &Face) -> String {
    let finish = job
        .finishes
        .get(face.finish)
        .map_or("", |finish| &finish.name);
    match face.count {
        1 => isolated(finish),
        count => format!("{}, {count} equal faces", isolated(finish)),
    }
}

fn area(job: &Job, measured: &MeasuredFace, face: &Face) -> String {
    let (one, unit) = shown::area(job.tape.value(measured.net), job.units);
    let unit = shown::print_unit(unit);
    match face.count {
        1 => format!("Net area {one:.1} {unit}"),
        count => format!(
            "Net area {one:.1} {unit}, of all {:.1} {unit}",
            one * f64::from(count)
        ),
    }
}

/// How the face is shown, where that is not as it stands.
fn view(job: &Job, measured: &MeasuredFace, view: View) -> Option<String> {
    let length = |metres| dimension(metres, job.units);
    match view {
        View::Flat => None,
        View::Unrolled => {
            let radius = measured.shape.radius.map(|node| job.tape.value(node).value);
            let radius = radius.map(|radius| format!(", radius {}", length(radius)));
            Some(format!("Unrolled{}.", radius.unwrap_or_default()))
        }
        View::Fan([foot, top, slope]) => {
            let around = |of: f64, place| match of {
                0.0 => String::new(),
                of => format!("around {place} {}, ", length(of)),
            };
            Some(format!(
                "Unrolled: {}{}along the slope {}.",
                around(foot, "foot"),
                around(top, "top"),
                length(slope)
            ))
        }
        View::Side => Some("From the side: not unrolled, not in true area.".to_owned()),
        View::Strip => Some("Reveal, laid flat.".to_owned()),
        View::SameArea => Some(
            "Measured on the wall: outline not known. A rectangle of its area and height is drawn."
                .to_owned(),
        ),
        View::Around => Some("Outline not known. The rectangle around it is drawn.".to_owned()),
    }
}

fn opening_words(job: &Job, number: usize, opening: &Opening, size: [f64; 2]) -> String {
    let [wide, high] = size.map(|metres| dimension(metres, job.units));
    let size = match opening.shape.node {
        Shape::Circle(_) => format!("diameter {wide}"),
        Shape::Arch(_) | Shape::SegmentArch(_) => format!("arch {wide} x {high}"),
        _ => format!("{wide} x {high}"),
    };
    let reveal = opening.reveal.map(|depth| {
        let depth = dimension(job.value(depth).value, job.units);
        format!(", reveal {depth}")
    });
    let (letter, name) = (letter(number), isolated(&opening.name));
    let (count, reveal) = (count(job, opening), reveal.unwrap_or_default());
    format!("{letter} {name}: {size}{count}{reveal}")
}

/// How many there are of an opening, where it is not one.
fn count(job: &Job, opening: &Opening) -> String {
    match opening.count.map_or(1.0, |count| job.value(count).value) {
        1.0 => String::new(),
        count => format!(", {count} of these"),
    }
}
