//! A row of a price book as an offer.

use super::is_labour;
use super::table::{Row, Table};
use jiff::civil::Date;
use parge_base::prices::{Offer, OfferTerms, PackSize};
use parge_base::{Code, Currency, Diagnostic, Money, Units};
use parge_rules::csv_text::number;
use rust_decimal::Decimal;

/// The longest lead that is believed, in days: ten years.
const MAX_LEAD: u32 = 3_650;

pub(super) struct Reader<'a> {
    pub(super) table: &'a Table,
    pub(super) units: &'a Units,
}

/// What is wrong with a field, and what to write instead.
type Wrong = (String, &'static str);

impl Reader<'_> {
    /// The offer of a row, and what it says of the delivery; none where its price is left open.
    pub(super) fn offer(&self, row: &Row) -> Result<Option<(Offer, Option<Money>)>, Diagnostic> {
        row.line
            .check_length(self.table.header.len(), Code::BadPriceRow)?;
        let field = |column| self.table.field(row, column);
        let item = field("item");
        if item.is_empty() {
            let help = "write the item as the rule pack names it";
            return Err(self.wrong(row, "item", ("the row names no item".to_owned(), help)));
        }
        let pack = self.pack(row)?;
        let terms = self.terms(row)?;
        let valid_until = self.read(row, "valid_until", date)?;
        if let (Some(first), Some(last)) = (terms.valid_from, valid_until)
            && last < first
        {
            let message = format!("the price ends on {last}, before it begins on {first}");
            let help = "correct `valid_from` or `valid_until`";
            return Err(self.wrong(row, "valid_until", (message, help)));
        }
        let currency = currency(field("currency"));
        let currency = currency.map_err(|wrong| self.wrong(row, "currency", wrong))?;
        let freight = self.read(row, "freight", |text| amount(text, "freight"))?;
        if freight.is_some() && field("supplier").is_empty() {
            let message = "the freight is of no supplier".to_owned();
            let help = "name the supplier: what a delivery costs is paid once for each";
            return Err(self.wrong(row, "freight", (message, help)));
        }
        let price = self.read(row, "price", |text| amount(text, "price"))?;
        let freight = freight.map(|freight| Money::new(freight, currency));
        let offer = |price| Offer {
            item: item.to_owned(),
            description: field("description").to_owned(),
            pack,
            price: Money::new(price, currency),
            supplier: field("supplier").to_owned(),
            valid_until,
            terms,
            span: row.line.span,
        };
        Ok(price.map(|price| (offer(price), freight)))
    }

    fn terms(&self, row: &Row) -> Result<OfferTerms, Diagnostic> {
        let none = OfferTerms::default();
        let from_packs = self.read(row, "from_packs", from_packs)?;
        if from_packs.is_some_and(|from| from > 1) && is_labour(self.table.field(row, "item")) {
            let message = "a wage holds from the first hour on".to_owned();
            let help = "leave `from_packs` empty in this row";
            return Err(self.wrong(row, "from_packs", (message, help)));
        }
        Ok(OfferTerms {
            valid_from: self.read(row, "valid_from", date)?,
            from_packs: from_packs.unwrap_or(none.from_packs),
            lead_days: self.read(row, "lead_days", lead_days)?,
            taxed: self.read(row, "taxed", taxed)?.unwrap_or(none.taxed),
        })
    }

    /// Reads a field; none where it is empty.
    fn read<T>(
        &self,
        row: &Row,
        column: &str,
        read: impl Fn(&str) -> Result<T, Wrong>,
    ) -> Result<Option<T>, Diagnostic> {
        match self.table.field(row, column) {
            "" => Ok(None),
            text => read(text)
                .map(Some)
                .map_err(|wrong| self.wrong(row, column, wrong)),
        }
    }

    fn wrong(&self, row: &Row, column: &str, (message, help): Wrong) -> Diagnostic {
        let (span, place) = self.table.place(row, column);
        Diagnostic::new(Code::BadPriceRow, message, help).at(span, place)
    }

    fn pack(&self, row: &Row) -> Result<PackSize, Diagnostic> {
        let field = |column| self.table.field(row, column);
        let unit = self.units.parse(field("pack_unit")).map_err(|error| {
            let help = "write a unit such as `gal`, `bag`, `ft2` or `h`";
            self.wrong(row, "pack_unit", (error.to_string(), help))
        })?;
        let text = field("pack");
        let written = number(text).filter(|size| *size > 0.0).ok_or_else(|| {
            let message = format!("`{text}` is no size of a pack");
            let help = "write how much one pack holds, such as `5`";
            self.wrong(row, "pack", (message, help))
        })?;
        let size = unit.quantity(written).map_err(|error| {
            self.wrong(row, "pack", (error.to_string(), "write a smaller number"))
        })?;
        let name = match field("pack_name") {
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

fn date(text: &str) -> Result<Date, Wrong> {
    let help = "write year-month-day: `2026-12-31`";
    text.parse()
        .map_err(|_| (format!("`{text}` is no date"), help))
}

fn currency(code: &str) -> Result<Currency, Wrong> {
    Currency::from_code(code).ok_or_else(|| {
        let message = match code {
            "" => "the row names no currency".to_owned(),
            code => format!("`{code}` is no currency"),
        };
        (message, "write its three letters: `USD`, `EUR`, `INR`")
    })
}

fn amount(text: &str, what: &str) -> Result<Decimal, Wrong> {
    let amount = text.parse::<Decimal>().ok();
    let amount = amount.filter(|amount| !amount.is_sign_negative());
    amount.ok_or_else(|| {
        let help = "write the number alone: `185.00`";
        (format!("`{text}` is no {what}"), help)
    })
}

fn from_packs(text: &str) -> Result<u32, Wrong> {
    let number = text.parse().ok().filter(|number| *number > 0);
    number.ok_or_else(|| {
        let help = "write from how many packs on the price holds: a whole number, 1 or more";
        (format!("`{text}` is no number of packs"), help)
    })
}

fn lead_days(text: &str) -> Result<u32, Wrong> {
    let days = text.parse().ok().filter(|days| *days <= MAX_LEAD);
    days.ok_or_else(|| {
        let help = "write the calendar days from order to delivery: `10`";
        (format!("`{text}` is no number of days"), help)
    })
}

fn taxed(text: &str) -> Result<bool, Wrong> {
    match text.to_lowercase().as_str() {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => {
            let help = "write `yes` or `no`: whether a tax on materials is reckoned on the item";
            Err((
                format!("`{text}` does not say whether the item is taxed"),
                help,
            ))
        }
    }
}
