//! Price books.
//!
//! One row an item. The columns, in any order, under a header row:
//!
//! | column | what it says |
//! | --- | --- |
//! | `item` | the item as the rule pack names it; `labour` is the wage of an hour, `labour/lead` that of the wage class `lead` |
//! | `pack`, `pack_unit` | how much one pack holds: `5` and `gal`, or `1` and `bag` |
//! | `price`, `currency` | the price of one pack: `185.00` and an ISO 4217 code such as `USD` |
//! | `description`, `pack_name`, `supplier` | in words; may be left out |
//! | `valid_until` | the last day the price holds, as ISO 8601; may be left out |
//!
//! A row without a price prices nothing: its item stays unpriced, and the estimate incomplete.

use jiff::civil::Date;
use parge_base::prices::{Offer, PackSize, PriceBook};
use parge_base::{Code, Currency, Diagnostic, FileId, Money, Sources, Span, Units, diagnostic};
use parge_rules::csv_text::{CsvRow, CsvText, number};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

const COLUMNS: [&str; 9] = [
    "item",
    "description",
    "pack",
    "pack_unit",
    "pack_name",
    "price",
    "currency",
    "supplier",
    "valid_until",
];
const REQUIRED: [&str; 5] = ["item", "pack", "pack_unit", "price", "currency"];

/// Reads a price book. With an error there is no book: a price that was passed over could be
/// the one that matters.
pub fn price_book(
    sources: &Sources,
    file: FileId,
    units: &Units,
) -> (Option<PriceBook>, Vec<Diagnostic>) {
    let text = match CsvText::read(sources, file, Code::BadPriceBook) {
        Ok(text) => text,
        Err(diagnostic) => return (None, vec![diagnostic]),
    };
    let mut diagnostics = check_columns(&text);
    if !diagnostics.is_empty() {
        return (None, diagnostics);
    }
    let reader = Reader { text: &text, units };
    let mut offers: Vec<Offer> = Vec::new();
    let mut open = Vec::new();
    let mut first: BTreeMap<String, Span> = BTreeMap::new();
    for row in &text.rows {
        match reader.offer(row) {
            Ok(Some(offer)) => offers.push(offer),
            Ok(None) => open.push((reader.field(row, "item").to_owned(), row.span)),
            Err(diagnostic) => diagnostics.push(diagnostic),
        }
        let item = reader.field(row, "item");
        if let Some(first) = first
            .insert(item.to_owned(), row.span)
            .filter(|_| !item.is_empty())
        {
            let message = format!("`{item}` is priced twice");
            let twice = Diagnostic::new(Code::PricedTwice, message, "keep the row that holds");
            diagnostics.push(twice.at(row.span, "again here").at(first, "first here"));
        }
    }
    let currency = one_currency(&offers, &text, &mut diagnostics);
    diagnostic::tidy(&mut diagnostics);
    let book = currency
        .filter(|_| diagnostics.is_empty())
        .map(|currency| PriceBook {
            currency,
            offers,
            open,
            span: text.header_span,
        });
    (book, diagnostics)
}

fn check_columns(text: &CsvText) -> Vec<Diagnostic> {
    let help = format!("the columns are: {}", COLUMNS.join(", "));
    let wrong = |message: String| {
        Diagnostic::new(Code::BadPriceBook, message, help.clone()).at(text.header_span, "")
    };
    let missing = REQUIRED
        .into_iter()
        .filter(|name| text.column(name).is_none())
        .map(|name| wrong(format!("the price book has no column `{name}`")));
    let unknown = text
        .header
        .iter()
        .filter(|name| !COLUMNS.contains(&name.as_str()))
        .map(|name| {
            wrong(format!(
                "the price book has a column `{name}` that is not known"
            ))
        });
    missing.chain(unknown).collect()
}

fn one_currency(
    offers: &[Offer],
    text: &CsvText,
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<Currency> {
    let Some(first) = offers.first() else {
        if diagnostics.is_empty() {
            let help = "add a row for each item that the job needs";
            let empty = Diagnostic::new(Code::BadPriceBook, "the price book prices nothing", help);
            diagnostics.push(empty.at(text.header_span, ""));
        }
        return None;
    };
    let currency = first.price.currency();
    if let Some(other) = offers
        .iter()
        .find(|offer| offer.price.currency() != currency)
    {
        let message = format!(
            "the price book mixes {} and {}",
            currency.code(),
            other.price.currency().code()
        );
        let help = "keep one book a currency";
        let mixed = Diagnostic::new(Code::BadPriceBook, message, help);
        diagnostics.push(
            mixed
                .at(other.span, other.price.currency().code())
                .at(first.span, currency.code()),
        );
    }
    Some(currency)
}

struct Reader<'a> {
    text: &'a CsvText,
    units: &'a Units,
}

impl Reader<'_> {
    fn field<'r>(&self, row: &'r CsvRow, column: &str) -> &'r str {
        self.text
            .column(column)
            .map_or("", |column| row.field(column))
    }

    /// The offer of a row; none where its price is left open.
    fn offer(&self, row: &CsvRow) -> Result<Option<Offer>, Diagnostic> {
        let wrong = |message: String, help: &str| {
            Diagnostic::new(Code::BadPriceRow, message, help).at(row.span, "")
        };
        row.check_length(self.text.header.len(), Code::BadPriceRow)?;
        let item = self.field(row, "item");
        if item.is_empty() {
            return Err(wrong(
                "the row names no item".into(),
                "write the item as the rule pack names it",
            ));
        }
        let pack = self
            .pack(row)
            .map_err(|(message, help)| wrong(message, help))?;
        let valid_until = match self.field(row, "valid_until") {
            "" => None,
            text => Some(text.parse::<Date>().map_err(|_| {
                wrong(
                    format!("`{text}` is no date"),
                    "write year-month-day: `2026-12-31`",
                )
            })?),
        };
        let code = self.field(row, "currency");
        let currency = Currency::from_code(code).ok_or_else(|| {
            wrong(
                if code.is_empty() {
                    "the row names no currency".to_owned()
                } else {
                    format!("`{code}` is no currency")
                },
                "write its three letters: `USD`, `EUR`, `INR`",
            )
        })?;
        let amount = match self.field(row, "price") {
            "" => return Ok(None),
            text => text
                .parse::<Decimal>()
                .ok()
                .filter(|price| !price.is_sign_negative())
                .ok_or_else(|| {
                    wrong(
                        format!("`{text}` is no price"),
                        "write the number alone: `185.00`",
                    )
                })?,
        };
        Ok(Some(Offer {
            item: item.to_owned(),
            description: self.field(row, "description").to_owned(),
            pack,
            price: Money::new(amount, currency),
            supplier: self.field(row, "supplier").to_owned(),
            valid_until,
            span: row.span,
        }))
    }

    fn pack(&self, row: &CsvRow) -> Result<PackSize, (String, &'static str)> {
        let unit = self
            .units
            .parse(self.field(row, "pack_unit"))
            .map_err(|error| {
                (
                    error.to_string(),
                    "write a unit such as `gal`, `bag`, `ft2` or `h`",
                )
            })?;
        let text = self.field(row, "pack");
        let written = number(text).filter(|size| *size > 0.0).ok_or_else(|| {
            (
                format!("`{text}` is no size of a pack"),
                "write how much one pack holds, such as `5`",
            )
        })?;
        let size = unit
            .quantity(written)
            .map_err(|error| (error.to_string(), "write a smaller number"))?;
        let name = match self.field(row, "pack_name") {
            "" => unit
                .dim()
                .as_item()
                .map_or("pack".to_owned(), |item| item.name().to_owned()),
            name => name.to_owned(),
        };
        Ok(PackSize {
            size,
            written,
            unit,
            name,
        })
    }
}

#[cfg(test)]
mod tests;
