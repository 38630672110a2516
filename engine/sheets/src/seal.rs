//! Telling a file that the program wrote from one that somebody has worked in since.
//!
//! A workbook ends with a zip comment that holds a fingerprint of the bytes before it. An office
//! program that saves the workbook writes it anew, without the comment or with other bytes
//! before it. The fingerprint finds changes; it keeps nobody from making them.

use serde::Deserialize;
use serde::de::IgnoredAny;
use std::io::{self, BufReader, Cursor, Read, Seek, SeekFrom, Write};

/// The record that ends a zip file, without its comment.
const END_RECORD: usize = 22;
const END_SIGNATURE: &[u8] = b"PK\x05\x06";
const MARK: &str = "parge:";
const PAGE_MARK: &str = "<!-- parge:";
const PAGE_END: &str = " -->\n";
/// The mark and sixteen hexadecimal digits.
const COMMENT: usize = MARK.len() + 16;
/// The bytes of the length of a comment, which stand before it, and those of none.
const LENGTH: usize = 2;
const NO_COMMENT: [u8; LENGTH] = [0, 0];
/// The bytes of a file that are held at a time.
const PIECE: usize = 1 << 16;

/// Puts the fingerprint at the end of a zip file that has no comment yet; any other bytes are
/// handed back as they are.
pub(crate) fn seal(mut bytes: Vec<u8>) -> Vec<u8> {
    if has_no_comment(&bytes) {
        let comment = comment(fingerprint(&bytes));
        bytes.truncate(bytes.len() - LENGTH);
        bytes.extend(comment);
    }
    bytes
}

/// The same for a file that was just written, which is read again and held in pieces.
///
/// # Errors
///
/// Those of reading and writing the file.
pub(crate) fn seal_file(file: &mut (impl Read + Write + Seek)) -> io::Result<()> {
    let length = file.seek(SeekFrom::End(0))?;
    file.seek(SeekFrom::Start(length.saturating_sub(END_RECORD as u64)))?;
    let mut record = Vec::with_capacity(END_RECORD);
    file.read_to_end(&mut record)?;
    if !has_no_comment(&record) {
        return Ok(());
    }
    file.rewind()?;
    let print = fingerprint_of(&mut *file, length)?;
    file.seek(SeekFrom::Start(length.saturating_sub(LENGTH as u64)))?;
    file.write_all(&comment(print))
}

/// Whether bytes end with the record of a zip file without a comment.
fn has_no_comment(bytes: &[u8]) -> bool {
    let record = bytes.len().checked_sub(END_RECORD);
    let record = record.and_then(|at| bytes.get(at..));
    record.is_some_and(|end| end.starts_with(END_SIGNATURE) && end.ends_with(&NO_COMMENT))
}

/// What stands at the end of a sealed file in place of the length of no comment.
fn comment(print: u64) -> Vec<u8> {
    let mut bytes = (COMMENT as u16).to_le_bytes().to_vec();
    bytes.extend(format!("{MARK}{print:016x}").into_bytes());
    bytes
}

/// Whether a file is an output of this program that nobody has changed: a workbook with its
/// fingerprint, or an estimate as JSON, which nobody works in.
pub fn is_untouched(bytes: &[u8]) -> bool {
    is_untouched_file(&mut Cursor::new(bytes))
}

/// The same for a file, which is held in pieces. What cannot be read is not known to be the
/// program's own.
pub fn is_untouched_file(file: &mut (impl Read + Seek)) -> bool {
    is_sealed(file).unwrap_or(false) || file.rewind().is_ok() && is_estimate_json(file)
}

/// Whether a file is an explanation of this program that nobody has changed: JSON, or a page with
/// its fingerprint. A text has no mark of its own.
pub fn is_explanation(bytes: &[u8]) -> bool {
    crate::explanation_json::is_explanation_json(bytes)
        || crate::explanation_html::is_explanation_html(bytes)
}

/// A page of text with a fingerprint in a comment at its end, as Markdown and HTML have comments.
pub fn sealed_page(page: &str) -> String {
    let print = fingerprint(page.as_bytes());
    format!("{page}{PAGE_MARK}{print:016x}{PAGE_END}")
}

/// Whether a page is one that [`sealed_page`] made and nobody has changed.
pub fn is_sealed_page(bytes: &[u8]) -> bool {
    let parts = bytes
        .len()
        .checked_sub(PAGE_MARK.len() + 16 + PAGE_END.len())
        .and_then(|at| bytes.split_at_checked(at));
    parts.is_some_and(|(page, end)| {
        end == format!("{PAGE_MARK}{:016x}{PAGE_END}", fingerprint(page)).as_bytes()
    })
}

fn is_sealed(file: &mut (impl Read + Seek)) -> io::Result<bool> {
    let Some(body) = file
        .seek(SeekFrom::End(0))?
        .checked_sub((LENGTH + COMMENT) as u64)
    else {
        return Ok(false);
    };
    file.rewind()?;
    let print = fingerprint_of(&mut *file, body)?;
    let print = more_of_fingerprint(print, &NO_COMMENT);
    let mut end = Vec::with_capacity(LENGTH + COMMENT);
    file.read_to_end(&mut end)?;
    Ok(end == comment(print))
}

/// What of an estimate as JSON shows it to be one. Whatever it holds is passed over, not kept.
#[derive(Deserialize)]
struct KnownByName {
    #[serde(rename = "job")]
    _job: IgnoredAny,
    #[serde(rename = "status")]
    _status: IgnoredAny,
    #[serde(rename = "currency")]
    _currency: IgnoredAny,
    #[serde(rename = "faces")]
    _faces: IgnoredAny,
    #[serde(rename = "price")]
    _price: IgnoredAny,
}

fn is_estimate_json(file: &mut impl Read) -> bool {
    serde_json::from_reader::<_, KnownByName>(BufReader::with_capacity(PIECE, file)).is_ok()
}

/// The fingerprint of so many bytes of a file, from where it stands on.
fn fingerprint_of(file: &mut impl Read, length: u64) -> io::Result<u64> {
    let mut bytes = vec![0; PIECE];
    let (mut sum, mut left) = (fingerprint(&[]), file.take(length));
    loop {
        let read = left.read(&mut bytes)?;
        match bytes.get(..read) {
            None | Some([]) => return Ok(sum),
            Some(read) => sum = more_of_fingerprint(sum, read),
        }
    }
}

/// FNV-1a, 64 bit: small, and the same on every machine.
pub(crate) fn fingerprint(bytes: &[u8]) -> u64 {
    more_of_fingerprint(0xcbf2_9ce4_8422_2325, bytes)
}

/// The fingerprint of what `sum` is the fingerprint of, with more behind it.
fn more_of_fingerprint(sum: u64, bytes: &[u8]) -> u64 {
    bytes.iter().fold(sum, |sum, byte| {
        (sum ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests;
