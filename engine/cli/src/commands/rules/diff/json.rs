//! What differs between two packs, filled into the form of the JSON.

use crate::args::PackDiffArgs;
use crate::commands::rules::{from, source_words};
use parge_base::{Sources, Span};
use parge_calc::change::{Both, Changes};
use parge_rules::{Cell, FunctionChange, Pack, PackChanges, Row, RowChange};
use parge_sheets::pack_change_json;
use parge_sheets::wire_packs::{
    FunctionChangeWire, Happened, LineWire, PackChangesWire, PackWire, RowChangeWire, RowWire,
};
use std::sync::Arc;

/// The JSON. `of_plan` is what changes of the plan that the command names.
pub(super) fn text(
    args: &PackDiffArgs,
    changes: &PackChanges<'_>,
    packs: Both<&Arc<Pack>>,
    sources: Both<&Sources>,
    of_plan: Option<&Changes>,
) -> String {
    let old = Side {
        pack: packs.old,
        sources: sources.old,
    };
    let new = Side {
        pack: packs.new,
        sources: sources.new,
    };
    let rows = changes.rows.iter();
    let functions = changes.functions.iter();
    let wire = PackChangesWire {
        different: !changes.is_empty(),
        old: old.wire(&args.old),
        new: new.wire(&args.new),
        rows: rows.map(|change| row(change, old, new)).collect(),
        functions: functions.map(|change| function(change, old, new)).collect(),
    };
    let plan = args.plan.as_ref().map(|plan| plan.display().to_string());
    pack_change_json(&wire, plan.as_deref().zip(of_plan))
}

/// A pack and the texts that its places lie in.
#[derive(Clone, Copy)]
struct Side<'a> {
    pack: &'a Pack,
    sources: &'a Sources,
}

impl<'a> Side<'a> {
    fn wire(self, word: &'a str) -> PackWire<'a> {
        PackWire {
            pack: word,
            name: &self.pack.manifest.name,
            version: self.pack.version(),
            folder: &self.pack.folder,
        }
    }

    fn line(self, span: Span) -> LineWire<'a> {
        LineWire {
            pack: from(self.pack, span),
            file: self.sources.name(span.file),
            line: self.sources.place(span.file, span.start).line,
        }
    }

    fn row(self, row: &'a Row) -> RowWire<'a> {
        RowWire {
            value: &row.value,
            number: match &row.cell {
                Cell::Factor(factor) => Some(factor.written),
                Cell::Text(..) => None,
            },
            unit: &row.unit,
            source: source_words(row),
            note: &row.note,
            place: self.line(row.span),
        }
    }
}

fn row<'a>(change: &RowChange<'a>, old: Side<'a>, new: Side<'a>) -> RowChangeWire<'a> {
    let keys = change.new.or(change.old).map(|row| row.keys.as_slice());
    RowChangeWire {
        table: change.table,
        keys: keys.unwrap_or_default(),
        kind: match change.taken {
            Some(_) => Happened::TakenAway,
            None => happened(change.old.is_some(), change.new.is_some()),
        },
        taken_away_by: change.taken.map(|taken| taken.by.as_str()),
        old: change.old.map(|row| old.row(row)),
        new: change.new.map(|row| new.row(row)),
    }
}

fn function<'a>(
    change: &FunctionChange<'a>,
    old: Side<'a>,
    new: Side<'a>,
) -> FunctionChangeWire<'a> {
    let one = change.new.or(change.old);
    FunctionChangeWire {
        name: one.map_or("", |one| one.name.as_str()),
        parameters: one.map_or(&[], |one| one.parameters.as_slice()),
        is_rule: one.is_some_and(|one| one.is_rule),
        kind: happened(change.old.is_some(), change.new.is_some()),
        old: change.old.map(|one| old.line(one.place)),
        new: change.new.map(|one| new.line(one.place)),
    }
}

fn happened(before: bool, after: bool) -> Happened {
    match (before, after) {
        (false, _) => Happened::Added,
        (true, false) => Happened::Removed,
        (true, true) => Happened::Replaced,
    }
}
