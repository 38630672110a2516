//! The front of zipped workbooks: looked through with bounds before any reader sees them.

use super::Kind;
use super::bounds::{MAX_KEPT_BYTES, MAX_PARTS, MAX_UNPACKED_BYTES, over, unreadable};
use parge_base::Diagnostic;
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// How much is unpacked at a time.
const CHUNK: usize = 64 << 10;

/// The parts with the cells of an xlsx file as they were unpacked, by their names, so that they need
/// not be unpacked again.
pub(super) type Parts = BTreeMap<String, Vec<u8>>;

/// Which workbook it is, after every part has been unpacked once under a bound. Parts that declare
/// entities of their own are refused: no office program writes them, and they can grow without end.
pub(super) fn look_into(bytes: &[u8]) -> Result<(Kind, Parts), Diagnostic> {
    look_into_within(bytes, MAX_UNPACKED_BYTES)
}

/// The same under another bound.
pub(super) fn look_into_within(bytes: &[u8], most: u64) -> Result<(Kind, Parts), Diagnostic> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| truncated())?;
    if archive.len() > MAX_PARTS {
        return Err(over(&format!("more than {MAX_PARTS} parts")));
    }
    let mut left = most;
    let (mut parts, mut room) = (Parts::new(), MAX_KEPT_BYTES);
    let (mut kind, mut macros, mut mime) = (None, false, Vec::new());
    for number in 0..archive.len() {
        let mut part = archive.by_index(number).map_err(|error| match error {
            zip::result::ZipError::UnsupportedArchive(_) => locked(),
            _ => truncated(),
        })?;
        let own_name = part
            .name()
            .map_or_else(|_| String::new(), |name| name.into_owned());
        let name = own_name.to_lowercase();
        match name.as_str() {
            "xl/workbook.xml" => kind = Some(Kind::Xlsx),
            "xl/workbook.bin" => kind = Some(Kind::Xlsb),
            "mimetype" => {
                let _ = part.by_ref().take(128).read_to_end(&mut mime);
            }
            name if name.ends_with("vbaproject.bin") => macros = true,
            _ => {}
        }
        let mut keeps = has_cells(&name).then(|| Keeps {
            bytes: Vec::new(),
            room,
        });
        look_through(&mut part, &name, &mut left, &mut keeps)?;
        if let Some(kept) = keeps {
            room = kept.room;
            parts.insert(own_name, kept.bytes);
        }
    }
    if macros {
        return Err(with_macros());
    }
    if mime.starts_with(b"application/vnd.oasis.opendocument.spreadsheet") {
        return Ok((Kind::Ods, parts));
    }
    let kind = kind.ok_or_else(|| {
        unreadable(
            "the file is a zip archive, but no workbook is in it",
            "unpack it, and import the sheet that is in it",
        )
    })?;
    Ok((kind, parts))
}

/// Whether a part of an xlsx file holds cells, or their texts.
fn has_cells(name: &str) -> bool {
    name == "xl/sharedstrings.xml" || name.starts_with("xl/worksheets/") && name.ends_with(".xml")
}

/// What is kept of a part, and how much more may be.
struct Keeps {
    bytes: Vec<u8>,
    room: usize,
}

impl Keeps {
    /// Keeps more, where there is room for it.
    fn keep(mut self, more: &[u8]) -> Option<Self> {
        self.room = self.room.checked_sub(more.len())?;
        self.bytes.extend_from_slice(more);
        Some(self)
    }
}

/// Unpacks a part, and keeps it if it is to be kept whole and there is room for it.
fn look_through(
    part: &mut impl Read,
    name: &str,
    left: &mut u64,
    keeps: &mut Option<Keeps>,
) -> Result<(), Diagnostic> {
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
        *keeps = keeps.take().and_then(|kept| kept.keep(new));
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
