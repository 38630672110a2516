//! The front of zipped workbooks: looked through with bounds before any reader sees them.

use super::Kind;
use super::bounds::{MAX_PARTS, MAX_UNPACKED_BYTES, over, unreadable};
use parge_base::Diagnostic;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// How much is unpacked at a time.
const CHUNK: usize = 64 << 10;

/// Which workbook it is, after every part has been unpacked once under a bound. Parts that declare
/// entities of their own are refused: no office program writes them, and they can grow without end.
pub(super) fn kind(bytes: &[u8]) -> Result<Kind, Diagnostic> {
    kind_within(bytes, MAX_UNPACKED_BYTES)
}

/// The same under another bound.
pub(super) fn kind_within(bytes: &[u8], most: u64) -> Result<Kind, Diagnostic> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| truncated())?;
    if archive.len() > MAX_PARTS {
        return Err(over(&format!("more than {MAX_PARTS} parts")));
    }
    let mut left = most;
    let (mut kind, mut macros, mut mime) = (None, false, Vec::new());
    for number in 0..archive.len() {
        let mut part = archive.by_index(number).map_err(|error| match error {
            zip::result::ZipError::UnsupportedArchive(_) => locked(),
            _ => truncated(),
        })?;
        let name = part
            .name()
            .map_or_else(|_| String::new(), |name| name.to_lowercase());
        match name.as_str() {
            "xl/workbook.xml" => kind = Some(Kind::Xlsx),
            "xl/workbook.bin" => kind = Some(Kind::Xlsb),
            "mimetype" => {
                let _ = part.by_ref().take(128).read_to_end(&mut mime);
            }
            name if name.ends_with("vbaproject.bin") => macros = true,
            _ => {}
        }
        look_through(&mut part, &name, &mut left)?;
    }
    if macros {
        return Err(with_macros());
    }
    if mime.starts_with(b"application/vnd.oasis.opendocument.spreadsheet") {
        return Ok(Kind::Ods);
    }
    kind.ok_or_else(|| {
        unreadable(
            "the file is a zip archive, but no workbook is in it",
            "unpack it, and import the sheet that is in it",
        )
    })
}

/// Unpacks a part and forgets it.
fn look_through(part: &mut impl Read, name: &str, left: &mut u64) -> Result<(), Diagnostic> {
    let is_xml = name.ends_with(".xml") || name.ends_with(".rels");
    let mut chunk = vec![0; CHUNK];
    // What is looked for may lie across the end of a chunk.
    let mut kept: Vec<u8> = Vec::new();
    loop {
        let read = part.read(&mut chunk).map_err(|_| truncated())?;
        let Some(new) = chunk.get(..read).filter(|new| !new.is_empty()) else {
            return Ok(());
        };
        *left = left
            .checked_sub(read as u64)
            .ok_or_else(|| over("more than can be unpacked"))?;
        if is_xml {
            kept.extend_from_slice(new);
            if declares_entities(&kept) {
                return Err(unreadable(
                    "the workbook declares entities of its own, which no office program does",
                    "do not open it; ask the sender how it was made",
                ));
            }
            let from = kept.len().saturating_sub(16);
            kept.drain(..from);
        }
    }
}

fn declares_entities(text: &[u8]) -> bool {
    let has = |word: &[u8]| text.windows(word.len()).any(|part| part == word);
    // The letters of both, as UTF-8 and UTF-16 have them.
    text.contains(&b'!') && (has(b"<!DOCTYPE") || has(b"<!ENTITY") || has(b"<\0!\0D\0O"))
}

fn truncated() -> Diagnostic {
    unreadable(
        "the workbook is cut off or damaged",
        "send or download it anew; a part of it is missing",
    )
}

fn locked() -> Diagnostic {
    unreadable(
        "the workbook is protected by a password",
        "open it with its password, save it without one, and import that",
    )
}

/// What is said of a workbook with macros.
pub(super) fn with_macros() -> Diagnostic {
    unreadable(
        "the workbook has macros, which may have made its figures",
        "save it as a workbook without macros (.xlsx), look at its figures, and import that",
    )
}

/// What is said of a workbook with a password.
pub(super) fn with_password() -> Diagnostic {
    locked()
}
