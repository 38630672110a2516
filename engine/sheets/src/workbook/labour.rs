//! The sheet of labour: hours by phase, at one wage.

use super::materials::{NO_PRICE, total};
use super::page::{Column, Frame, HEAD_ROW, Page, fixed, lines_of};
use super::style::{self, Look};
use crate::shown;
use parge_base::number::round_to;
use parge_calc::price::{Estimate, LabourLine};
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Labour";

/// What stands in place of a wage.
const NO_WAGE: &str = "no wage";

/// Where the wage is typed in, above the table.
const WAGE_ROW: u32 = 2;
const WAGE_COLUMN: usize = 1;

const HOURS: usize = 1;
const WAGE: usize = 2;
const COST: usize = 3;
const OPEN: usize = 4;

/// The costs, as the summary refers to them.
pub(super) fn costs(estimate: &Estimate) -> String {
    lines_of(NAME, COST, estimate.labour.len())
}

/// The marks of lines without a price, as the summary refers to them.
pub(super) fn marks(estimate: &Estimate) -> String {
    lines_of(NAME, OPEN, estimate.labour.len())
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let money = estimate.currency.code();
    let digits = estimate.currency.decimals();
    let wage = estimate.price.wage;
    let wage_look = Look::Decimals(wage.map_or(digits, shown::price_decimals));
    let columns = vec![
        Column::text("Phase", 44.0),
        Column::number("Hours", Look::Decimals(2)),
        Column::number(format!("Wage of an hour, {money}"), wage_look),
        Column::number(format!("Cost, {money}"), Look::money(estimate.currency)),
        Column::number("No price", Look::Mark),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    let label = format!("Wage of an hour before burden, {money}");
    page.widen(0, label.chars().count() as f64);
    page.sheet
        .write_string_with_format(WAGE_ROW, 0, &label, &style::fact_name())?;
    let (row, column) = (WAGE_ROW, WAGE_COLUMN as u16);
    let format = style::input(wage_look);
    match wage {
        Some(wage) => page
            .sheet
            .write_number_with_format(row, column, wage.to_f64(), &format)?,
        None => page.sheet.write_blank(row, column, &format)?,
    };
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for line in &estimate.labour {
        write_line(&mut page, line, estimate)?;
    }
    if estimate.labour.is_empty() {
        page.nothing("no labour")?;
    }
    let hours: f64 = estimate.labour.iter().map(|line| line.labour.hours).sum();
    let open = estimate.labour.iter().filter(|line| line.cost.is_none());
    let open = open.count();
    total(&mut page, NAME, [COST, OPEN], open)?;
    page.sum(HOURS, round_to(hours, 2))?;
    page.sum(COST, estimate.price.labour.to_f64())?;
    page.sum(OPEN, open as f64)?;
    page.end()
}

fn write_line(
    page: &mut Page<'_>,
    line: &LabourLine,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let wage_cell = fixed(WAGE_ROW, WAGE_COLUMN);
    let [hours, wage, cost] = [HOURS, WAGE, COST].map(|column| page.here(column));
    page.text(0, &line.labour.description)?;
    page.number(HOURS, line.labour.hours)?;
    // An emptied cell must not count as a wage of nothing.
    let paid = format!("=IF({wage_cell}=\"\",\"{NO_WAGE}\",{wage_cell})");
    match estimate.price.wage {
        Some(amount) => page.formula(WAGE, &paid, amount.to_f64())?,
        None => page.formula_saying(WAGE, &paid, NO_WAGE)?,
    }
    let digits = estimate.currency.decimals();
    let priced = format!("=IF({wage}=\"{NO_WAGE}\",\"{NO_PRICE}\",ROUND({hours}*{wage},{digits}))");
    match line.cost {
        Some(amount) => page.formula(COST, &priced, amount.to_f64())?,
        None => page.formula_saying(COST, &priced, NO_PRICE)?,
    }
    let mark = format!("=IF({cost}=\"{NO_PRICE}\",1,0)");
    page.formula(OPEN, &mark, if line.cost.is_none() { 1.0 } else { 0.0 })?;
    page.next()
}
