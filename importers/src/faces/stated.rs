//! Areas that rows state beside sizes are held against the sizes: a unit or a digit that slipped
//! shows here.

use super::row::Trouble;
use super::shown::rounded;
use super::{FaceRead, Import, OpeningRead, Remark, Weight};
use crate::cells::Figure;
use crate::columns::Role;
use crate::grid::Book;
use rayon::prelude::*;

/// What an area beside sizes can be of.
const MODES: [Mode; 6] = [
    ("of all equal faces of the row", |face| {
        face.gross() * row(face)
    }),
    ("of all equal faces", |face| {
        face.gross() * f64::from(face.count)
    }),
    ("of one face", FaceRead::gross),
    (
        "of all equal faces of the row, openings taken off",
        |face| (face.gross() - face.deducted()) * row(face),
    ),
    ("of all equal faces, openings taken off", |face| {
        (face.gross() - face.deducted()) * f64::from(face.count)
    }),
    ("of one face, openings taken off", |face| {
        face.gross() - face.deducted()
    }),
];

/// How many equal faces the row itself counts.
fn row(face: &FaceRead) -> f64 {
    f64::from(face.count / face.times.max(1))
}

/// What an area beside the sizes of an opening can be of.
const OPENING_MODES: [OpeningMode; 3] = [
    ("of all such openings of one face", |_, opening| {
        opening.area()
    }),
    ("of one opening", |_, opening| {
        opening.area() / f64::from(opening.count)
    }),
    (
        "of all such openings of all equal faces",
        |face, opening| opening.area() * f64::from(face.count),
    ),
];

type Mode = (&'static str, fn(&FaceRead) -> f64);
type OpeningMode = (&'static str, fn(&FaceRead, &OpeningRead) -> f64);

/// An area that a row states, and what the sizes make of it in each way in which it can be meant.
struct Row<'a> {
    figure: &'a Figure,
    made: Vec<(&'static str, f64)>,
}

impl Row<'_> {
    fn agrees(&self, way: usize) -> bool {
        self.made.get(way).is_some_and(|(_, made)| {
            let off = self.figure.half_digit() + made * 1e-9;
            (made - self.figure.size()).abs() <= off
        })
    }
}

/// Says which rows state another area than their sizes make.
pub(super) fn check(book: &Book, out: &mut Import) {
    let mut remarks = Vec::new();
    let stating = out.faces.par_iter().filter(|face| states_area(face));
    let stating: Vec<&FaceRead> = stating.collect();
    // Those of a table stand behind each other.
    for faces in stating.chunk_by(|a, b| a.table == b.table) {
        for role in [Role::Area, Role::NetArea] {
            remarks.extend(contradictions(book, &rows_of_faces(faces, role)));
        }
        for role in [Role::Area, Role::NetArea, Role::Deduction] {
            remarks.extend(contradictions(book, &rows_of_openings(faces, role)));
        }
    }
    out.remarks.append(&mut remarks);
}

/// Whether a face or one of its openings states an area beside its sizes.
fn states_area(face: &FaceRead) -> bool {
    !face.stated.is_empty()
        || face
            .openings
            .iter()
            .any(|opening| !opening.stated.is_empty())
}

fn rows_of_faces<'a>(faces: &[&'a FaceRead], role: Role) -> Vec<Row<'a>> {
    let first = if role == Role::NetArea { 3 } else { 0 };
    let modes = MODES.get(first..).unwrap_or(&MODES);
    let made = |face: &FaceRead| {
        modes
            .iter()
            .map(|(name, mode)| (*name, mode(face)))
            .collect()
    };
    let rows = faces.iter().flat_map(|face| {
        let stated = face.stated.iter().filter(|(of, _)| *of == role);
        stated.map(|(_, figure)| Row {
            figure,
            made: made(face),
        })
    });
    rows.collect()
}

fn rows_of_openings<'a>(faces: &[&'a FaceRead], role: Role) -> Vec<Row<'a>> {
    let rows = faces.iter().flat_map(|face| {
        face.openings.iter().flat_map(move |opening| {
            let stated = opening.stated.iter().filter(move |(of, _)| *of == role);
            stated.map(|(_, figure)| of_opening(face, opening, figure))
        })
    });
    rows.collect()
}

fn of_opening<'a>(face: &FaceRead, opening: &OpeningRead, figure: &'a Figure) -> Row<'a> {
    let modes = OPENING_MODES.iter();
    let made = modes.map(|(name, mode)| (*name, mode(face, opening)));
    Row {
        figure,
        made: made.collect(),
    }
}

/// A deduction that no reading of the sizes beside it makes: which of both is off the face, nobody
/// knows, so the row is not taken over.
pub(super) fn opening_fits(face: &FaceRead, opening: &OpeningRead) -> Result<(), Trouble> {
    let deducted = opening
        .stated
        .iter()
        .filter(|(of, _)| *of == Role::Deduction);
    for (_, figure) in deducted {
        let row = of_opening(face, opening, figure);
        if (0..row.made.len()).any(|way| row.agrees(way)) {
            continue;
        }
        let unit = figure.size() / figure.written_number();
        let made = row.made.first().map_or(0.0, |(_, made)| *made);
        return Err(Trouble::Reject(format!(
            "it deducts {}, and the sizes of its opening make {}: which is right is not known",
            figure.written(),
            rounded(made / unit)
        )));
    }
    Ok(())
}

fn contradictions(book: &Book, rows: &[Row<'_>]) -> Vec<Remark> {
    // The column means one thing: what most of its rows agree with, the first where several do.
    let ways = rows.first().map_or(0, |row| row.made.len());
    let agreeing = |way: &usize| rows.iter().filter(|row| row.agrees(*way)).count();
    let Some(way) = (0..ways).rev().max_by_key(agreeing) else {
        return Vec::new();
    };
    let wrong = rows.iter().filter(|row| !row.agrees(way));
    wrong
        .filter_map(|row| {
            let (of, made) = row.made.get(way)?;
            Some(remark(book, row.figure, of, *made))
        })
        .collect()
}

fn remark(book: &Book, figure: &Figure, of: &str, made: f64) -> Remark {
    let unit = figure.size() / figure.written_number();
    Remark {
        weight: Weight::Contradiction,
        at: figure.at(),
        text: format!(
            "{} states {}, and its sizes make {}, {of}: {} times as much",
            book.cell_name(figure.at()),
            figure.written(),
            rounded(made / unit),
            rounded(figure.size() / made),
        ),
        help: "the plan has the sizes; ask which is right".to_owned(),
    }
}
