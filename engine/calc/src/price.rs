//! Pricing: needs rounded up to packs of the best offer, labour at its rate, what is bought of
//! whom, and the chain from cost to price.

mod chain;
mod contingency;
mod offers;
mod purchases;
mod said;

pub use chain::{Sums, chain};
pub(crate) use chain::{rounded_by, up_to};
pub use contingency::Contingency;
pub use offers::Choice;
pub(crate) use offers::{offer_of, offers_for, wage_of};
pub use purchases::{Purchase, PurchaseLine};

use crate::alternates::PricedAlternate;
use crate::charges::{Charge, Charged, charges};
use crate::crew::{self, PaidClass};
use crate::estimate_class::Range;
use crate::job::{Bid, Job};
use crate::learn::Likely;
use crate::pool::{Labour, Material, Pooled};
use crate::takeoff::Takeoff;
use jiff::civil::Date;
use offers::{Found, choose};
use parge_base::money::MoneyOverflow;
use parge_base::prices::{PackSize, PriceBook};
use parge_base::{Code, Currency, Diagnostic, Dim, Factor, Money, Quantity, Span, diagnostic};
use parge_rules::{Pack, Run};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;
use std::collections::BTreeMap;
use std::sync::Arc;

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
    /// The offer it is bought by, and why.
    pub choice: Option<Choice>,
}

impl MaterialLine {
    /// Whether a tax on materials is reckoned on it.
    pub fn is_taxed(&self) -> bool {
        let choice = self.choice.as_ref();
        choice.is_none_or(|choice| choice.offer.terms.taxed)
    }
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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Price {
    /// The wage of an hour, before burden: of a crew paid by classes, their mean.
    pub wage: Option<Money>,
    /// The sum of the priced materials.
    pub materials: Money,
    /// The part of it that a tax on materials is reckoned on. It is no step of its own.
    pub taxed: Money,
    /// What suppliers ask for bringing them.
    pub freight: Money,
    /// The sum of the priced labour.
    pub labour: Money,
    /// Burden on the labour.
    pub burden: Money,
    /// Overhead on materials, freight, labour and burden.
    pub overhead: Money,
    /// For what is not foreseen, on all of these.
    pub contingency: Money,
    /// Profit.
    pub profit: Money,
    /// The sums set aside: neither overhead nor profit is reckoned on them.
    pub allowances: Money,
    /// What rules of the pack add.
    pub charges: Money,
    /// What was missing of the least price before tax.
    pub minimum: Money,
    /// What rounds the price before tax; less than nothing where it is rounded down.
    pub rounding: Money,
    /// Tax.
    pub tax: Money,
    /// What the client pays.
    pub total: Money,
}

impl Price {
    /// What a rule for the price sees as the total: neither what it adds itself, nor what follows.
    pub fn before_charges(&self) -> Result<Money, MoneyOverflow> {
        let parts = [
            self.freight,
            self.labour,
            self.burden,
            self.overhead,
            self.contingency,
            self.profit,
            self.allowances,
        ];
        parts.into_iter().try_fold(self.materials, Money::plus)
    }
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
    /// The materials by supplier.
    pub purchases: Vec<Purchase>,
    /// The first day on site, where it is known.
    pub first_day: Option<Date>,
    /// The chain to the total.
    pub price: Price,
    /// The contingency that holds.
    pub contingency: Contingency,
    /// Between which amounts the total is expected, where the plan states a class.
    pub range: Option<Range>,
    /// In which range the total is likely to lie by what the pack knows of its factors, for whoever
    /// asks; see [`crate::learn::likely()`].
    pub likely: Option<Likely>,
    /// What rules of the pack add, line by line.
    pub charges: Vec<Charge>,
    /// The run of the rule that adds the charges, where the pack has one.
    pub charging: Option<Run>,
    /// What the client may choose instead; see [`crate::alternates`].
    pub alternates: Vec<PricedAlternate>,
}

impl Estimate {
    /// All factors that the figures rest on, each once, by name.
    pub fn factors(&self) -> Vec<&Arc<Factor>> {
        let charging = self.charging.iter().flat_map(|run| run.tape.factors());
        let of_the_price = self.contingency.by_class.iter().chain(charging);
        let all = of_the_price.chain(self.takeoff.factors());
        let by_name: BTreeMap<&str, &Arc<Factor>> =
            all.map(|factor| (factor.name.as_str(), factor)).collect();
        by_name.into_values().collect()
    }
}

/// Prices what was pooled. `None` only when an amount outgrows what can be written.
pub fn price(
    takeoff: Takeoff,
    pooled: Pooled,
    book: &PriceBook,
    pack: &Pack,
) -> (Option<Estimate>, Vec<Diagnostic>) {
    let mut pricing = Pricing::new(&takeoff, book, pack);
    let result = pricing.estimate(pooled);
    let mut diagnostics = pricing.diagnostics;
    // Sums without what is in another currency would look right.
    let is_mixed = diagnostics
        .iter()
        .any(|said| said.code == Code::OtherCurrency);
    let estimate = match result {
        Ok(_) if is_mixed => None,
        Ok(lines) => Some(lines.estimate(takeoff, book.currency)),
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

/// The price alone, of needs that may be others than a take-off's own; `None` when an amount outgrows
/// what can be written. What is said of it is what [`price`] says of the take-off.
pub fn price_alone(
    takeoff: &Takeoff,
    pooled: Pooled,
    book: &PriceBook,
    pack: &Pack,
) -> Option<Price> {
    let lines = Pricing::new(takeoff, book, pack).estimate(pooled);
    lines.ok().map(|lines| lines.price)
}

/// The price of a take-off that somebody goes on working with, and whether every line has its
/// price. `None` where an amount outgrows what can be written, or anything is wrong with the
/// prices; [`price()`] says what.
pub(crate) fn price_by_itself(
    takeoff: &Takeoff,
    pooled: Pooled,
    book: &PriceBook,
    pack: &Pack,
) -> Option<(Price, Status)> {
    let mut pricing = Pricing::new(takeoff, book, pack);
    let lines = pricing.estimate(pooled).ok()?;
    let wrong = diagnostic::any_error(&pricing.diagnostics);
    (!wrong).then(|| (lines.price, lines.status()))
}

struct Pricing<'a> {
    book: &'a PriceBook,
    takeoff: &'a Takeoff,
    job: &'a Job,
    pack: &'a Pack,
    /// The first price met that holds for a time, where the job has no date to hold it against.
    undated: Option<Span>,
    /// The prices reckoned with that end before the bid does, by their last day and row.
    ends_first: BTreeMap<(Date, Span), String>,
    diagnostics: Vec<Diagnostic>,
}

/// All that pricing adds to a take-off.
struct Lines {
    materials: Vec<MaterialLine>,
    labour: Vec<LabourLine>,
    classes: Vec<PaidClass>,
    purchases: Vec<Purchase>,
    first_day: Option<Date>,
    price: Price,
    contingency: Contingency,
    range: Option<Range>,
    charged: Charged,
}

impl Lines {
    fn status(&self) -> Status {
        let priced = self.materials.iter().all(|line| line.cost.is_some())
            && self.labour.iter().all(|line| line.cost.is_some());
        if priced {
            Status::Complete
        } else {
            Status::Incomplete
        }
    }

    fn estimate(self, takeoff: Takeoff, currency: Currency) -> Estimate {
        let status = self.status();
        let (charges, charging) = self.charged;
        Estimate {
            takeoff,
            status,
            currency,
            materials: self.materials,
            labour: self.labour,
            classes: self.classes,
            purchases: self.purchases,
            first_day: self.first_day,
            price: self.price,
            contingency: self.contingency,
            range: self.range,
            likely: None,
            charges,
            charging,
            alternates: Vec::new(),
        }
    }
}

impl<'a> Pricing<'a> {
    fn new(takeoff: &'a Takeoff, book: &'a PriceBook, pack: &'a Pack) -> Self {
        Self {
            book,
            takeoff,
            job: &takeoff.measured.job,
            pack,
            undated: None,
            ends_first: BTreeMap::new(),
            diagnostics: Vec::new(),
        }
    }

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
        let first_day = purchases::first_day(self.takeoff);
        let purchases = purchases::purchases(&materials, first_day, self.book)?;
        self.warn_of_open_terms();
        self.warn_without_date();
        self.warn_of_prices_that_end_first();
        let contingency = self.contingency();
        let mut sums = self.sums(&materials, &labour, &purchases)?;
        let bid = self.bid();
        let before = chain(sums, &bid, contingency.rate, wage)?;
        let said = &mut self.diagnostics;
        let charged = charges(&before, &labour, self.takeoff, self.pack, said);
        let amounts = charged.0.iter().map(|charge| charge.amount);
        sums.charges = sum(self.book.currency, amounts)?;
        let price = chain(sums, &bid, contingency.rate, wage)?;
        let class = self.job.bid.class;
        Ok(Lines {
            materials,
            labour,
            classes,
            purchases,
            first_day,
            price,
            contingency,
            range: class.map(|class| class.range(price.total)).transpose()?,
            charged,
        })
    }

    /// What the chain begins with, before the rules add anything.
    fn sums(
        &mut self,
        materials: &[MaterialLine],
        labour: &[LabourLine],
        purchases: &[Purchase],
    ) -> Result<Sums, MoneyOverflow> {
        let currency = self.book.currency;
        let priced = || materials.iter().filter(|line| line.cost.is_some());
        let taxed = priced().filter(|line| line.is_taxed());
        let allowances = self.allowances();
        Ok(Sums {
            materials: sum(currency, priced().filter_map(|line| line.cost))?,
            taxed: sum(currency, taxed.filter_map(|line| line.cost))?,
            freight: purchases::freight(purchases, currency)?,
            labour: sum(currency, labour.iter().filter_map(|line| line.cost))?,
            allowances: sum(currency, allowances.into_iter())?,
            charges: Money::zero(currency),
        })
    }

    /// The terms of the bid; amounts in another currency than the prices are errors, and left out.
    fn bid(&mut self) -> Bid {
        let mut bid = self.job.bid;
        let places = self.job.bid_places;
        let other = |amount: Money| amount.currency() != self.book.currency;
        if let Some(least) = bid.minimum.filter(|least| other(*least)) {
            self.other_currency("the minimum", least, places.minimum);
            bid.minimum = None;
        }
        if let Some(rounding) = bid.rounding.filter(|rounding| other(rounding.multiple)) {
            let what = "what the price is rounded to";
            self.other_currency(what, rounding.multiple, places.rounding);
            bid.rounding = None;
        }
        bid
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
            let what = format!("allowance `{}`", allowance.name);
            self.other_currency(&what, allowance.amount, Some(allowance.span));
        }
        fit.into_iter().map(|allowance| allowance.amount).collect()
    }

    fn material(&mut self, material: Material) -> Result<MaterialLine, MoneyOverflow> {
        let (book, date) = (self.book, self.job.date);
        let need = Quantity {
            value: material.need.value + material.waste.value,
            dim: material.need.dim,
        };
        let found = choose(book, &material.item, need, date)?;
        let mut line = MaterialLine {
            material,
            packs: None,
            pack: None,
            unit_price: None,
            cost: None,
            supplier: String::new(),
            choice: None,
        };
        let (item, description) = (&line.material.item, &line.material.description);
        match found {
            Found::Nothing => {
                let message =
                    format!("`{item}` ({description}) has no price, so the estimate is INCOMPLETE");
                self.no_price(item, message);
            }
            Found::OtherKind(offer) => {
                self.warn_of_its_day(offer);
                let message = format!(
                    "`{}` is sold by {}, but the job needs {}: the estimate is INCOMPLETE",
                    offer.item,
                    offer.pack.size.dim.words(),
                    need.dim.words()
                );
                let help = format!(
                    "give the pack's content in a unit such as `{}`",
                    line.material.unit.text()
                );
                self.diagnostics
                    .push(Diagnostic::new(Code::PackMismatch, message, help).at(offer.span, ""));
            }
            Found::Offer(choice) => {
                self.warn_of_its_day(&choice.offer);
                line.packs = Some(choice.packs);
                line.pack = Some(choice.offer.pack.clone());
                line.unit_price = Some(choice.offer.price);
                line.cost = Some(choice.cost);
                line.supplier = choice.offer.supplier.clone();
                line.choice = Some(*choice);
            }
        }
        Ok(line)
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
        let Some(offer) = wage_of(self.book, item, self.job.date) else {
            self.no_price(item, nothing.to_owned());
            return None;
        };
        self.warn_of_its_day(offer);
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
}

fn sum(currency: Currency, amounts: impl Iterator<Item = Money>) -> Result<Money, MoneyOverflow> {
    amounts
        .into_iter()
        .try_fold(Money::zero(currency), Money::plus)
}

#[cfg(test)]
mod tests;
