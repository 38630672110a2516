//! Short fingerprints of what prices a job.
//!
//! They find changes, and keep nobody from making them: 48 bits of SHA-256 (FIPS 180-4). What they
//! are made of may grow and never change its form, since records of jobs cite them for years.

use crate::whatif::Basis;
use parge_base::actuals::Fingerprint;
use parge_base::forecast::Forecast;
use parge_base::prices::{Freight, Offer, PriceBook};
use parge_base::{Quantity, Sources};
use parge_grammar::ast::Plan;
use parge_rules::Pack;
use sha2::{Digest, Sha256};

/// Bytes of the hash that are kept, as twelve letters: soon written by hand, and no number to a
/// spreadsheet that a record goes through.
const BYTES: usize = 6;

/// The fingerprints of a plan with what it includes, its packs and its price book. Layout and
/// comments of the plan do not matter; the texts of the packs do, but for their line ends.
pub fn fingerprint(
    plan: &Plan,
    forecast: Option<&Forecast>,
    packs: (&Pack, Option<&Pack>),
    book: &PriceBook,
    sources: &Sources,
) -> Fingerprint<String> {
    let plan = PlanPrint::of(&parge_grammar::canonical(plan));
    fingerprint_with(&plan, forecast, packs, book, sources)
}

/// What the fingerprint of a plan begins with: the plan without its weather.
#[derive(Debug, Clone, Default)]
pub struct PlanPrint(Text);

impl PlanPrint {
    /// Of a plan's [canonical](parge_grammar::canonical) text.
    pub fn of(canonical: &str) -> Self {
        let mut text = Text::default();
        text.part(canonical);
        Self(text)
    }
}

/// The fingerprints where that of the plan is begun.
pub fn fingerprint_with(
    plan: &PlanPrint,
    forecast: Option<&Forecast>,
    packs: (&Pack, Option<&Pack>),
    book: &PriceBook,
    sources: &Sources,
) -> Fingerprint<String> {
    let mut of_plan = plan.0.clone();
    for day in forecast.iter().flat_map(|forecast| &forecast.days) {
        of_plan.part(&day.date.to_string());
        for reading in [day.air, day.humidity, day.wind, day.mix] {
            of_plan.part(&reading.map(quantity).unwrap_or_default());
        }
    }
    let mut of_rules = Text::default();
    for pack in [Some(packs.0), packs.1] {
        of_rules.pack(pack, sources);
    }
    let mut of_prices = Text::default();
    of_prices.book(book);
    Fingerprint {
        plan: of_plan.hash(),
        rules: of_rules.hash(),
        prices: of_prices.hash(),
    }
}

/// The fingerprints of what an estimate rests on.
pub fn of_basis(basis: &Basis, sources: &Sources) -> Fingerprint<String> {
    let packs = (&*basis.rules, basis.measuring.as_deref());
    let forecast = basis.forecast.as_deref();
    fingerprint(&basis.plan, forecast, packs, &basis.book, sources)
}

/// What is hashed, part by part.
#[derive(Debug, Clone, Default)]
struct Text(Sha256);

impl Text {
    /// A part with its length before it, so that no two run into each other.
    fn part(&mut self, text: &str) {
        self.0.update(format!("{}:", text.len()));
        self.0.update(text);
    }

    fn hash(self) -> String {
        let all = self.0.finalize();
        let kept = all.iter().take(BYTES);
        kept.flat_map(|byte| [byte >> 4, byte & 0xf])
            .map(|four_bits| char::from(b'a' + four_bits))
            .collect()
    }

    /// The layers of a pack with their texts, by the names that these have in its folder.
    fn pack(&mut self, pack: Option<&Pack>, sources: &Sources) {
        let layers = pack.map(Pack::layers).unwrap_or_default();
        self.part(&layers.len().to_string());
        for layer in layers {
            self.part(&layer.manifest.name);
            for file in layer.files() {
                let name = sources.name(*file);
                self.part(name.strip_prefix(&layer.folder).unwrap_or(name));
                self.part(&sources.text(*file).replace("\r\n", "\n"));
            }
        }
    }

    fn book(&mut self, book: &PriceBook) {
        self.part(book.currency.code());
        for offer in &book.offers {
            self.offer(offer);
        }
        for (item, _) in &book.open {
            self.part("open");
            self.part(item);
        }
        for Freight {
            supplier, amount, ..
        } in &book.freight
        {
            self.part("freight");
            self.part(supplier);
            self.part(&amount.amount().normalize().to_string());
        }
    }

    /// All of an offer but the words that describe it.
    fn offer(&mut self, offer: &Offer) {
        let day = |day: Option<jiff::civil::Date>| day.map(|day| day.to_string());
        let terms = &offer.terms;
        let lead = terms.lead_days.map(|days| days.to_string());
        self.part("offer");
        self.part(&offer.item);
        self.part(&quantity(offer.pack.size));
        self.part(&offer.price.amount().normalize().to_string());
        self.part(offer.price.currency().code());
        self.part(&offer.supplier);
        self.part(&day(terms.valid_from).unwrap_or_default());
        self.part(&day(offer.valid_until).unwrap_or_default());
        self.part(&terms.from_packs.to_string());
        self.part(&lead.unwrap_or_default());
        self.part(if terms.taxed { "taxed" } else { "not taxed" });
    }
}

fn quantity(Quantity { value, dim }: Quantity) -> String {
    // A sum with nothing takes the sign from a nothing; both are equal.
    format!("{:?} {}", value + 0.0, dim.symbols())
}

#[cfg(test)]
mod tests;
