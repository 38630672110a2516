//! The price book: what a supplier asks for a pack of something.

use crate::money::{Currency, Money};
use crate::quantity::Quantity;
use crate::source::Span;
use crate::unit::Unit;
use jiff::civil::Date;

/// What is sold as one: a pail of five gallons, a sheet, an hour of labour.
#[derive(Debug, Clone, PartialEq)]
pub struct PackSize {
    /// How much one pack holds, in base units; always more than nothing.
    pub size: Quantity,
    /// The number as written.
    pub written: f64,
    /// The unit as written.
    pub unit: Unit,
    /// What one pack is called: `pail`.
    pub name: String,
}

/// One row of a price book.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The item as rule packs name it: `finish-mix`.
    pub item: String,
    /// What the supplier calls it.
    pub description: String,
    /// What is sold as one.
    pub pack: PackSize,
    /// The price of one pack.
    pub price: Money,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The last day on which the price holds, where one is given.
    pub valid_until: Option<Date>,
    /// The row.
    pub span: Span,
}

/// All offers of one book, in one currency, at most one an item.
#[derive(Debug, Clone)]
pub struct PriceBook {
    /// The currency of every price.
    pub currency: Currency,
    /// The offers in the order of the book.
    pub offers: Vec<Offer>,
    /// The items whose price is left open, with their rows.
    pub open: Vec<(String, Span)>,
    /// Its header row: where to point for what is missing.
    pub span: Span,
}

impl PriceBook {
    /// The offer for an item.
    pub fn offer(&self, item: &str) -> Option<&Offer> {
        self.offers.iter().find(|offer| offer.item == item)
    }
}
