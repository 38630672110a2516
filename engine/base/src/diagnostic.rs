//! The one diagnostic of Parge: what is wrong, where, and what to write instead.
//!
//! Plain data: how it is drawn on a terminal or written as JSON is decided by the program.

use crate::code::Code;
use crate::source::Span;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The result cannot be relied upon.
    Error,
    /// Probably a slip; the result stands.
    Warning,
}

impl Severity {
    /// `error` or `warning`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
        }
    }
}

/// A place to underline, with what to say there.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What is there; may be empty.
    pub text: String,
}

/// Something to tell the user. The first label is the primary place.
///
/// Wording: lower case, no full stop, what the user wrote in backticks, no word of the program's
/// insides; the help line says what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
#[must_use]
pub struct Diagnostic {
    /// The stable code; it also decides the severity.
    pub code: Code,
    /// What is wrong, in one line.
    pub message: String,
    /// Where; empty when it concerns no text, such as a missing file.
    pub labels: Vec<Label>,
    /// What to do about it.
    pub help: String,
}

impl Diagnostic {
    /// A diagnostic that concerns no place in a text.
    pub fn new(code: Code, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
            labels: Vec::new(),
            help: help.into(),
        }
    }

    /// Adds a place: the first one added is the primary one.
    pub fn at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// Whether it is an error or a warning.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }

    /// The primary place.
    pub fn span(&self) -> Option<Span> {
        self.labels.first().map(|label| label.span)
    }
}

/// Sorts diagnostics by place and drops exact repetitions, so that one cause is told once.
pub fn tidy(diagnostics: &mut Vec<Diagnostic>) {
    diagnostics.sort_by(|a, b| {
        let key = |d: &Diagnostic| (d.span(), d.severity(), d.code);
        key(a).cmp(&key(b)).then_with(|| a.message.cmp(&b.message))
    });
    diagnostics.dedup();
}

/// Whether any of them is an error.
pub fn any_error(diagnostics: &[Diagnostic]) -> bool {
    diagnostics
        .iter()
        .any(|diagnostic| diagnostic.severity() == Severity::Error)
}
