//! Rows that a pack takes away from a pack under it.

use super::{Row, Table};
use parge_base::{Code, Diagnostic, FactorSource, Span, suggest};
use std::collections::HashSet;

/// What both the value and the unit of a row say that takes another away. Each alone could be a
/// slip, and a text `none` has the unit `text`; no counted thing of a pack can stand beside it,
/// since the value is no number.
pub(super) const NONE: &str = "none";

/// A row that takes away one of a pack under it, as read.
#[derive(Debug, Clone)]
pub(super) struct Removal {
    pub(super) keys: Vec<String>,
    pub(super) source: FactorSource,
    pub(super) note: String,
    pub(super) span: Span,
}

/// A row that is no longer there.
#[derive(Debug, Clone)]
pub struct TakenRow {
    /// The row as it was.
    pub was: Box<Row>,
    /// The name of the pack that takes it away.
    pub by: String,
    /// Who says so.
    pub source: FactorSource,
    /// What else is said about it.
    pub note: String,
    /// The place that takes it away.
    pub span: Span,
}

impl Table {
    /// A row of a pack under this one that is taken away.
    pub fn taken_row(&self, keys: &[String]) -> Option<&TakenRow> {
        self.taken.iter().find(|taken| taken.was.keys == keys)
    }

    /// Takes rows away, for a pack of this name. One that is not there is an error: its keys are
    /// misspelt, or the pack below no longer has it, and nobody would notice.
    pub(super) fn take_away(
        &mut self,
        removals: Vec<Removal>,
        by: &str,
        diagnostics: &mut Vec<Diagnostic>,
    ) {
        if removals.is_empty() {
            return;
        }
        let mut gone = HashSet::new();
        for removal in removals {
            let at = self.place_of(&removal.keys).ok();
            let Some((at, row)) = at.and_then(|at| Some((at, self.rows.get(at)?))) else {
                diagnostics.push(self.not_there(&removal));
                continue;
            };
            gone.insert(at);
            self.taken.push(TakenRow {
                was: Box::new(row.clone()),
                by: by.to_owned(),
                source: removal.source,
                note: removal.note,
                span: removal.span,
            });
        }
        let rows = std::mem::take(&mut self.rows);
        self.by_keys.clear();
        for (at, row) in rows.into_iter().enumerate() {
            if !gone.contains(&at) {
                self.push(row);
            }
        }
    }

    /// What to say where this table, which no pack under it has, takes rows away.
    pub(crate) fn takes_from_nothing(&self) -> Vec<Diagnostic> {
        let removals = self.removals.iter();
        let told = removals.map(|removal| {
            let message = format!(
                "`{}` is to be taken away, and no pack under this one has a table `{}`",
                removal.keys.join(", "),
                self.name
            );
            let help = "take the row out of the file, or name the file as the table below";
            Diagnostic::new(Code::CannotReplace, message, help).at(removal.span, "")
        });
        told.collect()
    }

    fn not_there(&self, removal: &Removal) -> Diagnostic {
        let keys: Vec<&str> = removal.keys.iter().map(String::as_str).collect();
        let wanted = keys.join(", ");
        let message = match self.taken_row(&removal.keys) {
            Some(taken) => format!(
                "`{wanted}` in table `{}` is taken away by pack `{}` already",
                self.name, taken.by
            ),
            None => format!(
                "`{wanted}` is to be taken away, and table `{}` of the packs under this one has no such row",
                self.name
            ),
        };
        let known = self.rows.iter().take(1000);
        let known: Vec<String> = known.map(|row| row.keys.join(", ")).collect();
        let help = match suggest::nearest(&wanted, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`? Else take the row out of the file"),
            None => "take the row out of the file".to_owned(),
        };
        Diagnostic::new(Code::CannotReplace, message, help).at(removal.span, "")
    }
}

/// What to say of `none` in one of the two columns only.
pub(super) fn half_said(removal: &Removal) -> Diagnostic {
    let message = format!(
        "`{}` says `none` in one of the columns `value` and `unit` only",
        removal.keys.join(", ")
    );
    let help = "to take the row of the pack below away, write `none` in both; else write a value with its unit";
    Diagnostic::new(Code::BadTable, message, help).at(removal.span, "")
}
