//! What is to be done: each structure and finish with its area, and linear work with its length.
//!
//! A line is the sum of rows of sheet `Faces` or `Edges`, named one by one. A sum by the words of
//! the structure would take those for patterns, and upper for lower case.

use super::{DETAIL, Page, QUANTITY, UNIT, WHAT, title};
use crate::shown;
use crate::workbook::addresses::line;
use crate::workbook::page::{at, lines_of};
use crate::workbook::style;
use crate::workbook::{edges, faces};
use parge_calc::price::Estimate;
use rust_xlsxwriter::XlsxError;
use rust_xlsxwriter::utility::cell_range_absolute;
use std::collections::HashMap;
use std::hash::Hash;

/// Runs of rows that one formula adds up. Each takes at most 30 letters and is one argument, of
/// which every program takes 255.
const MOST_RUNS: usize = 200;

/// Rows of another sheet that are added up.
struct Sum<K> {
    /// What they have in common.
    of: K,
    /// Whether a sum of the same stands above, for which these are too many.
    goes_on: bool,
    /// First and last of rows that follow each other, from 0.
    runs: Vec<[usize; 2]>,
    value: f64,
}

impl<K> Sum<K> {
    fn formula(&self, sheet: &str, column: usize) -> String {
        let runs = self.runs.iter().map(|[first, last]| {
            let cells = cell_range_absolute(line(*first), at(column), line(*last), at(column));
            format!("{sheet}!{cells}")
        });
        format!("=SUM({})", runs.collect::<Vec<_>>().join(","))
    }
}

/// Adds up rows that have the same in common, in the order in which it first comes.
fn sums<K: Copy + Eq + Hash>(rows: impl Iterator<Item = (K, f64)>) -> Vec<Sum<K>> {
    let mut numbers: HashMap<K, usize> = HashMap::new();
    let mut all: Vec<Vec<Sum<K>>> = Vec::new();
    for (row, (of, value)) in rows.enumerate() {
        let number = *numbers.entry(of).or_insert(all.len());
        if number == all.len() {
            all.push(Vec::new());
        }
        if let Some(sums) = all.get_mut(number) {
            add(sums, of, row, value);
        }
    }
    all.into_iter().flatten().collect()
}

fn add<K>(sums: &mut Vec<Sum<K>>, of: K, row: usize, value: f64) {
    if let Some(sum) = sums.last_mut() {
        if let Some([_, last]) = sum.runs.last_mut()
            && *last + 1 == row
        {
            *last = row;
            sum.value += value;
            return;
        }
        if sum.runs.len() < MOST_RUNS {
            sum.runs.push([row, row]);
            sum.value += value;
            return;
        }
    }
    sums.push(Sum {
        of,
        goes_on: !sums.is_empty(),
        runs: vec![[row, row]],
        value,
    });
}

/// Areas by structure and finish, as their numbers.
fn areas(estimate: &Estimate) -> Vec<Sum<(usize, usize)>> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    let faces = takeoff.measured.faces.iter();
    let rows = faces.zip(shown::faces(takeoff)).map(|(measured, shown)| {
        let face = job.faces.get(measured.face);
        let of = face.map_or((0, 0), |face| (face.structure, face.finish));
        (of, shown.areas.net)
    });
    sums(rows)
}

/// Lengths by the kind of work.
fn lengths(estimate: &Estimate) -> Vec<Sum<&str>> {
    let edges = shown::edges(&estimate.takeoff);
    sums(edges.map(|edge| (edge.kind, edge.total_length())))
}

/// The lines below the title: the areas with their sum, the lengths, and how it was measured.
pub(super) fn lines(estimate: &Estimate) -> usize {
    areas(estimate).len() + 1 + lengths(estimate).len() + 1
}

pub(super) fn write(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    let unit = shown::print_unit(shown::area_unit(job.units));
    title(page, "Scope")?;
    for area in areas(estimate) {
        let (structure, finish) = area.of;
        let finish = job.finishes.get(finish);
        let finish = finish.map_or("", |finish| &finish.name);
        begin(page, job.structure_name(structure), finish, area.goes_on)?;
        let formula = area.formula(faces::NAME, faces::ALL);
        page.formula(QUANTITY, &formula, area.value)?;
        page.text(UNIT, &unit)?;
        page.next()?;
    }
    let all = lines_of(faces::NAME, faces::ALL, takeoff.measured.faces.len());
    page.total("All faces")?;
    let sum = shown::total_areas(takeoff).net;
    page.formula(QUANTITY, &format!("=SUM({all})"), sum)?;
    page.text(UNIT, &unit)?;
    page.next()?;
    for length in lengths(estimate) {
        begin(page, &shown::sentence(length.of), "", length.goes_on)?;
        let formula = length.formula(edges::NAME, edges::ALL);
        page.formula(QUANTITY, &formula, length.value)?;
        page.text(UNIT, shown::length_unit(job.units))?;
        page.next()?;
    }
    let measured = shown::measuring_words(&job.measuring);
    page.across(&format!("Measured {measured}."), &style::wrapped_note())
}

fn begin(page: &mut Page<'_>, what: &str, finish: &str, goes_on: bool) -> Result<(), XlsxError> {
    page.blank()?;
    match goes_on {
        true => page.text(WHAT, &format!("{what}, continued"))?,
        false => page.text(WHAT, what)?,
    }
    page.text(DETAIL, finish)
}

#[cfg(test)]
mod tests;
