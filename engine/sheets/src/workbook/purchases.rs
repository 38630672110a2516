//! The sheet of purchases: what is bought of whom, what its delivery costs, and until when it must be
//! ordered. Packs and costs are those of the sheet of materials, so they follow it.

use super::materials;
use super::page::{Column, Frame, HEAD_ROW, Page, at, fixed, lines_of};
use super::style::{self, Look};
use jiff::civil::{Date, date};
use parge_calc::price::{Estimate, Purchase, PurchaseLine};
use rust_xlsxwriter::utility::row_col_to_cell;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Purchases";

/// Where the first day on site is typed in, above the table.
const DAY_ROW: u32 = 2;
const DAY_COLUMN: usize = 1;

/// What stands in place of a day, where no first day or no lead is known.
const NOT_KNOWN: &str = "not known";

const ITEM: usize = 1;
const PACKS: usize = 2;
const PACK: usize = 3;
const COST: usize = 4;
const LEAD: usize = 5;
const ORDER_BY: usize = 6;
const DELIVERY: usize = 7;
const FREIGHT: usize = 8;
const SUM: usize = 9;

/// The lines that the sheet takes: those of the materials, and one for each supplier.
pub(super) fn lines(estimate: &Estimate) -> usize {
    estimate.materials.len() + estimate.purchases.len()
}

/// What the deliveries cost, as the summary refers to it.
pub(super) fn freights(estimate: &Estimate) -> String {
    lines_of(NAME, FREIGHT, lines(estimate))
}

/// The prices of deliveries, and how many there are; none without a supplier.
pub(super) fn deliveries(estimate: &Estimate) -> Option<(String, usize)> {
    let suppliers = estimate.purchases.len();
    (suppliers > 0).then(|| (lines_of(NAME, DELIVERY, lines(estimate)), suppliers))
}

/// The price of a delivery of a supplier, as other sheets refer to it.
pub(super) fn delivery_of(estimate: &Estimate, supplier: &str) -> Option<String> {
    let mut row = HEAD_ROW;
    for purchase in &estimate.purchases {
        row += u32::try_from(purchase.lines.len()).ok()? + 1;
        if purchase.supplier == supplier {
            return Some(format!("{NAME}!{}", fixed(row, DELIVERY)));
        }
    }
    None
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let code = estimate.currency.code();
    let money = Look::money(estimate.currency);
    let amount = |head: &str| Column::number(format!("{head}, {code}"), money);
    let columns = vec![
        Column::text("Supplier", 30.0),
        Column::text("Item", 44.0),
        Column::number("Packs", Look::Count),
        Column::text("Pack", 20.0),
        amount("Cost"),
        Column::number("Lead, days", Look::Count),
        Column::number("Order by", Look::Date),
        amount("Price of a delivery"),
        amount("Freight"),
        amount("With freight"),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    first_day(&mut page, estimate)?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    for purchase in &estimate.purchases {
        let first = page.row();
        for line in &purchase.lines {
            write_line(&mut page, purchase, line, estimate)?;
        }
        write_sums(&mut page, purchase, first, money)?;
    }
    let price = &estimate.price;
    let with_freight = price.materials.to_f64() + price.freight.to_f64();
    page.total("All suppliers")?;
    page.sum(COST, price.materials.to_f64())?;
    page.sum(FREIGHT, price.freight.to_f64())?;
    page.sum(SUM, with_freight)?;
    page.alarm([HEAD_ROW + 1, page.row()], COST, materials::NO_PRICE)?;
    page.end()
}

/// All is ordered for the first day on site; on which day an item is needed is not known.
fn first_day(page: &mut Page<'_>, estimate: &Estimate) -> Result<(), XlsxError> {
    let label = "First day on site";
    page.sheet
        .write_string_with_format(DAY_ROW, 0, label, &style::fact_name())?;
    let format = style::input(Look::Date);
    let (row, column) = (DAY_ROW, at(DAY_COLUMN));
    match estimate.first_day.and_then(serial) {
        Some(day) => page
            .sheet
            .write_number_with_format(row, column, day, &format)?,
        None => page.sheet.write_blank(row, column, &format)?,
    };
    Ok(())
}

fn write_line(
    page: &mut Page<'_>,
    purchase: &Purchase,
    line: &PurchaseLine,
    estimate: &Estimate,
) -> Result<(), XlsxError> {
    let Some(bought) = estimate.materials.get(line.material) else {
        return Ok(());
    };
    page.blank()?;
    page.text(0, &purchase.supplier)?;
    page.text(ITEM, &bought.material.description)?;
    let packs = format!("={}", materials::packs_of(line.material));
    match bought.packs {
        Some(number) => page.formula(PACKS, &packs, number)?,
        None => page.formula_saying(PACKS, &packs, materials::NO_PACK)?,
    }
    if let Some(pack) = &bought.pack {
        page.text(PACK, &pack.words())?;
    }
    let cost = format!("={}", materials::cost_of(line.material));
    match bought.cost {
        Some(amount) => page.formula(COST, &cost, amount.to_f64())?,
        None => page.formula_saying(COST, &cost, materials::NO_PRICE)?,
    }
    let format = style::input(Look::Count);
    let row = page.row();
    match line.lead_days {
        Some(days) => {
            let days = f64::from(days);
            page.sheet
                .write_number_with_format(row, at(LEAD), days, &format)?
        }
        None => page.sheet.write_blank(row, at(LEAD), &format)?,
    };
    let (day, lead) = (fixed(DAY_ROW, DAY_COLUMN), page.here(LEAD));
    let known = format!("IF({lead}=\"\",\"{NOT_KNOWN}\",{day}-{lead})");
    let order_by = format!("=IF({day}=\"\",\"{NOT_KNOWN}\",{known})");
    match line.order_by.and_then(serial) {
        Some(last) => page.formula(ORDER_BY, &order_by, last)?,
        None => page.formula_saying(ORDER_BY, &order_by, NOT_KNOWN)?,
    }
    page.next()
}

/// What a supplier gets. The delivery is paid where anything is bought.
fn write_sums(
    page: &mut Page<'_>,
    purchase: &Purchase,
    first: u32,
    money: Look,
) -> Result<(), XlsxError> {
    let of_lines = |column: usize| {
        let cell = |row| row_col_to_cell(row, at(column));
        format!("{}:{}", cell(first), cell(page.row().saturating_sub(1)))
    };
    let (packs, costs) = (of_lines(PACKS), of_lines(COST));
    page.blank()?;
    let name = match purchase.supplier.as_str() {
        "" => "Without a supplier, in all".to_owned(),
        supplier => format!("{supplier}, in all"),
    };
    page.text(0, &name)?;
    let freight = purchase.freight.as_ref().map(|freight| freight.amount);
    let freight = freight.map_or(0.0, |amount| amount.to_f64());
    page.widen(DELIVERY, 12.0);
    let row = page.row();
    page.sheet
        .write_number_with_format(row, at(DELIVERY), freight, &style::input(money))?;
    let delivery = page.here(DELIVERY);
    page.formula(
        FREIGHT,
        &format!("=IF(SUM({packs})>0,{delivery},0)"),
        freight,
    )?;
    let cost = purchase.cost.to_f64();
    let sum = format!("=SUM({costs})+{}", page.here(FREIGHT));
    page.formula(SUM, &sum, cost + freight)?;
    page.next()
}

/// A day as spreadsheets count days; none for one before they begin.
fn serial(day: Date) -> Option<f64> {
    let since = day.since(date(1899, 12, 30)).ok()?;
    let days = f64::from(since.get_days());
    (days > 60.0).then_some(days)
}

#[cfg(test)]
mod tests;
