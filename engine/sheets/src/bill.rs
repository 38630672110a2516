//! The bill of materials as lines of values (CSV): what is ordered, and from whom.

use crate::csv::{self, cell};
use crate::shown;
use parge_base::Money;
use parge_base::number::round_to;
use parge_calc::price::{Estimate, MaterialLine};

/// The columns, in their order.
const COLUMNS: [&str; 13] = [
    "item",
    "description",
    "need",
    "waste",
    "unit",
    "packs",
    "pack",
    "pack_size",
    "pack_unit",
    "price",
    "cost",
    "currency",
    "supplier",
];

/// Decimals of needs: enough that packs follow from them again.
const DECIMALS: u32 = 6;

/// Written where a price or a cost is not known, so that no sum over the column looks whole.
const NO_PRICE: &str = "no price";

/// The materials of an estimate, a line each, under a header.
pub fn bill_of_materials(estimate: &Estimate) -> String {
    let header = csv::line(&COLUMNS.map(str::to_owned));
    let currency = estimate.currency.code();
    let lines = estimate
        .materials
        .iter()
        .map(|of| csv::line(&cells(of, currency)));
    let lines: String = lines.collect();
    format!("{}{header}{lines}", csv::MARK)
}

fn cells(line: &MaterialLine, currency: &str) -> [String; COLUMNS.len()] {
    let material = &line.material;
    let shown = shown::need(line);
    let number = |value| round_to(value, DECIMALS).to_string();
    let money =
        |amount: Option<Money>, text: fn(Money) -> String| amount.map_or(NO_PRICE.to_owned(), text);
    let pack = line.pack.as_ref();
    [
        cell(&material.item),
        cell(&material.description),
        number(shown.need),
        number(shown.waste),
        cell(shown.unit),
        line.packs.map_or(String::new(), number),
        pack.map_or(String::new(), |pack| cell(&pack.name)),
        pack.map_or(String::new(), |pack| number(pack.written)),
        pack.map_or(String::new(), |pack| cell(pack.unit.text())),
        money(line.unit_price, Money::to_price_text),
        money(line.cost, Money::to_text),
        currency.to_owned(),
        cell(&line.supplier),
    ]
}

#[cfg(test)]
mod tests;
