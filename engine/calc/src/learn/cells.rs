//! Which cells of a pack past jobs can teach, and which of them a line is put down to.
//!
//! A material that comes out short may yield less or be wasted more: no count of bags tells the two
//! apart. Neither does a count of hours tell one person who is slow from another. So it is decided
//! beforehand which cells a line moves ([`chosen`]), and cells that all lines load alike move
//! together ([`apart`]).

use super::lines::{Estimated, Line, RestsOn, Role};
use super::model::{Kind, Observation};
use crate::contract::COVERAGE;
use crate::pool::general_item;
use parge_base::{Factor, Span};
use parge_rules::Pack;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A cell of a pack by its table and keys.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct CellName {
    /// The table.
    pub table: String,
    /// The keys of its row.
    pub keys: Vec<String>,
}

/// As sheets and commands name it: `waste.finish-mix.stamp`.
impl std::fmt::Display for CellName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}.{}", self.table, self.keys.join("."))
    }
}

/// The cells of a pack by their places.
pub(super) struct Cells(BTreeMap<Span, CellName>);

impl Cells {
    pub(super) fn of(pack: &Pack) -> Self {
        let tables = pack.tables().iter();
        let rows = tables.flat_map(|table| table.rows.iter().map(move |row| (table, row)));
        let named = rows.map(|(table, row)| {
            let (table, keys) = (table.name.clone(), row.keys.clone());
            (row.span, CellName { table, keys })
        });
        Self(named.collect())
    }

    pub(super) fn name(&self, factor: &Factor) -> Option<&CellName> {
        self.0.get(&factor.span)
    }
}

/// A cell that a line is put down to.
#[derive(Debug, Clone)]
pub struct Load {
    /// The cell.
    pub cell: CellName,
    /// Its value.
    pub factor: Arc<Factor>,
    /// Of which kind it is.
    pub kind: Kind,
    /// By how much of 1 % the line grows with 1 % of it; of a waste, with 1 % of `1 + share`.
    pub load: f64,
}

/// The cells that each line is put down to:
///
/// - an item, to its wastes; where table `coverage` has it, to its coverages. A yield stands on a data
///   sheet and can be measured in a tub, while what is lost is the company's own; how far a gallon
///   goes depends on the wall and the hand more than anything that is lost of it;
/// - the hours of a phase, to the rates, and to what makes them more and is no whole number;
/// - a line that rests on cells named in `wanted`, to those alone.
///
/// Only cells with the item among their keys count as an item's own: mixing water is no witness of
/// how much mix is wasted.
pub(super) fn chosen(
    lines: &BTreeMap<Line, Estimated>,
    cells: &Cells,
    wanted: &[CellName],
) -> BTreeMap<Line, Vec<Load>> {
    let materials = lines
        .iter()
        .filter(|(line, _)| matches!(line, Line::Material(_)));
    let of_materials: BTreeSet<Span> = materials
        .flat_map(|(_, estimated)| estimated.rests_on.iter().map(|on| on.factor.span))
        .collect();
    let of_line = |line: &Line, estimated: &Estimated| {
        let can = |on: &RestsOn| {
            let cell = cells.name(&on.factor)?;
            Some(Load {
                kind: kind(line, on, cell, &of_materials)?,
                cell: cell.clone(),
                factor: Arc::clone(&on.factor),
                load: on.load(estimated.amount),
            })
        };
        let loads: Vec<Load> = estimated.rests_on.iter().filter_map(can).collect();
        picked(loads, wanted)
    };
    let each = lines.iter();
    each.map(|(line, estimated)| (line.clone(), of_line(line, estimated)))
        .collect()
}

fn kind(line: &Line, on: &RestsOn, cell: &CellName, of_materials: &BTreeSet<Span>) -> Option<Kind> {
    match line {
        Line::Material(item) => {
            let own = cell.keys.iter().any(|key| key == general_item(item));
            let kind = match on.role {
                Role::Waste => Kind::Waste,
                Role::Amount => Kind::Cover,
            };
            own.then_some(kind)
        }
        Line::Hours(..) => {
            let Factor {
                quantity, written, ..
            } = &*on.factor;
            let [_, _, time, ..] = quantity.dim.powers();
            // What is a whole number is counted: people, coats.
            let more = quantity.dim.is_none() && written.fract() != 0.0;
            let rate = time != 0 || (more && !of_materials.contains(&on.factor.span));
            rate.then_some(Kind::Rate)
        }
    }
}

/// The cells of one line that move.
fn picked(mut loads: Vec<Load>, wanted: &[CellName]) -> Vec<Load> {
    let is_wanted = |load: &Load| wanted.contains(&load.cell);
    let covers = |load: &Load| load.kind == Kind::Cover && load.cell.table == COVERAGE;
    if loads.iter().any(is_wanted) {
        loads.retain(is_wanted);
    } else if loads.iter().any(covers) {
        loads.retain(covers);
    } else {
        loads.retain(|load| load.kind != Kind::Cover);
    }
    loads
}

/// Puts cells that no line tells apart into one group each: those of one kind whose loads go up and
/// down together over all lines. `kinds` are those of the cells by their numbers.
pub(super) fn apart(kinds: &[Kind], lines: &[Observation]) -> Vec<Vec<usize>> {
    /// The cosine of the angle between two columns of loads: 0.98 is 11 degrees.
    const ALIKE: f64 = 0.98;
    let size = kinds.len();
    let mut products = vec![vec![0.0; size]; size];
    for line in lines {
        for (a, of_a) in &line.loads {
            for (b, of_b) in &line.loads {
                products[*a][*b] += of_a * of_b;
            }
        }
    }
    let alike = |a: usize, b: usize| {
        let length = (products[a][a] * products[b][b]).sqrt();
        kinds[a] == kinds[b] && length > 0.0 && products[a][b] >= ALIKE * length
    };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for cell in 0..size {
        // With all of a group, so that no chain of near ones joins far ones.
        let group = groups
            .iter_mut()
            .find(|group| group.iter().all(|other| alike(cell, *other)));
        match group {
            Some(group) => group.push(cell),
            None => groups.push(vec![cell]),
        }
    }
    groups
}

#[cfg(test)]
mod tests;
