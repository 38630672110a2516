//! The faces of a job and what is laid out on them, as JSON.

use super::document::{Aside, Lines, List};
use super::measure;
use super::takes::Units;
use crate::shown::{self, FaceShown, LaidShown};
use crate::wire::{FaceWire, LayoutWire};
use crate::wire_takes::TakesWire;
use parge_calc::job::UnitSystem;
use parge_calc::parts::Faces;
use parge_calc::takeoff::Takeoff;
use rayon::prelude::*;
use std::io::{self, Write};
use std::ops::Range;

/// Where the faces of an estimate are found.
pub(super) enum FacesOf<'e> {
    /// With it.
    Here(&'e Takeoff),
    /// Part by part.
    Parts(Faces<'e>),
}

/// What is laid out on the faces, once these are written.
pub(super) enum Layouts<'e> {
    /// With the estimate.
    Here(&'e Takeoff),
    /// Written with their faces.
    Written(Aside),
}

/// So many faces are written by one core, and then again as many.
const PIECE: usize = 256;

impl<'e> FacesOf<'e> {
    /// Writes the measured faces with what they take, a line each.
    pub(super) fn write<W: Write>(
        self,
        units: &Units<'_>,
        to: &mut List<'_, W>,
    ) -> io::Result<Layouts<'e>> {
        match self {
            Self::Here(takeoff) => {
                let lines = |numbers| face_lines(takeoff, numbers, units);
                in_pieces(takeoff, lines, |lines| to.lines(&lines))?;
                Ok(Layouts::Here(takeoff))
            }
            Self::Parts(faces) => {
                let mut layouts = Aside::new()?;
                let make = |part: &Takeoff| {
                    let all = 0..part.measured.faces.len();
                    let faces = face_lines(part, all.clone(), units)?;
                    Ok((faces, layout_lines(part, all)?))
                };
                let write = |both: io::Result<(Lines, Lines)>| {
                    let (faces, laid) = both?;
                    to.lines(&faces)?;
                    layouts.lines(&laid)
                };
                let changed = || io::Error::other("the plan is not what it was before");
                faces.each(make, write).ok_or_else(changed)??;
                Ok(Layouts::Written(layouts))
            }
        }
    }
}

impl Layouts<'_> {
    /// Writes the sheets and rolls laid out on faces that need them, a line each.
    pub(super) fn write<W: Write>(self, to: &mut List<'_, W>) -> io::Result<()> {
        match self {
            Self::Here(takeoff) => {
                let lines = |numbers| layout_lines(takeoff, numbers);
                in_pieces(takeoff, lines, |lines| to.lines(&lines))
            }
            Self::Written(aside) => to.put_aside(aside),
        }
    }
}

/// Makes lines of the faces of a take-off, by their numbers, on all cores, and hands them over in order.
fn in_pieces(
    takeoff: &Takeoff,
    make: impl Fn(Range<usize>) -> io::Result<Lines> + Sync,
    mut take: impl FnMut(Lines) -> io::Result<()>,
) -> io::Result<()> {
    let faces = takeoff.measured.faces.len();
    if faces <= PIECE {
        return take(make(0..faces)?);
    }
    let at_once = PIECE * rayon::current_num_threads();
    for first in (0..faces).step_by(at_once) {
        let end = faces.min(first + at_once);
        let pieces: Vec<usize> = (first..end).step_by(PIECE).collect();
        let made = pieces.par_iter().map(|at| make(*at..end.min(at + PIECE)));
        let made: Vec<io::Result<Lines>> = made.collect();
        made.into_iter().try_for_each(|lines| take(lines?))?;
    }
    Ok(())
}

fn face_lines(takeoff: &Takeoff, numbers: Range<usize>, units: &Units<'_>) -> io::Result<Lines> {
    let mut lines = Lines::default();
    let system = takeoff.measured.job.units;
    for number in numbers {
        let measured = takeoff.measured.faces.get(number);
        if let Some(shown) = measured.and_then(|measured| shown::face(takeoff, measured)) {
            lines.push(&face(shown, system, units.of_line(&takeoff.faces, number)))?;
        }
    }
    Ok(lines)
}

fn layout_lines(takeoff: &Takeoff, numbers: Range<usize>) -> io::Result<Lines> {
    let mut lines = Lines::default();
    let laid = numbers.flat_map(|number| shown::laid_on(takeoff, number));
    laid.map(layout).try_for_each(|line| lines.push(&line))?;
    Ok(lines)
}

fn face<'a>(face: FaceShown<'a>, system: UnitSystem, takes: TakesWire<'a>) -> FaceWire<'a> {
    let area = |value| measure(value, shown::area_unit(system));
    let length = |value| measure(value, shown::length_unit(system));
    FaceWire {
        structure: face.structure,
        name: face.name,
        substrate: face.substrate,
        finish: face.finish,
        count: face.count,
        gross_area: area(face.areas.gross),
        deducted_area: area(face.areas.deducted),
        reveal_area: area(face.areas.reveal),
        net_area: area(face.areas.net),
        perimeter: length(face.perimeter),
        width: length(face.width),
        height: length(face.height),
        takes,
    }
}

fn layout(laid: LaidShown<'_>) -> LayoutWire<'_> {
    LayoutWire {
        structure: laid.structure,
        face: laid.name,
        item: laid.item,
        laid_out: measure(laid.laid_out, laid.unit),
        by_area: measure(laid.by_area, laid.unit),
        note: laid.note,
    }
}
