//! Writing the tables of the change order: header rows, lines with their difference, totals.

use super::super::page::{Page, at};
use super::super::style::{self, Look};
use super::HEAD;
use parge_base::number::round_to;
use parge_base::{Currency, Money};
use parge_calc::change::{Both, Changes};
use rust_xlsxwriter::utility::row_col_to_cell;
use rust_xlsxwriter::{Format, Formula, XlsxError};

const ITEM: usize = 0;
pub(super) const WHAT: usize = 1;
const BEFORE: usize = 2;
const AFTER: usize = 3;
pub(super) const DIFFERENCE: usize = 4;

const NO_PRICE: &str = "no price";

/// The sheet, written from the top down.
pub(super) struct Order<'w, 'c> {
    pub(super) page: Page<'w>,
    pub(super) changes: &'c Changes,
}

/// What a cell before or after holds.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Figure {
    Number(f64),
    /// Needed, and without a price.
    Open,
}

impl Figure {
    /// A figure of something: nothing of it is zero, and what has no figure is open.
    pub(super) fn of<T>(found: Option<T>, figure: impl Fn(T) -> Option<f64>) -> Self {
        match found.map(figure) {
            None => Self::Number(0.0),
            Some(Some(number)) => Self::Number(number),
            Some(None) => Self::Open,
        }
    }
}

/// A line of figures.
pub(super) struct Line<'l> {
    pub(super) item: &'l str,
    /// What the figures are in; two that differ leave no difference.
    pub(super) units: Both<&'l str>,
    /// What is said behind the unit.
    pub(super) note: &'l str,
    pub(super) figures: Both<Figure>,
    pub(super) look: Look,
}

impl Order<'_, '_> {
    /// The header row of a table, with a line of room above all but the first.
    pub(super) fn head(
        &mut self,
        item: &str,
        rest: [&str; 4],
        figures: bool,
    ) -> Result<(), XlsxError> {
        if self.page.row() > HEAD + 1 {
            self.page.next()?;
        }
        let row = match self.page.row() {
            // The first header is there already, as the page wants it.
            first if first == HEAD + 1 => HEAD,
            row => row,
        };
        for (column, text) in [item].into_iter().chain(rest).enumerate() {
            let format = match figures && column >= BEFORE {
                true => style::head(Look::Count),
                false if column > 0 => style::head(Look::Text).set_indent(1),
                false => style::head(Look::Text),
            };
            self.page
                .sheet
                .write_string_with_format(row, at(column), text, &format)?;
        }
        if row > HEAD {
            self.page.next()?;
        }
        Ok(())
    }

    /// A line of money.
    pub(super) fn money(&mut self, item: &str, figures: Both<Figure>) -> Result<(), XlsxError> {
        let currency = self.changes.sides.as_ref().map(|side| side.currency);
        self.line(&Line {
            item,
            units: currency.map(Currency::code),
            note: "",
            figures,
            look: Look::money(currency.new),
        })
    }

    /// A line with its difference, which is a formula.
    pub(super) fn line(&mut self, line: &Line<'_>) -> Result<(), XlsxError> {
        let Both { old, new } = line.units;
        let one_unit = old == new;
        let unit = match one_unit {
            true => format!("{new}{}", line.note),
            false => format!("{old}, then {new}{}", line.note),
        };
        self.page.blank()?;
        self.page.text(ITEM, line.item)?;
        self.page.text(WHAT, &unit)?;
        let format = style::body(line.look);
        self.figure(BEFORE, line.figures.old, &format)?;
        self.figure(AFTER, line.figures.new, &format)?;
        match (line.figures.old, line.figures.new) {
            (Figure::Number(old), Figure::Number(new)) if one_unit => {
                self.difference(new - old, line.look, &format)?;
            }
            _ => {}
        }
        self.page.next()
    }

    fn figure(&mut self, column: usize, figure: Figure, format: &Format) -> Result<(), XlsxError> {
        let (row, column) = (self.page.row(), at(column));
        let sheet = &mut self.page.sheet;
        match figure {
            Figure::Number(number) => {
                sheet.write_number_with_format(row, column, number, format)?
            }
            Figure::Open => sheet.write_string_with_format(row, column, NO_PRICE, format)?,
        };
        Ok(())
    }

    /// After less before, with its sign, rounded to what is shown so that no binary noise is left of it.
    fn difference(&mut self, result: f64, look: Look, format: &Format) -> Result<(), XlsxError> {
        let [before, after] = [BEFORE, AFTER].map(|column| self.page.here(column));
        let digits = match look {
            Look::Decimals(digits) => digits,
            _ => 0,
        };
        let places = match digits {
            0 => String::new(),
            digits => format!(".{}", "0".repeat(digits as usize)),
        };
        let signed = format!("+#,##0{places};-#,##0{places};\u{2013}");
        let format = format.clone().set_num_format(signed);
        let formula = Formula::new(format!("=ROUND({after}-{before},{digits})"))
            .set_result(round_to(result, digits).to_string());
        let (row, column) = (self.page.row(), at(DIFFERENCE));
        self.page
            .sheet
            .write_formula_with_format(row, column, formula, &format)?;
        Ok(())
    }

    /// The sums of the lines from `first` on, with their difference.
    pub(super) fn total(
        &mut self,
        label: &str,
        first: u32,
        sums: Both<Money>,
    ) -> Result<(), XlsxError> {
        let row = self.page.row();
        let last = row.saturating_sub(1);
        let words = style::total(Look::Text);
        let currency = sums.map(Money::currency);
        let look = Look::money(currency.new);
        let format = style::total(look);
        let unit = match currency.old == currency.new {
            true => currency.new.code().to_owned(),
            false => format!("{}, then {}", currency.old.code(), currency.new.code()),
        };
        let sheet = &mut self.page.sheet;
        sheet.write_string_with_format(row, at(ITEM), label, &words)?;
        sheet.write_string_with_format(row, at(WHAT), unit, &words.clone().set_indent(1))?;
        sheet.write_blank(row, at(DIFFERENCE), &format)?;
        for (column, sum) in [(BEFORE, sums.old), (AFTER, sums.new)] {
            let [from, to] = [first, last].map(|row| row_col_to_cell(row, at(column)));
            let formula =
                Formula::new(format!("=SUM({from}:{to})")).set_result(sum.to_f64().to_string());
            sheet.write_formula_with_format(row, at(column), formula, &format)?;
        }
        if let Ok(difference) = sums.new.minus(sums.old) {
            self.difference(difference.to_f64(), look, &format)?;
        }
        self.page.next()
    }
}
