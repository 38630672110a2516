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

impl PackSize {
    /// A pack in words: `pail of 5 gal`, or `bag` for one bag.
    pub fn words(&self) -> String {
        let unit = self.unit.text();
        match self.written == 1.0 && self.name == unit {
            true => unit.to_owned(),
            false => format!("{} of {} {unit}", self.name, self.written),
        }
    }
}

/// The terms of an offer beside its price. What a book leaves out is what holds by
/// [`OfferTerms::default`].
#[derive(Debug, Clone, PartialEq)]
pub struct OfferTerms {
    /// The first day on which the price holds, where one is given.
    pub valid_from: Option<Date>,
    /// The price holds from so many packs on; never less than one.
    pub from_packs: u32,
    /// Calendar days from order to delivery, where they are given.
    pub lead_days: Option<u32>,
    /// Whether a tax on materials is reckoned on the item.
    pub taxed: bool,
}

impl Default for OfferTerms {
    fn default() -> Self {
        Self {
            valid_from: None,
            from_packs: 1,
            lead_days: None,
            taxed: true,
        }
    }
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
    /// Its terms beside the price.
    pub terms: OfferTerms,
    /// The row.
    pub span: Span,
}

impl Offer {
    /// Whether the price holds on a day.
    pub fn holds_on(&self, day: Date) -> bool {
        self.terms.valid_from.is_none_or(|first| first <= day)
            && self.valid_until.is_none_or(|last| day <= last)
    }

    /// Whether there is a day on which both prices hold.
    pub fn holds_beside(&self, other: &Self) -> bool {
        let before = |last: Option<Date>, first: Option<Date>| match (last, first) {
            (Some(last), Some(first)) => last < first,
            _ => false,
        };
        !before(self.valid_until, other.terms.valid_from)
            && !before(other.valid_until, self.terms.valid_from)
    }
}

/// What a supplier asks for bringing what is bought of them, once for a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Freight {
    /// The supplier, as offers name it.
    pub supplier: String,
    /// For one delivery.
    pub amount: Money,
    /// The first row that states it.
    pub span: Span,
}

/// All offers of one book, in one currency. An item may have several: of suppliers, of pack
/// sizes, from a number of packs on, for a time.
#[derive(Debug, Clone)]
pub struct PriceBook {
    /// The currency of every price.
    pub currency: Currency,
    /// The offers in the order of the book.
    pub offers: Vec<Offer>,
    /// The items whose price is left open, with their rows.
    pub open: Vec<(String, Span)>,
    /// What suppliers ask for a delivery; each at most once.
    pub freight: Vec<Freight>,
    /// Its header row: where to point for what is missing.
    pub span: Span,
}

impl PriceBook {
    /// The offers for an item, in the order of the book.
    pub fn offers_of<'a>(&'a self, item: &'a str) -> impl Iterator<Item = &'a Offer> {
        self.offers.iter().filter(move |offer| offer.item == item)
    }

    /// What a supplier asks for a delivery.
    pub fn freight_of(&self, supplier: &str) -> Option<&Freight> {
        let mut all = self.freight.iter();
        all.find(|freight| freight.supplier == supplier)
    }
}
