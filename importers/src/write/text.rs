//! The text of a plan.

use super::fill_in::to_fill_in;
use super::names::{comment, push_quoted, quoted, word};
use crate::cells::Figure;
use crate::faces::{FaceRead, Import, OpeningRead, OpeningSizes, Side, Sizes, Verdict};
use crate::grid::{At, Book};
use crate::profile::{Are, Profile};
use crate::report::is_metric;
use parge_base::{Diagnostic, Sources};
use rayon::prelude::*;
use std::collections::HashMap;
use std::fmt::Write;
use std::ops::Range;

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

/// A line that is wider is broken where it holds operators.
const WIDEST: usize = 100;

/// The text of a plan.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlanText {
    /// The whole text.
    pub text: String,
    /// The parts that can be read by themselves: the first with the job, the others with structures.
    /// They make up the whole text.
    pub parts: Vec<Range<usize>>,
}

impl PlanText {
    fn push(&mut self, part: &str) {
        let start = self.text.len();
        self.text += part;
        self.parts.push(start..self.text.len());
    }
}

/// About as many bytes as most lines of faces have.
const USUAL_LINE: usize = 80;
/// So many faces at least stand in a part, but for the last.
const FACES_OF_PART: usize = 500;

/// The text of a plan with all faces, laid out as the program lays plans out. An error is a fault
/// of this program: what it writes can be read.
pub fn plan_text(
    book: &Book,
    import: &Import,
    profile: &Profile,
    words: &PlanWords,
) -> Result<PlanText, Vec<Diagnostic>> {
    let structures = structures(import);
    // Each part by itself, on all cores, and in their order.
    let written = parts(&structures).into_par_iter();
    let written = written.map(|structures| one_part(book, profile, structures));
    let written: Vec<String> = written.collect::<Result<_, Vec<Diagnostic>>>()?;
    let head = laid_out(&head(book, import, profile, words))?;
    let mut plan = PlanText::default();
    let length = written.iter().map(String::len).sum::<usize>();
    plan.text.reserve_exact(head.len() + length);
    plan.push(&head);
    for part in &written {
        plan.push(part);
    }
    Ok(plan)
}

/// A structure with its faces.
type StructureFaces<'i> = (&'i str, Vec<&'i FaceRead>);

/// The structures of each part.
fn parts<'s, 'i>(structures: &'s [StructureFaces<'i>]) -> Vec<&'s [StructureFaces<'i>]> {
    let mut parts = Vec::new();
    let mut rest = structures;
    while !rest.is_empty() {
        let mut faces = 0;
        let is_within = |(_, own): &&StructureFaces<'_>| {
            let has_room = faces < FACES_OF_PART;
            faces += own.len();
            has_room
        };
        let count = rest.iter().take_while(is_within).count();
        let (part, behind) = rest.split_at(count);
        parts.push(part);
        rest = behind;
    }
    parts
}

fn one_part(
    book: &Book,
    profile: &Profile,
    structures: &[StructureFaces<'_>],
) -> Result<String, Vec<Diagnostic>> {
    let faces: usize = structures.iter().map(|(_, faces)| faces.len()).sum();
    let mut text = String::with_capacity(faces * USUAL_LINE);
    for (name, faces) in structures {
        text.push('\n');
        let start = text.len();
        if one_structure(&mut text, book, profile, (name, faces)) == Layout::Open {
            let laid = laid_out(&format!(
                "{VERSION}{}",
                text.get(start..).unwrap_or_default()
            ))?;
            text.truncate(start);
            text += laid.strip_prefix(VERSION).unwrap_or(&laid);
        }
    }
    Ok(text)
}

/// The line that every plan begins with.
const VERSION: &str = "parge 1\n\n";

/// What stands before the structures.
fn head(book: &Book, import: &Import, profile: &Profile, words: &PlanWords) -> String {
    let mut text = VERSION.to_owned();
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
    text
}

fn laid_out(text: &str) -> Result<String, Vec<Diagnostic>> {
    let file = Sources::new().add("plan", "");
    parge_grammar::fmt::format(file, text)
}

/// Whether a text stands as plans are laid out. Faces are written so at once, since that takes a
/// small part of what it takes to read them and lay them out; tests hold both to the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Layout {
    /// It does.
    Done,
    /// A line is too wide, and may be broken.
    Open,
}

impl Layout {
    /// The layout of a line of sizes that may hold operators.
    fn of(line: &str, has_operators: bool) -> Self {
        match has_operators && line.chars().count() > WIDEST {
            true => Self::Open,
            false => Self::Done,
        }
    }

    fn and(self, other: Self) -> Self {
        if self == Self::Done { other } else { self }
    }
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
fn structures(import: &Import) -> Vec<StructureFaces<'_>> {
    let mut found: Vec<StructureFaces<'_>> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    let mut last: Option<(&str, usize)> = None;
    for face in &import.faces {
        let number = match last.filter(|(name, _)| *name == face.structure) {
            // Most faces stand under those of the same structure.
            Some((_, number)) => number,
            None => *known
                .entry(face.structure.as_str().to_lowercase())
                .or_insert_with(|| {
                    found.push((&face.structure, Vec::new()));
                    found.len() - 1
                }),
        };
        last = Some((&face.structure, number));
        if let Some((_, faces)) = found.get_mut(number) {
            faces.push(face);
        }
    }
    found
}

fn one_structure(
    text: &mut String,
    book: &Book,
    profile: &Profile,
    (name, faces): (&str, &[&FaceRead]),
) -> Layout {
    *text += "structure ";
    push_quoted(text, name);
    if let Some(on) = &profile.job.on {
        *text += " on ";
        *text += &word(on);
    }
    *text += " {\n";
    if let Some(finish) = &profile.job.finish {
        *text += "  finish ";
        *text += &word(finish);
        text.push('\n');
    }
    let mut layout = Layout::Done;
    for face in faces {
        layout = layout.and(one_face(text, book, face));
    }
    *text += "}\n";
    layout
}

fn one_face(text: &mut String, book: &Book, face: &FaceRead) -> Layout {
    let start = text.len();
    *text += "  face ";
    push_quoted(text, &face.name);
    text.push(' ');
    match &face.sizes {
        Sizes::Rect(level, upright) => rect(text, level, upright),
        Sizes::Area { area, of, side } => {
            let equal = if *of == Are::All { face.count } else { 1 };
            *text += &of_area(&share(area, equal), side);
        }
    }
    if let Some(finish) = &face.finish {
        text.push(' ');
        *text += &word(finish);
    }
    if let Some(substrate) = &face.substrate {
        *text += " on ";
        *text += &word(substrate);
    }
    count(text, face.count);
    from(text, book, face.at);
    if !face.openings.is_empty() {
        *text += " {";
    }
    let line = text.get(start..).unwrap_or_default();
    let mut layout = Layout::of(line, matches!(face.sizes, Sizes::Area { .. }));
    text.push('\n');
    for opening in &face.openings {
        layout = layout.and(one_opening(text, book, face, opening));
    }
    if !face.openings.is_empty() {
        *text += "  }\n";
    }
    layout
}

fn one_opening(text: &mut String, book: &Book, face: &FaceRead, opening: &OpeningRead) -> Layout {
    let start = text.len();
    *text += "    opening ";
    push_quoted(text, &opening.name);
    text.push(' ');
    match &opening.sizes {
        OpeningSizes::Rect(level, upright) => rect(text, level, upright),
        OpeningSizes::Area(area, equal) => {
            let why = "area alone; as high as its face";
            *text += &measured(&share(area, *equal), &height(face), why);
        }
    }
    if let Some(reveal) = &opening.reveal {
        *text += " reveal ";
        *text += reveal.written();
    }
    count(text, opening.count);
    from(text, book, opening.at);
    let line = text.get(start..).unwrap_or_default();
    let layout = Layout::of(line, matches!(opening.sizes, OpeningSizes::Area(..)));
    text.push('\n');
    layout
}

fn rect(text: &mut String, level: &Figure, upright: &Figure) {
    *text += "rect ";
    *text += level.written();
    *text += " x ";
    *text += upright.written();
}

fn count(text: &mut String, count: u32) {
    if count > 1 {
        *text += " count ";
        let _ = write!(text, "{count}");
    }
}

fn from(text: &mut String, book: &Book, at: At) {
    *text += " from ";
    push_quoted(text, &book.cell_name(at));
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
