//! What is said of prices, terms and amounts.

use super::Pricing;
use parge_base::prices::Offer;
use parge_base::{Code, Diagnostic, Money, Span, suggest};

impl Pricing<'_> {
    pub(super) fn other_currency(&mut self, what: &str, amount: Money, place: Option<Span>) {
        let book = self.book.currency.code();
        let message = format!(
            "{what} is in {}, and the price book is in {book}",
            amount.currency().code()
        );
        let help = format!("write the sum in {book}; Parge knows no rates of exchange");
        let mut diagnostic = Diagnostic::new(Code::OtherCurrency, message, help);
        if let Some(place) = place {
            diagnostic = diagnostic.at(place, "");
        }
        let diagnostic = diagnostic.at(self.book.span, "the price book");
        self.diagnostics.push(diagnostic);
    }

    /// Says that an item has no price: at its row where that leaves the price open, or else at
    /// the book, with the name of the row that was perhaps meant.
    pub(super) fn no_price(&mut self, item: &str, message: String) {
        let diagnostic = match self
            .book
            .open
            .iter()
            .find(|(open, _)| open == item || item.starts_with(&format!("{open}/")))
        {
            Some((_, span)) => Diagnostic::new(
                Code::NoPrice,
                message,
                "write the price of one pack into this row",
            )
            .at(*span, "its price is left open"),
            None => {
                let items = self.book.offers.iter().map(|offer| offer.item.as_str());
                let near = suggest::nearest(item, items).map_or(String::new(), |near| {
                    format!(", or correct the row `{near}`")
                });
                let help = format!("add a row for `{item}` to the price book{near}");
                Diagnostic::new(Code::NoPrice, message, help)
                    .at(self.book.span, "no row in this price book")
            }
        };
        self.diagnostics.push(diagnostic);
    }

    /// Says that a price does not hold on the day of the bid. One that holds then and ends before
    /// the bid does is kept, so that all of them are said in one.
    pub(super) fn warn_of_its_day(&mut self, offer: &Offer) {
        let (first, last) = (offer.terms.valid_from, offer.valid_until);
        self.keep_if_it_ends_first(offer);
        let Some(day) = self.job.date else {
            if first.is_some() || last.is_some() {
                self.undated.get_or_insert(offer.span);
            }
            return;
        };
        let when = match (first, last) {
            (_, Some(last)) if last < day => format!("held until {last}"),
            (Some(first), _) if day < first => format!("holds from {first} on"),
            _ => return,
        };
        let message = format!(
            "the price of `{}` {when}, and the bid is of {day}",
            offer.item
        );
        let help = "ask the supplier for a new price, and change price and date in the price book";
        self.diagnostics
            .push(Diagnostic::new(Code::PriceExpired, message, help).at(offer.span, ""));
    }

    fn keep_if_it_ends_first(&mut self, offer: &Offer) {
        let Some((until, last)) = self.job.valid_until.zip(offer.valid_until) else {
            return;
        };
        let holds = self.job.date.is_none_or(|day| offer.holds_on(day));
        if holds && last < until.node {
            let key = (last, offer.span);
            self.ends_first.insert(key, offer.item.clone());
        }
    }

    /// The client may accept on the last day of the bid, when these prices hold no more.
    pub(super) fn warn_of_prices_that_end_first(&mut self) {
        let first = self.ends_first.first_key_value();
        let Some((until, ((last, row), item))) = self.job.valid_until.zip(first) else {
            return;
        };
        let more = match self.ends_first.len() - 1 {
            0 => String::new(),
            1 => "; one more price ends before the bid does".to_owned(),
            more => format!("; {more} more prices end before the bid does"),
        };
        let message = format!(
            "the bid holds until {}, and the price of `{item}` until {last}{more}",
            until.node
        );
        let help = format!(
            "ask the supplier to hold the price longer and change it in the price book, or write \
             `valid_until {last}`"
        );
        let ends = Diagnostic::new(Code::PriceEndsFirst, message, help);
        let ends = ends
            .at(*row, "the first to end")
            .at(until.span, "the bid holds until then");
        self.diagnostics.push(ends);
    }

    pub(super) fn warn_of_open_terms(&mut self) {
        let bid = &self.job.bid;
        let terms = [
            ("burden", bid.burden.is_none()),
            ("overhead", bid.overhead.is_none()),
            ("profit", bid.profit.is_none()),
            ("tax", bid.tax.is_none()),
        ];
        let open: Vec<&str> = terms
            .into_iter()
            .filter(|(_, open)| *open)
            .map(|(name, _)| name)
            .collect();
        if !open.is_empty() {
            let message = format!(
                "the bid says nothing of {}: counted as nothing",
                open.join(", ")
            );
            let help = "state it in the job block: `bid { burden 32%  overhead 12%  profit margin 20%  tax 7% on materials }`";
            let diagnostic = Diagnostic::new(Code::BidTermMissing, message, help);
            self.diagnostics.push(diagnostic.at(self.job.span, ""));
        }
    }

    /// Without the day of the bid nobody can tell whether a price that ends still holds.
    pub(super) fn warn_without_date(&mut self) {
        if let Some(row) = self.undated {
            let message = "the job has no date, and some of its prices hold only for a time";
            let help = "add the day of the bid to the job block, such as `date 2026-05-11`";
            let diagnostic = Diagnostic::new(Code::NoDate, message, help)
                .at(self.job.span, "")
                .at(row, "the first of them");
            self.diagnostics.push(diagnostic);
        }
    }
}
