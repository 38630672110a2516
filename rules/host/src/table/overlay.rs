//! Laying a table of a pack over the table of that name in the packs under it.

use super::{Cell, Row, Table};
use parge_base::{Code, Diagnostic, Dim};

impl Table {
    /// Lays a table of a pack over this one: a row with the same keys replaces, in the place of the
    /// one that was there; the others are added behind. Rows that are taken away go.
    pub(crate) fn lay_over(&mut self, over: Self, by: &str, diagnostics: &mut Vec<Diagnostic>) {
        if over.key_columns != self.key_columns {
            diagnostics.push(self.other_columns(&over));
            return;
        }
        for mut row in over.rows {
            let at = self.place_of(&row.keys).ok();
            if let Some(replaced) = at.and_then(|at| self.rows.get_mut(at)) {
                match other_kind(&self.name, replaced, &row) {
                    Some(diagnostic) => diagnostics.push(diagnostic),
                    None => {
                        row.replaces = Some(Box::new(replaced.clone()));
                        *replaced = row;
                    }
                }
            } else {
                diagnostics.extend(self.bring_back(&mut row));
                self.push(row);
            }
        }
        self.take_away(over.removals, by, diagnostics);
    }

    /// Where a pack under this one took the row away, it replaces the one that was there.
    fn bring_back(&mut self, row: &mut Row) -> Option<Diagnostic> {
        let at = self
            .taken
            .iter()
            .position(|taken| taken.was.keys == row.keys)?;
        let taken = self.taken.remove(at);
        let wrong = other_kind(&self.name, &taken.was, row);
        row.replaces = Some(taken.was);
        wrong
    }

    fn other_columns(&self, over: &Self) -> Diagnostic {
        let name = &self.name;
        let message = format!(
            "table `{name}` is looked up by {} here, and by {} in the pack under this one",
            over.key_columns.join(", "),
            self.key_columns.join(", ")
        );
        let help = format!(
            "write the header `{},value,unit,source,note`, or give a table of your own another name",
            self.key_columns.join(",")
        );
        Diagnostic::new(Code::CannotReplace, message, help)
            .at(over.header_span, "")
            .at(self.header_span, "in the pack under this one")
    }
}

/// What to say where a row is of another kind than the one that it replaces: the rules that
/// read it would stop, or, worse, count another thing.
fn other_kind(table: &str, replaced: &Row, row: &Row) -> Option<Diagnostic> {
    let (was, is) = (kind(replaced), kind(row));
    if was == is {
        return None;
    }
    let message = format!(
        "`{}` in table `{table}` is {} here, and {} in the row that it replaces",
        row.keys.join(", "),
        words(is),
        words(was)
    );
    let help = format!(
        "give the value in a unit of that kind, such as `{}`",
        replaced.unit
    );
    let diagnostic = Diagnostic::new(Code::CannotReplace, message, help);
    Some(
        diagnostic
            .at(row.span, "")
            .at(replaced.span, "in the pack under this one"),
    )
}

/// The dimension of a number; none for a text.
fn kind(row: &Row) -> Option<Dim> {
    match &row.cell {
        Cell::Factor(factor) => Some(factor.quantity.dim),
        Cell::Text(..) => None,
    }
}

fn words(kind: Option<Dim>) -> String {
    kind.map_or("a text".to_owned(), Dim::words)
}
