//! What an editor asks of a plan: its outline, where a name is defined and used, what a word
//! means, and what could be written at a place.
//!
//! Everything here is a function of one text. It reads no file and prints nothing, and it bears
//! any text and any offset: a plan in an editor is half-written most of the time. Offsets are
//! bytes; [`Analysis::position`] and [`Analysis::offset`] convert them to lines and UTF-16
//! columns, which is how editors count.
//!
//! Names that an included file defines are not known here: they lead nowhere and are left alone.
//!
//! ```
//! use parge_grammar::analysis::Analysis;
//! let file = parge_base::Sources::new().add("plan", "");
//! let text = "parge 1\nlet high = 6ft\nlet low = high - 1ft\n";
//! let analysis = Analysis::new(file, text);
//! let used = text.rfind("high").unwrap_or(0);
//! assert_eq!(analysis.definition(used), Some(12..16));
//! ```

mod completion;
mod hover;
mod lines;
mod names;
mod rename;
mod sketch;
mod symbols;
mod words;

pub use completion::{Completion, CompletionKind, PackWords};
pub use hover::Hover;
pub use lines::Position;
pub use rename::{Edit, Refusal};
pub use sketch::ThingKind;
pub use symbols::Symbol;
pub use words::{Explained, Home};

// The formatter's scan for tokens, which knows what the parser takes as one.
use crate::fmt::token;
use crate::{Parsed, ast, parse};
use names::Names;
use parge_base::{Diagnostic, FileId};
use sketch::Sketch;
use std::ops::Range;

/// A plan text with all that is asked of it.
#[derive(Debug, Clone)]
pub struct Analysis {
    file: FileId,
    text: String,
    parsed: Parsed,
    sketch: Sketch,
    names: Names,
    lines: lines::Lines,
}

impl Analysis {
    /// Reads a text, which is known as `file`.
    pub fn new(file: FileId, text: impl Into<String>) -> Self {
        let text = text.into();
        let parsed = parse(file, &text);
        // The parser has refused it, and an editor does not show it either.
        let too_large = text.len() > parge_base::Sources::MAX_BYTES;
        let sketch = if too_large {
            Sketch::default()
        } else {
            Sketch::of(&text)
        };
        Self {
            file,
            names: Names::of(&sketch),
            lines: lines::Lines::of(&text),
            text,
            parsed,
            sketch,
        }
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The tree of all that could be read.
    pub fn plan(&self) -> &ast::Plan {
        &self.parsed.plan
    }

    /// The mistakes of writing.
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.parsed.diagnostics
    }

    /// Line and column of an offset. An offset inside of a character counts as its start, one
    /// beyond the end as the end.
    pub fn position(&self, offset: usize) -> Position {
        self.lines.position(&self.text, offset)
    }

    /// The offset of a line and column. Places beyond the end of a line or of the text count as
    /// that end.
    pub fn offset(&self, position: Position) -> usize {
        self.lines.offset(&self.text, position)
    }

    /// The outline of the plan, in the order of the text.
    pub fn symbols(&self) -> Vec<Symbol> {
        symbols::tree(&self.sketch)
    }

    /// The name that defines what is named at an offset; on a definition, itself.
    ///
    /// A name in a measure such as `street.area` is a face of the own structure, else a
    /// structure, else the one face of that name anywhere.
    pub fn definition(&self, offset: usize) -> Option<Range<usize>> {
        let thing = self.names.at(&self.sketch, self.clipped(offset))?;
        Some(self.sketch.things.get(thing)?.at.clone())
    }

    /// All places that name what is named at an offset, in the order of the text, with the
    /// definition among them or without.
    pub fn references(&self, offset: usize, include_definition: bool) -> Vec<Range<usize>> {
        match self.names.at(&self.sketch, self.clipped(offset)) {
            Some(thing) => self.names.places(&self.sketch, thing, include_definition),
            None => Vec::new(),
        }
    }

    fn clipped(&self, offset: usize) -> usize {
        lines::boundary(&self.text, offset)
    }

    fn slice(&self, range: Range<usize>) -> &str {
        self.text.get(range).unwrap_or("")
    }
}

/// All words of the language with what they mean, for documents and for editors that colour.
pub fn words_of_the_language() -> impl Iterator<Item = &'static Explained> {
    words::all()
}
