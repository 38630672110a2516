//! The price as the client sees it: the work as what the total has beside allowances and tax.

use super::{AMOUNT, DETAIL, Page, WHAT, alarm_if_said, allowance_cells, first_allowance, title};
use crate::shown;
use crate::workbook::style;
use crate::workbook::summary;
use parge_base::number::round_to;
use parge_calc::job::{Job, Taxable};
use parge_calc::price::Estimate;
use rust_decimal::Decimal;
use rust_xlsxwriter::{Formula, XlsxError};

/// The share of the total that is taxed beside the price. A tax on materials would tell what they
/// cost, so it stands in the price.
fn tax_beside(job: &Job) -> Option<Decimal> {
    match job.bid.tax {
        Some((rate, Taxable::Total)) if !rate.is_zero() => Some(rate),
        _ => None,
    }
}

pub(super) fn write(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let job = &estimate.takeoff.measured.job;
    title(page, "Price")?;
    let tax = tax_beside(job);
    if !job.content.allowances.is_empty() {
        work(page, estimate, tax.is_some())?;
        debug_assert_eq!(page.row(), first_allowance(estimate));
    }
    for allowance in &job.content.allowances {
        page.blank()?;
        page.text(WHAT, &allowance.name)?;
        page.text(DETAIL, "allowance")?;
        page.input_number(AMOUNT, allowance.amount.to_f64())?;
        page.next()?;
    }
    if let Some(rate) = tax {
        taxed(page, estimate, rate)?;
    }
    total(page, estimate)?;
    if tax.is_none() {
        tax_note(page, estimate)?;
    }
    expected(page, estimate)
}

/// The work is what is left of the total, so that the lines add to it whatever is changed.
fn work(page: &mut Page<'_>, estimate: &Estimate, is_taxed: bool) -> Result<(), XlsxError> {
    let price = &estimate.price;
    let digits = estimate.currency.decimals();
    let (mut formula, mut left) = (summary::ladder().total_cell(), price.total.to_f64());
    if is_taxed {
        formula += &format!("-{}", summary::ladder().tax_cell());
        left -= price.tax.to_f64();
    }
    if let Some(cells) = allowance_cells(estimate) {
        formula += &format!("-SUM({cells})");
        left -= price.allowances.to_f64();
    }
    page.blank()?;
    page.text(WHAT, "The work described here")?;
    let formula = format!("=ROUND({formula},{digits})");
    page.formula(AMOUNT, &formula, round_to(left, digits))?;
    page.next()
}

fn taxed(page: &mut Page<'_>, estimate: &Estimate, rate: Decimal) -> Result<(), XlsxError> {
    let ladder = summary::ladder();
    let (total, tax) = (ladder.total_cell(), ladder.tax_cell());
    let (price, digits) = (&estimate.price, estimate.currency.decimals());
    let before = round_to(price.total.to_f64() - price.tax.to_f64(), digits);
    page.blank()?;
    page.text(WHAT, "Total before tax")?;
    page.formula(AMOUNT, &format!("=ROUND({total}-{tax},{digits})"), before)?;
    page.next()?;
    page.blank()?;
    // A rate has nine decimals at most.
    let words = format!("=\"Tax, \"&ROUND({}*100,7)&\"%\"", ladder.tax_rate());
    let percent = (rate * Decimal::ONE_HUNDRED).normalize();
    page.formula_saying(WHAT, &words, &format!("Tax, {percent}%"))?;
    page.formula(AMOUNT, &format!("={tax}"), price.tax.to_f64())?;
    page.next()
}

fn total(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    page.total("Total")?;
    let said = match shown::open_lines(estimate) {
        0 => String::new(),
        open => shown::status(open),
    };
    let words = format!(
        "=IF({},\"\",{})",
        summary::is_a_price(),
        summary::status_cell()
    );
    page.formula_saying(DETAIL, &words, &said)?;
    let total = estimate.price.total.to_f64();
    let cell = summary::ladder().total_cell();
    page.formula(AMOUNT, &format!("={cell}"), total)?;
    let row = page.row();
    alarm_if_said(page, row, DETAIL, [WHAT, AMOUNT])?;
    page.next()
}

/// Whether a tax is in the total; one may be typed in on the summary later.
fn tax_note(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    const NONE: &str = "No tax is in the price.";
    let taxed = match estimate.takeoff.measured.job.bid.tax {
        Some((_, Taxable::Materials)) => "Tax on the materials is in the price.",
        _ => "Tax is in the price.",
    };
    let said = match estimate.price.tax.amount().is_zero() {
        true => NONE,
        false => taxed,
    };
    let tax = summary::ladder().tax_cell();
    let formula = Formula::new(format!("=IF({tax}=0,\"{NONE}\",\"{taxed}\")")).set_result(said);
    let row = page.row();
    page.sheet
        .write_formula_with_format(row, 0, formula, &style::note())?;
    page.next()
}

/// Between which amounts the final price is expected, where the plan states a class.
fn expected(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let Some(range) = &estimate.range else {
        return Ok(());
    };
    let class = format!("class {} estimate, AACE 18R-97", range.class.number());
    let ends = ["The final price is expected between", "and"];
    for ((what, amount), cell) in ends
        .into_iter()
        .zip(range.outer)
        .zip(summary::expected_cells())
    {
        page.blank()?;
        page.text(WHAT, what)?;
        page.text(DETAIL, &class)?;
        page.formula(AMOUNT, &format!("={cell}"), amount.to_f64())?;
        page.next()?;
    }
    Ok(())
}
