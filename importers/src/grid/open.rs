//! Which kind of file it is, by its first bytes and not by its name.

use super::ahead::{self, Ahead};
use super::bounds::{MAX_BYTES, over, unreadable};
use super::{Book, Kind, old_formats, text, workbook};
use parge_base::{Code, Diagnostic};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// What text files may end in.
const TEXT_ENDINGS: [&str; 3] = ["csv", "tsv", "txt"];
const ZIP: &[u8] = b"PK\x03\x04";
const COMPOUND: &[u8] = b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1";

/// Reads a file of any kind. `name` is shown in messages, and its ending has to fit what the file
/// is: a workbook named `.csv` was mixed up by somebody.
///
/// Time and memory are bounded by [`super::MAX_BYTES`] and the other bounds, whatever the bytes.
pub fn open(name: &str, bytes: &[u8]) -> Result<Book, Diagnostic> {
    if bytes.len() > MAX_BYTES {
        return Err(over(&format!("more than {} MB", MAX_BYTES >> 20)));
    }
    if bytes.is_empty() {
        return Err(unreadable("the file is empty", "export the sheet anew"));
    }
    let (kind, ahead) = kind(bytes)?;
    check_ending(name, kind, bytes)?;
    let read = || match kind {
        Kind::Xlsx => workbook::xlsx(bytes, ahead),
        Kind::Xlsb => workbook::xlsb(bytes),
        Kind::Ods => old_formats::ods(bytes),
        Kind::Xls => old_formats::xls(bytes),
        Kind::Text => text::read(name, bytes),
    };
    // The readers of formats are other people's code; whatever they stumble over is in the file.
    let sheets = catch_unwind(AssertUnwindSafe(read)).unwrap_or_else(|_| Err(damaged(kind)))?;
    let name = name.to_owned();
    Ok(Book { name, kind, sheets })
}

/// What is said of a file that a reader gives up on.
pub(super) fn damaged(kind: Kind) -> Diagnostic {
    unreadable(
        format!("the {} file is damaged and cannot be read", kind.word()),
        "open it in a spreadsheet program, save it anew, and import that",
    )
}

/// The kind of a file, and what was read to tell it.
fn kind(bytes: &[u8]) -> Result<(Kind, Option<Ahead>), Diagnostic> {
    if bytes.starts_with(ZIP) {
        return ahead::look_into(bytes);
    }
    if bytes.starts_with(COMPOUND) {
        return old_formats::check(bytes).map(|()| (Kind::Xls, None));
    }
    Ok((Kind::Text, None))
}

fn check_ending(name: &str, kind: Kind, bytes: &[u8]) -> Result<(), Diagnostic> {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    let ending = ending.to_lowercase();
    let fits = match kind {
        Kind::Text => TEXT_ENDINGS.contains(&ending.as_str()),
        other => other.word() == ending,
    };
    if fits {
        return Ok(());
    }
    if kind == Kind::Text && !ending.is_empty() {
        let begins = bytes.trim_ascii_start().first() == Some(&b'<');
        let (is, help) = match begins {
            true => (
                "a page or a document in words of markup",
                "open it in a spreadsheet program, save it as .xlsx, and import that",
            ),
            false => (
                "no workbook",
                "if it is text with a separator between fields, name it .csv; else save it anew as .xlsx",
            ),
        };
        let message = format!("`{name}` ends in .{ending}, and is {is}");
        return Err(Diagnostic::new(Code::BadSheet, message, help));
    }
    let message = match ending.as_str() {
        "" => format!(
            "`{name}` has no ending, and is a file of kind {}",
            kind.word()
        ),
        _ => format!(
            "`{name}` ends in .{ending}, and is a file of kind {}",
            kind.word()
        ),
    };
    let help = format!(
        "if it is the right file, name it so that it ends in .{}",
        kind.word()
    );
    Err(Diagnostic::new(Code::BadSheet, message, help))
}
