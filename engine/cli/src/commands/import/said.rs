//! What is said of a sheet, as diagnostics at its cells.

use crate::session::Session;
use parge_base::{Code, Diagnostic};
use parge_importers::faces::{Import, Question, Verdict, Weight};
use parge_importers::grid::{At, Book, Shown};

/// What is done about a row of faces that is not taken over.
pub(super) const ADD_FACE: &str = "mend the row in the sheet, or add the face to the plan by hand";

/// Questions that nobody was there to answer, each with the answers to give.
pub(super) fn questions(import: &Import, shown: &Shown, diagnostics: &mut Vec<Diagnostic>) {
    for question in &import.questions {
        let said = Diagnostic::new(Code::SheetQuestion, question.text.clone(), help(question));
        diagnostics.push(at(said, question.at, shown));
    }
}

fn help(question: &Question) -> String {
    let key = match question.key.contains([' ', '!']) {
        true => format!("'{}=", question.key),
        false => format!("{}=", question.key),
    };
    let close = if key.starts_with('\'') { "'" } else { "" };
    match question.choices.as_slice() {
        [] if question.key == "currency" => {
            format!("answer with its three letters, as `--answer {key}USD`")
        }
        [] => format!("answer with a length, as `--answer {key}8ft{close}`"),
        choices => {
            let first = choices.first().map_or("", |(word, _)| word);
            let words: Vec<&str> = choices.iter().map(|(word, _)| word.as_str()).collect();
            format!(
                "answer with `--answer {key}{first}{close}`, or one of: {}",
                words.join(", ")
            )
        }
    }
}

/// Whether anything is to be said of cells or rows; else the sheet need not be shown.
pub(super) fn anything(import: &Import) -> bool {
    let mut rows = import.rows.iter();
    !import.remarks.is_empty()
        || import.faces.is_empty()
        || rows.any(|row| matches!(row.verdict, Verdict::Rejected(_)))
}

/// What should be looked at, and the rows that are not taken over.
pub(super) fn remarks(
    import: &Import,
    book: &Book,
    shown: &Shown,
    help: &str,
    session: &mut Session,
) {
    let diagnostics = &mut session.diagnostics;
    for remark in &import.remarks {
        let code = match remark.weight {
            Weight::Contradiction => Code::SheetContradicts,
            Weight::Doubt => Code::SheetDoubt,
        };
        let said = Diagnostic::new(code, remark.text.clone(), remark.help.clone());
        diagnostics.push(at(said, remark.at, shown));
    }
    for row in &import.rows {
        if let Verdict::Rejected(why) = &row.verdict {
            let sheet = book.sheets.get(row.sheet).map_or("", |sheet| &sheet.name);
            let number = row.row + 1;
            let message = format!("row {number} of sheet `{sheet}` is not taken over: {why}");
            let said = Diagnostic::new(Code::RowRejected, message, help);
            diagnostics.push(match shown.row(row.sheet, row.row) {
                Some(span) => said.at(span, ""),
                None => said,
            });
        }
    }
}

/// No face came of the file.
pub(super) fn nothing(import: &Import, book: &Book, shown: &Shown) -> Diagnostic {
    let message = match import.tables.is_empty() {
        true => format!("{} has no table of measurements", book.name),
        false => format!("no row of {} is a face", book.name),
    };
    let help = "a table has a header that names its columns, such as `Wall`, `Length (ft)`, `Height (ft)`; \
                other words are named by a profile";
    let said = Diagnostic::new(Code::NoTable, message, help);
    let first = import.rows.first();
    match first.and_then(|row| shown.row(row.sheet, row.row)) {
        Some(span) => said.at(span, "the first row"),
        None => said,
    }
}

fn at(said: Diagnostic, at: At, shown: &Shown) -> Diagnostic {
    match shown.cell(at) {
        Some(span) => said.at(span, ""),
        None => said,
    }
}
