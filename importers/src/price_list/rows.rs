//! The rows of one table of prices: an offer, a heading, a note, or rejected with the reason.

use super::amount::is_currency;
use super::offer::{offer, price_cell};
use crate::columns::{Column, Role, RowWord};
use crate::faces::{Cells, Guess, Import, Roles, RowFigures, Setup, Trouble, Verdict, doubt};

/// Reads the rows of a table.
pub(super) fn read(setup: &Setup<'_>, columns: &[Column], out: &mut Import) {
    out.keep_headers(setup.table);
    let currency = currency_of_header(setup, columns, out);
    let roles = Roles::of(columns);
    for (place, number) in setup.table.rows.iter().enumerate() {
        let Some(row) = setup.sheet.rows.get(*number) else {
            continue;
        };
        let mut cells = Cells::new(setup, &roles, row);
        if cells.cells().next().is_none() {
            continue;
        }
        let has_figures = cells.has_measure() || price_cell(&cells).is_some();
        let judged = match has_figures {
            true => judge(&mut cells, currency.as_deref(), out),
            false => words(&cells, leads_to_prices(setup, &roles, place)),
        };
        let verdict = out.settled(judged);
        out.remarks.append(&mut cells.remarks);
        out.keep(setup.table, row.number, verdict, RowFigures::new(), 1);
    }
}

fn judge(
    cells: &mut Cells<'_>,
    currency: Option<&str>,
    out: &mut Import,
) -> Result<Verdict, Trouble> {
    if let Some(why) = cells.left_out()? {
        return Err(Trouble::Reject(why));
    }
    let offer = offer(cells, currency)?;
    if cells.text(Role::Item).is_none() {
        let item = offer.fields.first().map_or("", String::as_str);
        out.guesses.push(Guess {
            what: format!("row {} is item `{item}`", cells.row.number + 1),
            reason: "it has no code, and that is its description".to_owned(),
        });
    }
    if offer.price.is_zero() {
        let text = format!("{} says that it costs nothing", cells.name(offer.at));
        let help = "see whether that is meant: a price that is missing is not 0";
        cells.remarks.push(doubt(offer.at, text, help));
    }
    out.offers.push(offer);
    Ok(Verdict::Offer(out.offers.len() - 1))
}

/// A row without figures. One that names an item and its unit lacks its price.
fn words(cells: &Cells<'_>, leads: bool) -> Result<Verdict, Trouble> {
    let names = cells
        .text(Role::Item)
        .or_else(|| cells.text(Role::Description));
    if names.is_some() && cells.text(Role::PackUnit).is_some() {
        return Err(Trouble::Reject("it has no price".to_owned()));
    }
    let first = cells.first_text().unwrap_or_default();
    let says = cells.words().of_row(first);
    let is_note = says.has(RowWord::Note);
    let is_alone = cells.cells().count() == 1;
    Ok(match is_alone && leads && !is_note {
        true => Verdict::Heading(first.to_owned()),
        false => Verdict::Note,
    })
}

/// Whether prices follow, perhaps behind another heading.
fn leads_to_prices(setup: &Setup<'_>, roles: &Roles<'_>, place: usize) -> bool {
    let following = setup.table.rows.iter().skip(place + 1);
    let rows = following.filter_map(|at| setup.sheet.rows.get(*at));
    rows.take(2)
        .any(|row| Cells::new(setup, roles, row).has_measure())
}

/// The currency that the header of the prices ends with: `Price (EUR)`.
fn currency_of_header(setup: &Setup<'_>, columns: &[Column], out: &mut Import) -> Option<String> {
    let price = columns.iter().find(|column| column.role == Role::Price)?;
    let mut words = price.header.split(|ch: char| !ch.is_alphanumeric());
    let last = words.rfind(|word| !word.is_empty())?;
    let is_code = last.chars().all(|ch| ch.is_ascii_uppercase()) && is_currency(last);
    if !is_code {
        return None;
    }
    let cell = setup.book.cell_name(setup.head_at(price.column));
    out.guesses.push(Guess {
        what: format!("prices that name no currency are in {last}"),
        reason: format!("header {cell} says `{}`", price.header),
    });
    Some(last.to_owned())
}
