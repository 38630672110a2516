//! Source texts and places in them.
//!
//! Every text a figure can come from (a plan, a script, a table, a price book) is a file here,
//! so that one kind of place serves diagnostics and explanations alike.

use std::num::NonZeroU32;

/// A source text by its number in [`Sources`], from 1, so that no place takes no more room than a
/// place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(NonZeroU32);

/// A half-open range of bytes in one source text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The text.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// A span from byte offsets. Offsets beyond 4 GiB are cut off there; [`Sources::add`]
    /// refuses texts that long.
    pub fn new(file: FileId, start: usize, end: usize) -> Self {
        let clip = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Self {
            file,
            start: clip(start),
            end: clip(end),
        }
    }

    /// The smallest span that covers both; `self` alone where they lie in different files.
    pub fn to(self, other: Self) -> Self {
        if self.file != other.file {
            return self;
        }
        Self {
            file: self.file,
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// The empty span at the end of this one.
    pub fn at_end(self) -> Self {
        Self {
            start: self.end,
            ..self
        }
    }

    /// The byte range.
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// A syntax node with its place. Equality ignores the place, so trees compare by meaning.
#[derive(Debug, Clone, Copy)]
pub struct Spanned<T> {
    /// What was written.
    pub node: T,
    /// Where.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// Puts a node and its place together.
    pub fn new(node: T, span: Span) -> Self {
        Self { node, span }
    }
}

impl<T: PartialEq> PartialEq for Spanned<T> {
    fn eq(&self, other: &Self) -> bool {
        self.node == other.node
    }
}

/// Line and column of a byte, both counted from 1; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

#[derive(Debug)]
struct Source {
    name: String,
    text: String,
    line_starts: Vec<u32>,
}

/// All source texts of a run.
#[derive(Debug, Default)]
pub struct Sources {
    files: Vec<Source>,
}

impl Sources {
    /// The longest text taken, in bytes. Spans are 32 bit, and no plan is this long.
    pub const MAX_BYTES: usize = 1 << 30;

    /// An empty collection.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a text under the name to show for it. A text over [`Self::MAX_BYTES`] is kept as
    /// an empty one; callers that read files check the length first.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let mut text = text.into();
        if text.len() > Self::MAX_BYTES {
            text.clear();
        }
        let starts = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let line_starts = std::iter::once(0)
            .chain(starts.map(|(at, _)| at as u32 + 1))
            .collect();
        self.files.push(Source {
            name: name.into(),
            text,
            line_starts,
        });
        let number = u32::try_from(self.files.len()).ok();
        FileId(number.and_then(NonZeroU32::new).unwrap_or(NonZeroU32::MAX))
    }

    /// The name to show for a file.
    pub fn name(&self, file: FileId) -> &str {
        self.get(file).map_or("?", |source| source.name.as_str())
    }

    /// A file's whole text.
    pub fn text(&self, file: FileId) -> &str {
        self.get(file).map_or("", |source| source.text.as_str())
    }

    /// The text under a span; empty where the span does not fit the text.
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.range()).unwrap_or("")
    }

    /// Line and column of a byte offset.
    pub fn place(&self, file: FileId, offset: u32) -> Place {
        let Some(source) = self.get(file) else {
            return Place { line: 1, column: 1 };
        };
        let line = source
            .line_starts
            .partition_point(|start| *start <= offset)
            .max(1);
        let start = source.line_starts.get(line - 1).copied().unwrap_or(0);
        let before = source
            .text
            .get(start as usize..offset as usize)
            .unwrap_or("");
        Place {
            line,
            column: before.chars().count() + 1,
        }
    }

    /// The span of one line, counted from 1, without its line break. Scripts report lines only.
    pub fn line_span(&self, file: FileId, line: usize) -> Span {
        let Some(source) = self.get(file) else {
            return Span::new(file, 0, 0);
        };
        let index = line.clamp(1, source.line_starts.len()) - 1;
        let start = source.line_starts.get(index).copied().unwrap_or(0) as usize;
        let end = source
            .line_starts
            .get(index + 1)
            .map_or(source.text.len(), |next| *next as usize);
        let body = source
            .text
            .get(start..end)
            .unwrap_or("")
            .trim_end_matches(['\n', '\r']);
        Span::new(file, start, start + body.len())
    }

    fn get(&self, file: FileId) -> Option<&Source> {
        self.files.get(file.0.get() as usize - 1)
    }
}

#[cfg(test)]
mod tests;
