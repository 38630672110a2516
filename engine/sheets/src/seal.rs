//! Telling a file that the program wrote from one that somebody has worked in since.
//!
//! A workbook ends with a zip comment that holds a fingerprint of the bytes before it. An office
//! program that saves the workbook writes it anew, without the comment or with other bytes
//! before it. The fingerprint finds changes; it keeps nobody from making them.

/// The record that ends a zip file, without its comment.
const END_RECORD: usize = 22;
const END_SIGNATURE: &[u8] = b"PK\x05\x06";
const MARK: &str = "parge:";
const PAGE_MARK: &str = "<!-- parge:";
const PAGE_END: &str = " -->\n";
/// The mark and sixteen hexadecimal digits.
const COMMENT: usize = MARK.len() + 16;

/// Puts the fingerprint at the end of a zip file that has no comment yet; any other bytes are
/// handed back as they are.
pub(crate) fn seal(mut bytes: Vec<u8>) -> Vec<u8> {
    let Some(record) = bytes.len().checked_sub(END_RECORD) else {
        return bytes;
    };
    let plain = bytes
        .get(record..)
        .is_some_and(|end| end.starts_with(END_SIGNATURE) && end.ends_with(&[0, 0]));
    if plain {
        let comment = format!("{MARK}{:016x}", fingerprint(&bytes));
        bytes.truncate(bytes.len() - 2);
        bytes.extend((COMMENT as u16).to_le_bytes());
        bytes.extend(comment.into_bytes());
    }
    bytes
}

/// Whether a file is an output of this program that nobody has changed: a workbook with its
/// fingerprint, or an estimate as JSON, which nobody works in.
pub fn is_untouched(bytes: &[u8]) -> bool {
    is_sealed(bytes) || is_estimate_json(bytes)
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

fn is_sealed(bytes: &[u8]) -> bool {
    let Some((body, comment)) = bytes
        .len()
        .checked_sub(COMMENT)
        .and_then(|at| bytes.split_at_checked(at))
    else {
        return false;
    };
    let Some((zip, length)) = body
        .len()
        .checked_sub(2)
        .and_then(|at| body.split_at_checked(at))
    else {
        return false;
    };
    let original = [zip, &[0, 0]].concat();
    length == (COMMENT as u16).to_le_bytes()
        && comment == format!("{MARK}{:016x}", fingerprint(&original)).as_bytes()
}

fn is_estimate_json(bytes: &[u8]) -> bool {
    let Ok(value) = serde_json::from_slice::<serde_json::Value>(bytes) else {
        return false;
    };
    ["job", "status", "currency", "faces", "price"]
        .iter()
        .all(|key| value.get(key).is_some())
}

/// FNV-1a, 64 bit: small, and the same on every machine.
pub(crate) fn fingerprint(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |sum, byte| {
        (sum ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests;
