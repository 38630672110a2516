//! The front of zipped workbooks: looked through with bounds before any reader sees them.

use super::Kind;
use super::bounds::{MAX_KEPT_BYTES, MAX_PARTS, MAX_UNPACKED_BYTES, over, unreadable};
use parge_base::Diagnostic;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// How much is unpacked at a time.
const CHUNK: usize = 64 << 10;
/// No longer are the words that are looked for; they may lie across the end of a chunk.
const SEAM: usize = 16;

pub(super) type Archive<'b> = ZipArchive<Cursor<&'b [u8]>>;

/// Which workbook it is, after every part has been unpacked once under a bound. Parts that declare
/// entities of their own are refused: no office program writes them, and they can grow without end.
pub(super) fn look_into(bytes: &[u8]) -> Result<Kind, Diagnostic> {
    look_into_within(bytes, MAX_UNPACKED_BYTES)
}

/// The same under another bound.
pub(super) fn look_into_within(bytes: &[u8], most: u64) -> Result<Kind, Diagnostic> {
    let mut archive = archive(bytes)?;
    let mut left = most;
    let (mut kind, mut macros, mut mime) = (None, false, Vec::new());
    for number in 0..archive.len() {
        let mut part = part(&mut archive, number)?;
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
            name if has_macros(name) => macros = true,
            _ => {}
        }
        look_through(&mut part, &name, &mut left, &mut Passed::default())?;
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

/// An archive of not too many parts.
pub(super) fn archive(bytes: &[u8]) -> Result<Archive<'_>, Diagnostic> {
    let archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| truncated())?;
    match archive.len() > MAX_PARTS {
        true => Err(over(&format!("more than {MAX_PARTS} parts"))),
        false => Ok(archive),
    }
}

/// A part of an archive.
pub(super) fn part<'a, 'b>(
    archive: &'a mut Archive<'b>,
    number: usize,
) -> Result<zip::read::ZipFile<'a, Cursor<&'b [u8]>>, Diagnostic> {
    archive.by_index(number).map_err(|error| match error {
        zip::result::ZipError::UnsupportedArchive(_) => locked(),
        _ => truncated(),
    })
}

/// Whether a part of this name, in small letters, holds macros.
pub(super) fn has_macros(name: &str) -> bool {
    name.ends_with("vbaproject.bin")
}

/// What becomes of the bytes of a part.
pub(super) trait Takes {
    /// Room for the next bytes, never none.
    fn room(&mut self) -> &mut [u8];

    /// So many bytes were put in front of the room.
    fn took(&mut self, count: usize);
}

/// Bytes that nobody keeps.
pub(super) struct Passed(Vec<u8>);

impl Default for Passed {
    fn default() -> Self {
        Self(vec![0; CHUNK])
    }
}

impl Takes for Passed {
    fn room(&mut self) -> &mut [u8] {
        &mut self.0
    }

    fn took(&mut self, _: usize) {}
}

/// A part that is kept whole, unless it is too long to be.
pub(super) struct Whole {
    bytes: Vec<u8>,
    taken: usize,
    is_over: bool,
}

impl Whole {
    /// Nothing yet, of a part that says it has so many bytes.
    pub(super) fn of(size: u64) -> Self {
        // One more than there are to come, so that its end shows without more room. A part may say
        // what it likes.
        let size = usize::try_from(size).unwrap_or(CHUNK).min(CHUNK) + 1;
        Self {
            bytes: vec![0; size],
            taken: 0,
            is_over: false,
        }
    }

    /// What was taken.
    pub(super) fn bytes(mut self) -> Option<Vec<u8>> {
        self.bytes.truncate(self.taken);
        (!self.is_over).then_some(self.bytes)
    }
}

impl Takes for Whole {
    fn room(&mut self) -> &mut [u8] {
        if self.taken == self.bytes.len() {
            self.bytes.resize(2 * self.taken, 0);
        }
        self.bytes.get_mut(self.taken..).unwrap_or_default()
    }

    fn took(&mut self, count: usize) {
        self.is_over |= self.taken + count > MAX_KEPT_BYTES;
        self.taken = match self.is_over {
            true => 0,
            false => self.taken + count,
        };
    }
}

/// Unpacks a part, and gives its bytes to whoever takes them.
pub(super) fn look_through(
    part: &mut impl Read,
    name: &str,
    left: &mut u64,
    to: &mut impl Takes,
) -> Result<(), Diagnostic> {
    let is_xml = name.ends_with(".xml") || name.ends_with(".rels");
    let mut seam = Vec::with_capacity(2 * SEAM);
    loop {
        let room = to.room();
        let read = part.read(room).map_err(|_| truncated())?;
        let Some(new) = room.get(..read).filter(|new| !new.is_empty()) else {
            return Ok(());
        };
        *left = left
            .checked_sub(read as u64)
            .ok_or_else(|| over("more than can be unpacked"))?;
        if is_xml && declares_entities_at(&mut seam, new) {
            return Err(unreadable(
                "the workbook declares entities of its own, which no office program does",
                "do not open it; ask the sender how it was made",
            ));
        }
        to.took(read);
    }
}

/// Whether entities are declared in new bytes, or across the seam of those before and these.
fn declares_entities_at(seam: &mut Vec<u8>, new: &[u8]) -> bool {
    seam.extend(new.iter().take(SEAM));
    let across = declares_entities(seam);
    let last = new.get(new.len().saturating_sub(SEAM)..).unwrap_or(new);
    if new.len() > SEAM {
        seam.clear();
        seam.extend(last);
    }
    let behind = seam.len().saturating_sub(SEAM);
    seam.drain(..behind);
    across || declares_entities(new)
}

fn declares_entities(text: &[u8]) -> bool {
    // The letters of both, as UTF-8 and UTF-16 have them.
    memchr::memchr_iter(b'!', text).any(|at| {
        let from = |back: usize| at.checked_sub(back).and_then(|from| text.get(from..));
        from(1).is_some_and(|text| text.starts_with(b"<!DOCTYPE") || text.starts_with(b"<!ENTITY"))
            || from(2).is_some_and(|text| text.starts_with(b"<\0!\0D\0O"))
    })
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

#[cfg(test)]
mod tests;
