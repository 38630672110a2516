//! Characters that cannot be seen. Two names that differ by one look the same, and a line that
//! holds one may be shown as another line than it is.

use crate::errors::letters;
use crate::errors::shown::is_hidden;
use parge_base::{Diagnostic, FileId, Span};
use std::ops::Range;

/// Where a character stands, which decides what may stand there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// Between quotes. A tab is a blank there.
    Quote,
    /// Outside quotes. Tabs, and what else ends no line and moves the carriage, are blanks.
    Text,
    /// In a comment, or among blanks: nothing is read there, so only what makes the line look
    /// like another is refused. An emoji in a comment is made of joiners.
    Comment,
}

impl Place {
    fn refuses(self, letter: char) -> bool {
        match (self, letter) {
            (Self::Quote, '\t') | (Self::Text, '\t' | '\u{B}' | '\u{C}') => false,
            (Self::Quote | Self::Text, letter) => is_hidden(letter),
            (Self::Comment, letter) => matches!(
                letter,
                // The ends of lines that are none here, then what turns the direction of writing.
                '\u{85}' | '\u{2028}' | '\u{2029}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}'
            ),
        }
    }
}

/// The first character of a range that cannot be seen and may not stand there.
pub(super) fn find(
    file: FileId,
    text: &str,
    range: &Range<usize>,
    place: Place,
) -> Option<Diagnostic> {
    let part = text.get(range.clone())?;
    // Nearly all text is plain, and bytes are looked at faster than letters.
    if part.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        return None;
    }
    let (at, letter) = part
        .char_indices()
        .find(|(_, letter)| place.refuses(*letter))?;
    let start = range.start + at;
    let span = Span::new(file, start, start + letter.len_utf8());
    Some(letters::unseen(span, letter))
}
