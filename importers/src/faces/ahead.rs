//! What can be read of a row by itself, before those above it have their verdicts: so it is read on
//! all cores. It is read the same way when it was not read ahead.

use super::decide::Kind;
use super::face_row::Names;
use super::row::{Cells, Trouble};
use super::sizes::Stated;

/// What was read of a row before its turn; nothing, where nobody read it.
#[derive(Default)]
pub(super) struct Ahead {
    kind: Option<Result<Kind, Trouble>>,
    stated: Option<Result<(Stated, Option<u32>), Trouble>>,
    names: Option<Names>,
}

impl Cells<'_> {
    /// Reads what depends on no other row.
    pub(super) fn read_ahead(&mut self) {
        let kind = self.kind();
        let is_face = matches!(kind, Ok(Kind::Face));
        self.ahead.kind = Some(kind);
        // What may be left out, or be a total, is read in another way.
        let is_open = self.is_marked() || self.may_restate();
        if is_face && !is_open {
            self.ahead.names = Some(self.names());
            self.ahead.stated = Some(self.stated());
        }
    }

    /// What the row is.
    pub(super) fn known_kind(&mut self) -> Result<Kind, Trouble> {
        self.ahead.kind.take().unwrap_or_else(|| self.kind())
    }

    /// What the row calls its face, and what that is made of.
    pub(super) fn known_names(&mut self) -> Names {
        self.ahead.names.take().unwrap_or_else(|| self.names())
    }

    /// What the row says of its size, and its count where it states one.
    pub(super) fn known_stated(&mut self) -> Result<(Stated, Option<u32>), Trouble> {
        self.ahead.stated.take().unwrap_or_else(|| self.stated())
    }
}
