//! A small job with its record, for the tests beside.

use super::*;
use crate::pool::pool;
use crate::price::{Estimate, price};
use crate::testing::{SCRIPT, pack, taken};
use parge_base::prices::{Offer, OfferTerms, PackSize, PriceBook};
use parge_base::{Currency, Dim, Item, Money, Quantity, Sources, Span, Units};
use std::sync::LazyLock;

/// Two structures; of `Low` two equal faces, of `High` one that is large enough for another rate.
pub(super) const PLAN: &str = "parge 1\njob \"Test\" { date 2026-05-11  rules \"small\"
bid { burden 0%  overhead 0%  profit markup 0%  tax 0% on materials } }
finish plain { technique stamp  thickness 1in }
structure Low on block {
  edge cap 10ft
  face a rect 10ft x 2ft count 2 plain
}
structure High on block { face b rect 15ft x 8ft plain }
";

pub(super) fn usd(amount: &str) -> Money {
    Money::new(amount.parse().unwrap(), Currency::from_code("USD").unwrap())
}

/// Bags at a price, and hours at 40.
pub(super) fn book(of_bag: &str, sources: &mut Sources) -> PriceBook {
    let span = Span::new(sources.add("prices.csv", "item\n"), 0, 4);
    let offer = |(item, unit, price): (&str, &str, &str)| {
        let unit = Units::standard().parse(unit).unwrap();
        Offer {
            item: item.into(),
            description: String::new(),
            pack: PackSize {
                size: unit.quantity(1.0).unwrap(),
                written: 1.0,
                name: unit.text().to_owned(),
                unit,
            },
            price: usd(price),
            supplier: String::new(),
            valid_until: None,
            terms: OfferTerms::default(),
            span,
        }
    };
    PriceBook {
        currency: usd("0").currency(),
        offers: vec![offer(("mix", "bag", of_bag)), offer(("labour", "h", "40"))],
        open: Vec::new(),
        freight: Vec::new(),
        span,
    }
}

/// The estimate of the small job, made once.
pub(super) fn estimate() -> &'static Estimate {
    static ESTIMATE: LazyLock<Estimate> = LazyLock::new(estimated);
    &ESTIMATE
}

fn estimated() -> Estimate {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let book = book("20", &mut sources);
    let takeoff = taken(PLAN, SCRIPT);
    let (pooled, _) = pool(&takeoff, &pack);
    price(takeoff, pooled, &book, &pack).0.unwrap()
}

fn span() -> Span {
    Span::new(Sources::new().add("actuals.txt", ""), 0, 0)
}

pub(super) fn place() -> Written {
    Written {
        span: span(),
        words: String::new(),
    }
}

pub(super) fn quantity(value: f64, unit: &str) -> Quantity {
    Units::standard()
        .parse(unit)
        .unwrap()
        .quantity(value)
        .unwrap()
}

pub(super) fn record() -> Actuals {
    Actuals {
        job: None,
        priced: Fingerprint::default(),
        packs: Vec::new(),
        first_day: None,
        last_day: None,
        days: None,
        materials: Vec::new(),
        hours: Vec::new(),
        areas: Vec::new(),
        weather: Vec::new(),
        remarks: Vec::new(),
        span: span(),
    }
}

pub(super) fn used(item: &str, value: f64, unit: &str) -> MaterialUsed {
    MaterialUsed {
        item: item.into(),
        amount: quantity(value, unit),
        unit: Units::standard().parse(unit).unwrap(),
        paid: None,
        place: place(),
    }
}

pub(super) fn worked(phase: &str, scope: Scope, hours: f64) -> HoursWorked {
    HoursWorked {
        phase: phase.into(),
        scope,
        time: quantity(hours, "h"),
        wage: None,
        place: place(),
    }
}

pub(super) fn built(structure: &str, face: Option<&str>, area: f64) -> AreaBuilt {
    AreaBuilt {
        structure: structure.into(),
        face: face.map(str::to_owned),
        area: quantity(area, "ft2"),
        place: place(),
    }
}

/// What a record can fill in: phases with where they are worked on, in the order of the estimate.
#[test]
fn the_lines_of_an_estimate() {
    let lines = lines(estimate(), &Units::standard());
    let [mix] = lines.items.as_slice() else {
        panic!("{:?}", lines.items);
    };
    let bags = Dim::item(Item::new("bag").unwrap());
    assert_eq!((mix.item.as_str(), mix.unit.dim()), ("mix", bags));
    let phases = lines
        .phases
        .iter()
        .map(|line| (line.phase.as_str(), line.structures.join(" "), line.of_job));
    let phases: Vec<_> = phases.collect();
    assert_eq!(
        phases,
        [
            ("place", "Low High".to_owned(), false),
            ("clean", String::new(), true)
        ]
    );
    assert_eq!(lines.structure("low").unwrap().faces, ["a"]);
    assert_eq!(lines.phase("Clean up").unwrap().phase, "clean");
    assert!(lines.item("mixx").is_none());
}
