//! Texts of users as a sheet can hold them.

use std::borrow::Cow;

/// Characters that a cell can hold, in units of UTF-16, as spreadsheets count.
const MAX_UNITS: usize = 32_767;

/// A text without characters that a workbook cannot hold, and no longer than a cell can hold.
pub(crate) fn clean(text: &str) -> Cow<'_, str> {
    let is_plain = text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    let text = if !is_plain && text.chars().any(is_foreign) {
        let text = text.replace("\r\n", "\n").replace('\r', "\n");
        Cow::Owned(text.chars().map(replaced).collect())
    } else {
        Cow::Borrowed(text)
    };
    // The bytes of UTF-8 are never fewer than the units of UTF-16.
    if text.len() <= MAX_UNITS {
        return text;
    }
    Cow::Owned(cut(&text, MAX_UNITS))
}

/// A text of at most so many units, with an ellipsis where something was cut off.
pub(super) fn cut(text: &str, most: usize) -> String {
    let units = |text: &str| text.chars().map(char::len_utf16).sum::<usize>();
    if units(text) <= most {
        return text.to_owned();
    }
    let mut room = most.saturating_sub(1);
    let mut kept = String::new();
    for ch in text.chars() {
        match room.checked_sub(ch.len_utf16()) {
            Some(rest) => room = rest,
            None => break,
        }
        kept.push(ch);
    }
    kept.push('…');
    kept
}

fn is_foreign(ch: char) -> bool {
    (ch.is_control() && ch != '\n') || matches!(ch, '\u{FFFE}' | '\u{FFFF}')
}

fn replaced(ch: char) -> char {
    match ch {
        '\t' => ' ',
        other if is_foreign(other) => '\u{FFFD}',
        other => other,
    }
}

#[cfg(test)]
mod tests;
