//! The bid for the client on a sheet: what is done, what it costs, what may be chosen instead, what
//! is not in it, and what must be known. It shows what the page of the bid shows, and every figure
//! follows the other sheets: no cost, overhead or profit, and a tax only where it is on the total.

mod price;
mod scope;

use super::page::{Column, Frame, Page, at, fixed};
use super::style::{self, Look};
use super::{alternates, clean, summary};
use crate::shown;
use parge_calc::alternates::PricedAlternate;
use parge_calc::job::Job;
use parge_calc::price::Estimate;
use parge_calc::takeoff::Caution;
use rust_xlsxwriter::utility::cell_range_absolute;
use rust_xlsxwriter::{ConditionalFormatFormula, Formula, Worksheet, XlsxError};

pub(super) const NAME: &str = "Bid";

const WHAT: usize = 0;
const DETAIL: usize = 1;
const QUANTITY: usize = 2;
const UNIT: usize = 3;
const AMOUNT: usize = 4;

/// Rows above the table, from 0.
const STATUS: u32 = 2;
const FACTS: u32 = 3;

/// The lines of a section beside its content: an empty one, and its title.
const SECTION: usize = 2;

/// Titles, totals and notes, at most.
const OTHER_LINES: usize = 40;

/// The lines that the sheet takes, at most.
pub(super) fn lines(estimate: &Estimate) -> usize {
    let content = &estimate.takeoff.measured.job.content;
    let sentences = content.exclusions.len() + content.notes.len() + content.terms.len();
    let cautions = estimate
        .alternates
        .iter()
        .map(|alternate| for_client(&alternate.cautions).count());
    let alternates = estimate.alternates.len() + cautions.sum::<usize>();
    let cautions = for_client(&estimate.takeoff.cautions).count();
    let price = content.allowances.len() + alternates;
    scope::lines(estimate) + price + sentences + cautions + OTHER_LINES
}

/// The sheet is the client's: what only the crew must know stands on the sheet of cautions.
fn for_client(cautions: &[Caution]) -> impl Iterator<Item = &Caution> {
    let all = cautions.iter();
    all.filter(|caution| caution.audience.has_client())
}

/// The sums set aside, as the summary refers to them.
pub(super) fn allowances(estimate: &Estimate) -> Option<String> {
    let cells = allowance_cells(estimate)?;
    Some(format!("{NAME}!{cells}"))
}

/// The same on this sheet.
fn allowance_cells(estimate: &Estimate) -> Option<String> {
    let lines = estimate.takeoff.measured.job.content.allowances.len();
    let last = u32::try_from(lines.checked_sub(1)?).ok()?;
    let first = first_allowance(estimate);
    let column = at(AMOUNT);
    Some(cell_range_absolute(first, column, first + last, column))
}

/// They stand behind the header, the scope and the line of the work.
fn first_allowance(estimate: &Estimate) -> u32 {
    let before = 1 + SECTION + scope::lines(estimate) + SECTION + 1;
    head_row(&estimate.takeoff.measured.job) + u32::try_from(before).unwrap_or(u32::MAX / 2)
}

/// The row of the table's header: below the facts and an empty row.
fn head_row(job: &Job) -> u32 {
    FACTS + facts(job).count() as u32 + 1
}

/// For whom the bid is, where, and how long it holds.
fn facts(job: &Job) -> impl Iterator<Item = (&'static str, String)> {
    let until = job.valid_until.map(|until| until.node.to_string());
    let facts = [
        ("For", job.client.clone()),
        ("Site", job.site.clone()),
        ("Valid until", until),
    ];
    let stated = facts.into_iter();
    stated.filter_map(|(name, fact)| Some((name, fact?)))
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let money = Look::money(estimate.currency);
    let columns = vec![
        Column::text("What", 40.0),
        Column::text("Details", 34.0),
        Column::number("Quantity", Look::Decimals(1)),
        Column::text("Unit", 8.0),
        Column::number(format!("Amount, {}", estimate.currency.code()), money),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.sheet.set_portrait();
    for (column, width) in [
        (WHAT, 40.0),
        (DETAIL, 34.0),
        (QUANTITY, 10.0),
        (AMOUNT, 14.0),
    ] {
        page.widen(column, width);
    }
    let job = &estimate.takeoff.measured.job;
    status(&mut page, estimate)?;
    write_facts(&mut page, job)?;
    page.header(head_row(job))?;
    page.freeze()?;
    scope::write(&mut page, estimate)?;
    price::write(&mut page, estimate)?;
    write_alternates(&mut page, estimate)?;
    let sentences = [
        ("Not in the price", &job.content.exclusions),
        ("Notes", &job.content.notes),
        ("Terms", &job.content.terms),
    ];
    for (title, texts) in sentences {
        section(&mut page, title, texts.iter().map(String::as_str))?;
    }
    let cautions = for_client(&estimate.takeoff.cautions).map(|caution| caution.text.as_str());
    let to_know = cautions.chain(shown::OF_EVERY_ESTIMATE);
    section(&mut page, "To know", to_know)?;
    page.end()
}

/// What keeps the total from being a price, in sight of everything. Nothing else stands there.
fn status(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    const SAID: &str = "No total on this sheet is a price to sign.";
    let words = summary::status_cell();
    let formula = format!("=IF({},\"\",{words}&\". {SAID}\")", summary::is_a_price());
    let text = match shown::open_lines(estimate) {
        0 => String::new(),
        open => format!("{}. {SAID}", shown::status(open)),
    };
    let formula = Formula::new(formula).set_result(text);
    page.sheet
        .write_formula_with_format(STATUS, 0, formula, &style::note())?;
    alarm_if_said(page, STATUS, WHAT, [WHAT, AMOUNT])
}

/// Makes cells of a row stand out while one of them says anything.
fn alarm_if_said(
    page: &mut Page<'_>,
    row: u32,
    said: usize,
    [first, last]: [usize; 2],
) -> Result<(), XlsxError> {
    let format = ConditionalFormatFormula::new()
        .set_rule(format!("={}<>\"\"", fixed(row, said)).as_str())
        .set_format(style::alarm());
    page.sheet
        .add_conditional_format(row, at(first), row, at(last), &format)?;
    Ok(())
}

fn write_facts(page: &mut Page<'_>, job: &Job) -> Result<(), XlsxError> {
    for (row, (name, fact)) in (FACTS..).zip(facts(job)) {
        page.sheet
            .write_string_with_format(row, at(WHAT), name, &style::fact_name())?;
        let fact = clean::clean(&fact);
        page.make_room(row, DETAIL, &fact)?;
        page.sheet
            .write_string_with_format(row, at(DETAIL), fact, &style::fact())?;
    }
    Ok(())
}

/// A title with an empty line above it.
fn title(page: &mut Page<'_>, text: &str) -> Result<(), XlsxError> {
    page.next()?;
    let row = page.row();
    page.sheet
        .write_string_with_format(row, at(WHAT), text, &style::section())?;
    page.next()
}

/// Sentences under a title; nothing where there are none.
fn section<'a>(
    page: &mut Page<'_>,
    name: &str,
    sentences: impl Iterator<Item = &'a str>,
) -> Result<(), XlsxError> {
    let mut sentences = sentences.peekable();
    if sentences.peek().is_none() {
        return Ok(());
    }
    title(page, name)?;
    for sentence in sentences {
        page.across(sentence, &style::body(Look::Text))?;
    }
    Ok(())
}

fn write_alternates(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    if estimate.alternates.is_empty() {
        return Ok(());
    }
    title(page, "Alternates")?;
    let note = "The client may choose these instead. None of them is in the total: each amount is \
                added to it or taken off.";
    page.across(note, &style::wrapped_note())?;
    let mut version = 0;
    for priced in &estimate.alternates {
        let sheet = priced.estimate.as_deref().map(|estimate| {
            version += 1;
            alternates::difference(version, estimate)
        });
        write_alternate(page, priced, sheet.as_deref())?;
    }
    Ok(())
}

/// An alternate with its difference, which stands on a sheet of its own.
fn write_alternate(
    page: &mut Page<'_>,
    alternate: &PricedAlternate,
    difference: Option<&str>,
) -> Result<(), XlsxError> {
    page.blank()?;
    page.text(WHAT, &alternate.name)?;
    let mut details = alternate.changes.join("\n");
    match difference.zip(alternate.difference) {
        Some((cell, amount)) => page.formula(AMOUNT, &format!("={cell}"), amount.to_f64())?,
        None => details += "\nINCOMPLETE: a line has no price",
    }
    page.text(DETAIL, &details)?;
    page.next()?;
    for caution in for_client(&alternate.cautions) {
        let text = format!("{}: {}", alternate.name, caution.text);
        page.across(&text, &style::wrapped_note())?;
    }
    Ok(())
}
