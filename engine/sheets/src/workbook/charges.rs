//! The sheet of what the rules add to the price. There is none where they add nothing. It is not for
//! the client, whose bid has these sums in its price.

use super::addresses::Addresses;
use super::page::{Column, Frame, HEAD_ROW, Page, lines_of};
use super::style::Look;
use super::workings;
use parge_calc::live::Goes;
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Charges";

const AMOUNT: usize = 1;

/// The amounts, as the summary refers to them.
pub(super) fn amounts(estimate: &Estimate) -> Option<String> {
    let lines = estimate.charges.len();
    (lines > 0).then(|| lines_of(NAME, AMOUNT, lines))
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let money = Look::money(estimate.currency);
    let columns = vec![
        Column::text("Charge", 60.0),
        Column::number(format!("Amount, {}", estimate.currency.code()), money),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.note(
        "What rules add to the price, before minimum, rounding and tax: see sheet Workings.",
    )?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let digits = estimate.currency.decimals();
    for (number, charge) in estimate.charges.iter().enumerate() {
        page.blank()?;
        page.text(0, &charge.name)?;
        let sum = workings::sum_of(of, 0, Goes::Charge(number));
        let formula = format!("=ROUND({sum},{digits})");
        page.formula(AMOUNT, &formula, charge.amount.to_f64())?;
        page.next()?;
    }
    page.total("All charges")?;
    page.sum(AMOUNT, estimate.price.charges.to_f64())?;
    page.end()
}
