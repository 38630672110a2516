//! The usual lines of structures, read by hand. The parser takes many times as long for them, and a
//! plan of thousands of faces is little else.
//!
//! What is read here is read as `plan.pest` has it. No mistake is known here: on whatever is not, be it
//! right or wrong, this gives up, and the parser reads the line. So the language and its messages come
//! from the one grammar, and a word that is missing here costs time and nothing else. Tests hold of any
//! text that this gives up or says what the parser says, to the place.

mod expression;
mod member;
mod shape;

use super::{MAX_HEAD, Reader};
use crate::ast::Name;
use parge_base::Span;
use std::ops::Range;

/// Names that are read only in quotes: the rule `reserved`.
const RESERVED: [&str; 11] = [
    "x", "face", "finish", "on", "opening", "to", "at", "count", "reveal", "sweep", "rise",
];

/// A line, and a place between two of its tokens. What takes a token leaves the place before the next
/// one; what gives `None` leaves it anywhere, and the line is given up.
struct Quick<'r, 'a> {
    reader: &'r Reader<'a>,
    /// The text up to the end of the line.
    text: &'a str,
    /// Where the next token begins.
    at: usize,
    /// Where the last one ends.
    end: usize,
}

impl<'r, 'a> Quick<'r, 'a> {
    fn new(reader: &'r Reader<'a>, head: &Range<usize>) -> Option<Self> {
        let reads = reader.source.quick && head.len() <= MAX_HEAD && !reader.is_full();
        let text = reader.source.text.get(..head.end).filter(|_| reads)?;
        Some(Self {
            reader,
            text,
            at: head.start,
            end: head.start,
        })
    }

    /// The first byte of the next token.
    fn next(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// The byte directly behind the last token.
    fn behind(&self) -> Option<u8> {
        self.text.as_bytes().get(self.end).copied()
    }

    fn is_over(&self) -> bool {
        self.at >= self.text.len()
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    /// The place from an offset to the end of the last token.
    fn span_from(&self, start: usize) -> Span {
        self.reader.span_of(start..self.end)
    }

    /// Takes a token of so many bytes.
    fn take(&mut self, length: usize) {
        self.end = self.at + length;
        self.at = self.end;
        while self.next() == Some(b' ') {
            self.at += 1;
        }
    }

    /// Takes a mark where it comes next.
    fn mark(&mut self, mark: u8) -> bool {
        let comes = self.next() == Some(mark);
        if comes {
            self.take(1);
        }
        comes
    }

    /// The word that comes next. What begins or goes on with letters beyond ASCII is left to the parser.
    fn word(&self) -> Option<&'a str> {
        let rest = self.rest();
        let word = rest.get(..run(rest))?;
        let is_whole = rest.as_bytes().get(word.len()).is_none_or(u8::is_ascii);
        (is_whole && word.starts_with(|letter: char| letter.is_ascii_alphabetic())).then_some(word)
    }

    /// Takes one word where it comes next.
    fn takes(&mut self, word: &str) -> bool {
        let comes = self.word() == Some(word);
        if comes {
            self.take(word.len());
        }
        comes
    }

    /// Takes a word that must come next.
    fn need(&mut self, word: &str) -> Option<()> {
        self.takes(word).then_some(())
    }

    /// Takes any word as a name.
    fn any_word(&mut self) -> Option<Name> {
        let (word, start) = (self.word()?, self.at);
        self.take(word.len());
        Some(Name::new(word.to_owned(), self.span_from(start)))
    }

    /// A name without quotes: the rule `bare`.
    fn bare(&mut self) -> Option<Name> {
        let word = self.word()?;
        let is_times = matches!(word.as_bytes(), [b'x', b'0'..=b'9', ..]);
        if is_times || RESERVED.contains(&word) {
            return None;
        }
        self.any_word()
    }

    fn name(&mut self) -> Option<Name> {
        match self.next()? {
            b'"' => self.quoted(),
            _ => self.bare(),
        }
    }

    /// A text in quotes that says something and holds no escape.
    fn quoted(&mut self) -> Option<Name> {
        let start = self.at;
        let inside = self.rest().strip_prefix('"')?;
        let is_mark = |byte: u8| matches!(byte, b'"' | b'\\' | b'\n' | b'\r');
        let end = inside.bytes().position(is_mark)?;
        let (text, behind) = inside.split_at_checked(end)?;
        if !behind.starts_with('"') || text.trim().is_empty() {
            return None;
        }
        self.take(text.len() + 2);
        Some(Name::new(text.to_owned(), self.span_from(start)))
    }

    /// Takes the `x` between two sizes.
    fn times(&mut self) -> bool {
        let comes = matches!(self.rest().as_bytes(), [b'x', b' ' | b'0'..=b'9', ..]);
        if comes {
            self.take(1);
        }
        comes
    }
}

/// The number of bytes that a text begins with and that a word may have.
fn run(text: &str) -> usize {
    let is_part = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'_';
    let end = text.bytes().position(|byte| !is_part(byte));
    end.unwrap_or(text.len())
}

#[cfg(test)]
mod tests;
