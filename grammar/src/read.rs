//! Reads items of the outline: parses each head and line, and converts the outcome to the tree.

mod alternate;
mod compound;
mod content;
pub(crate) mod expression;
mod face;
mod finish;
mod job;
pub(crate) mod line;
mod literal;
mod name;
mod quick;
mod shape;
mod statement;
mod structure;
mod tokens;

use crate::MAX_DIAGNOSTICS;
use crate::errors::{Failure, words::is_inside_number};
use crate::syntax::{Pair, PlanParser, Rule};
use parge_base::{Diagnostic, FileId, Span, Units};
use pest::Parser;
use pest::error::{Error, ErrorVariant, InputLocation};
use std::cell::{Cell, RefCell};
use std::ops::Range;

/// The longest head or line that is parsed, in bytes. No one writes a statement that long, and
/// the parser takes a hundred times its room.
pub(crate) const MAX_HEAD: usize = 256 << 10;

/// What all readers of one text share.
pub(crate) struct Source<'a> {
    pub file: FileId,
    pub text: &'a str,
    pub units: &'a Units,
    /// Whether usual lines are read by hand. The parser reads them to the same effect.
    pub quick: bool,
}

/// Reads one item and gathers its mistakes.
pub(crate) struct Reader<'a> {
    source: &'a Source<'a>,
    /// Where the text that is being converted begins: the parser counts from there.
    base: Cell<usize>,
    found: RefCell<Vec<Diagnostic>>,
}

/// Where and on what the parser stopped.
struct Stop {
    at: usize,
    expected: Vec<Rule>,
    /// Whether it ran out of stack instead of meeting a mistake.
    exhausted: bool,
}

impl<'a> Reader<'a> {
    pub(crate) fn new(source: &'a Source<'a>) -> Self {
        Self {
            source,
            base: Cell::new(0),
            found: RefCell::new(Vec::new()),
        }
    }

    /// The mistakes found.
    pub(crate) fn into_found(self) -> Vec<Diagnostic> {
        self.found.into_inner()
    }

    /// Whether there was any.
    pub(crate) fn found_any(&self) -> bool {
        !self.found.borrow().is_empty()
    }

    fn report(&self, diagnostic: Diagnostic) {
        if !self.is_full() {
            self.found.borrow_mut().push(diagnostic);
        }
    }

    /// Whether more mistakes are found than are told, so that reading on is of no use.
    fn is_full(&self) -> bool {
        self.found.borrow().len() > MAX_DIAGNOSTICS
    }

    fn text(&self, range: Range<usize>) -> &'a str {
        self.source.text.get(range).unwrap_or("")
    }

    fn span_of(&self, range: Range<usize>) -> Span {
        Span::new(self.source.file, range.start, range.end)
    }

    /// The place of a node, without blanks behind it.
    fn span(&self, pair: &Pair<'_>) -> Span {
        let start = self.base.get() + pair.as_span().start();
        Span::new(
            self.source.file,
            start,
            start + pair.as_str().trim_end().len(),
        )
    }

    /// Parses one part of the text by a rule. Offsets of what follows count from its start.
    fn parse(&self, rule: Rule, range: Range<usize>) -> Result<Vec<Pair<'a>>, Stop> {
        self.base.set(range.start);
        if range.len() > MAX_HEAD {
            let (at, expected) = (range.start, Vec::new());
            return Err(Stop {
                at,
                expected,
                exhausted: true,
            });
        }
        let outcome = PlanParser::parse(rule, self.text(range.clone()));
        let pairs = outcome.map_err(|error| stop(error, range.start))?;
        Ok(pairs.filter(|pair| pair.as_rule() != Rule::EOI).collect())
    }

    /// Parses a head, reporting what is wrong with it.
    fn head(&self, rule: Rule, range: Range<usize>) -> Option<Vec<Pair<'a>>> {
        match self.parse(rule, range.clone()) {
            Ok(pairs) => Some(pairs),
            Err(stop) => {
                self.report_stop(None, range.clone(), self.sharpened(rule, range, stop));
                None
            }
        }
    }

    /// Where reading stopped inside a number that is one too many, what matters is what could
    /// have stood in its place, and not how it could have gone on.
    fn sharpened(&self, rule: Rule, range: Range<usize>, stop: Stop) -> Stop {
        if stop.exhausted || !stop.expected.iter().all(|rule| is_inside_number(*rule)) {
            return stop;
        }
        let read = self.text(range.start..stop.at).trim_end();
        let digits = |letter: char| letter.is_ascii_digit() || letter == '.' || letter == '/';
        let before = read.trim_end_matches(digits);
        let at = range.start + before.len();
        if before.len() == read.len() {
            return stop;
        }
        // A sign that nothing can begin with makes the parser name all that could stand here.
        match PlanParser::parse(rule, &format!("{before}\u{1}")) {
            Err(error) => match self::stop(error, range.start) {
                better if better.at == at => better,
                _ => stop,
            },
            Ok(_) => stop,
        }
    }

    fn report_stop(&self, block: Option<line::Kind>, range: Range<usize>, stop: Stop) {
        let failure = Failure {
            file: self.source.file,
            text: self.source.text,
            block,
            range,
            at: stop.at,
            expected: stop.expected,
            exhausted: stop.exhausted,
        };
        self.report(failure.diagnostic());
    }
}

fn stop(error: Error<Rule>, base: usize) -> Stop {
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => base + at,
    };
    match error.variant {
        ErrorVariant::ParsingError { positives, .. } => Stop {
            at,
            expected: positives,
            exhausted: false,
        },
        ErrorVariant::CustomError { .. } => Stop {
            at,
            expected: Vec::new(),
            exhausted: true,
        },
    }
}
