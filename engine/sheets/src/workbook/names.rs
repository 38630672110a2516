//! Names of the cells that may be changed: `waste.finish_mix.stamp`, `prices.sealer`. They are
//! those of `parge whatif`, with `_` for what a name in a spreadsheet cannot hold.

use super::addresses::{Addresses, line, on};
use super::page::HEAD_ROW;
use super::{factors, labour, materials, sizes, summary};
use parge_calc::price::Estimate;
use rust_xlsxwriter::Workbook;
use std::collections::HashSet;

/// Sizes that are named. A list of more names than that helps nobody; the cells are there.
const MOST_SIZES: usize = 2_000;

/// The longest name that a spreadsheet takes.
const MOST_LETTERS: usize = 255;

/// Names the cells that may be changed.
pub(super) fn define(book: &mut Workbook, estimate: &Estimate, of: &Addresses<'_>) {
    let mut names = Names::default();
    for (name, cell) in summary::inputs() {
        names.define(book, &[&name], &cell);
    }
    for (number, line_of) in estimate.materials.iter().enumerate() {
        let item = line_of.material.item.as_str();
        for (kind, column) in [("prices", materials::PRICE), ("packs", materials::CONTENT)] {
            let cell = on(materials::NAME, line(number), column);
            names.define(book, &[kind, item], &cell);
        }
    }
    if estimate.classes.is_empty() {
        names.define(book, &["prices", "labour"], &labour::wage_cell());
    }
    for (factor, row) in of.factors.iter().zip(HEAD_ROW + 1..) {
        if of.live.factor(factor).is_some() {
            let cell = on(factors::NAME, row, factors::STATED);
            let keys: Vec<&str> = factor.name.split([':', ',']).map(str::trim).collect();
            names.define(book, &keys, &cell);
        }
    }
    let job = &estimate.takeoff.measured.job;
    let lets: HashSet<&str> = job.names.iter().map(|(name, _)| name.as_str()).collect();
    for (number, size) in of.live.sizes().iter().take(MOST_SIZES).enumerate() {
        let cell = on(sizes::NAME, line(number), sizes::STATED);
        match size.structure.is_empty() && lets.contains(size.of.as_str()) {
            true => names.define(book, &["let", &size.of], &cell),
            false => names.define(
                book,
                &["size", &size.structure, &size.of, &size.what],
                &cell,
            ),
        }
    }
}

/// The names that are taken.
#[derive(Default)]
struct Names(HashSet<String>);

impl Names {
    /// Names a cell by its parts; by a number too, where that is taken. The words are those of
    /// users: a name that a spreadsheet would not take is left out, and the cell is there without.
    fn define(&mut self, book: &mut Workbook, parts: &[&str], cell: &str) {
        let name = self.free(&joined(parts));
        book.define_name(name, &format!("={cell}")).ok();
    }

    fn free(&mut self, name: &str) -> String {
        let mut tried = name.to_owned();
        let mut number = 1u32;
        // Upper and lower case are one to a spreadsheet.
        while !self.0.insert(tried.to_lowercase()) {
            number = number.saturating_add(1);
            tried = format!("{name}_{number}");
        }
        tried
    }
}

/// Parts as one name. It always has a dot and so is never taken for a cell.
fn joined(parts: &[&str]) -> String {
    let parts = parts.iter().filter(|part| !part.is_empty());
    let fit = |letter: char| match letter.is_alphanumeric() || letter == '.' {
        true => letter,
        false => '_',
    };
    let parts: Vec<String> = parts.map(|part| part.chars().map(fit).collect()).collect();
    let room = MOST_LETTERS - 8;
    parts.join(".").chars().take(room).collect()
}

#[cfg(test)]
mod tests;
