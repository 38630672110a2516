//! The summary: the job, whether every line is priced, and the way from cost to price.

use super::ladder::{self, Input, Ladder, Sums};
use super::page::{Column, Frame, Page, at, fixed};
use super::style::{self, Look};
use super::{
    bid as bid_sheet, cautions, charges, checks, clean, factors, labour, materials, purchases,
};
use crate::shown;
use parge_calc::estimate_class::Range;
use parge_calc::learn::Likely;
use parge_calc::price::Estimate;
use parge_calc::takeoff::PackLabel;
use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::utility::cell_range_absolute;
use rust_xlsxwriter::{ConditionalFormatFormula, Formula, Worksheet, XlsxError};

const NAME: &str = "Summary";

const BASIS: usize = 1;
const RATE: usize = 2;
const AMOUNT: usize = 3;

// Rows, from 0.
const STATUS: u32 = 2;
const FACTS: u32 = 4;
const HEAD: u32 = 13;
const TOTAL: u32 = HEAD + 1 + ladder::STEPS;
const OPEN: u32 = HEAD + 15;
const AMISS: u32 = HEAD + 16;
const RANGE: u32 = HEAD + 18;
/// Below the range, where there is one.
const NOTE: u32 = RANGE + 5;

/// What stands in place of the status when a change cannot be followed to the end.
const AMISS_WORDS: &str = "NOT THE TOTAL YET: see sheet Checks";

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
    let mut below = match &estimate.range {
        None => RANGE,
        Some(range) => {
            expected(&mut page, range, estimate)?;
            NOTE
        }
    };
    if let Some(range) = &estimate.likely {
        below = likely(&mut page, range, estimate, below)?;
    }
    note(&mut page, below)?;
    page.end()
}

/// The status follows the number of open lines, so that a price filled in later, or taken out,
/// is seen here.
fn status(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let (open, amiss) = (fixed(OPEN, AMOUNT), fixed(AMISS, AMOUNT));
    let (none, one) = (shown::status(0), shown::status(1));
    let checked = format!("IF({amiss}=0,\"{none}\",\"{AMISS_WORDS}\")");
    let formula = format!(
        "=IF({open}=0,{checked},IF({open}=1,\"{one}\",\"INCOMPLETE: \"&{open}&\" lines have no price\"))"
    );
    let text = shown::status(shown::open_lines(estimate));
    let formula = Formula::new(formula).set_result(text);
    page.sheet
        .write_formula_with_format(STATUS, 0, formula, &style::status())?;
    mark(page, STATUS, at(AMOUNT))?;
    Ok(())
}

/// Makes a row stand out while a line has no price, or a check does not hold.
fn mark(page: &mut Page<'_>, row: u32, last: u16) -> Result<(), XlsxError> {
    let rule = format!("={}+{}>0", fixed(OPEN, AMOUNT), fixed(AMISS, AMOUNT));
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

/// Where the steps of the price stand.
pub(super) fn ladder() -> Ladder {
    Ladder {
        sheet: NAME.to_owned(),
        first: HEAD + 1,
        amounts: AMOUNT,
        terms: (NAME.to_owned(), HEAD + 1, RATE),
    }
}

/// The terms of the bid with their names and cells.
pub(super) fn inputs() -> Vec<(String, String)> {
    let cell = |step: u32| format!("{NAME}!{}", fixed(HEAD + 1 + step, RATE));
    let terms = ladder::TERMS.iter();
    terms
        .map(|(step, name)| (format!("bid.{name}"), cell(*step)))
        .collect()
}

/// The words of the status, as another sheet refers to them.
pub(super) fn status_cell() -> String {
    format!("{NAME}!{}", fixed(STATUS, 0))
}

/// Whether every line has a price and every check holds, as a condition on another sheet.
pub(super) fn is_a_price() -> String {
    let [open, amiss] = [OPEN, AMISS].map(|row| fixed(row, AMOUNT));
    format!("{NAME}!{open}+{NAME}!{amiss}=0")
}

/// Between which amounts the total is expected, where there is a range.
pub(super) fn expected_cells() -> [String; 2] {
    [RANGE, RANGE + 1].map(|row| format!("{NAME}!{}", fixed(row, AMOUNT)))
}

/// The cells of all terms, and how many there are.
pub(super) fn terms() -> (String, usize) {
    let (first, last) = (HEAD + 1 + ladder::MATERIALS, HEAD + 1 + ladder::TAX);
    let range = cell_range_absolute(first, at(RATE), last, at(RATE));
    (format!("{NAME}!{range}"), ladder::TERMS.len())
}

/// The names of the steps and their amounts, for a chart.
pub(super) fn steps() -> [String; 2] {
    [0, AMOUNT].map(|column| {
        let (first, last) = (HEAD + 1 + ladder::MATERIALS, HEAD + 1 + ladder::TAX);
        let range = cell_range_absolute(first, at(column), last, at(column));
        format!("{NAME}!{range}")
    })
}

fn sums(estimate: &Estimate) -> Sums {
    let of = |words: &str, cells: Option<String>| match cells {
        Some(cells) => (words.to_owned(), format!("=SUM({cells})")),
        None => ("none".to_owned(), "=0".to_owned()),
    };
    let freights = (!estimate.purchases.is_empty()).then(|| purchases::freights(estimate));
    Sums {
        materials: of("sheet Materials", Some(materials::costs(estimate))),
        freight: of("one delivery of each supplier: sheet Purchases", freights),
        labour: of("sheet Labour", Some(labour::costs(estimate))),
        allowances: of("sums set aside: sheet Bid", bid_sheet::allowances(estimate)),
        charges: of(
            "added by the rules: sheet Charges",
            charges::amounts(estimate),
        ),
        taxed: materials::taxed_cost(estimate),
    }
}

fn chain(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    page.widen(RATE, 12.0);
    let ladder = ladder();
    for step in ladder.steps(estimate, &sums(estimate)) {
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
            let (most, said) = match look {
                // A margin is a share of the price: it never is the whole of it.
                Look::Rate if step.is_share_of_price => (0.99, "a share from 0 % to 99 %"),
                Look::Rate => (5.0, "a share from 0 % to 500 %"),
                _ => (1e9, "an amount that is not below 0"),
            };
            page.numbers_between([row; 2], RATE, [0.0, most], said)?;
        }
        page.formula(AMOUNT, &step.formula, step.result.to_f64())?;
        page.next()?;
    }
    page.total("Total")?;
    let text = shown::status(shown::open_lines(estimate));
    page.formula_saying(BASIS, &format!("={}", fixed(STATUS, 0)), &text)?;
    let total = estimate.price.total.to_f64();
    page.formula(AMOUNT, &format!("={}", ladder.total()), total)?;
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
    let amiss = Formula::new(format!("={}", checks::amiss())).set_result("0");
    page.sheet.write_string_with_format(
        AMISS,
        0,
        "Checks that do not hold",
        &style::fact_name(),
    )?;
    page.sheet
        .write_formula_with_format(AMISS, at(AMOUNT), amiss, &style::body(Look::Count))?;
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

/// In which range the total is likely to lie. The rows follow the total by its shares; the shares were
/// reckoned for the estimate as it is. Hands back the row below them.
fn likely(
    page: &mut Page<'_>,
    range: &Likely,
    estimate: &Estimate,
    first: u32,
) -> Result<u32, XlsxError> {
    let total = estimate.price.total.to_f64();
    let rows = [
        ("Likely, 1 in 10 below", range.low),
        ("Likely, middle", range.middle),
        ("Likely, 1 in 10 above", range.high),
    ];
    let digits = estimate.currency.decimals();
    let money = style::body(Look::money(estimate.currency));
    let basis = "on the total, by what past jobs taught the pack";
    let mut row = first;
    for (name, amount) in rows {
        let (total_cell, share_cell) = (fixed(TOTAL, AMOUNT), fixed(row, RATE));
        let formula = format!("=ROUND({total_cell}*(1+{share_cell}),{digits})");
        let formula = Formula::new(formula).set_result(amount.to_f64().to_string());
        let share = match total == 0.0 {
            true => 0.0,
            false => amount.to_f64() / total - 1.0,
        };
        let sheet = &mut page.sheet;
        sheet.write_string_with_format(row, 0, name, &style::fact_name())?;
        sheet.write_string_with_format(row, at(BASIS), basis, &style::fact())?;
        sheet.write_number_with_format(row, at(RATE), share, &style::input(Look::Rate))?;
        sheet.write_formula_with_format(row, at(AMOUNT), formula, &money)?;
        row += 1;
    }
    Ok(row + NOTE.saturating_sub(RANGE + 4))
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
    page.print_to(row);
    Ok(())
}
