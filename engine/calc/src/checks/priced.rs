//! Published bids and rate analyses, priced the whole way: a plan, the pack `priced` beside this
//! file, a price book, and the chain from cost to price.

use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::pool::pool;
use crate::price::{Estimate, Status, price};
use crate::resolve::resolve;
use crate::takeoff::take_off;
use parge_base::diagnostic::any_error;
use parge_base::prices::{Offer, OfferTerms, PackSize, PriceBook};
use parge_base::{Currency, Money, Sources, Span};
use parge_rules::{Pack, PackFiles};
use std::sync::OnceLock;

/// A bid to be priced.
pub(super) struct Bid {
    /// Whether the rule of the pack adds CPWD's chain of shares.
    pub(super) by_shares: bool,
    /// ISO 4217.
    pub(super) currency: &'static str,
    /// What the job states: its crew, and the terms of the bid.
    pub(super) job: &'static str,
    /// Name and settings of the finish, which names the published case.
    pub(super) finish: (&'static str, &'static str),
    /// The face.
    pub(super) face: &'static str,
    /// Items with how much a pack holds, its unit, and its price.
    pub(super) prices: &'static [(&'static str, f64, &'static str, &'static str)],
}

impl Bid {
    /// The estimate; none with anything said about it.
    pub(super) fn estimate(&self) -> Option<Estimate> {
        let pack = self.pack()?;
        let (finish, settings) = self.finish;
        let text = format!(
            "parge 1\njob \"check\" {{ {} }}\nfinish {finish} {{ {settings} }}\n\
             structure \"check\" on wall {{\n  face f {} {finish}\n}}\n",
            self.job, self.face
        );
        let mut sources = Sources::new();
        let file = sources.add("check.parge", text);
        let parsed = parge_grammar::parse(file, sources.text(file));
        let place = Span::new(file, 0, 0);
        let (job, said) = resolve(&parsed.plan, Packs::of(pack), place);
        let fine = parsed.diagnostics.is_empty() && !any_error(&said);
        let (measured, said) = measure(job.filter(|_| fine)?, Packs::of(pack));
        let (takeoff, more) = take_off(measured, pack);
        let (pooled, last) = pool(&takeoff, pack);
        if any_error(&said) || any_error(&more) || any_error(&last) {
            return None;
        }
        let (estimate, said) = price(takeoff, pooled, &self.book(pack, place)?, pack);
        let whole = |estimate: &Estimate| estimate.status == Status::Complete;
        estimate.filter(|estimate| whole(estimate) && !any_error(&said))
    }

    fn book(&self, pack: &Pack, span: Span) -> Option<PriceBook> {
        let currency = Currency::from_code(self.currency)?;
        let offer = |(item, written, unit, price): &(&str, f64, &str, &str)| {
            let unit = pack.units().parse(unit).ok()?;
            Some(Offer {
                item: (*item).to_owned(),
                description: String::new(),
                pack: PackSize {
                    size: unit.quantity(*written).ok()?,
                    written: *written,
                    unit,
                    name: String::new(),
                },
                price: Money::new(price.parse().ok()?, currency),
                supplier: String::new(),
                valid_until: None,
                terms: OfferTerms::default(),
                span,
            })
        };
        Some(PriceBook {
            currency,
            offers: self.prices.iter().map(offer).collect::<Option<_>>()?,
            open: Vec::new(),
            freight: Vec::new(),
            span,
        })
    }

    fn pack(&self) -> Option<&'static Pack> {
        static PLAIN: OnceLock<Option<Pack>> = OnceLock::new();
        static BY_SHARES: OnceLock<Option<Pack>> = OnceLock::new();
        let packs = if self.by_shares { &BY_SHARES } else { &PLAIN };
        packs.get_or_init(|| load(self.by_shares)).as_ref()
    }
}

fn load(by_shares: bool) -> Option<Pack> {
    let manifest = include_str!("priced/pack.toml");
    let mut texts = vec![
        (
            "scripts/work.rhai",
            include_str!("priced/scripts/work.rhai"),
        ),
        (
            "tables/analysis.csv",
            include_str!("priced/tables/analysis.csv"),
        ),
        (
            "tables/contingency.csv",
            include_str!("priced/tables/contingency.csv"),
        ),
        (
            "tables/materials.csv",
            include_str!("priced/tables/materials.csv"),
        ),
        (
            "tables/phases.csv",
            include_str!("priced/tables/phases.csv"),
        ),
        (
            "tables/settings.csv",
            include_str!("priced/tables/settings.csv"),
        ),
        (
            "tables/substrates.csv",
            include_str!("priced/tables/substrates.csv"),
        ),
        (
            "tables/techniques.csv",
            include_str!("priced/tables/techniques.csv"),
        ),
    ];
    let rules = match by_shares {
        true => "rules = [\"price\", ",
        false => "rules = [",
    };
    if by_shares {
        texts.push((
            "scripts/price.rhai",
            include_str!("priced/scripts/price.rhai"),
        ));
        texts.push((
            "tables/shares.csv",
            include_str!("priced/tables/shares.csv"),
        ));
    }
    let manifest = manifest.replace("rules = [", rules);
    let texts = texts
        .into_iter()
        .map(|(path, text)| (path.to_owned(), text.to_owned()));
    let manifest = (PackFiles::MANIFEST.to_owned(), manifest);
    let files = PackFiles {
        folder: "priced".into(),
        texts: texts.chain([manifest]).collect(),
    };
    parge_rules::load(&[files], HOOKS, &mut Sources::new()).ok()
}
