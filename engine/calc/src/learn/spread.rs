//! How far things stray, as table `spread` of a pack states it.

use super::cells::CellName;
use super::model::Group;
use crate::contract::SPREAD;
use parge_base::{Code, Diagnostic, suggest};
use parge_rules::{Cell, Pack, Row};
use std::collections::{BTreeMap, BTreeSet};

/// The words of the first key.
pub const FACTOR: &str = "factor";
/// A cell that strays as another one does.
pub const TOGETHER: &str = "together";
/// All lines of a group of a job.
pub const JOB: &str = "job";
/// Each line of a group by itself.
pub const LINE: &str = "line";

/// The words of groups.
pub const GROUPS: [(&str, Group); 2] = [("materials", Group::Materials), ("hours", Group::Hours)];

/// How far things stray: standard deviations of logarithms, near enough shares of the value.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Spreads {
    /// Cells, those that stray together in one.
    pub factors: Vec<(Vec<CellName>, f64)>,
    /// All lines of a group of a job.
    pub job: [f64; 2],
    /// Each line of a group by itself.
    pub line: [f64; 2],
}

/// Reads them. Every row that cannot be read is reported.
pub fn spreads(pack: &Pack) -> Result<Spreads, Vec<Diagnostic>> {
    let Some(table) = pack.tables().get(SPREAD) else {
        let message = format!(
            "pack `{}` does not say how far its factors stray",
            pack.manifest.name
        );
        let help = "let past jobs teach it by `parge learn FOLDER --pack PACK --apply`, or write \
                    table `spread` by hand: see the reference of the rules";
        return Err(vec![Diagnostic::new(Code::NoSpread, message, help)]);
    };
    let mut reading = Reading {
        cells: cells(pack),
        found: Spreads::default(),
        numbers: BTreeMap::new(),
        wrong: Vec::new(),
    };
    // What strays as another does stands behind it, wherever its row is.
    let is_after = |row: &&Row| row.keys.first().is_some_and(|word| word == TOGETHER);
    let (after, first): (Vec<&Row>, Vec<&Row>) = table.rows.iter().partition(is_after);
    for row in first.into_iter().chain(after) {
        if let Err(said) = reading.row(row) {
            reading.wrong.push(said.at(row.span, ""));
        }
    }
    match reading.wrong.is_empty() {
        true => Ok(reading.found),
        false => Err(reading.wrong),
    }
}

/// All cells of a pack by their names as written.
fn cells(pack: &Pack) -> BTreeMap<String, CellName> {
    let tables = pack.tables().iter().filter(|table| table.name != SPREAD);
    let cells = tables.flat_map(|table| {
        table.rows.iter().map(|row| CellName {
            table: table.name.clone(),
            keys: row.keys.clone(),
        })
    });
    cells.map(|cell| (cell.to_string(), cell)).collect()
}

struct Reading {
    cells: BTreeMap<String, CellName>,
    found: Spreads,
    /// The number of the factor that a cell strays with.
    numbers: BTreeMap<String, usize>,
    wrong: Vec<Diagnostic>,
}

impl Reading {
    fn row(&mut self, row: &Row) -> Result<(), Diagnostic> {
        let [word, of] = row.keys.as_slice() else {
            let message = format!("table `{SPREAD}` is looked up by `spread,of`");
            return Err(wrong(
                message,
                "let its header begin with these two columns",
            ));
        };
        match word.as_str() {
            FACTOR => {
                let cell = self.cell(of)?;
                let share = share(row)?;
                self.numbers.insert(of.clone(), self.found.factors.len());
                self.found.factors.push((vec![cell], share));
            }
            TOGETHER => self.together(row, of)?,
            JOB => self.found.job[group(of)? as usize] = share(row)?,
            LINE => self.found.line[group(of)? as usize] = share(row)?,
            other => {
                let message = format!("`{other}` is no word of table `{SPREAD}`");
                let help = suggest::help_for(other, [FACTOR, TOGETHER, JOB, LINE]);
                return Err(Diagnostic::new(Code::BadTable, message, help));
            }
        }
        Ok(())
    }

    fn cell(&self, name: &str) -> Result<CellName, Diagnostic> {
        self.cells.get(name).cloned().ok_or_else(|| {
            let message = format!("the pack has no row `{name}`");
            let known = self.cells.keys().map(String::as_str);
            let help = match suggest::nearest(name, known) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "write table and keys, as `waste.finish-mix.stamp`".to_owned(),
            };
            Diagnostic::new(Code::BadTable, message, help)
        })
    }

    fn together(&mut self, row: &Row, of: &str) -> Result<(), Diagnostic> {
        let cell = self.cell(of)?;
        let with = match &row.cell {
            Cell::Text(with, _) => with.to_string(),
            Cell::Factor(_) => row.value.clone(),
        };
        let factor = self.numbers.get(&with);
        match factor.and_then(|number| self.found.factors.get_mut(*number)) {
            Some((cells, _)) => {
                cells.push(cell);
                Ok(())
            }
            None => {
                let message =
                    format!("`{of}` cannot stray with `{with}`, which has no row `{FACTOR}`");
                let known = self.numbers.keys().map(String::as_str);
                Err(wrong(message, &suggest::help_for(&with, known)))
            }
        }
    }
}

fn group(word: &str) -> Result<Group, Diagnostic> {
    let found = GROUPS.iter().find(|(known, _)| *known == word);
    found.map(|(_, group)| *group).ok_or_else(|| {
        let message = format!("`{word}` is no kind of line");
        let words: BTreeSet<&str> = GROUPS.iter().map(|(known, _)| *known).collect();
        wrong(message, &suggest::help_for(word, words))
    })
}

/// The largest spread that is believed: three times as much, or a third, in two of three cases.
const MOST: f64 = 1.1;

fn share(row: &Row) -> Result<f64, Diagnostic> {
    let value = match &row.cell {
        Cell::Factor(factor) if factor.quantity.dim.is_none() => factor.quantity.value,
        _ => f64::NAN,
    };
    match (0.0..=MOST).contains(&value) {
        true => Ok(value),
        false => {
            let message = format!("`{}` is no spread", row.words());
            Err(wrong(
                message,
                "write a share of the value between 0 and 110, with the unit `%`",
            ))
        }
    }
}

fn wrong(message: String, help: &str) -> Diagnostic {
    Diagnostic::new(Code::BadTable, message, help)
}

#[cfg(test)]
mod tests;
