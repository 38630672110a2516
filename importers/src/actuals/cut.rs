//! A stretch of a text that knows where it stands.

use super::entry::Piece;
use parge_base::actuals::Written;
use parge_base::{FileId, Span};

#[derive(Debug, Clone, Copy)]
pub(super) struct Cut<'t> {
    pub(super) text: &'t str,
    pub(super) file: FileId,
    pub(super) start: usize,
}

impl<'t> Cut<'t> {
    /// Both sides of a byte, which must be the first of a letter.
    pub(super) fn split(self, at: usize) -> (Self, Self) {
        let (left, right) = self.text.split_at_checked(at).unwrap_or((self.text, ""));
        let start = self.start + left.len();
        (
            Self { text: left, ..self },
            Self {
                text: right,
                start,
                ..self
            },
        )
    }

    /// Without blanks around.
    pub(super) fn trim(self) -> Self {
        let text = self.text.trim_start();
        let start = self.start + (self.text.len() - text.len());
        let text = text.trim_end();
        Self {
            text,
            start,
            ..self
        }
    }

    /// The first word, and what follows it.
    pub(super) fn word(self) -> (Self, Self) {
        let cut = self.trim();
        let end = cut.text.find(char::is_whitespace);
        let (word, rest) = cut.split(end.unwrap_or(cut.text.len()));
        (word, rest.trim())
    }

    /// The places outside of quotes for which `is` holds, given the letter before each and the text
    /// behind it.
    pub(super) fn find_all(self, is: impl Fn(char, &str) -> bool) -> Vec<usize> {
        let (mut quoted, mut before, mut found) = (false, ' ', Vec::new());
        for (at, letter) in self.text.char_indices() {
            let behind = self.text.get(at..).unwrap_or("");
            if letter == '"' {
                quoted = !quoted;
            } else if !quoted && is(before, behind) {
                found.push(at);
            }
            before = letter;
        }
        found
    }

    pub(super) fn span(self) -> Span {
        Span::new(self.file, self.start, self.start + self.text.len())
    }

    /// As it stands.
    pub(super) fn piece(self) -> Piece {
        Piece {
            text: self.text.to_owned(),
            place: Written {
                span: self.span(),
                words: String::new(),
            },
        }
    }

    /// As a name: what stands in quotes, or all of it without what leads to the amount, as in
    /// `Finish mix: 104 bags` and `Finish mix ..... 104 bags`.
    pub(super) fn name(self) -> Self {
        let cut = self.trim();
        let text = cut
            .text
            .trim_end_matches(|ch: char| ch.is_whitespace() || matches!(ch, ':' | '=' | '.' | '…'));
        let cut = Self { text, ..cut };
        let inner = text
            .strip_prefix('"')
            .and_then(|text| text.strip_suffix('"'));
        match inner.filter(|inner| !inner.contains('"')) {
            Some(inner) => Self {
                text: inner,
                start: cut.start + 1,
                ..cut
            }
            .trim(),
            None => cut,
        }
    }
}
