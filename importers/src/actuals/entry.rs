//! What a line or a row says, before names and units are looked up.

use parge_base::actuals::Written;
use parge_base::{Code, Diagnostic};

/// A text with its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Piece {
    pub(super) text: String,
    pub(super) place: Written,
}

impl Piece {
    /// A diagnostic that points here.
    pub(super) fn wrong(
        &self,
        code: Code,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic::new(code, message, help).at(self.place.span, self.place.words.clone())
    }
}

/// One of the fingerprints of what priced a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Print {
    Plan,
    Rules,
    Prices,
}

/// How much, in what unit, at what price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Amount {
    pub(super) amount: Piece,
    /// The unit of what has none in the amount.
    pub(super) unit: Option<Piece>,
    pub(super) price: Option<Piece>,
}

/// Of what hours were worked, as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum At {
    Whole,
    Job,
    Structure(Piece),
}

/// What a line or a row says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Entry {
    Job(Piece),
    Priced(Print, Piece),
    Rules {
        name: Piece,
        version: String,
    },
    FirstDay(Piece),
    LastDay(Piece),
    Days(Piece),
    Item {
        name: Piece,
        amount: Amount,
    },
    Hours {
        phase: Piece,
        at: At,
        amount: Amount,
    },
    Area {
        structure: Piece,
        face: Option<Piece>,
        amount: Amount,
    },
    Weather {
        day: Option<Piece>,
        words: Piece,
    },
    Remark {
        day: Option<Piece>,
        words: Piece,
    },
}

/// Whether a place was left blank: dashes, dots and underscores of a form are nothing.
pub(super) fn is_blank(text: &str) -> bool {
    text.chars()
        .all(|ch| ch.is_whitespace() || matches!(ch, '_' | '.' | '-' | '…'))
}
