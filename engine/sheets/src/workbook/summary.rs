//! The summary: the job, whether every line is priced, and the way from cost to price.

use super::page::{Column, Frame, Page, at, fixed};
use super::style::{self, Look};
use super::{bid as bid_sheet, cautions, clean, factors, labour, materials, purchases};
use crate::shown;
use parge_base::{Currency, Money};
use parge_calc::estimate_class::Range;
use parge_calc::job::{Profit, Rounding, Taxable};
use parge_calc::price::{Estimate, MaterialLine};
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
const LABOUR: u32 = HEAD + 3;
const BURDEN: u32 = HEAD + 4;
const OVERHEAD: u32 = HEAD + 5;
const CONTINGENCY: u32 = HEAD + 6;
const PROFIT: u32 = HEAD + 7;
const CHARGES: u32 = HEAD + 9;
const MINIMUM: u32 = HEAD + 10;
const ROUNDING: u32 = HEAD + 11;
const TAX: u32 = HEAD + 12;
const TOTAL: u32 = HEAD + 13;
const OPEN: u32 = HEAD + 15;
const RANGE: u32 = HEAD + 17;
/// Below the range, where there is one.
const NOTE: u32 = RANGE + 5;

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
    let below = match &estimate.range {
        None => RANGE,
        Some(range) => {
            expected(&mut page, range, estimate)?;
            NOTE
        }
    };
    note(&mut page, below)?;
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
    basis: String,
    input: Option<Input>,
    formula: String,
    result: Money,
}

/// What of a step is for the office to change.
enum Input {
    Rate(Decimal),
    Amount(Money),
}

impl Input {
    /// An amount that may not be stated: nothing then.
    fn amount(stated: Option<Money>, currency: Currency) -> Option<Self> {
        Some(Self::Amount(stated.unwrap_or(Money::zero(currency))))
    }
}

fn amount(row: u32) -> String {
    cell(row, AMOUNT)
}

fn down_to(row: u32) -> String {
    format!("SUM({}:{})", amount(MATERIALS), amount(row))
}

/// What a step is reckoned on, with whether its term is stated.
fn basis(is_stated: bool, on: &str) -> String {
    match is_stated {
        true => on.to_owned(),
        false => format!("not stated; {on}"),
    }
}

fn chain(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    page.widen(RATE, 12.0);
    let all = cost_steps(estimate)
        .into_iter()
        .chain(price_steps(estimate));
    for step in all {
        page.blank()?;
        page.text(0, step.item)?;
        page.text(BASIS, &step.basis)?;
        let row = page.row();
        if let Some(input) = step.input {
            let (number, look) = match input {
                Input::Rate(rate) => (rate.to_f64().unwrap_or(0.0), Look::Rate),
                Input::Amount(amount) => (amount.to_f64(), Look::money(estimate.currency)),
            };
            page.sheet
                .write_number_with_format(row, at(RATE), number, &style::input(look))?;
        }
        page.formula(AMOUNT, &step.formula, step.result.to_f64())?;
        page.next()?;
    }
    page.total("Total")?;
    let text = shown::status(shown::open_lines(estimate));
    page.formula_saying(BASIS, &format!("={}", fixed(STATUS, 0)), &text)?;
    let total = estimate.price.total.to_f64();
    page.formula(AMOUNT, &format!("={}", down_to(TAX)), total)?;
    debug_assert_eq!(page.row(), TOTAL);
    mark(page, TOTAL, at(AMOUNT))
}

/// The steps of the cost, up to contingency.
fn cost_steps(estimate: &Estimate) -> Vec<Step<'_>> {
    let price = &estimate.price;
    let bid = &estimate.takeoff.measured.job.bid;
    let digits = estimate.currency.decimals();
    let share = |of: String, row| format!("=ROUND({of}*{},{digits})", fixed(row, RATE));
    let contingency = &estimate.contingency;
    let with_overhead = "on materials, freight, labour, burden and overhead";
    let contingency_basis = match (&contingency.by_class, bid.class) {
        (Some(_), Some(class)) => {
            format!(
                "of class {}, by the rule pack; {with_overhead}",
                class.number()
            )
        }
        _ => basis(bid.contingency.is_some(), with_overhead),
    };
    let freight = match estimate.purchases.is_empty() {
        true => "=0".to_owned(),
        false => format!("=SUM({})", purchases::freights(estimate)),
    };
    vec![
        Step {
            item: "Materials",
            basis: "sheet Materials".to_owned(),
            input: None,
            formula: format!("=SUM({})", materials::costs(estimate)),
            result: price.materials,
        },
        Step {
            item: "Freight",
            basis: "one delivery of each supplier: sheet Purchases".to_owned(),
            input: None,
            formula: freight,
            result: price.freight,
        },
        Step {
            item: "Labour",
            basis: "sheet Labour".to_owned(),
            input: None,
            formula: format!("=SUM({})", labour::costs(estimate)),
            result: price.labour,
        },
        Step {
            item: "Burden on wages",
            basis: basis(bid.burden.is_some(), "on the labour"),
            input: Some(Input::Rate(bid.burden.unwrap_or_default())),
            formula: share(amount(LABOUR), BURDEN),
            result: price.burden,
        },
        Step {
            item: "Overhead",
            basis: basis(
                bid.overhead.is_some(),
                "on materials, freight, labour and burden",
            ),
            input: Some(Input::Rate(bid.overhead.unwrap_or_default())),
            formula: share(down_to(BURDEN), OVERHEAD),
            result: price.overhead,
        },
        Step {
            item: "Contingency",
            basis: contingency_basis,
            input: Some(Input::Rate(contingency.rate)),
            formula: share(down_to(OVERHEAD), CONTINGENCY),
            result: price.contingency,
        },
    ]
}

/// The steps from the cost to the price.
fn price_steps(estimate: &Estimate) -> Vec<Step<'_>> {
    let price = &estimate.price;
    let bid = &estimate.takeoff.measured.job.bid;
    let digits = estimate.currency.decimals();
    let money = estimate.currency;
    let (profit_basis, rate, is_margin) = match bid.profit {
        None => ("not stated; as a markup on the cost", Decimal::ZERO, false),
        Some(Profit::Markup(rate)) => ("markup: a share of the cost", rate, false),
        Some(Profit::Margin(rate)) => ("margin: a share of cost and profit together", rate, true),
    };
    let (cost, share) = (down_to(CONTINGENCY), fixed(PROFIT, RATE));
    let profit = match is_margin {
        true => format!("=ROUND({cost}*{share}/(1-{share}),{digits})"),
        false => format!("=ROUND({cost}*{share},{digits})"),
    };
    let content = |item, cells: Option<String>, from: &str, result| Step {
        item,
        basis: cells.as_ref().map_or("none", |_| from).to_owned(),
        input: None,
        formula: cells.map_or("=0".to_owned(), |cells| format!("=SUM({cells})")),
        result,
    };
    let (tax_basis, rate_of_tax, tax_on) = match bid.tax {
        None => ("not stated; on the price", Decimal::ZERO, down_to(ROUNDING)),
        Some((rate, Taxable::Materials)) => {
            if estimate.materials.iter().all(MaterialLine::is_taxed) {
                ("on the materials", rate, amount(MATERIALS))
            } else {
                let taxed = materials::taxed_cost(estimate);
                ("on the taxed materials", rate, taxed)
            }
        }
        Some((rate, Taxable::Total)) => (
            "on the price with all that stands above",
            rate,
            down_to(ROUNDING),
        ),
    };
    vec![
        Step {
            item: "Profit",
            basis: profit_basis.to_owned(),
            input: Some(Input::Rate(rate)),
            formula: profit,
            result: price.profit,
        },
        content(
            "Allowances",
            bid_sheet::allowances(estimate),
            "sums set aside: sheet Bid",
            price.allowances,
        ),
        content(
            "Charges",
            bid_sheet::charges(estimate),
            "added by the rules: sheet Bid",
            price.charges,
        ),
        Step {
            item: "Up to the minimum",
            basis: basis(
                bid.minimum.is_some(),
                "what is missing of the least price before tax",
            ),
            input: Input::amount(bid.minimum, money),
            formula: minimum(digits),
            result: price.minimum,
        },
        Step {
            item: "Rounding",
            basis: rounding_basis(bid.rounding),
            input: Input::amount(bid.rounding.map(|rounding| rounding.multiple), money),
            formula: rounding(bid.rounding, digits),
            result: price.rounding,
        },
        Step {
            item: "Tax",
            basis: tax_basis.to_owned(),
            input: Some(Input::Rate(rate_of_tax)),
            formula: format!("=ROUND({tax_on}*{},{digits})", fixed(TAX, RATE)),
            result: price.tax,
        },
    ]
}

fn minimum(digits: u32) -> String {
    let (least, price) = (fixed(MINIMUM, RATE), down_to(CHARGES));
    format!("=IF({least}>{price},ROUND({least}-{price},{digits}),0)")
}

fn rounding_basis(rounding: Option<Rounding>) -> String {
    match rounding {
        Some(Rounding { up: true, .. }) => {
            "to the multiple above, before tax: a multiple of".to_owned()
        }
        rounding => basis(
            rounding.is_some(),
            "to the nearest multiple, before tax: a multiple of",
        ),
    }
}

/// The nearest multiple, or the one above; that one as well where the nearest lies under the least
/// price. Without a multiple nothing is rounded.
fn rounding(rounding: Option<Rounding>, digits: u32) -> String {
    let (multiple, price) = (fixed(ROUNDING, RATE), down_to(MINIMUM));
    let parts = format!("ROUND({price}/{multiple},9)");
    let above = format!("ROUNDUP({parts},0)*{multiple}");
    let rounded = match rounding {
        Some(Rounding { up: true, .. }) => above,
        _ => {
            let nearest = format!("ROUND({parts},0)*{multiple}");
            let least = fixed(MINIMUM, RATE);
            format!("IF(ROUND({nearest},{digits})<{least},{above},{nearest})")
        }
    };
    format!("=IF({multiple}=0,0,ROUND({rounded}-{price},{digits}))")
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

/// Between which amounts the total is expected. The rows follow the total and their limits.
fn expected(page: &mut Page<'_>, range: &Range, estimate: &Estimate) -> Result<(), XlsxError> {
    let class = range.class;
    let ([low, high], [least, most]) = (class.outer(), class.inner());
    let rows = [
        ("Expected, low", low, range.outer[0]),
        ("Expected, high", high, range.outer[1]),
        ("At best, low", least, range.inner[0]),
        ("At best, high", most, range.inner[1]),
    ];
    let digits = estimate.currency.decimals();
    let basis = format!("on the total, for class {} by AACE 18R-97", class.number());
    let money = style::body(Look::money(estimate.currency));
    for (row, (name, limit, amount)) in (RANGE..).zip(rows) {
        let formula = format!(
            "=ROUND({}*(1+{}),{digits})",
            fixed(TOTAL, AMOUNT),
            fixed(row, RATE)
        );
        let formula = Formula::new(formula).set_result(amount.to_f64().to_string());
        let limit = limit as f64 / 100.0;
        let sheet = &mut page.sheet;
        sheet.write_string_with_format(row, 0, name, &style::fact_name())?;
        sheet.write_string_with_format(row, at(BASIS), &basis, &style::fact())?;
        sheet.write_number_with_format(row, at(RATE), limit, &style::input(Look::Rate))?;
        sheet.write_formula_with_format(row, at(AMOUNT), formula, &money)?;
    }
    Ok(())
}

fn note(page: &mut Page<'_>, row: u32) -> Result<(), XlsxError> {
    let text = format!(
        "These figures are estimates that rest on the factors of sheet {}; sheet {} says what else \
         must be known before they are used. Shaded cells are meant to be changed, and every \
         amount follows them.",
        factors::NAME,
        cautions::NAME
    );
    page.sheet
        .merge_range(row, 0, row, at(AMOUNT), &text, &style::wrapped_note())?;
    // A merged cell does not find its own height.
    page.sheet.set_row_height(row, 34)?;
    Ok(())
}

fn cell(row: u32, column: usize) -> String {
    rust_xlsxwriter::utility::row_col_to_cell(row, at(column))
}
