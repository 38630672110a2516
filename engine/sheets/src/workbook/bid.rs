//! The sheet of what the bid says beside quantities and prices: allowances, alternates,
//! exclusions, notes and terms, and the cautions that are for the client. There is none where the
//! estimate has none of them.

use super::addresses::Addresses;
use super::page::{Column, Frame, HEAD_ROW, Page, at, lines_between, lines_of};
use super::style::{self, Look};
use super::{alternates, workings};
use parge_calc::alternates::PricedAlternate;
use parge_calc::live::Goes;
use parge_calc::price::Estimate;
use parge_calc::takeoff::Caution;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Bid";

const WHAT: usize = 1;
const AMOUNT: usize = 2;

/// The lines that the sheet takes.
pub(super) fn lines(estimate: &Estimate) -> usize {
    let content = &estimate.takeoff.measured.job.content;
    let sentences = content.exclusions.len() + content.notes.len() + content.terms.len();
    let cautions = estimate
        .alternates
        .iter()
        .map(|alternate| for_client(&alternate.cautions).count());
    let alternates = estimate.alternates.len() + cautions.sum::<usize>();
    let cautions = for_client(&estimate.takeoff.cautions).count();
    content.allowances.len() + estimate.charges.len() + alternates + sentences + cautions
}

/// The sheet is the client's: what only the crew must know stands on the sheet of cautions.
fn for_client(cautions: &[Caution]) -> impl Iterator<Item = &Caution> {
    let all = cautions.iter();
    all.filter(|caution| caution.audience.has_client())
}

/// The sums set aside, as the summary refers to them. They are the first lines of the sheet.
pub(super) fn allowances(estimate: &Estimate) -> Option<String> {
    let lines = estimate.takeoff.measured.job.content.allowances.len();
    (lines > 0).then(|| lines_of(NAME, AMOUNT, lines))
}

/// What the rules add, as the summary refers to it. These lines follow the sums set aside.
pub(super) fn charges(estimate: &Estimate) -> Option<String> {
    let before = estimate.takeoff.measured.job.content.allowances.len();
    let lines = estimate.charges.len();
    (lines > 0).then(|| lines_between(NAME, AMOUNT, before, lines))
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let look = Look::money(estimate.currency);
    let columns = vec![
        Column::text("Kind", 14.0),
        Column::text("What", 96.0),
        Column::number(format!("Amount, {}", estimate.currency.code()), look),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.widen(AMOUNT, 14.0);
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let content = &estimate.takeoff.measured.job.content;
    for allowance in &content.allowances {
        line(&mut page, "allowance", &allowance.name)?;
        let (row, amount) = (page.row(), allowance.amount.to_f64());
        page.sheet
            .write_number_with_format(row, at(AMOUNT), amount, &style::input(look))?;
        page.next()?;
    }
    let digits = estimate.currency.decimals();
    for (number, charge) in estimate.charges.iter().enumerate() {
        line(&mut page, "charge", &format!("{}, by a rule", charge.name))?;
        let sum = workings::sum_of(of, 0, Goes::Charge(number));
        page.formula(
            AMOUNT,
            &format!("=ROUND({sum},{digits})"),
            charge.amount.to_f64(),
        )?;
        page.next()?;
    }
    let mut version = 0;
    for priced in &estimate.alternates {
        let sheet = priced.estimate.as_deref().map(|estimate| {
            version += 1;
            alternates::difference(version, estimate)
        });
        alternate(&mut page, priced, sheet.as_deref())?;
    }
    let sentences = [
        ("excluded", &content.exclusions),
        ("note", &content.notes),
        ("terms", &content.terms),
    ];
    for (kind, texts) in sentences {
        for text in texts {
            line(&mut page, kind, text)?;
            page.next()?;
        }
    }
    for caution in for_client(&estimate.takeoff.cautions) {
        line(&mut page, "caution", &caution.text)?;
        page.next()?;
    }
    page.end()
}

/// An alternate with its difference, which stands on a sheet of its own.
fn alternate(
    page: &mut Page<'_>,
    alternate: &PricedAlternate,
    difference: Option<&str>,
) -> Result<(), XlsxError> {
    let changes = alternate.changes.join("; ");
    let effect = match difference {
        None => "a line of it has no price",
        Some(_) => "this is added to the total, or taken off it",
    };
    let text = format!("{} ({changes}): {effect}", alternate.name);
    line(page, "alternate", &text)?;
    if let (Some(cell), Some(amount)) = (difference, alternate.difference) {
        page.formula(AMOUNT, &format!("={cell}"), amount.to_f64())?;
    }
    page.next()?;
    for caution in for_client(&alternate.cautions) {
        line(
            page,
            "caution",
            &format!("{}: {}", alternate.name, caution.text),
        )?;
        page.next()?;
    }
    Ok(())
}

fn line(page: &mut Page<'_>, kind: &str, text: &str) -> Result<(), XlsxError> {
    page.blank()?;
    page.text(0, kind)?;
    page.text(WHAT, text)
}
