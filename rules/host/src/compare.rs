//! What one pack has otherwise than another: rows of tables, and functions of scripts.

use crate::function::Function;
use crate::pack::Pack;
use crate::table::{Row, Table, TakenRow};
use std::collections::HashMap;
use std::hash::Hash;

/// A row that is not the same in both packs.
#[derive(Debug, Clone, Copy)]
pub struct RowChange<'p> {
    /// Its table.
    pub table: &'p str,
    /// In the old pack; none for one that is new.
    pub old: Option<&'p Row>,
    /// In the new pack; none for one that is gone.
    pub new: Option<&'p Row>,
    /// What takes it away in the new pack, where a pack does so.
    pub taken: Option<&'p TakenRow>,
}

/// A function that is not the same in both packs.
#[derive(Debug, Clone, Copy)]
pub struct FunctionChange<'p> {
    /// In the old pack; none for one that is new.
    pub old: Option<&'p Function>,
    /// In the new pack; none for one that is gone.
    pub new: Option<&'p Function>,
}

/// All that differs.
#[derive(Debug, Clone, Default)]
pub struct PackChanges<'p> {
    /// Rows by table, each in the order of the tables: changed and gone ones as the old pack has
    /// them, then new ones.
    pub rows: Vec<RowChange<'p>>,
    /// Functions in the same order.
    pub functions: Vec<FunctionChange<'p>>,
}

impl PackChanges<'_> {
    /// Whether both packs say the same.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty() && self.functions.is_empty()
    }
}

/// Compares two packs by what is in force in them, wherever it comes from.
pub fn compare<'p>(old: &'p Pack, new: &'p Pack) -> PackChanges<'p> {
    let mut names: Vec<&str> = old
        .tables()
        .iter()
        .map(|table| table.name.as_str())
        .collect();
    names.extend(new.tables().iter().map(|table| table.name.as_str()));
    names.sort_unstable();
    names.dedup();
    let rows = names.into_iter().flat_map(|name| {
        let table = |pack: &'p Pack| pack.tables().get(name);
        rows(name, table(old), table(new))
    });
    PackChanges {
        rows: rows.collect(),
        functions: functions(old.functions(), new.functions()),
    }
}

fn rows<'p>(table: &'p str, old: Option<&'p Table>, new: Option<&'p Table>) -> Vec<RowChange<'p>> {
    let all = |table: Option<&'p Table>| table.map_or(&[][..], |table| table.rows.as_slice());
    // A table with other key columns has other keys, so none of its rows is the same.
    pairs(all(old), all(new), |row| row.keys.as_slice(), Row::reads_as)
        .into_iter()
        .map(|(before, after)| RowChange {
            table,
            old: before,
            new: after,
            taken: match (before, after) {
                (Some(was), None) => new.and_then(|table| table.taken_row(&was.keys)),
                _ => None,
            },
        })
        .collect()
}

fn functions<'p>(old: &'p [Function], new: &'p [Function]) -> Vec<FunctionChange<'p>> {
    let name = |function: &'p Function| (function.name.as_str(), function.parameters.len());
    pairs(old, new, name, Function::reads_as)
        .into_iter()
        .map(|(old, new)| FunctionChange { old, new })
        .collect()
}

/// Things of one name that do not read the same, and things that are in one list only.
fn pairs<'p, T, K: Eq + Hash>(
    old: &'p [T],
    new: &'p [T],
    name: impl Fn(&'p T) -> K,
    reads_as: impl Fn(&T, &T) -> bool,
) -> Vec<(Option<&'p T>, Option<&'p T>)> {
    let by_name =
        |all: &'p [T]| -> HashMap<K, &'p T> { all.iter().map(|one| (name(one), one)).collect() };
    let (before, after) = (by_name(old), by_name(new));
    let mut pairs = Vec::new();
    for was in old {
        match after.get(&name(was)) {
            Some(is) if reads_as(was, is) => {}
            is => pairs.push((Some(was), is.copied())),
        }
    }
    let added = new.iter().filter(|is| !before.contains_key(&name(is)));
    pairs.extend(added.map(|is| (None, Some(is))));
    pairs
}
