//! The workbook of many jobs: a row a job, and what they come to by currency. The sums are formulas
//! over the rows.

use super::page::{Column, Frame, HEAD_ROW, Page, lines_of};
use super::rows::COMPRESSION;
use super::style::{self, Look};
use super::{SheetError, check_room, properties_of};
use crate::jobs::{Figures, FirstError, JobRow, Jobs, Sums, Total};
use parge_base::Money;
use parge_calc::price::Status;
use rust_xlsxwriter::{Workbook, XlsxError};

const JOBS: &str = "Jobs";
const TOTALS: &str = "Totals";

// Columns of the jobs.
const MATERIALS: usize = 6;
const LABOUR: usize = 7;
const TOTAL: usize = 8;
const CURRENCY: usize = 9;
const STATUS: usize = 10;
const ERRORS: usize = 11;
const WARNINGS: usize = 12;
const FIRST: usize = 13;

/// The workbook of many jobs as the bytes of an xlsx file.
pub fn jobs_workbook(jobs: &Jobs) -> Result<Vec<u8>, SheetError> {
    check_room(JOBS, jobs.rows.len())?;
    let frame = Frame::of_many(line(jobs));
    let mut book = Workbook::new();
    book.set_properties(&properties_of(JOBS)?);
    book.set_zip_compression_level(COMPRESSION);
    // An amount is shown with all digits of its currency, whichever stand in the column.
    let currencies = jobs.totals();
    let digits = currencies.iter().map(|total| total.currency.decimals());
    let money = Look::Decimals(digits.max().unwrap_or(0));
    let mut page = Page::begin(book.add_worksheet(), &frame, JOBS, columns(money))?;
    rows(&mut page, jobs)?;
    page.end()?;
    totals(&mut book, &frame, jobs, &currencies, money)?;
    Ok(crate::seal::seal(book.save_to_buffer()?))
}

/// What stands under the titles.
fn line(jobs: &Jobs) -> String {
    let count = |count: usize, word: &str| match count {
        1 => format!("1 {word}"),
        more => format!("{more} {word}s"),
    };
    match jobs.failed() {
        0 => count(jobs.rows.len(), "job"),
        failed => format!(
            "{}, {failed} of them NOT estimated and in no sum",
            count(jobs.rows.len(), "job")
        ),
    }
}

fn columns(money: Look) -> Vec<Column> {
    vec![
        Column::text("Plan", 40.0),
        Column::text("Job", 32.0),
        Column::text("Client", 28.0),
        Column::number("Faces", Look::Count),
        Column::number("Net area", Look::Decimals(1)),
        Column::text("Unit", 8.0),
        Column::number("Materials", money),
        Column::number("Labour", money),
        Column::number("Total", money),
        Column::text("Currency", 10.0),
        Column::text("Status", 14.0),
        Column::number("Errors", Look::Count),
        Column::number("Warnings", Look::Count),
        Column::text("First error", 60.0),
    ]
}

fn rows(page: &mut Page<'_>, jobs: &Jobs) -> Result<(), XlsxError> {
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for row in &jobs.rows {
        page.blank()?;
        page.text(0, &row.plan)?;
        page.text(1, &row.name)?;
        page.text(2, row.client.as_deref().unwrap_or_default())?;
        if let Some(found) = &row.figures {
            figures(page, found)?;
        }
        page.text(STATUS, status(row))?;
        page.number(ERRORS, row.errors as f64)?;
        page.number(WARNINGS, row.warnings as f64)?;
        let first = row.first.as_ref().map_or(String::new(), FirstError::words);
        page.text(FIRST, &first)?;
        page.next()?;
    }
    Ok(())
}

fn figures(page: &mut Page<'_>, figures: &Figures) -> Result<(), XlsxError> {
    page.number(3, figures.faces as f64)?;
    page.number(4, figures.net_area)?;
    page.text(5, &crate::shown::print_unit(figures.area_unit))?;
    page.number(MATERIALS, figures.materials.to_f64())?;
    page.number(LABOUR, figures.labour.to_f64())?;
    page.number(TOTAL, figures.total.to_f64())?;
    page.text(CURRENCY, figures.total.currency().code())
}

/// What is not fine is written large.
fn status(row: &JobRow) -> &'static str {
    match row.figures.map(|figures| figures.status) {
        Some(Status::Complete) => "complete",
        Some(Status::Incomplete) => INCOMPLETE,
        None => "FAILED",
    }
}

const INCOMPLETE: &str = "INCOMPLETE";

/// What the jobs of each currency come to.
fn totals(
    book: &mut Workbook,
    frame: &Frame,
    jobs: &Jobs,
    totals: &[Total],
    money: Look,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("Currency", 12.0),
        Column::number("Jobs", Look::Count),
        Column::number("Incomplete", Look::Count),
        Column::number("Materials", money),
        Column::number("Labour", money),
        Column::number("Total", money),
    ];
    let mut page = Page::begin(book.add_worksheet(), frame, TOTALS, columns)?;
    if totals.iter().any(|total| total.incomplete > 0) {
        page.sheet.write_string_with_format(
            HEAD_ROW - 1,
            0,
            "INCOMPLETE: lines without a price are in no sum",
            &style::alarm(),
        )?;
    }
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let of = |column: usize| lines_of(JOBS, column, jobs.rows.len());
    for total in totals {
        page.blank()?;
        page.text(0, total.currency.code())?;
        let here = page.here(0);
        let same = format!("{},{here}", of(CURRENCY));
        page.formula(1, &format!("=COUNTIFS({same})"), total.jobs as f64)?;
        let open = format!("=COUNTIFS({same},{},\"{INCOMPLETE}\")", of(STATUS));
        page.formula(2, &open, total.incomplete as f64)?;
        for (column, lines, sum) in SUMS {
            match total.sums {
                Some(sums) => {
                    let formula = format!("=SUMIFS({},{same})", of(lines));
                    page.formula(column, &formula, sum(sums).to_f64())?;
                }
                None => page.text(column, TOO_LARGE)?,
            }
        }
        page.next()?;
    }
    if totals.is_empty() {
        page.nothing("none")?;
    }
    page.end()
}

/// Stands for a sum with more digits than are counted with.
const TOO_LARGE: &str = "too large";

/// The columns of sums, each with the column of the jobs that it sums, and its result.
const SUMS: [(usize, usize, SumOf); 3] = [
    (3, MATERIALS, |sums| sums.materials),
    (4, LABOUR, |sums| sums.labour),
    (5, TOTAL, |sums| sums.total),
];

type SumOf = fn(Sums) -> Money;
