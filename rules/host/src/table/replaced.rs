//! Other values in the place of what rows say, for an estimate of what would be if.

use super::{Cell, Row, Table};
use crate::csv_text::number;
use parge_base::{Code, Diagnostic, Dim, Factor, FactorSource, Span, Unit, Units};
use std::sync::Arc;

/// A row of a table with the value that it gets.
#[derive(Debug, Clone)]
pub struct OtherValue {
    /// The table.
    pub table: String,
    /// The keys of the row.
    pub keys: Vec<String>,
    /// What it says then.
    pub cell: Cell,
}

/// Digits of a moved value: enough for any factor, and free of binary noise.
const DIGITS: usize = 12;

impl Row {
    /// What this row would say with another value, written as `12%` or `0.45 ft3/bag`, or as any
    /// text where the row says a text. `span` is where the value is written.
    pub fn other(&self, text: &str, units: &Units, span: Span) -> Result<Cell, Diagnostic> {
        let text = text.trim();
        let was = match &self.cell {
            Cell::Factor(factor) => factor,
            Cell::Text(..) => return Ok(Cell::Text(text.into(), FactorSource::Company)),
        };
        let example = format!("write it as `{}`", written(was.written, &was.unit));
        let wrong = |code, message: String| {
            Err(Diagnostic::new(code, message, example.clone()).at(span, ""))
        };
        let Some((value, unit)) = amount(text, units) else {
            return wrong(
                Code::BadNumber,
                format!("`{text}` is no number with a unit"),
            );
        };
        // `12` for `12%` would be a hundred times as much.
        if unit.is_none() && was.unit.text() != "1" {
            let message = format!("`{text}` has no unit, and `{}` has one", was.name);
            return wrong(Code::MissingUnit, message);
        }
        let unit = unit.unwrap_or_else(Unit::plain);
        if unit.dim() != was.quantity.dim {
            let message = format!(
                "`{}` is {}, not {}",
                was.name,
                was.quantity.dim.words(),
                unit.dim().words()
            );
            return wrong(Code::WrongKind, message);
        }
        if value < 0.0 && unit.dim() != Dim::TEMPERATURE {
            return wrong(Code::OutOfRange, format!("`{text}` is less than nothing"));
        }
        match with_value(was, value, unit) {
            Some(cell) => Ok(cell),
            None => wrong(Code::OutOfRange, format!("`{text}` is too large")),
        }
    }

    /// What this row would say with so many times its value; none where it says a text, or where
    /// the value grows too large.
    pub fn times(&self, share: f64) -> Option<Cell> {
        match &self.cell {
            Cell::Factor(factor) => {
                let value = format!("{:.*e}", DIGITS - 1, factor.written * share);
                with_value(factor, value.parse().ok()?, factor.unit.clone())
            }
            Cell::Text(..) => None,
        }
    }

    /// The value as a table says it, in one text: `12%`, `0.45 ft3/bag`.
    pub fn words(&self) -> String {
        cell_words(&self.cell)
    }
}

impl Table {
    /// Gives a row another value; a row that is not there is not made.
    pub(crate) fn replace(&mut self, keys: &[String], cell: &Cell) {
        let at = self.place_of(keys).ok();
        if let Some(row) = at.and_then(|at| self.rows.get_mut(at)) {
            (row.value, row.unit) = match cell {
                Cell::Factor(factor) => (factor.written.to_string(), factor.unit.text().to_owned()),
                Cell::Text(text, _) => (text.to_string(), "text".to_owned()),
            };
            row.cell = cell.clone();
        }
    }
}

/// A number with its unit, where one is written: `12%`, `1 1/2in`, `0.5 1/ft2`, `3`.
pub fn amount(text: &str, units: &Units) -> Option<(f64, Option<Unit>)> {
    if let Some(value) = number(text) {
        return Some((value, None));
    }
    // A unit may begin with a digit, so the longest number that leaves a unit is taken.
    let ends = text.char_indices().map(|(at, _)| at).rev();
    let after_number = |end: &usize| {
        let figure = text.split_at(*end).0;
        figure.ends_with(|c: char| c.is_ascii_digit() || c == ' ')
    };
    ends.filter(after_number).find_map(|end| {
        let (figure, unit) = text.split_at(end);
        Some((number(figure)?, Some(units.parse(unit).ok()?)))
    })
}

fn cell_words(cell: &Cell) -> String {
    match cell {
        Cell::Factor(factor) => written(factor.written, &factor.unit),
        Cell::Text(text, _) => text.to_string(),
    }
}

fn written(value: f64, unit: &Unit) -> String {
    match unit.text() {
        "1" => value.to_string(),
        "%" => format!("{value}%"),
        unit => format!("{value} {unit}"),
    }
}

/// A factor with another value. Nobody has published it: it is the estimator's own.
fn with_value(was: &Factor, written: f64, unit: Unit) -> Option<Cell> {
    let quantity = unit.quantity(written).ok()?;
    Some(Cell::Factor(Arc::new(Factor {
        name: was.name.clone(),
        quantity,
        written,
        unit,
        source: FactorSource::Company,
        span: was.span,
    })))
}

#[cfg(test)]
mod tests;
