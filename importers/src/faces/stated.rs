//! Areas that rows state beside sizes are held against the sizes: a unit or a digit that slipped
//! shows here.

use super::row::rounded;
use super::{FaceRead, Import, Remark, Weight};
use crate::cells::Figure;
use crate::columns::Role;
use crate::grid::Book;

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

/// Says which rows state another area than their sizes make.
pub(super) fn check(book: &Book, out: &mut Import) {
    let mut remarks = Vec::new();
    for table in 0..out.tables.len() {
        for role in [Role::Area, Role::NetArea] {
            let rows: Vec<(&FaceRead, &Figure)> = out
                .faces
                .iter()
                .filter(|face| face.table == table)
                .flat_map(|face| {
                    face.stated
                        .iter()
                        .map(move |(of, figure)| (face, *of, figure))
                })
                .filter(|(_, of, _)| *of == role)
                .map(|(face, _, figure)| (face, figure))
                .collect();
            let modes = MODES
                .get(if role == Role::NetArea { 3 } else { 0 }..)
                .unwrap_or(&MODES);
            remarks.extend(contradictions(book, &rows, modes));
        }
    }
    out.remarks.append(&mut remarks);
}

type Mode = (&'static str, fn(&FaceRead) -> f64);

fn contradictions(book: &Book, rows: &[(&FaceRead, &Figure)], modes: &[Mode]) -> Vec<Remark> {
    let agrees = |mode: &Mode, face: &FaceRead, figure: &Figure| {
        let made = mode.1(face);
        (made - figure.size()).abs() <= figure.half_digit() + made * 1e-9
    };
    // The column means one thing: what most of its rows agree with, the first where several do.
    let best = modes.iter().rev().max_by_key(|mode| {
        rows.iter()
            .filter(|(face, figure)| agrees(mode, face, figure))
            .count()
    });
    let Some(mode) = best else {
        return Vec::new();
    };
    let wrong = rows
        .iter()
        .filter(|(face, figure)| !agrees(mode, face, figure));
    wrong
        .map(|(face, figure)| {
            let unit = figure.size() / figure.written_number();
            let made = mode.1(face);
            let times = figure.size() / made;
            Remark {
                weight: Weight::Contradiction,
                at: figure.at(),
                text: format!(
                    "{} states {}, and its sizes make {}, {}: {} times as much",
                    book.cell_name(figure.at()),
                    figure.written(),
                    rounded(made / unit),
                    mode.0,
                    rounded(times),
                ),
                help: "the plan has the sizes; ask which is right".to_owned(),
            }
        })
        .collect()
}
