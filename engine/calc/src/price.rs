//! Pricing: needs rounded up to packs, labour at its rate, and the chain from cost to price.

use crate::alternates::PricedAlternate;
use crate::charges::{Charge, Charged, charges};
use crate::crew::{self, PaidClass};
use crate::job::{Bid, Job, Profit, Taxable};
use crate::pool::{Labour, Material, Pooled};
use crate::takeoff::Takeoff;
use parge_base::money::MoneyOverflow;
use parge_base::number::whole_up;
use parge_base::prices::{Offer, PackSize, PriceBook};
use parge_base::{Code, Currency, Diagnostic, Dim, Money, diagnostic, suggest};
use parge_rules::{Pack, Run};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

/// The item of a price book that is an hour of labour, before burden.
pub const LABOUR_ITEM: &str = "labour";

/// Whether every line has its price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Every line is priced.
    Complete,
    /// At least one line has no price; the total leaves it out and says so.
    Incomplete,
}

/// A material with its packs and cost. What has no price has none of the last four.
#[derive(Debug, Clone)]
pub struct MaterialLine {
    /// The need.
    pub material: Material,
    /// Whole packs to buy.
    pub packs: Option<f64>,
    /// What one pack is.
    pub pack: Option<PackSize>,
    /// The price of one pack.
    pub unit_price: Option<Money>,
    /// Packs times price.
    pub cost: Option<Money>,
    /// Who sells it.
    pub supplier: String,
}

/// A phase with its cost.
#[derive(Debug, Clone)]
pub struct LabourLine {
    /// The hours.
    pub labour: Labour,
    /// Hours times wage; none where no wage is known.
    pub cost: Option<Money>,
}

/// From cost to price. Every amount is rounded to the minor unit, and `total` is the sum of
/// the amounts above it.
#[derive(Debug, Clone, Copy)]
pub struct Price {
    /// The wage of an hour, before burden: of a crew paid by classes, their mean.
    pub wage: Option<Money>,
    /// The sum of the priced materials.
    pub materials: Money,
    /// The sum of the priced labour.
    pub labour: Money,
    /// Burden on the labour.
    pub burden: Money,
    /// Overhead on materials, labour and burden.
    pub overhead: Money,
    /// Profit.
    pub profit: Money,
    /// The sums set aside: neither overhead nor profit is reckoned on them.
    pub allowances: Money,
    /// What rules of the pack add.
    pub charges: Money,
    /// Tax.
    pub tax: Money,
    /// What the client pays.
    pub total: Money,
}

/// A priced job.
#[derive(Debug)]
pub struct Estimate {
    /// The take-off it rests on.
    pub takeoff: Takeoff,
    /// Whether every line has its price.
    pub status: Status,
    /// The currency.
    pub currency: Currency,
    /// Materials.
    pub materials: Vec<MaterialLine>,
    /// Labour.
    pub labour: Vec<LabourLine>,
    /// The wage classes of the crew, in the order of the plan; empty where one wage pays all.
    pub classes: Vec<PaidClass>,
    /// The chain to the total.
    pub price: Price,
    /// What rules of the pack add, line by line.
    pub charges: Vec<Charge>,
    /// The run of the rule that adds the charges, where the pack has one.
    pub charging: Option<Run>,
    /// What the client may choose instead; see [`crate::alternates`].
    pub alternates: Vec<PricedAlternate>,
}

/// Prices what was pooled. `None` only when an amount outgrows what can be written.
pub fn price(
    takeoff: Takeoff,
    pooled: Pooled,
    book: &PriceBook,
    pack: &Pack,
) -> (Option<Estimate>, Vec<Diagnostic>) {
    let mut pricing = Pricing {
        book,
        takeoff: &takeoff,
        job: &takeoff.measured.job,
        pack,
        undated: None,
        diagnostics: Vec::new(),
    };
    let result = pricing.estimate(pooled);
    let mut diagnostics = pricing.diagnostics;
    let estimate = match result {
        Ok((materials, (labour, classes), price, (charges, charging))) => {
            let priced = materials.iter().all(|line| line.cost.is_some())
                && labour.iter().all(|line| line.cost.is_some());
            let status = if priced {
                Status::Complete
            } else {
                Status::Incomplete
            };
            Some(Estimate {
                takeoff,
                status,
                currency: book.currency,
                materials,
                labour,
                classes,
                price,
                charges,
                charging,
                alternates: Vec::new(),
            })
        }
        Err(overflow) => {
            let help = "check the sizes, counts and prices: no wall costs that much";
            diagnostics.push(Diagnostic::new(
                Code::MoneyTooLarge,
                overflow.to_string(),
                help,
            ));
            None
        }
    };
    diagnostic::tidy(&mut diagnostics);
    (estimate, diagnostics)
}

struct Pricing<'a> {
    book: &'a PriceBook,
    takeoff: &'a Takeoff,
    job: &'a Job,
    pack: &'a Pack,
    /// The first price met that ends some day, where the job has no date to hold it against.
    undated: Option<&'a Offer>,
    diagnostics: Vec<Diagnostic>,
}

type Lines = (
    Vec<MaterialLine>,
    (Vec<LabourLine>, Vec<PaidClass>),
    Price,
    Charged,
);

impl<'a> Pricing<'a> {
    fn estimate(&mut self, pooled: Pooled) -> Result<Lines, MoneyOverflow> {
        let materials: Vec<MaterialLine> = pooled
            .materials
            .into_iter()
            .map(|material| self.material(material))
            .collect::<Result<_, _>>()?;
        let unknown = crew::unknown_classes(self.job, self.book);
        self.diagnostics.extend(unknown);
        let (wage, classes) = self.wages(&pooled.labour)?;
        let labour: Vec<LabourLine> = pooled
            .labour
            .into_iter()
            .map(|labour| {
                let cost = wage.map(|wage| wage.times(labour.hours)).transpose()?;
                Ok(LabourLine { labour, cost })
            })
            .collect::<Result<_, MoneyOverflow>>()?;
        let material_sum = sum(
            self.book.currency,
            materials.iter().filter_map(|line| line.cost),
        )?;
        let labour_sum = sum(
            self.book.currency,
            labour.iter().filter_map(|line| line.cost),
        )?;
        self.warn_of_open_terms();
        self.warn_without_date();
        let allowances = sum(self.book.currency, self.allowances().into_iter())?;
        let none = Money::zero(self.book.currency);
        let bid = &self.job.bid;
        let before = chain([material_sum, labour_sum, allowances, none], bid, wage)?;
        let said = &mut self.diagnostics;
        let (charges, charging) = charges(&before, &labour, self.takeoff, self.pack, said);
        let added = sum(
            self.book.currency,
            charges.iter().map(|charge| charge.amount),
        )?;
        let price = chain([material_sum, labour_sum, allowances, added], bid, wage)?;
        Ok((materials, (labour, classes), price, (charges, charging)))
    }

    /// The sums set aside; one in another currency than the prices is an error.
    fn allowances(&mut self) -> Vec<Money> {
        let book = self.book.currency;
        let (fit, other): (Vec<_>, Vec<_>) = self
            .job
            .content
            .allowances
            .iter()
            .partition(|allowance| allowance.amount.currency() == book);
        for allowance in other {
            let message = format!(
                "allowance `{}` is in {}, and the price book is in {}",
                allowance.name,
                allowance.amount.currency().code(),
                book.code()
            );
            let help = format!(
                "write the sum in {}; Parge knows no rates of exchange",
                book.code()
            );
            let diagnostic = Diagnostic::new(Code::OtherCurrency, message, help);
            let diagnostic = diagnostic.at(allowance.span, "");
            self.diagnostics
                .push(diagnostic.at(self.book.span, "the price book"));
        }
        fit.into_iter().map(|allowance| allowance.amount).collect()
    }

    fn material(&mut self, material: Material) -> Result<MaterialLine, MoneyOverflow> {
        let blank = MaterialLine {
            material,
            packs: None,
            pack: None,
            unit_price: None,
            cost: None,
            supplier: String::new(),
        };
        let Some(offer) = offer_of(self.book, &blank.material.item) else {
            let name = &blank.material.item;
            let message = format!(
                "`{name}` ({}) has no price, so the estimate is INCOMPLETE",
                blank.material.description
            );
            self.no_price(name, message);
            return Ok(blank);
        };
        self.warn_if_expired(offer);
        let material = &blank.material;
        if offer.pack.size.dim != material.need.dim {
            let message = format!(
                "`{}` is sold by {}, but the job needs {}: the estimate is INCOMPLETE",
                offer.item,
                offer.pack.size.dim.words(),
                material.need.dim.words()
            );
            let help = format!(
                "give the pack's content in a unit such as `{}`",
                material.unit.text()
            );
            self.diagnostics
                .push(Diagnostic::new(Code::PackMismatch, message, help).at(offer.span, ""));
            return Ok(blank);
        }
        let packs = whole_up((material.need.value + material.waste.value) / offer.pack.size.value);
        Ok(MaterialLine {
            packs: Some(packs),
            pack: Some(offer.pack.clone()),
            unit_price: Some(offer.price),
            cost: Some(offer.price.times(packs)?),
            supplier: offer.supplier.clone(),
            ..blank
        })
    }

    /// The price of an hour, and the classes of which it is the mean: those of the crew where the
    /// book has rows for classes, or else none.
    fn wages(
        &mut self,
        labour: &[Labour],
    ) -> Result<(Option<Money>, Vec<PaidClass>), MoneyOverflow> {
        if labour.is_empty() {
            return Ok((None, Vec::new()));
        }
        if crew::wage_classes(self.book).is_empty() || self.job.crew_classes.is_empty() {
            let nothing = "no wage is known, so the estimate is INCOMPLETE";
            return Ok((self.wage(LABOUR_ITEM, nothing), Vec::new()));
        }
        let mut classes = Vec::new();
        for class in &self.job.crew_classes {
            let name = class.name.clone();
            let nothing = format!("no wage of `{name}` is known, so the estimate is INCOMPLETE");
            let people = Decimal::from_f64(self.job.value(class.people).value);
            classes.push(PaidClass {
                wage: self.wage(&crew::class_item(&name), &nothing),
                people: people.ok_or(MoneyOverflow)?,
                name,
            });
        }
        Ok((crew::mean_wage(&classes)?, classes))
    }

    /// The wage in one row. Labour is paid by the hundredth of an hour, so it is priced by the
    /// hour and nothing else.
    fn wage(&mut self, item: &str, nothing: &str) -> Option<Money> {
        let Some(offer) = self.book.offer(item) else {
            self.no_price(item, nothing.to_owned());
            return None;
        };
        self.warn_if_expired(offer);
        if offer.pack.size.dim != Dim::TIME
            || offer.pack.unit.text() != "h"
            || offer.pack.written != 1.0
        {
            let message = "labour is priced by the hour: the estimate is INCOMPLETE";
            let help = "let the pack of this row be 1 h, and the price the wage of one hour";
            self.diagnostics
                .push(Diagnostic::new(Code::PackMismatch, message, help).at(offer.span, ""));
            return None;
        }
        Some(offer.price)
    }

    /// Says that an item has no price: at its row where that leaves the price open, or else at
    /// the book, with the name of the row that was perhaps meant.
    fn no_price(&mut self, item: &str, message: String) {
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

    fn warn_if_expired(&mut self, offer: &'a Offer) {
        let Some(last) = offer.valid_until else {
            return;
        };
        let Some(day) = self.job.date else {
            self.undated.get_or_insert(offer);
            return;
        };
        if last < day {
            let message = format!(
                "the price of `{}` held until {last}, and the bid is of {day}",
                offer.item
            );
            let help =
                "ask the supplier for a new price, and change price and date in the price book";
            self.diagnostics
                .push(Diagnostic::new(Code::PriceExpired, message, help).at(offer.span, ""));
        }
    }

    fn warn_of_open_terms(&mut self) {
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
    fn warn_without_date(&mut self) {
        if let Some(offer) = self.undated {
            let message = "the job has no date, and some of its prices hold only until a day";
            let help = "add the day of the bid to the job block, such as `date 2026-05-11`";
            let diagnostic = Diagnostic::new(Code::NoDate, message, help)
                .at(self.job.span, "")
                .at(offer.span, "the first of them");
            self.diagnostics.push(diagnostic);
        }
    }
}

/// The offer for an item: for `colour/granite` the row of that name, or else `colour`.
pub(crate) fn offer_of<'a>(book: &'a PriceBook, item: &str) -> Option<&'a Offer> {
    let general = item.split_once('/').map(|(general, _)| general);
    book.offer(item).or_else(|| book.offer(general?))
}

fn sum(currency: Currency, amounts: impl Iterator<Item = Money>) -> Result<Money, MoneyOverflow> {
    amounts
        .into_iter()
        .try_fold(Money::zero(currency), Money::plus)
}

/// From the sums of material, labour, allowances and charges to the total:
/// overhead on materials, labour and burden; a markup `k` adds `k` of the cost, a margin `m`
/// adds `m / (1 - m)` of it; allowances and charges are added as they are; tax on the materials or on the
/// price with all of these.
pub fn chain(
    [materials, labour, allowances, charges]: [Money; 4],
    bid: &Bid,
    wage: Option<Money>,
) -> Result<Price, MoneyOverflow> {
    let none = Decimal::ZERO;
    let burden = labour.share(bid.burden.unwrap_or(none))?;
    let direct = materials.plus(labour)?.plus(burden)?;
    let overhead = direct.share(bid.overhead.unwrap_or(none))?;
    let cost = direct.plus(overhead)?;
    let profit = match bid.profit {
        None => Money::zero(cost.currency()),
        Some(Profit::Markup(rate)) => cost.share(rate)?,
        Some(Profit::Margin(rate)) => cost.fraction(rate, Decimal::ONE - rate)?,
    };
    let net = cost.plus(profit)?.plus(allowances)?.plus(charges)?;
    let tax = match bid.tax {
        None => Money::zero(materials.currency()),
        Some((rate, Taxable::Materials)) => materials.share(rate)?,
        Some((rate, Taxable::Total)) => net.share(rate)?,
    };
    Ok(Price {
        wage,
        materials,
        labour,
        burden,
        overhead,
        profit,
        allowances,
        charges,
        tax,
        total: net.plus(tax)?,
    })
}

#[cfg(test)]
mod tests;
