//! The whole way of a file to faces.

use super::reader::TableReader;
use super::roles::Roles;
use super::setup::{self, Setup};
use super::{Import, Question, Remark, RowFigures, RowRead, Verdict, Weight, decimal};
use crate::cells::Decimal;
use crate::columns::{Column, Subject, units_of_note};
use crate::grid::{At, Book, Sheet};
use crate::profile::{KEYS, Profile, Take};
use crate::table::{Found, find};
use std::collections::BTreeSet;
use std::sync::OnceLock;

/// Reads a file with what is known of it. Where [`Import::questions`] is not empty, what else came
/// of it is not to be used: it says what would come out under one of several answers.
pub fn import(book: &Book, profile: &Profile) -> Import {
    let mut out = tables(book, profile, Subject::Faces, &|setup, columns, out| {
        TableReader::new(setup, &Roles::of(columns), out).read();
    });
    super::stated::check(book, &mut out);
    super::units::tell(book, profile, &mut out);
    super::unique::unique(&mut out);
    out
}

/// Finds the tables of a file, and has each read as soon as its columns are known.
pub(crate) fn tables(
    book: &Book,
    profile: &Profile,
    of: Subject,
    read: &dyn Fn(&Setup<'_>, &[Column], &mut Import),
) -> Import {
    let mut out = Import::default();
    for (number, sheet) in book.sheets.iter().enumerate() {
        if !is_read(number, sheet, profile, &mut out) {
            continue;
        }
        let told = |text: &str| profile.knows_header(text);
        let found = find(number, sheet, &profile.words, &told);
        above(number, sheet, &found, &mut out);
        let note_units = units_of_sheet(sheet, &found);
        let single = found.tables.len() == 1;
        let setups = found.tables.iter().map(|table| Setup {
            book,
            sheet,
            profile,
            table,
            decimal: Decimal::Point,
            note_units,
            is_alone: single,
            of,
            contents: OnceLock::new(),
        });
        let setups: Vec<Setup<'_>> = setups.collect();
        let decimal = decimal::of_sheet(&setups, profile, &mut out);
        for setup in setups {
            let setup = Setup { decimal, ..setup };
            if let Some(columns) = setup::columns(&setup, &mut out) {
                read(&setup, &columns, &mut out);
            }
        }
    }
    out.rows
        .sort_by_key(|row| (row.sheet, row.row, row.from_column));
    unseen(book, &mut out);
    ask_once(&mut out.questions);
    out
}

/// In a format whose hidden rows are not seen, nobody could ask about them.
fn unseen(book: &Book, out: &mut Import) {
    let first = out.rows.first().filter(|_| !book.kind.tells_hidden());
    if let Some(row) = first {
        let at = At {
            sheet: row.sheet,
            row: row.row,
            column: 0,
        };
        let text = format!(
            "what is hidden or struck through in an {} file is not seen: all of it counts",
            book.kind.word()
        );
        let help =
            "look through it in the spreadsheet program, or save it as .xlsx and import that";
        out.remarks.push(doubt(at, text, help));
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
            from_column: 0,
            verdict,
            figures: RowFigures::new(),
            times: 1,
        });
    }
}

/// The units that notes on a sheet name, where they name one alone. A note stands above the tables,
/// or alone in its row: what headers and remarks say is of their column, or of their row.
fn units_of_sheet(
    sheet: &Sheet,
    found: &Found,
) -> (
    Option<crate::cells::LengthUnit>,
    Option<crate::cells::LengthUnit>,
) {
    let (mut lengths, mut areas) = (Vec::new(), Vec::new());
    let headers: BTreeSet<u32> = found
        .tables
        .iter()
        .flat_map(|table| table.header_rows.iter().chain(&table.repeated).copied())
        .collect();
    let above: BTreeSet<usize> = found.above.iter().copied().collect();
    let rows = sheet.rows.iter().enumerate();
    let notes = rows.filter(|(at, row)| {
        above.contains(at) || row.cells.len() == 1 && !headers.contains(&row.number)
    });
    let texts = notes
        .flat_map(|(_, row)| &row.cells)
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
    let mut seen = BTreeSet::new();
    questions.retain(|question| seen.insert(question.key.clone()));
}
