//! What can be read of a row by itself, before those above it have their verdicts: so it is read on
//! all cores. It is read the same way when it was not read ahead.

use super::Remark;
use super::decide::Kind;
use super::row::{Cells, Trouble};
use super::sizes::Stated;
use crate::columns::Role;

/// What was read of a row before its turn; nothing, where nobody read it.
#[derive(Default)]
pub(super) struct Ahead {
    kind: Option<Result<Kind, Trouble>>,
    stated: Option<Noted>,
}

/// What a row says of its size, with all that was noted while it was read.
struct Noted {
    stated: Result<(Stated, Option<u32>), Trouble>,
    figures: Vec<(Role, f64)>,
    as_text: Vec<(Role, f64)>,
    remarks: Vec<Remark>,
}

impl Cells<'_> {
    /// Reads what depends on no other row.
    pub(super) fn read_ahead(mut self) -> Ahead {
        let kind = self.kind();
        let is_face = matches!(kind, Ok(Kind::Face));
        let stated = is_face.then(|| Noted {
            stated: self.stated(),
            figures: self.figures,
            as_text: self.as_text,
            remarks: self.remarks,
        });
        Ahead {
            kind: Some(kind),
            stated,
        }
    }

    /// What the row is.
    pub(super) fn known_kind(&mut self) -> Result<Kind, Trouble> {
        self.ahead.kind.take().unwrap_or_else(|| self.kind())
    }

    /// What the row says of its size, and its count where it states one.
    pub(super) fn known_stated(&mut self) -> Result<(Stated, Option<u32>), Trouble> {
        let Some(mut noted) = self.ahead.stated.take() else {
            return self.stated();
        };
        self.figures.append(&mut noted.figures);
        self.as_text.append(&mut noted.as_text);
        self.remarks.append(&mut noted.remarks);
        noted.stated
    }
}
