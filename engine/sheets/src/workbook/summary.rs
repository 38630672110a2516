//! The summary: the job, whether every line is priced, and the way from cost to price.

use super::page::{Column, Frame, Page, at, fixed};
use super::style::{self, Look};
use super::{bid as bid_sheet, cautions, clean, factors, labour, materials};
use crate::shown;
use parge_calc::job::{Profit, Taxable};
use parge_calc::price::Estimate;
use parge_calc::takeoff::PackLabel;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::{ConditionalFormatFormula, Formula, Worksheet, XlsxError};

const NAME: &str = "Summary";

const BASIS: usize = 1;
const RATE: usize = 2;
const AMOUNT: usize = 3;

// Rows, from 0.
const STATUS: u32 = 2;
const FACTS: u32 = 4;
const HEAD: u32 = 13;
const MATERIALS: u32 = HEAD + 1;
const LABOUR: u32 = HEAD + 2;
const BURDEN: u32 = HEAD + 3;
const OVERHEAD: u32 = HEAD + 4;
const PROFIT: u32 = HEAD + 5;
const CHARGES: u32 = HEAD + 7;
const TAX: u32 = HEAD + 8;
const TOTAL: u32 = HEAD + 9;
const OPEN: u32 = HEAD + 11;
const NOTE: u32 = HEAD + 13;

const NOT_STATED: &str = "not stated";

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    warnings: usize,
) -> Result<(), XlsxError> {
    let money = estimate.currency.code();
    let columns = vec![
        Column::text("Item", 30.0),
        Column::text("Reckoned on", 64.0),
        Column::number("Rate", Look::Rate),
        Column::number(format!("Amount, {money}"), Look::money(estimate.currency)),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.widen(BASIS, 60.0);
    page.widen(AMOUNT, 14.0);
    page.sheet.set_row_height(STATUS, 22)?;
    status(&mut page, estimate)?;
    facts(&mut page, estimate, warnings)?;
    page.header(HEAD)?;
    chain(&mut page, estimate)?;
    open_lines(&mut page, estimate)?;
    note(&mut page)?;
    page.end()
}

/// The status follows the number of open lines, so that a price filled in later, or taken out,
/// is seen here.
fn status(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let open = fixed(OPEN, AMOUNT);
    let (none, one) = (shown::status(0), shown::status(1));
    let formula = format!(
        "=IF({open}=0,\"{none}\",IF({open}=1,\"{one}\",\"INCOMPLETE: \"&{open}&\" lines have no price\"))"
    );
    let text = shown::status(shown::open_lines(estimate));
    let formula = Formula::new(formula).set_result(text);
    page.sheet
        .write_formula_with_format(STATUS, 0, formula, &style::status())?;
    mark(page, STATUS, at(AMOUNT))?;
    Ok(())
}

/// Makes a row stand out while a line has no price.
fn mark(page: &mut Page<'_>, row: u32, last: u16) -> Result<(), XlsxError> {
    let rule = format!("={}>0", fixed(OPEN, AMOUNT));
    let format = ConditionalFormatFormula::new()
        .set_rule(rule.as_str())
        .set_format(style::alarm());
    page.sheet
        .add_conditional_format(row, 0, row, last, &format)?;
    Ok(())
}

fn facts(page: &mut Page<'_>, estimate: &Estimate, warnings: usize) -> Result<(), XlsxError> {
    let takeoff = &estimate.takeoff;
    let job = &takeoff.measured.job;
    let stated = |text: &Option<String>| text.clone().unwrap_or_else(|| NOT_STATED.to_owned());
    let PackLabel {
        name,
        version,
        folder,
    } = &takeoff.pack;
    let pack = match folder == name {
        true => format!("{name} {version}"),
        false => format!("{name} {version}, from {folder}"),
    };
    let warnings = match warnings {
        0 => "none".to_owned(),
        1 => "1, on sheet Cautions".to_owned(),
        more => format!("{more}, on sheet Cautions"),
    };
    let facts = [
        ("Job", job.name.clone()),
        ("Client", stated(&job.client)),
        ("Site", stated(&job.site)),
        ("Date", stated(&job.date.map(|date| date.to_string()))),
        ("Rule pack", pack),
        ("Measuring", shown::measuring_words(&job.measuring)),
        ("Currency", estimate.currency.code().to_owned()),
        ("Warnings", warnings),
    ];
    for (row, (name, fact)) in (FACTS..).zip(facts) {
        page.sheet
            .write_string_with_format(row, 0, name, &style::fact_name())?;
        let fact = clean::clean(&fact);
        page.make_room(row, BASIS, &fact)?;
        page.sheet
            .write_string_with_format(row, at(BASIS), fact, &style::fact())?;
    }
    Ok(())
}

/// A step from cost to price.
struct Step<'a> {
    item: &'a str,
    basis: &'a str,
    rate: Option<Decimal>,
    formula: String,
    result: f64,
}

fn chain(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let price = &estimate.price;
    let bid = &estimate.takeoff.measured.job.bid;
    let digits = estimate.currency.decimals();
    let amount = |row| cell(row, AMOUNT);
    let share = |of: String, row| format!("=ROUND({of}*{},{digits})", fixed(row, RATE));
    let down_to = |row| format!("SUM({}:{})", amount(MATERIALS), amount(row));

    let (profit_basis, profit, margin) = match bid.profit {
        None => ("not stated; as a markup on the cost", Decimal::ZERO, false),
        Some(Profit::Markup(rate)) => ("markup: a share of the cost", rate, false),
        Some(Profit::Margin(rate)) => ("margin: a share of the price before tax", rate, true),
    };
    let cost = down_to(OVERHEAD);
    let profit_formula = if margin {
        let rate = fixed(PROFIT, RATE);
        format!("=ROUND({cost}*{rate}/(1-{rate}),{digits})")
    } else {
        share(cost, PROFIT)
    };
    let (tax_basis, tax, tax_on) = match bid.tax {
        None => ("not stated; on the price", Decimal::ZERO, down_to(CHARGES)),
        Some((rate, Taxable::Materials)) => ("on the materials", rate, amount(MATERIALS)),
        Some((rate, Taxable::Total)) => (
            "on the price with profit, allowances and charges",
            rate,
            down_to(CHARGES),
        ),
    };
    let basis = |stated: Option<Decimal>, text: &'static str, open: &'static str| {
        if stated.is_some() { text } else { open }
    };
    let on_all = "on materials, labour and burden";
    let steps = [
        Step {
            item: "Materials",
            basis: "sheet Materials",
            rate: None,
            formula: format!("=SUM({})", materials::costs(estimate)),
            result: price.materials.to_f64(),
        },
        Step {
            item: "Labour",
            basis: "sheet Labour",
            rate: None,
            formula: format!("=SUM({})", labour::costs(estimate)),
            result: price.labour.to_f64(),
        },
        Step {
            item: "Burden on wages",
            basis: basis(bid.burden, "on the labour", "not stated; on the labour"),
            rate: Some(bid.burden.unwrap_or_default()),
            formula: share(amount(LABOUR), BURDEN),
            result: price.burden.to_f64(),
        },
        Step {
            item: "Overhead",
            basis: basis(
                bid.overhead,
                on_all,
                "not stated; on materials, labour and burden",
            ),
            rate: Some(bid.overhead.unwrap_or_default()),
            formula: share(down_to(BURDEN), OVERHEAD),
            result: price.overhead.to_f64(),
        },
        Step {
            item: "Profit",
            basis: profit_basis,
            rate: Some(profit),
            formula: profit_formula,
            result: price.profit.to_f64(),
        },
        Step {
            item: "Allowances",
            basis: match bid_sheet::allowances(estimate) {
                Some(_) => "sums set aside: sheet Bid",
                None => "none",
            },
            rate: None,
            formula: match bid_sheet::allowances(estimate) {
                Some(cells) => format!("=SUM({cells})"),
                None => "=0".to_owned(),
            },
            result: price.allowances.to_f64(),
        },
        Step {
            item: "Charges",
            basis: match bid_sheet::charges(estimate) {
                Some(_) => "added by the rules: sheet Bid",
                None => "none",
            },
            rate: None,
            formula: match bid_sheet::charges(estimate) {
                Some(cells) => format!("=SUM({cells})"),
                None => "=0".to_owned(),
            },
            result: price.charges.to_f64(),
        },
        Step {
            item: "Tax",
            basis: tax_basis,
            rate: Some(tax),
            formula: share(tax_on, TAX),
            result: price.tax.to_f64(),
        },
    ];
    for step in steps {
        page.blank()?;
        page.text(0, step.item)?;
        page.text(BASIS, step.basis)?;
        if let Some(rate) = step.rate {
            let (row, rate) = (page.row(), rate.to_f64().unwrap_or(0.0));
            page.sheet
                .write_number_with_format(row, at(RATE), rate, &style::input(Look::Rate))?;
        }
        page.formula(AMOUNT, &step.formula, step.result)?;
        page.next()?;
    }
    page.total("Total")?;
    let text = shown::status(shown::open_lines(estimate));
    page.formula_saying(BASIS, &format!("={}", fixed(STATUS, 0)), &text)?;
    page.formula(AMOUNT, &format!("={}", down_to(TAX)), price.total.to_f64())?;
    debug_assert_eq!(page.row(), TOTAL);
    mark(page, TOTAL, at(AMOUNT))
}

/// The number that the status follows.
fn open_lines(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let formula = format!(
        "=SUM({})+SUM({})",
        materials::marks(estimate),
        labour::marks(estimate)
    );
    let open = shown::open_lines(estimate);
    let formula = Formula::new(formula).set_result(open.to_string());
    page.sheet
        .write_string_with_format(OPEN, 0, "Lines without a price", &style::fact_name())?;
    page.sheet
        .write_formula_with_format(OPEN, at(AMOUNT), formula, &style::body(Look::Count))?;
    Ok(())
}

fn note(page: &mut Page<'_>) -> Result<(), XlsxError> {
    let text = format!(
        "These figures are estimates that rest on the factors of sheet {}; sheet {} says what else \
         must be known before they are used. Shaded cells are meant to be changed, and every \
         amount follows them.",
        factors::NAME,
        cautions::NAME
    );
    page.sheet
        .merge_range(NOTE, 0, NOTE, at(AMOUNT), &text, &style::wrapped_note())?;
    // A merged cell does not find its own height.
    page.sheet.set_row_height(NOTE, 34)?;
    Ok(())
}

fn cell(row: u32, column: usize) -> String {
    rust_xlsxwriter::utility::row_col_to_cell(row, at(column))
}
