//! Price books, as comma-separated text or as the sheet of an xlsx workbook.
//!
//! One row an offer. The columns, in any order, under a header row:
//!
//! | column | what it says |
//! | --- | --- |
//! | `item` | the item as the rule pack names it; `labour` is the wage of an hour, `labour/lead` that of the wage class `lead` |
//! | `pack`, `pack_unit` | how much one pack holds: `5` and `gal`, or `1` and `bag` |
//! | `price`, `currency` | the price of one pack: `185.00` and an ISO 4217 code such as `USD` |
//!
//! All others may be left out, and so may each of their cells:
//!
//! | column | what it says | where it says nothing |
//! | --- | --- | --- |
//! | `description`, `pack_name`, `supplier` | in words | |
//! | `valid_from`, `valid_until` | the first and the last day on which the price holds, as ISO 8601 | it holds before and after |
//! | `from_packs` | the price holds from so many packs on | from one |
//! | `lead_days` | calendar days from order to delivery | not known |
//! | `freight` | what the supplier asks for a delivery, once a job, of however many items; the rows of a supplier that state it state the same | none |
//! | `taxed` | `yes` or `no`: whether a tax on materials is reckoned on the item | `yes` |
//!
//! An item may stand in several rows: of suppliers, of pack sizes, from numbers of packs on, for
//! times that do not overlap. Two rows that are alike in all of these price it twice. A wage has
//! one row for a time. A row without a price prices nothing: where its item has no other row, it
//! stays unpriced, and the estimate incomplete.

mod row;
mod table;
mod workbook;

use parge_base::prices::{Freight, Offer, PriceBook};
use parge_base::{Code, Currency, Diagnostic, FileId, Money, Sources, Units, diagnostic};
use row::Reader;
use table::{Row, Table};
pub use workbook::MAX_WORKBOOK_BYTES;

pub(crate) const COLUMNS: [&str; 14] = [
    "item",
    "description",
    "pack",
    "pack_unit",
    "pack_name",
    "price",
    "currency",
    "supplier",
    "valid_from",
    "valid_until",
    "from_packs",
    "lead_days",
    "freight",
    "taxed",
];
const REQUIRED: [&str; 5] = ["item", "pack", "pack_unit", "price", "currency"];

/// The item that is an hour of labour, and of which the wage classes are details.
const LABOUR: &str = "labour";

/// Reads a price book in comma-separated text. With an error there is no book: a price that was
/// passed over could be the one that matters.
pub fn price_book(
    sources: &Sources,
    file: FileId,
    units: &Units,
) -> (Option<PriceBook>, Vec<Diagnostic>) {
    match Table::of_text(sources, file) {
        Ok(table) => book(&table, units),
        Err(diagnostic) => (None, vec![diagnostic]),
    }
}

/// Reads a price book in an xlsx workbook: the sheet of that name, or else its first one. The rows
/// are added to the sources under the name to show for the workbook, line by line as they stand in
/// the sheet.
pub fn price_book_of_workbook(
    sources: &mut Sources,
    name: &str,
    bytes: &[u8],
    sheet: Option<&str>,
    units: &Units,
) -> (Option<PriceBook>, Vec<Diagnostic>) {
    match workbook::read(sources, name, bytes, sheet) {
        Ok(table) => book(&table, units),
        Err(diagnostic) => (None, vec![diagnostic]),
    }
}

fn book(table: &Table, units: &Units) -> (Option<PriceBook>, Vec<Diagnostic>) {
    let mut diagnostics = check_columns(table);
    if !diagnostics.is_empty() {
        return (None, diagnostics);
    }
    let reader = Reader { table, units };
    let mut read: Vec<(Offer, &Row)> = Vec::new();
    let (mut open, mut freight) = (Vec::new(), Freights::default());
    for row in &table.rows {
        match reader.offer(row) {
            Ok(Some((offer, of_delivery))) => {
                let found = freight.add(&offer, of_delivery, row);
                diagnostics.extend(found.err());
                read.push((offer, row));
            }
            Ok(None) => open.push((table.field(row, "item").to_owned(), row.line.span)),
            Err(diagnostic) => diagnostics.push(diagnostic),
        }
    }
    diagnostics.extend(priced_twice(&read));
    let currency = one_currency(&read, table, &mut diagnostics);
    diagnostic::tidy(&mut diagnostics);
    let book = currency
        .filter(|_| diagnostics.is_empty())
        .map(|currency| PriceBook {
            currency,
            offers: read.into_iter().map(|(offer, _)| offer).collect(),
            open,
            freight: freight.0,
            span: table.header_span,
        });
    (book, diagnostics)
}

fn check_columns(table: &Table) -> Vec<Diagnostic> {
    let help = format!("the columns are: {}", COLUMNS.join(", "));
    let wrong = |message: String| {
        let diagnostic = Diagnostic::new(Code::BadPriceBook, message, help.clone());
        diagnostic.at(table.header_span, table.header_place.clone())
    };
    let missing = REQUIRED
        .into_iter()
        .filter(|name| table.column(name).is_none())
        .map(|name| wrong(format!("the price book has no column `{name}`")));
    let unknown = table
        .header
        .iter()
        .filter(|name| !COLUMNS.contains(&name.as_str()))
        .map(|name| match name.as_str() {
            "" => wrong("a column of the price book has no name".to_owned()),
            name => wrong(format!(
                "the price book has a column `{name}` that is not known"
            )),
        });
    missing.chain(unknown).collect()
}

/// What each supplier asks for a delivery.
#[derive(Default)]
struct Freights(Vec<Freight>);

impl Freights {
    /// Keeps what a row says of the delivery, which must be what the supplier's other rows say.
    fn add(&mut self, offer: &Offer, amount: Option<Money>, row: &Row) -> Result<(), Diagnostic> {
        let Some(amount) = amount else {
            return Ok(());
        };
        let known = self.0.iter().find(|known| known.supplier == offer.supplier);
        match known {
            Some(known) if known.amount == amount => {}
            Some(known) => {
                let message = format!("the freight of `{}` is stated twice", offer.supplier);
                let help = "write what one delivery of the supplier costs into one row, or the \
                            same into all";
                let diagnostic = Diagnostic::new(Code::BadPriceRow, message, help);
                let diagnostic = diagnostic.at(row.line.span, row.said("otherwise here"));
                return Err(diagnostic.at(known.span, "first here"));
            }
            None => self.0.push(Freight {
                supplier: offer.supplier.clone(),
                amount,
                span: row.line.span,
            }),
        }
        Ok(())
    }
}

/// Rows that price an item twice, each told once.
fn priced_twice(read: &[(Offer, &Row)]) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (at, (offer, row)) in read.iter().enumerate() {
        let before = read.iter().take(at);
        let mut twins = before.filter(|(first, _)| is_twin(first, offer));
        let Some((_, first)) = twins.next() else {
            continue;
        };
        let message = format!("`{}` is priced twice", offer.item);
        let help = match is_labour(&offer.item) {
            true => "keep the row that holds; wages of other times have days that do not overlap",
            false => {
                "keep the row that holds; other offers have another supplier, pack, number of \
                 packs or time"
            }
        };
        let twice = Diagnostic::new(Code::PricedTwice, message, help);
        let twice = twice.at(row.line.span, row.said("again here"));
        found.push(twice.at(first.line.span, first.said("first here")));
    }
    found
}

/// Whether two rows could be taken for each other. There are no several offers of labour.
fn is_twin(a: &Offer, b: &Offer) -> bool {
    let same_offer = a.supplier == b.supplier
        && a.pack.size == b.pack.size
        && a.terms.from_packs == b.terms.from_packs;
    a.item == b.item && a.holds_beside(b) && (same_offer || is_labour(&a.item))
}

fn is_labour(item: &str) -> bool {
    item.split('/').next() == Some(LABOUR)
}

fn one_currency(
    read: &[(Offer, &Row)],
    table: &Table,
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<Currency> {
    let Some((first, first_row)) = read.first() else {
        if diagnostics.is_empty() {
            let help = "add a row for each item that the job needs";
            let empty = Diagnostic::new(Code::BadPriceBook, "the price book prices nothing", help);
            diagnostics.push(empty.at(table.header_span, table.header_place.clone()));
        }
        return None;
    };
    let currency = first.price.currency();
    let mut rows = read.iter();
    if let Some((other, row)) = rows.find(|(offer, _)| offer.price.currency() != currency) {
        let other = other.price.currency();
        let message = format!(
            "the price book mixes {} and {}",
            currency.code(),
            other.code()
        );
        let help = "keep one book a currency";
        let mixed = Diagnostic::new(Code::BadPriceBook, message, help);
        let mixed = mixed.at(row.line.span, row.said(other.code()));
        let mixed = mixed.at(first_row.line.span, first_row.said(currency.code()));
        diagnostics.push(mixed);
    }
    Some(currency)
}

#[cfg(test)]
mod tests;
