//! The offer of a row.

use super::amount::{is_currency, pack, price};
use super::{OfferRead, book_text, read_again};
use crate::columns::Role;
use crate::faces::{Cells, Trouble};
use crate::grid::{At, Cell, Content};
use rust_decimal::Decimal as Exact;

/// Reads the offer of a row. `header` is the currency that the header of the prices names.
pub(super) fn offer(cells: &Cells<'_>, header: Option<&str>) -> Result<OfferRead, Trouble> {
    let Some((cell, at)) = price_cell(cells) else {
        return Err(reject("it has no price"));
    };
    let (amount, code) = price(cell, cells.decimal()).map_err(Trouble::Reject)?;
    let pack = packed(cells)?;
    let amount = of_pack(cells, amount, pack.size)?;
    let currency = currency(cells, code, header)?;
    let item = cells.text(Role::Item);
    let item = item.unwrap_or_else(|| slug(&cells.text(Role::Description).unwrap_or_default()));
    if item.is_empty() {
        return Err(reject("it names no item"));
    }
    let field = |role: Role| match role {
        Role::Item => item.clone(),
        Role::Pack => pack.size.to_string(),
        Role::PackUnit => pack.unit.clone(),
        Role::PackName => pack.name.clone(),
        Role::Price => amount.to_string(),
        Role::Currency => currency.clone(),
        other => cells.text(other).unwrap_or_default(),
    };
    let offer = OfferRead {
        fields: Role::OF_BOOKS.map(|role| one_line(&field(role))),
        price: amount,
        at,
    };
    fits(&offer)?;
    Ok(offer)
}

/// The cell of the price; 0 is one, since some things cost nothing.
pub(super) fn price_cell<'a>(cells: &Cells<'a>) -> Option<(&'a Cell, At)> {
    let is_zero = |cell: &Cell| match &cell.content {
        Content::Number(number) => *number == 0.0,
        Content::Text(text) => text == "0",
        _ => false,
    };
    let zero = || cells.filled(Role::Price).filter(|(cell, _)| is_zero(cell));
    cells.stated_cell(Role::Price).or_else(zero)
}

/// A text without the line ends that a cell can have and a price book cannot.
fn one_line(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ")
}

fn reject(why: &str) -> Trouble {
    Trouble::Reject(why.to_owned())
}

/// What one price is for.
struct Packed {
    size: Exact,
    unit: String,
    name: String,
}

/// The pack of a row: from its own column, as `5` beside `gal` or as `50 lb bag`, or from that of
/// the unit. A size that nothing states is asked for.
fn packed(cells: &Cells<'_>) -> Result<Packed, Trouble> {
    let unit = cells.text(Role::PackUnit).unwrap_or_default();
    let name = cells.text(Role::PackName).unwrap_or_default();
    let begins_with_number = |content: &Content| {
        let text = content.to_string();
        text.starts_with(|ch: char| ch.is_ascii_digit())
    };
    let own = cells.stated_cell(Role::Pack);
    let in_unit = || {
        let unit = cells.stated_cell(Role::PackUnit);
        unit.filter(|(cell, _)| begins_with_number(&cell.content))
    };
    let is_own = own.is_some();
    let Some((cell, _)) = own.or_else(in_unit) else {
        return of_one(cells, unit, name);
    };
    let (size, words) = pack(cell, cells.decimal()).map_err(Trouble::Reject)?;
    let (held, called) = words.split_once(' ').unwrap_or((&words, ""));
    let beside = if is_own { unit } else { String::new() };
    let (unit, called) = match (held.is_empty(), called.is_empty()) {
        (true, _) => (beside, String::new()),
        // `5 gal` beside `pail`: the price is that of a pail.
        (false, true) if beside.to_lowercase() != held.to_lowercase() => (held.to_owned(), beside),
        (false, _) => (held.to_owned(), called.trim().to_owned()),
    };
    if unit.is_empty() {
        return Err(reject("it names no unit of the pack"));
    }
    Ok(Packed {
        size,
        unit: unit.to_lowercase(),
        name: if name.is_empty() { called } else { name },
    })
}

/// The price of a whole pack. Where the header speaks of a unit and a pack holds several, it is asked
/// what a price is of.
fn of_pack(cells: &Cells<'_>, price: Exact, size: Exact) -> Result<Exact, Trouble> {
    let header = cells.header(Role::Price).unwrap_or_default().to_lowercase();
    let says = |word: &str| {
        header
            .split(|ch: char| !ch.is_alphanumeric())
            .any(|own| own == word)
    };
    let by_unit = ["unit", "rate", "per", "each"].into_iter().any(says) && !says("pack");
    if size == Exact::ONE || !by_unit {
        return Ok(price);
    }
    match cells.answers().prices_are_of_packs {
        Some(true) => Ok(price),
        Some(false) => price
            .checked_mul(size)
            .map(|price| price.normalize())
            .ok_or_else(|| reject("its price is too large")),
        None => {
            let text = format!(
                "row {} and others state a pack of {size}, and the header of prices says `{header}`: \
                 are they of a pack, or of one unit?",
                cells.row.number + 1
            );
            Err(Trouble::Ask("prices_are", text, cells.at()))
        }
    }
}

/// A price of one unit, where it was answered that a price without a pack size is that.
fn of_one(cells: &Cells<'_>, unit: String, name: String) -> Result<Packed, Trouble> {
    if unit.is_empty() {
        return Err(reject("it names no unit of the pack"));
    }
    match cells.answers().pack {
        Some(true) => Ok(Packed {
            size: Exact::ONE,
            unit: unit.to_lowercase(),
            name,
        }),
        Some(false) => Err(reject("it states no pack size")),
        None => {
            let text = format!(
                "row {} and others state no pack size: is a price that of one unit, as of one `{unit}`?",
                cells.row.number + 1
            );
            Err(Trouble::Ask("pack", text, cells.at()))
        }
    }
}

/// The currency of a row: its own, that of the header, or that which was answered.
fn currency(
    cells: &Cells<'_>,
    beside: Option<String>,
    header: Option<&str>,
) -> Result<String, Trouble> {
    let named = cells.text(Role::Currency).map(|text| text.to_uppercase());
    if let (Some(named), Some(beside)) = (&named, &beside)
        && named != beside
    {
        let why = format!("its price is in `{beside}`, and its currency is `{named}`");
        return Err(Trouble::Reject(why));
    }
    let stated = named.or(beside).or_else(|| header.map(str::to_owned));
    match stated.or_else(|| cells.answers().currency.clone()) {
        Some(code) if is_currency(&code) => Ok(code),
        Some(other) => Err(Trouble::Reject(format!("`{other}` is no currency"))),
        None => {
            let text = "prices name no currency: which is it, as `USD`?";
            Err(Trouble::Ask("currency", text.to_owned(), cells.at()))
        }
    }
}

/// Whether a price book of this offer alone is one, and opens in a spreadsheet as what it is.
fn fits(offer: &OfferRead) -> Result<(), Trouble> {
    let is_formula = |text: &&String| text.starts_with(['=', '+', '-', '@', '\t']);
    if let Some(text) = offer.fields.iter().find(is_formula) {
        return Err(Trouble::Reject(format!("`{text}` reads as a formula")));
    }
    match read_again(&book_text(std::slice::from_ref(offer))) {
        Ok(_) => Ok(()),
        Err(said) => {
            let why = said.into_iter().next().map(|first| first.message);
            Err(Trouble::Reject(
                why.unwrap_or_else(|| "it is no offer".to_owned()),
            ))
        }
    }
}

/// A description as the name of an item: small letters with `-` between words.
pub(super) fn slug(text: &str) -> String {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|ch: char| !ch.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    words.join("-")
}
