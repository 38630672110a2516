//! The sheet of labour: hours by phase, at one wage. Of a crew paid by classes that is the mean of
//! the classes, which stand with people and wages above the table.

use super::addresses::Addresses;
use super::materials::{NO_PRICE, total};
use super::page::{Column, Frame, HEAD_ROW, Page, at, cell_of, fixed, lines_between};
use super::style::{self, Look};
use super::workings;
use crate::shown;
use parge_base::number::round_to;
use parge_calc::crew::{MEAN_DIGITS, PaidClass};
use parge_calc::live::Goes;
use parge_calc::price::{Estimate, LabourLine};
use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::utility::cell_range_absolute;
use rust_xlsxwriter::{Formula, Worksheet, XlsxError};

pub(super) const NAME: &str = "Labour";

/// What stands in place of a wage.
const NO_WAGE: &str = "no wage";

/// Where the wage is typed in or reckoned, above the table.
const WAGE_ROW: u32 = 2;
const WAGE_COLUMN: usize = 1;

const HOURS: usize = 1;
const WAGE: usize = 2;
const COST: usize = 3;
const OPEN: usize = 4;
const LINE: usize = 5;

/// The wage of an hour, as other sheets refer to it.
pub(super) fn wage_cell() -> String {
    format!("{NAME}!{}", fixed(WAGE_ROW, WAGE_COLUMN))
}

/// The sum of the hours, as other sheets refer to it.
pub(super) fn hours_sum(estimate: &Estimate) -> String {
    format!("SUM({})", lines(estimate, HOURS))
}

/// The people of the wage classes, and how many classes there are; none without classes.
pub(super) fn people(estimate: &Estimate) -> Option<(String, usize)> {
    let classes = estimate.classes.len();
    let rows = u32::try_from(classes).ok().filter(|rows| *rows > 0)?;
    let range = cell_range_absolute(WAGE_ROW + 2, at(HOURS), WAGE_ROW + 1 + rows, at(HOURS));
    Some((format!("{NAME}!{range}"), classes))
}

/// The hours of a line, as another sheet refers to them.
pub(super) fn hours_of(estimate: &Estimate, line: usize) -> String {
    cell_of(NAME, HOURS, class_rows(estimate) + line)
}

/// The cost of a line, as another sheet refers to it.
pub(super) fn cost_of(estimate: &Estimate, line: usize) -> String {
    cell_of(NAME, COST, class_rows(estimate) + line)
}

/// Phases and hours, for a chart.
pub(super) fn bars(estimate: &Estimate) -> [String; 2] {
    [0, HOURS].map(|column| lines(estimate, column))
}

/// The costs, as the summary refers to them.
pub(super) fn costs(estimate: &Estimate) -> String {
    lines(estimate, COST)
}

/// The marks of lines without a price, as the summary refers to them.
pub(super) fn marks(estimate: &Estimate) -> String {
    lines(estimate, OPEN)
}

/// At least one: a sheet without lines says so in one.
fn lines(estimate: &Estimate, column: usize) -> String {
    let lines = estimate.labour.len().max(1);
    lines_between(NAME, column, class_rows(estimate), lines)
}

/// The rows that the classes take above the table: their header, themselves, and an empty one.
fn class_rows(estimate: &Estimate) -> usize {
    match estimate.classes.len() {
        0 => 0,
        classes => classes + 2,
    }
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
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
        Column::text("Line", 8.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    let label = format!("Wage of an hour before burden, {money}");
    page.widen(0, label.chars().count() as f64);
    page.sheet
        .write_string_with_format(WAGE_ROW, 0, &label, &style::fact_name())?;
    let (row, column) = (WAGE_ROW, WAGE_COLUMN as u16);
    let format = style::input(wage_look);
    match wage {
        _ if !estimate.classes.is_empty() => write_classes(&mut page, estimate)?,
        Some(wage) => {
            let wage = wage.to_f64();
            page.sheet
                .write_number_with_format(row, column, wage, &format)?;
        }
        None => {
            page.sheet.write_blank(row, column, &format)?;
        }
    };
    let rows = u32::try_from(class_rows(estimate)).unwrap_or(u32::MAX - HEAD_ROW);
    let wage_said = "a wage that is not below 0";
    page.numbers_between([WAGE_ROW; 2], WAGE_COLUMN, [0.0, 1e6], wage_said)?;
    page.header(HEAD_ROW + rows)?;
    page.freeze()?;
    for (number, line) in estimate.labour.iter().enumerate() {
        write_line(&mut page, number, line, estimate, of)?;
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

/// People and wages of the classes, and the mean that every hour is paid with.
fn write_classes(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let money = estimate.currency.code();
    let heads = [
        "Wage class".to_owned(),
        "People".to_owned(),
        format!("Wage of an hour, {money}"),
        format!("Of all people, {money}"),
        "No wage".to_owned(),
    ];
    for (column, head) in heads.iter().enumerate() {
        page.sheet
            .write_string_with_format(WAGE_ROW + 1, at(column), head, &style::fact_name())?;
    }
    let mut row = WAGE_ROW + 1;
    for class in &estimate.classes {
        row += 1;
        write_class(page, row, class, estimate)?;
    }
    let range = |column: usize| cell_range_absolute(WAGE_ROW + 2, at(column), row, at(column));
    let (people, sums, open) = (range(HOURS), range(COST), range(OPEN));
    let digits = estimate.currency.decimals() + MEAN_DIGITS;
    let mean = format!("=IF(SUM({open})>0,\"\",ROUND(SUM({sums})/SUM({people}),{digits}))");
    let wage = estimate.price.wage;
    let result = wage.map_or(String::new(), |wage| wage.to_price_text());
    let look = Look::Decimals(wage.map_or(digits, shown::price_decimals));
    page.sheet.write_formula_with_format(
        WAGE_ROW,
        at(WAGE_COLUMN),
        Formula::new(mean).set_result(result),
        &style::body(look),
    )?;
    Ok(())
}

fn write_class(
    page: &mut Page<'_>,
    row: u32,
    class: &PaidClass,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    page.widen(0, class.name.chars().count() as f64);
    page.sheet
        .write_string_with_format(row, 0, &class.name, &style::body(Look::Text))?;
    let people = class.people.to_f64().unwrap_or(f64::MAX);
    let whole = style::input(Look::Decimals(0));
    page.sheet
        .write_number_with_format(row, at(HOURS), people, &whole)?;
    let digits = class
        .wage
        .map_or(estimate.currency.decimals(), shown::price_decimals);
    let format = style::input(Look::Decimals(digits));
    let (wage_cell, people_cell) = (fixed(row, WAGE), fixed(row, HOURS));
    let hour = class.wage.map(|wage| wage.to_f64() * people);
    match class.wage {
        Some(wage) => {
            let wage = wage.to_f64();
            page.sheet
                .write_number_with_format(row, at(WAGE), wage, &format)?;
        }
        None => {
            page.sheet.write_blank(row, at(WAGE), &format)?;
        }
    }
    // An emptied cell must not count as a wage of nothing.
    let sum = format!("=IF({wage_cell}=\"\",\"{NO_WAGE}\",{people_cell}*{wage_cell})");
    let mark = format!("=IF({wage_cell}=\"\",1,0)");
    let said = hour.map_or(NO_WAGE.to_owned(), |hour| hour.to_string());
    let open = if hour.is_none() { "1" } else { "0" };
    let look = Look::Decimals(digits);
    for (column, formula, result, look) in [
        (COST, sum, said.as_str(), look),
        (OPEN, mark, open, Look::Mark),
    ] {
        let formula = Formula::new(formula).set_result(result);
        let format = style::body(look);
        page.sheet
            .write_formula_with_format(row, at(column), formula, &format)?;
    }
    Ok(())
}

/// Hours as they are paid, from the workings.
pub(super) fn paid_hours(of: &Addresses<'_>, version: usize, line: usize) -> String {
    let sum = workings::sum_of(of, version, Goes::Hours(line));
    format!("ROUND(ROUND({sum},9),2)")
}

fn write_line(
    page: &mut Page<'_>,
    number: usize,
    line: &LabourLine,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let wage_cell = fixed(WAGE_ROW, WAGE_COLUMN);
    let [hours, wage, cost] = [HOURS, WAGE, COST].map(|column| page.here(column));
    page.text(0, &line.labour.description)?;
    let worked = format!("={}", paid_hours(of, 0, number));
    page.formula(HOURS, &worked, line.labour.hours)?;
    page.text(LINE, &format!("L{}", number + 1))?;
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
