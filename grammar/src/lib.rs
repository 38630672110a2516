//! The plan language of Parge: what an estimator writes, as a tree with places.
//!
//! [`parse`] never fails. It returns the tree of all that could be read together with every
//! mistake of the text, so that one run tells everything. The crate knows text and nothing of
//! the trade: which finishes exist or whether an opening fits its face is asked later.
//!
//! The way of a text: the outline cuts it into statements by brackets, quotes and line ends; a
//! grammar reads each head and line by itself; the outcome is converted once to [`ast`]. No type
//! of the parser library is seen outside. Lines of the most usual forms are read without it, to the
//! same tree.
//!
//! ```
//! let file = parge_base::Sources::new().add("plan", "");
//! let parsed = parge_grammar::parse(file, "parge 1\nlet height = 2ft 8in\n");
//! assert!(parsed.diagnostics.is_empty());
//! assert_eq!(parsed.plan.statements.len(), 1);
//! ```

pub mod analysis;
pub mod ast;
mod canonical;
mod cut;
mod errors;
pub mod fmt;
mod outline;
mod read;
mod syntax;

pub use canonical::{Canonical, canonical};
pub use cut::statements;
use errors::whole_text;
use outline::{Item, outline, outline_within};
use parge_base::diagnostic::tidy;
use parge_base::{Diagnostic, FileId, Sources, Units};
use rayon::prelude::*;
use read::{Reader, Source};
use std::ops::Range;

/// The most mistakes told of one text. A text with more is no plan, and nobody reads on.
pub(crate) const MAX_DIAGNOSTICS: usize = 1000;

/// Fewer statements than this are read faster by one thread.
const PARALLEL_FROM: usize = 64;

/// How many statements are read before the number of mistakes is looked at.
const CHUNK: usize = 4096;

/// What was read from a plan text.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Parsed {
    /// The tree, without what could not be read.
    pub plan: ast::Plan,
    /// All mistakes, by place. Where there are none, the tree says all that the text says.
    pub diagnostics: Vec<Diagnostic>,
}

/// Reads a plan text. Spans point into `text`, which is known as `file`.
///
/// Only mistakes of writing are found here; names and kinds of quantities are looked at later.
pub fn parse(file: FileId, text: &str) -> Parsed {
    parsed(file, text, true)
}

/// Reads a plan text, usual lines by hand or everything by the parser.
fn parsed(file: FileId, text: &str, quick: bool) -> Parsed {
    let mut parsed = Parsed::default();
    if text.len() > Sources::MAX_BYTES {
        parsed
            .diagnostics
            .push(whole_text::too_large(file, Sources::MAX_BYTES));
        return parsed;
    }
    let items = outline(file, text, &mut parsed.diagnostics);
    if items.is_empty() && parsed.diagnostics.is_empty() {
        parsed.diagnostics.push(whole_text::empty(file));
        return parsed;
    }
    let units = Units::standard();
    let source = Source {
        file,
        text,
        units: &units,
        quick,
    };
    read_all(&source, items, &mut parsed);
    tidy(&mut parsed.diagnostics);
    if parsed.diagnostics.len() > MAX_DIAGNOSTICS {
        parsed.diagnostics.truncate(MAX_DIAGNOSTICS);
        parsed
            .diagnostics
            .push(whole_text::too_many(file, text.len(), MAX_DIAGNOSTICS));
    }
    parsed
}

/// Reads a part of a plan text that was cut at the places of [`statements`]: from the beginning of one
/// of them to that of another, or to the end of the text. `None` where [`parse`] would find a mistake in
/// it. Spans point into the whole text.
pub fn parse_part(file: FileId, text: &str, part: Range<usize>) -> Option<ast::Plan> {
    let is_first = part.start == 0;
    let items = outline_within(file, text, part)?;
    let units = Units::standard();
    let source = Source {
        file,
        text,
        units: &units,
        quick: true,
    };
    let mut parsed = Parsed::default();
    match is_first {
        true => read_all(&source, items, &mut parsed),
        false => read_statements(&source, items.into_iter(), &mut parsed),
    }
    let is_whole = parsed.diagnostics.is_empty() && parsed.plan.damaged.is_empty();
    is_whole.then_some(parsed.plan)
}

/// How many members the parser library finds in a text, on one core. What [`parse`] takes beyond that
/// is our own; benches hold the one against the other.
pub fn tokens(file: FileId, text: &str) -> usize {
    let units = Units::standard();
    let source = Source {
        file,
        text,
        units: &units,
        quick: false,
    };
    let reader = Reader::new(&source);
    let items = outline(file, text, &mut Vec::new());
    items.iter().map(|item| reader.tokens(item)).sum()
}

fn read_all(source: &Source<'_>, items: Vec<Item>, parsed: &mut Parsed) {
    let reader = Reader::new(source);
    let (version, rest) = reader.version(&items);
    parsed.plan.version = version;
    parsed.diagnostics.append(&mut reader.into_found());
    let read_already = items.len() - rest.len();
    read_statements(source, items.into_iter().skip(read_already), parsed);
}

/// Reads what stands behind the version line. Each item is given up once it is read, so that the outline
/// goes as the tree comes.
fn read_statements(
    source: &Source<'_>,
    mut items: impl Iterator<Item = Item>,
    parsed: &mut Parsed,
) {
    loop {
        let chunk: Vec<Item> = items.by_ref().take(CHUNK).collect();
        if chunk.is_empty() || parsed.diagnostics.len() > MAX_DIAGNOSTICS {
            return;
        }
        let read = |item: Item| {
            let reader = Reader::new(source);
            let statement = reader.statement(&item);
            let damaged = (item.broken || reader.found_any()).then(|| {
                let (word, name) = reader.names(&item);
                ast::Damaged { word, name }
            });
            (statement, damaged, reader.into_found())
        };
        // Collected in the order of the text, so that the outcome never depends on threads.
        let outcomes: Vec<_> = if chunk.len() > PARALLEL_FROM {
            chunk.into_par_iter().map(read).collect()
        } else {
            chunk.into_iter().map(read).collect()
        };
        for (statement, damaged, mut found) in outcomes {
            parsed.plan.statements.extend(statement);
            parsed.plan.damaged.extend(damaged);
            parsed.diagnostics.append(&mut found);
        }
    }
}

#[cfg(test)]
mod tests;
