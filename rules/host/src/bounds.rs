//! The bounds of a pack and of a run. A pack comes from anybody: nothing in it may take the
//! program down, or make it slow beyond what stands here.
//!
//! All bounds but one count things. What a run may cost is bounded by the steps of its hooks, and
//! each step by the sizes below; reading scripts and tables is bounded by the sizes of the files,
//! which are looked at before anything in them is read.
//!
//! The last bound is time on the wall ([`MAX_TIME`]), for what the counts let through all the
//! same. No estimate rests on how busy the machine is for it: no script can ask for the time, so a
//! run that ends says the same figures on every machine, and one that is stopped is an error, with
//! which no figure is shown. The clock can only keep an estimate from being made; it never changes
//! one.

use crate::csv_text::CsvText;
use crate::manifest::PackFiles;
use parge_base::{Code, Diagnostic};
use std::time::Duration;

/// Time that all hooks of one run may take together. The standard packs need less than a
/// hundredth of a second; what the other bounds allow takes a second or two.
pub(crate) const MAX_TIME: Duration = Duration::from_secs(10);
/// Steps that one hook may take. The standard packs need a few hundred.
pub(crate) const MAX_STEPS: u64 = 200_000;
/// Calls within calls.
pub(crate) const MAX_CALLS: usize = 24;
/// Brackets, blocks and operators within one another.
pub(crate) const MAX_DEPTH: usize = 48;
/// Functions of all scripts together.
pub(crate) const MAX_FUNCTIONS: usize = 500;
/// Names at once in one function.
pub(crate) const MAX_VARIABLES: usize = 200;
/// Bytes of a text, also of all texts of a list together.
pub(crate) const MAX_TEXT: usize = 4096;
/// Things in a list, with those of the lists in it.
pub(crate) const MAX_LIST: usize = 1000;
/// Figures and comparisons that the hooks of one run may record. The standard packs need a few
/// hundred.
pub(crate) const MAX_RECORDED: usize = 20_000;
/// Needs, hours, tools, cautions and warnings of one run together.
pub(crate) const MAX_LINES: usize = 1000;
/// Items that one run may ask the waste of. An honest face takes some tens.
pub(crate) const MAX_ASKED: usize = 200;
/// Bytes of a warning, and of the name of an item, phase, tool or caution.
pub(crate) const MAX_SAID: usize = 500;
/// Rows that one run may look through for the keys of tables.
pub(crate) const MAX_LOOKED_THROUGH: usize = 2_000_000;
/// Hooks stopped by a bound before the pack is given up: each may have cost all of its steps. A
/// run that is out of time is enough by itself.
pub(crate) const MAX_STOPPED: usize = 8;

const MAX_FILES: usize = 200;
// The script engine compares every new name of a function with all those before it, so the time
// it takes to read a script grows with the square of this.
const MAX_SCRIPT: usize = 64 * 1024;
const MAX_SCRIPTS: usize = 256 * 1024;
const MAX_TABLE: usize = 1024 * 1024;
const MAX_TABLES: usize = 16 * 1024 * 1024;
/// Bytes of the stack of a thread that runs hooks: [`MAX_CALLS`] calls, each [`MAX_DEPTH`] deep,
/// take some megabytes, more than a thread has by itself.
pub(crate) const STACK: usize = 64 * 1024 * 1024;
const MAX_MANIFEST: usize = 64 * 1024;
const MAX_ROWS: usize = 10_000;
const MAX_ROW: usize = 8 * 1024;
const MAX_CELL: usize = 2000;

/// Looks at the number and the sizes of a pack's files before anything in them is read.
pub(crate) fn check_files(files: &PackFiles) -> Vec<Diagnostic> {
    let kinds = [
        (
            "scripts/",
            ".rhai",
            Code::BadScript,
            MAX_SCRIPT,
            MAX_SCRIPTS,
        ),
        ("tables/", ".csv", Code::BadTable, MAX_TABLE, MAX_TABLES),
    ];
    let manifest = PackFiles::MANIFEST;
    let text = files.texts.get(manifest).map_or("", String::as_str);
    let too_large = check_file(
        &files.folder,
        manifest,
        text,
        Code::BadManifest,
        MAX_MANIFEST,
    );
    let mut wrong: Vec<Diagnostic> = too_large.into_iter().collect();
    for (folder, ending, code, most, most_together) in kinds {
        let of_kind = || {
            let all = files.texts.iter();
            all.filter(|(path, _)| path.starts_with(folder) && path.ends_with(ending))
        };
        let count = of_kind().count();
        if count > MAX_FILES {
            let message = format!(
                "`{}/{folder}` has {count} files, and {MAX_FILES} are the most",
                files.folder
            );
            let help = "put what belongs together into one file";
            wrong.push(Diagnostic::new(code, message, help));
        }
        let bytes: usize = of_kind().map(|(_, text)| text.len()).sum();
        if bytes > most_together {
            let message = format!(
                "the files of `{}/{folder}` are larger than {} kB together",
                files.folder,
                most_together / 1024
            );
            let help = "leave out what no rule uses";
            wrong.push(Diagnostic::new(code, message, help));
        }
        for (path, text) in of_kind() {
            wrong.extend(check_file(&files.folder, path, text, code, most));
        }
    }
    wrong
}

fn check_file(folder: &str, path: &str, text: &str, code: Code, most: usize) -> Option<Diagnostic> {
    let (kilobytes, help) = (
        most / 1024,
        "divide the file, or look whether it is the right one",
    );
    if text.len() > most {
        let message = format!("`{folder}/{path}` is larger than {kilobytes} kB");
        return Some(Diagnostic::new(code, message, help));
    }
    // The reader of tables compares every column's name with those before it.
    let long = |line: &str| line.len() > MAX_ROW;
    if code == Code::BadTable
        && let Some(row) = text.lines().position(long)
    {
        let message = format!("row {} of `{folder}/{path}` is too long", row + 1);
        let help = format!(
            "keep rows below {} kB; look for a missing line break",
            MAX_ROW / 1024
        );
        return Some(Diagnostic::new(code, message, help));
    }
    None
}

/// Looks at the rows and cells of a table.
pub(crate) fn check_table(text: &CsvText) -> Result<(), Diagnostic> {
    if let Some(row) = text.rows.get(MAX_ROWS) {
        let message = format!("the table has more than {MAX_ROWS} rows");
        let help = "divide the table, or leave out what no rule uses";
        return Err(Diagnostic::new(Code::BadTable, message, help).at(row.span, "one too many"));
    }
    let long = |field: &String| field.len() > MAX_CELL;
    match text.rows.iter().find(|row| row.fields.iter().any(long)) {
        None => Ok(()),
        Some(row) => {
            let message = "a text in this row is too long";
            let help = format!("keep texts below {MAX_CELL} letters");
            Err(Diagnostic::new(Code::BadTable, message, help).at(row.span, ""))
        }
    }
}

#[cfg(test)]
mod tests;
