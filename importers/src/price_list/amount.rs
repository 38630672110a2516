//! Numbers of price lists, digit by digit.

use crate::cells::{Decimal, exact};
use crate::grid::{Cell, Content};
use parge_base::Currency;
use rust_decimal::Decimal as Exact;

/// What may stand before or behind a price and names no currency for certain.
const SIGNS: [char; 5] = ['$', '€', '£', ' ', '\u{a0}'];

/// The price of a cell, and the currency that stands beside it as a code.
pub(super) fn price(cell: &Cell, decimal: Decimal) -> Result<(Exact, Option<String>), String> {
    let wrong = || format!("`{}` is no price", cell.content);
    let text = cell.text().unwrap_or_default().trim_matches(SIGNS);
    let (before, bare) = match text.split_once(' ') {
        Some((code, rest)) if is_currency(code) => (Some(code), rest.trim_matches(SIGNS)),
        _ => (None, text),
    };
    let bare = with_text(cell, bare);
    let (price, rest) = exact(&bare, decimal).ok_or_else(wrong)?;
    let code = match (before, rest.trim_matches(SIGNS)) {
        (code, "") => code,
        (None, rest) if is_currency(rest) => return Ok((price, Some(rest.to_uppercase()))),
        _ => return Err(wrong()),
    };
    Ok((price, code.map(str::to_uppercase)))
}

/// How much a pack holds, and the words behind the number: its unit and its name.
pub(super) fn pack(cell: &Cell, decimal: Decimal) -> Result<(Exact, String), String> {
    exact(&cell.content, decimal)
        .filter(|(pack, _)| !pack.is_zero())
        .ok_or_else(|| format!("`{}` is no pack size", cell.content))
}

/// Whether a word is the code of a currency.
pub(super) fn is_currency(word: &str) -> bool {
    Currency::from_code(&word.to_uppercase()).is_some()
}

fn with_text(cell: &Cell, text: &str) -> Content {
    match &cell.content {
        Content::Text(_) => Content::Text(text.into()),
        other => other.clone(),
    }
}
