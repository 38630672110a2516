//! Which brackets of a text have no partner.

use super::marks::{Kind, Marks};
use super::{MAX_BLOCKS, MAX_PARENS};

/// The opening brackets without a partner, in the order of the text. Of brackets nested too deep
/// to be read only the outer ones are listed, so that a text of nothing but brackets costs no
/// more memory than its own length.
#[derive(Debug, Default)]
pub(super) struct Unpaired {
    braces: Vec<usize>,
    parens: Vec<usize>,
}

impl Unpaired {
    /// Finds them in one pass, by a stack.
    pub(super) fn find(text: &str) -> Self {
        let mut search = Search::default();
        for mark in Marks::from(text, 0) {
            let at = mark.range.start;
            match mark.kind {
                Kind::LineEnd { top: true } => {
                    search.flush_parens();
                    search.begin_segment();
                }
                Kind::Open => {
                    search.flush_parens();
                    search.open_brace(at);
                }
                Kind::Close => {
                    search.flush_parens();
                    search.braces.pop();
                }
                Kind::OpenParen => search.parens.push(at, MAX_PARENS),
                Kind::CloseParen => search.parens.pop(),
                Kind::LineEnd { top: false } | Kind::Quote { .. } | Kind::Text => {}
            }
        }
        search.flush_parens();
        let braces = search.braces.open.into_iter().map(|(at, _)| at).collect();
        Self {
            braces,
            parens: search.unpaired_parens,
        }
    }

    /// Whether the `{` at an offset has no partner.
    pub(super) fn has_brace(&self, at: usize) -> bool {
        self.braces.binary_search(&at).is_ok()
    }

    /// Whether the `(` at an offset has no partner.
    pub(super) fn has_paren(&self, at: usize) -> bool {
        self.parens.binary_search(&at).is_ok()
    }
}

/// A stack of open brackets; a run of very deep ones is held as one entry with a count.
#[derive(Debug, Default)]
struct Stack {
    open: Vec<(usize, usize)>,
    /// How many entries were there when the current statement of the top began.
    floor: usize,
}

impl Stack {
    fn push(&mut self, at: usize, limit: usize) {
        let deep = self.open.len() > self.floor + limit;
        match self.open.last_mut() {
            Some((_, count)) if deep => *count += 1,
            _ => self.open.push((at, 1)),
        }
    }

    fn pop(&mut self) {
        if let Some((_, count)) = self.open.last_mut() {
            *count -= 1;
            if *count == 0 {
                self.open.pop();
                self.floor = self.floor.min(self.open.len());
            }
        }
    }
}

#[derive(Debug, Default)]
struct Search {
    braces: Stack,
    parens: Stack,
    unpaired_parens: Vec<usize>,
}

impl Search {
    fn open_brace(&mut self, at: usize) {
        self.braces.push(at, MAX_BLOCKS);
    }

    fn begin_segment(&mut self) {
        self.braces.floor = self.braces.open.len();
    }

    /// No bracket reaches over a brace or into the next statement of the top.
    fn flush_parens(&mut self) {
        self.unpaired_parens
            .extend(self.parens.open.drain(..).map(|(at, _)| at));
    }
}
