//! The whole way of a file to faces.

use super::reader::TableReader;
use super::setup::{self, Setup};
use super::{Guess, Import, Question, Remark, RowRead, Verdict, Weight};
use crate::cells::{Decimal, Evidence, evidence};
use crate::columns::{Column, Subject, units_of_note};
use crate::grid::{At, Book, Sheet};
use crate::profile::{KEYS, Profile, Take};
use crate::table::{Found, find};

/// Reads a file with what is known of it. Where [`Import::questions`] is not empty, what else came
/// of it is not to be used: it says what would come out under one of several answers.
pub fn import(book: &Book, profile: &Profile) -> Import {
    let mut out = tables(book, profile, Subject::Faces, &|setup, columns, out| {
        TableReader::new(setup, columns, out).read();
    });
    super::stated::check(book, &mut out);
    unique(&mut out);
    out
}

/// Finds the tables of a file, and has each read as soon as its columns are known.
pub(crate) fn tables(
    book: &Book,
    profile: &Profile,
    of: Subject,
    read: &dyn Fn(&Setup<'_>, Vec<Column>, &mut Import),
) -> Import {
    let mut out = Import::default();
    let decimal = decimal(book, profile, of, &mut out);
    for (number, sheet) in book.sheets.iter().enumerate() {
        if !is_read(number, sheet, profile, &mut out) {
            continue;
        }
        let told = |text: &str| profile.knows_header(text);
        let found = find(number, sheet, &profile.words, &told);
        above(number, sheet, &found, &mut out);
        let (length, area) = units_of_sheet(sheet);
        let single = found.tables.len() == 1;
        for table in &found.tables {
            let setup = Setup {
                book,
                sheet,
                profile,
                table,
                decimal,
                note_units: (length, area),
                is_alone: single,
                of,
            };
            if let Some(columns) = setup::columns(&setup, &mut out) {
                read(&setup, columns, &mut out);
            }
        }
    }
    out.rows
        .sort_by_key(|row| (row.sheet, row.row, *row.columns.start()));
    ask_once(&mut out.questions);
    out
}

/// What stands before decimals in the texts of the file.
fn decimal(book: &Book, profile: &Profile, of: Subject, out: &mut Import) -> Decimal {
    if let Some(decimal) = profile.answers.decimal {
        return decimal;
    }
    let mut all = Evidence::default();
    let mut open_at = None;
    for (number, sheet) in book.sheets.iter().enumerate() {
        for row in &sheet.rows {
            for cell in &row.cells {
                let mut found = cell.text().map(evidence).unwrap_or_default();
                found.open |= found.open_point && of == Subject::Prices;
                all.point |= found.point;
                all.comma |= found.comma;
                if found.open || found.comma {
                    open_at.get_or_insert(At {
                        sheet: number,
                        row: row.number,
                        column: cell.column,
                    });
                }
                all.open |= found.open;
            }
        }
    }
    match (all.point, all.comma, all.open, open_at) {
        (true, true, _, Some(at)) | (false, false, true, Some(at)) => {
            let mark = if of == Subject::Prices {
                "point or a comma"
            } else {
                "comma"
            };
            let text = format!(
                "some numbers have a {mark} in them, and nothing says whether it stands before \
                 thousands or before decimals"
            );
            out.questions.push(question("decimal", &text, at));
            Decimal::Point
        }
        (false, true, ..) => {
            out.guesses.push(Guess {
                what: "a comma stands before decimals".to_owned(),
                reason: "some numbers can be read in no other way".to_owned(),
            });
            Decimal::Comma
        }
        _ => Decimal::Point,
    }
}

/// Whether a sheet is read: one that the profile names, or any that is in sight.
fn is_read(number: usize, sheet: &Sheet, profile: &Profile, out: &mut Import) -> bool {
    if !profile.sheets.is_empty() {
        return profile
            .sheets
            .iter()
            .any(|name| name.eq_ignore_ascii_case(&sheet.name));
    }
    if !sheet.hidden || sheet.rows.is_empty() {
        return true;
    }
    let at = At {
        sheet: number,
        row: sheet.rows.first().map_or(0, |row| row.number),
        column: 0,
    };
    match profile.answers.hidden {
        Some(Take::Include) => true,
        Some(Take::LeaveOut) => {
            let text = format!("sheet `{}` is hidden, and left out", sheet.name);
            out.remarks.push(doubt(
                at,
                text,
                "show it in the spreadsheet program, and look at it",
            ));
            false
        }
        None => {
            let text = format!("sheet `{}` is hidden", sheet.name);
            out.questions.push(question("hidden", &text, at));
            false
        }
    }
}

/// Rows above all tables are for people.
fn above(number: usize, sheet: &Sheet, found: &Found, out: &mut Import) {
    for row in found.above.iter().filter_map(|at| sheet.rows.get(*at)) {
        // With no table below, a row with numbers may be what is missed.
        let numbers = row.cells.iter().any(|cell| cell.is_number());
        let verdict = match found.tables.is_empty() && numbers {
            true => Verdict::Rejected("no header says what its numbers are".to_owned()),
            false => Verdict::Note,
        };
        out.rows.push(RowRead {
            sheet: number,
            row: row.number,
            columns: 0..=u32::MAX,
            table: None,
            verdict,
            figures: Vec::new(),
        });
    }
}

/// The units that notes on a sheet name, where they name one alone.
fn units_of_sheet(
    sheet: &Sheet,
) -> (
    Option<crate::cells::LengthUnit>,
    Option<crate::cells::LengthUnit>,
) {
    let (mut lengths, mut areas) = (Vec::new(), Vec::new());
    let texts = sheet
        .rows
        .iter()
        .flat_map(|row| &row.cells)
        .filter_map(|cell| cell.text());
    for text in texts.filter(|text| text.contains(' ')) {
        let (length, area) = units_of_note(text);
        lengths.extend(length);
        areas.extend(area);
    }
    let one = |mut units: Vec<_>| {
        units.sort_unstable();
        units.dedup();
        match units.as_slice() {
            [unit] => Some(*unit),
            _ => None,
        }
    };
    (one(lengths), one(areas))
}

/// Gives faces of one name in one structure different names.
fn unique(out: &mut Import) {
    let mut seen = std::collections::BTreeMap::new();
    let mut remarks = Vec::new();
    for face in &mut out.faces {
        let key = (face.structure.to_lowercase(), face.name.to_lowercase());
        let times = seen.entry(key).or_insert((0, face.sizes.clone(), face.at));
        times.0 += 1;
        if times.0 > 1 {
            let text = match same_sizes(&times.1, &face.sizes) {
                true => format!("face `{}` stands twice with the same sizes", face.name),
                false => format!(
                    "two faces of `{}` are called `{}`",
                    face.structure, face.name
                ),
            };
            let help = "see whether it was counted twice; the second has a number behind its name";
            remarks.push(doubt(face.at, text, help));
            face.name = format!("{} ({})", face.name, times.0);
        }
    }
    out.remarks.append(&mut remarks);
}

fn same_sizes(a: &super::Sizes, b: &super::Sizes) -> bool {
    use super::Sizes::{Area, Rect};
    match (a, b) {
        (Rect(a, b), Rect(c, d)) => a.size() == c.size() && b.size() == d.size(),
        (Area { area: a, .. }, Area { area: b, .. }) => a.size() == b.size(),
        _ => false,
    }
}

/// A question with the choices of its key.
pub(super) fn question(key: &'static str, text: &str, at: At) -> Question {
    let choices = KEYS.iter().find(|(known, _)| *known == key);
    let choices = choices.map_or(&[][..], |(_, choices)| choices);
    Question {
        key: key.to_owned(),
        text: text.to_owned(),
        choices: choices
            .iter()
            .map(|(word, means)| ((*word).to_owned(), (*means).to_owned()))
            .collect(),
        at,
    }
}

/// A remark that something should be looked at.
pub(crate) fn doubt(at: At, text: impl Into<String>, help: &str) -> Remark {
    Remark {
        weight: Weight::Doubt,
        at,
        text: text.into(),
        help: help.to_owned(),
    }
}

/// Each question once, where it comes up first.
fn ask_once(questions: &mut Vec<Question>) {
    let mut seen = std::collections::BTreeSet::new();
    questions.retain(|question| seen.insert(question.key.clone()));
}
