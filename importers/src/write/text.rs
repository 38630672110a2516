//! The text of a plan.

use super::fill_in::to_fill_in;
use super::names::{comment, quoted, word};
use crate::cells::Figure;
use crate::faces::{FaceRead, Import, OpeningRead, OpeningSizes, Side, Sizes, Verdict};
use crate::grid::Book;
use crate::profile::{Are, Profile};
use crate::report::is_metric;
use parge_base::{Diagnostic, Sources};
use std::collections::HashMap;

/// What the plan says that is in no sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanWords {
    /// The name of the job.
    pub name: String,
    /// The rule pack.
    pub rules: String,
    /// The price book.
    pub prices: String,
    /// The measuring rule.
    pub measure: String,
}

/// The text of a plan with all faces, laid out as the program lays plans out. An error is a fault
/// of this program: what it writes can be read.
pub fn plan_text(
    book: &Book,
    import: &Import,
    profile: &Profile,
    words: &PlanWords,
) -> Result<String, Vec<Diagnostic>> {
    let mut text = "parge 1\n\n".to_owned();
    text += &comment(&format!(
        "Faces of {}, imported; behind `from` stands the cell of the sheet",
        book.name
    ));
    for row in rejected(book, import) {
        text += &comment(&row);
    }
    for line in to_fill_in(import, profile) {
        text += &comment(&format!("To fill in: {line}"));
    }
    text += &job(import, words);
    for (name, finish) in &profile.finishes {
        let relief = finish
            .relief
            .as_ref()
            .map(|relief| format!("  relief {relief}"));
        text += &format!(
            "finish {} {{ technique {}  thickness {}{} }}\n\n",
            word(name),
            word(&finish.technique),
            finish.thickness,
            relief.unwrap_or_default()
        );
    }
    for (name, faces) in structures(import) {
        text += &one_structure(book, profile, name, &faces);
    }
    let file = Sources::new().add("plan", "");
    parge_grammar::fmt::format(file, &text)
}

fn rejected<'a>(book: &'a Book, import: &'a Import) -> impl Iterator<Item = String> + 'a {
    import.rows.iter().filter_map(|row| match &row.verdict {
        Verdict::Rejected(why) => {
            let sheet = book.sheets.get(row.sheet).map_or("", |sheet| &sheet.name);
            Some(format!(
                "Not taken over: {sheet}, row {}: {why}",
                row.row + 1
            ))
        }
        _ => None,
    })
}

fn job(import: &Import, words: &PlanWords) -> String {
    let units = if is_metric(import) { "metric" } else { "us" };
    format!(
        "\njob {} {{\n  units {units}\n  measure {}\n  rules {}\n  prices {}\n}}\n\n",
        quoted(&words.name),
        word(&words.measure),
        quoted(&words.rules),
        quoted(&words.prices),
    )
}

/// The structures with their faces, in the order of their first face, however their letters are
/// capitalized.
fn structures(import: &Import) -> Vec<(&str, Vec<&FaceRead>)> {
    let mut found: Vec<(&str, Vec<&FaceRead>)> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    for face in &import.faces {
        let number = *known
            .entry(face.structure.to_lowercase())
            .or_insert_with(|| {
                found.push((&face.structure, Vec::new()));
                found.len() - 1
            });
        if let Some((_, faces)) = found.get_mut(number) {
            faces.push(face);
        }
    }
    found
}

fn one_structure(book: &Book, profile: &Profile, name: &str, faces: &[&FaceRead]) -> String {
    let on = profile
        .job
        .on
        .as_ref()
        .map(|on| format!(" on {}", word(on)));
    let mut text = format!("structure {}{} {{\n", quoted(name), on.unwrap_or_default());
    if let Some(finish) = &profile.job.finish {
        text += &format!("  finish {}\n", word(finish));
    }
    for face in faces {
        text += &one_face(book, face);
    }
    text + "}\n\n"
}

fn one_face(book: &Book, face: &FaceRead) -> String {
    let shape = match &face.sizes {
        Sizes::Rect(level, upright) => format!("rect {} x {}", level.written(), upright.written()),
        Sizes::Area { area, of, side } => {
            let equal = if *of == Are::All { face.count } else { 1 };
            of_area(&share(area, equal), side)
        }
    };
    let mut line = format!("  face {} {shape}", quoted(&face.name));
    if let Some(finish) = &face.finish {
        line += &format!(" {}", word(finish));
    }
    if let Some(substrate) = &face.substrate {
        line += &format!(" on {}", word(substrate));
    }
    if face.count > 1 {
        line += &format!(" count {}", face.count);
    }
    line += &format!(" from {}", quoted(&book.cell_name(face.at)));
    if face.openings.is_empty() {
        return line + "\n";
    }
    line += " {\n";
    for opening in &face.openings {
        line += &one_opening(book, face, opening);
    }
    line + "  }\n"
}

fn one_opening(book: &Book, face: &FaceRead, opening: &OpeningRead) -> String {
    let shape = match &opening.sizes {
        OpeningSizes::Rect(level, upright) => {
            format!("rect {} x {}", level.written(), upright.written())
        }
        OpeningSizes::Area(area, equal) => {
            let why = "area alone; as high as its face";
            measured(&share(area, *equal), &height(face), why)
        }
    };
    let mut line = format!("    opening {} {shape}", quoted(&opening.name));
    if let Some(reveal) = &opening.reveal {
        line += &format!(" reveal {}", reveal.written());
    }
    if opening.count > 1 {
        line += &format!(" count {}", opening.count);
    }
    line += &format!(" from {}\n", quoted(&book.cell_name(opening.at)));
    line
}

/// The part of one of so many equal ones.
fn share(area: &Figure, equal: u32) -> String {
    match equal {
        1 => area.written().to_owned(),
        equal => format!("{} / {equal}", area.written()),
    }
}

/// The height of a face.
fn height(face: &FaceRead) -> String {
    match &face.sizes {
        Sizes::Rect(_, height) => height.written().to_owned(),
        Sizes::Area { area, of, side } => match side {
            Side::Answered(height) | Side::High(height) => height.written().to_owned(),
            Side::Long(length) => {
                let equal = if *of == Are::All { face.count } else { 1 };
                format!("({} / {})", share(area, equal), length.written())
            }
        },
    }
}

/// A face that is known by its area and one size.
fn of_area(area: &str, side: &Side) -> String {
    match side {
        Side::Answered(height) => {
            measured(area, height.written(), "area alone; height as answered")
        }
        Side::High(height) => {
            let why = "area and height; as long as area over height";
            measured(area, height.written(), why)
        }
        Side::Long(length) => {
            let length = length.written();
            let why = quoted("area and length; as high as area over length");
            format!(
                "measured {area} around 2 * ({length} + {area} / {length}) high {area} / {length} {why}"
            )
        }
    }
}

/// What is known by its area and height alone: as wide as its area over its height.
fn measured(area: &str, height: &str, why: &str) -> String {
    format!(
        "measured {area} around 2 * ({area} / {height} + {height}) high {height} {}",
        quoted(why)
    )
}
