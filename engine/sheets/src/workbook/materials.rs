//! The sheet of materials: needs, packs and their cost.

use super::addresses::{Addresses, number};
use super::page::{Column, Frame, HEAD_ROW, Page, cell_of, lines_of};
use super::style::Look;
use super::workings;
use crate::shown::{self, NeedShown};
use parge_calc::live::Goes;
use parge_calc::pool::Material;
use parge_calc::price::{Estimate, MaterialLine};
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Materials";
/// What stands in place of a cost.
pub(super) const NO_PRICE: &str = "no price";
/// What stands in place of a number of packs.
pub(super) const NO_PACK: &str = "no pack";

const NEED: usize = 3;
const WASTE: usize = 4;
const WITH_WASTE: usize = 5;
pub(super) const CONTENT: usize = 6;
const PACKS: usize = 8;
pub(super) const PRICE: usize = 9;
const COST: usize = 10;
const OPEN: usize = 12;
const LINE: usize = 13;
// Columns of a book with something to choose; see `has_terms`.
const FROM: usize = 14;
const TAXED: usize = 15;
const REASON: usize = 16;
/// A mark: the choice among several offers was made for another need or price.
const CHOOSE: usize = 17;

const NOT_TAXED: &str = "no";

/// The costs, as the summary refers to them.
pub(super) fn costs(estimate: &Estimate) -> String {
    lines_of(NAME, COST, estimate.materials.len())
}

/// The marks of lines without a price, as the summary refers to them.
pub(super) fn marks(estimate: &Estimate) -> String {
    lines_of(NAME, OPEN, estimate.materials.len())
}

/// The cost that a tax on materials is reckoned on, as a formula of the summary.
pub(super) fn taxed_cost(estimate: &Estimate) -> String {
    let costs = costs(estimate);
    let taxed = lines_of(NAME, TAXED, estimate.materials.len());
    format!("(SUM({costs})-SUMIF({taxed},\"{NOT_TAXED}\",{costs}))")
}

/// A cell of a line, as another sheet refers to it.
pub(super) fn input_of(line: usize, column: usize) -> String {
    cell_of(NAME, column, line)
}

/// The packs of a line, as another sheet refers to them.
pub(super) fn packs_of(line: usize) -> String {
    cell_of(NAME, PACKS, line)
}

/// The need with waste of a line, as another sheet refers to it.
pub(super) fn with_waste_of(line: usize) -> String {
    cell_of(NAME, WITH_WASTE, line)
}

/// The cost of a line, as another sheet refers to it.
pub(super) fn cost_of(line: usize) -> String {
    cell_of(NAME, COST, line)
}

/// Whether the book has more to say of an item than one price: several offers, a price that holds
/// from a number of packs on, an item without tax. Other sheets have no columns for it.
fn has_terms(estimate: &Estimate) -> bool {
    let choices = estimate
        .materials
        .iter()
        .filter_map(|line| line.choice.as_ref());
    choices.into_iter().any(|choice| {
        let terms = &choice.offer.terms;
        !choice.reason.is_empty() || terms.from_packs > 1 || !terms.taxed
    })
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let money = estimate.currency.code();
    let needs = Look::Decimals(decimals(estimate.materials.iter().map(shown::need)));
    let mut columns = vec![
        Column::text("Item", 22.0),
        Column::text("Description", 38.0),
        Column::text("Unit", 10.0),
        Column::number("Need", needs),
        Column::number("Waste", needs),
        Column::number("Need with waste", needs),
        Column::number("Content of a pack", Look::Written).input(),
        Column::text("Pack", 12.0),
        Column::number("Packs", Look::Count),
        Column::number(format!("Price of a pack, {money}"), price_look(estimate)).input(),
        Column::number(format!("Cost, {money}"), Look::money(estimate.currency)),
        Column::text("Supplier", 24.0),
        Column::number("No price", Look::Mark),
        Column::text("Line", 8.0),
    ];
    let with_terms = has_terms(estimate);
    if with_terms {
        columns.extend([
            Column::number("Price holds from packs", Look::Count).input(),
            Column::text("Taxed", 8.0),
            Column::text("Why this offer, as estimated", 60.0),
            Column::number("Choose anew", Look::Mark),
        ]);
    }
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for (number, line) in estimate.materials.iter().enumerate() {
        let digits = estimate.currency.decimals();
        write_line(&mut page, number, line, digits, of, with_terms)?;
    }
    if estimate.materials.is_empty() {
        page.nothing("no material")?;
    }
    let rows = [HEAD_ROW + 1, page.row().saturating_sub(1)];
    page.numbers_between(rows, CONTENT, [1e-9, 1e9], "a number above 0")?;
    page.numbers_between(rows, PRICE, [0.0, 1e9], "a price that is not below 0")?;
    page.filter(estimate.materials.len())?;
    let open = estimate.materials.iter().filter(|line| line.cost.is_none());
    let open = open.count();
    total(&mut page, NAME, [COST, OPEN], open)?;
    page.sum(COST, estimate.price.materials.to_f64())?;
    page.sum(OPEN, open as f64)?;
    page.end()
}

/// Begins the total of priced lines. It says when it is not the whole, and lines without a price
/// stand out, also those that lose theirs later. Given are the columns of cost and mark.
pub(super) fn total(
    page: &mut Page<'_>,
    name: &str,
    [cost, mark]: [usize; 2],
    open: usize,
) -> Result<(), XlsxError> {
    let row = page.row();
    page.total(name)?;
    let partial = format!("{name}, INCOMPLETE");
    let formula = format!("=IF({}=0,\"{name}\",\"{partial}\")", page.here(mark));
    page.formula_saying(0, &formula, if open == 0 { name } else { &partial })?;
    page.alarm([row, row], 0, "INCOMPLETE")?;
    page.alarm([HEAD_ROW + 1, row.saturating_sub(1)], cost, NO_PRICE)
}

fn write_line(
    page: &mut Page<'_>,
    number: usize,
    line: &MaterialLine,
    digits: u32,
    of: &Addresses<'_>,
    with_terms: bool,
) -> Result<(), XlsxError> {
    let figures = shown::need(line);
    page.blank()?;
    page.text(0, &line.material.item)?;
    page.text(1, &line.material.description)?;
    page.text(2, &shown::print_unit(figures.unit))?;
    for (column, goes, value) in [
        (NEED, Goes::Need(number), figures.need),
        (WASTE, Goes::Waste(number), figures.waste),
    ] {
        let formula = format!("={}", shown_sum(of, 0, goes, &line.material));
        page.formula(column, &formula, value)?;
    }
    page.text(LINE, &format!("M{}", number + 1))?;
    let [need, waste, both, content, packs, price, cost] =
        [NEED, WASTE, WITH_WASTE, CONTENT, PACKS, PRICE, COST].map(|column| page.here(column));
    page.formula(WITH_WASTE, &format!("={need}+{waste}"), figures.with_waste)?;
    if let (Some(pack), Some(size)) = (&line.pack, figures.pack) {
        page.number(CONTENT, size)?;
        page.text(7, &pack.name)?;
    }
    if let Some(price) = line.unit_price {
        page.number(PRICE, price.to_f64())?;
    }
    page.text(11, &line.supplier)?;

    // An emptied cell must not count as a price of nothing, so each formula asks first.
    let whole = format!("ROUNDUP(ROUND({both}/{content},9),0)");
    let whole = match with_terms {
        true => format!("IF({both}>0,MAX({whole},{}),0)", page.here(FROM)),
        false => whole,
    };
    let counted = format!("=IF({content}=\"\",\"{NO_PACK}\",{whole})");
    let priced = format!(
        "=IF({packs}=\"{NO_PACK}\",\"{NO_PRICE}\",IF({price}=\"\",\"{NO_PRICE}\",ROUND({packs}*{price},{digits})))"
    );
    match line.packs {
        Some(number) => page.formula(PACKS, &counted, number)?,
        None => page.formula_saying(PACKS, &counted, NO_PACK)?,
    }
    match line.cost {
        Some(amount) => page.formula(COST, &priced, amount.to_f64())?,
        None => page.formula_saying(COST, &priced, NO_PRICE)?,
    }
    let mark = format!("=IF({cost}=\"{NO_PRICE}\",1,0)");
    page.formula(OPEN, &mark, if line.cost.is_none() { 1.0 } else { 0.0 })?;
    if with_terms {
        write_terms(page, line)?;
    }
    page.next()
}

fn write_terms(page: &mut Page<'_>, line: &MaterialLine) -> Result<(), XlsxError> {
    if let Some(choice) = &line.choice {
        page.number(FROM, f64::from(choice.offer.terms.from_packs))?;
        page.text(REASON, &choice.reason)?;
    }
    if let Some(mark) = choose_anew(page, line, [WITH_WASTE, CONTENT, PRICE, FROM]) {
        page.formula(CHOOSE, &format!("={mark}"), 0.0)?;
    }
    page.text(TAXED, if line.is_taxed() { "yes" } else { NOT_TAXED })
}

/// A mark that is 1 when need or terms are no longer those that the best of several offers was
/// chosen for; none where there was nothing to choose. Given are the columns of the need with its
/// waste, of content, price and least number of packs.
pub(super) fn choose_anew(
    page: &Page<'_>,
    line: &MaterialLine,
    columns: [usize; 4],
) -> Option<String> {
    let choice = line.choice.as_ref().filter(|choice| choice.of > 1)?;
    let figures = shown::need(line);
    let [need, content, price, from] = columns.map(|column| page.here(column));
    let terms = [
        (content, figures.pack.unwrap_or(0.0)),
        (price, choice.offer.price.to_f64()),
        (from, f64::from(choice.offer.terms.from_packs)),
    ];
    let same: Vec<String> = terms
        .into_iter()
        .map(|(cell, was)| format!("{cell}={}", number(was)))
        .collect();
    let room = number(1e-9 * figures.with_waste.abs().max(1e-9));
    let was = number(figures.with_waste);
    Some(format!(
        "IF(AND(ABS({need}-{was})<={room},{}),0,1)",
        same.join(",")
    ))
}

/// The marks of lines whose offer must be chosen anew; none where there was nothing to choose.
pub(super) fn choices(estimate: &Estimate) -> Option<String> {
    has_terms(estimate).then(|| lines_of(NAME, CHOOSE, estimate.materials.len()))
}

/// Whether the number of packs from which a price holds stands on the sheet.
pub(super) fn least_packs_of(estimate: &Estimate, line: usize) -> Option<String> {
    has_terms(estimate).then(|| cell_of(NAME, FROM, line))
}

/// Two decimals, or more where a need would print as nothing.
fn decimals<'a>(needs: impl Iterator<Item = NeedShown<'a>>) -> u32 {
    let least = needs
        .map(|need| need.need)
        .filter(|need| *need > 0.0)
        .fold(f64::MAX, f64::min);
    if least < 0.05 { 4 } else { 2 }
}

/// As many decimals as the price with the most.
fn price_look(estimate: &Estimate) -> Look {
    let prices = estimate.materials.iter().filter_map(|line| line.unit_price);
    let most = prices.map(shown::price_decimals).max();
    Look::Decimals(most.unwrap_or(estimate.currency.decimals()))
}

/// What the workings say of a material, in the unit that it is shown in.
pub(super) fn shown_sum(
    of: &Addresses<'_>,
    version: usize,
    goes: Goes,
    material: &Material,
) -> String {
    let sum = workings::sum_of(of, version, goes);
    let times = of.live.system.scale(material.need.dim) / material.unit.factor();
    match times == 1.0 {
        true => sum,
        false => format!("{sum}*{}", number(times)),
    }
}
