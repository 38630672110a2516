//! The marks of a plan text: a byte scan that knows quotes, comments, brackets and line ends.
//!
//! Everything looked for is ASCII, so every range cut here lies on character boundaries.

use std::ops::Range;

/// The words that begin a statement at the top of a plan.
pub(crate) const TOP_WORDS: [&str; 12] = [
    "parge",
    "job",
    "let",
    "finish",
    "structure",
    "template",
    "include",
    "alternate",
    "allowance",
    "exclude",
    "note",
    "terms",
];

/// What the scan can come upon.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// The end of a line. `top` says that the next line begins, without any indent, with a word
    /// that begins a statement at the top.
    LineEnd {
        /// See above.
        top: bool,
    },
    /// `{`
    Open,
    /// `}`
    Close,
    /// `(`
    OpenParen,
    /// `)`
    CloseParen,
    /// A quoted text.
    Quote {
        /// Whether its second quote stands on the same line.
        closed: bool,
    },
    /// Anything else that is neither blank nor comment.
    Text,
}

/// The bytes that end a run, but for a `"` that is an inch mark. Most bytes of a plan are looked at here.
const ENDS_RUN: [bool; 256] = {
    let mut ends = [false; 256];
    let mut at = 0;
    let marks = b" \t#\n\r{}()\"";
    while at < marks.len() {
        ends[marks[at] as usize] = true;
        at += 1;
    }
    ends
};

/// A mark and its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Mark {
    pub kind: Kind,
    pub range: Range<usize>,
}

/// The marks of a text from its start to its end.
#[derive(Debug, Clone)]
pub(super) struct Marks<'t> {
    text: &'t str,
    bytes: &'t [u8],
    at: usize,
}

impl<'t> Marks<'t> {
    /// The marks from a place on.
    pub(super) fn from(text: &'t str, start: usize) -> Self {
        // Editors on Windows put a byte order mark first; it means nothing here.
        let at = if start == 0 && text.starts_with('\u{FEFF}') {
            '\u{FEFF}'.len_utf8()
        } else {
            start
        };
        Self {
            text,
            bytes: text.as_bytes(),
            at,
        }
    }

    /// Whether the text itself begins with a word of the top, as after a [`Kind::LineEnd`].
    pub(super) fn starts_at_top(&self) -> bool {
        begins_statement(self.text.get(self.at..).unwrap_or(""))
    }

    fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn skip_blanks(&mut self) {
        while let Some(byte) = self.peek() {
            match byte {
                b' ' | b'\t' => self.at += 1,
                b'#' => self.at = line_end(self.bytes, self.at),
                _ => return,
            }
        }
    }

    /// Reads from an opening quote; the range holds both quotes.
    fn quote(&mut self) -> Kind {
        let start = self.at;
        self.at += 1;
        while let Some(byte) = self.peek() {
            match byte {
                b'"' => {
                    self.at += 1;
                    return Kind::Quote { closed: true };
                }
                b'\n' | b'\r' => break,
                b'\\' if !matches!(self.bytes.get(self.at + 1), None | Some(b'\n' | b'\r')) => {
                    self.at += 2;
                }
                _ => self.at += 1,
            }
        }
        // A brace at the end of the line most likely opens the block of this very statement.
        // Leaving it outside keeps the block together.
        let line = self
            .bytes
            .get(start..self.at)
            .unwrap_or(&[])
            .trim_ascii_end();
        let line = line
            .strip_suffix(b"{")
            .or_else(|| line.strip_suffix(b"}"))
            .unwrap_or(line);
        self.at = start + line.trim_ascii_end().len();
        Kind::Quote { closed: false }
    }

    /// Reads a run of bytes without meaning of their own.
    fn run(&mut self) -> Kind {
        self.at += 1;
        while let Some(byte) = self.peek() {
            let ends = ENDS_RUN.get(usize::from(byte)).copied().unwrap_or_default();
            if ends && (byte != b'"' || !self.is_inch_mark()) {
                break;
            }
            self.at += 1;
        }
        Kind::Text
    }

    /// A `"` directly after a digit is an inch mark.
    fn is_inch_mark(&self) -> bool {
        let before = self.at.checked_sub(1).and_then(|at| self.bytes.get(at));
        before.is_some_and(u8::is_ascii_digit)
    }

    fn line_end(&mut self) -> Kind {
        self.at += 1;
        Kind::LineEnd {
            top: self.starts_at_top(),
        }
    }

    fn single(&mut self, kind: Kind) -> Kind {
        self.at += 1;
        kind
    }
}

impl Iterator for Marks<'_> {
    type Item = Mark;

    fn next(&mut self) -> Option<Mark> {
        self.skip_blanks();
        let start = self.at;
        let kind = match self.peek()? {
            b'\n' | b'\r' => self.line_end(),
            b'{' => self.single(Kind::Open),
            b'}' => self.single(Kind::Close),
            b'(' => self.single(Kind::OpenParen),
            b')' => self.single(Kind::CloseParen),
            b'"' if !self.is_inch_mark() => self.quote(),
            _ => self.run(),
        };
        Some(Mark {
            kind,
            range: start..self.at,
        })
    }
}

/// The offset of the end of the line that holds a byte.
fn line_end(bytes: &[u8], at: usize) -> usize {
    let rest = bytes.get(at..).unwrap_or(&[]);
    rest.iter()
        .position(|byte| matches!(byte, b'\n' | b'\r'))
        .map_or(bytes.len(), |n| at + n)
}

fn begins_statement(line: &str) -> bool {
    // Most lines are indented.
    line.starts_with(|letter: char| letter.is_ascii_lowercase())
        && TOP_WORDS.iter().any(|word| {
            line.strip_prefix(word).is_some_and(|rest| {
                rest.is_empty() || rest.starts_with([' ', '\t', '\r', '\n', '"', '{', '#'])
            })
        })
}
