use super::*;
use crate::pool::pool;
use crate::testing::{SCRIPT, pack_files, shown, taken};
use parge_base::prices::{Offer, OfferTerms};
use parge_base::{Sources, Units};

/// Prices a small wall on terms of the bid, under the small pack with a table of contingencies.
fn priced(bid: &str, contingencies: &str) -> (Option<Estimate>, Vec<String>) {
    let text = format!(
        "parge 1\njob \"Test\" {{ date 2026-05-11  rules \"small\"\n\
         bid {{ burden 0%  overhead 0%  profit markup 0%  tax 0% on materials  {bid} }} }}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure Wall on block {{ face a rect 10ft x 8ft plain }}\n"
    );
    let mut sources = Sources::new();
    let mut files = pack_files(SCRIPT);
    if !contingencies.is_empty() {
        let table = format!("class,value,unit,source\n{contingencies}");
        files.texts.insert("tables/contingency.csv".into(), table);
    }
    let pack = parge_rules::load(&[files], crate::contract::HOOKS, &mut sources).unwrap();
    let book = book(&mut sources);
    let takeoff = taken(&text, SCRIPT);
    let (pooled, _) = pool(&takeoff, &pack);
    let (estimate, said) = price(takeoff, pooled, &book, &pack);
    // The plan stands in sources of its own, so only what is said is looked at.
    let said = said.iter().map(|said| shown(said, &Sources::new()));
    (estimate, said.collect())
}

fn book(sources: &mut Sources) -> PriceBook {
    let span = Span::new(sources.add("prices.csv", "item\n"), 0, 4);
    let currency = Currency::from_code("USD").unwrap();
    let offer = |(item, unit, price): (&str, &str, &str)| {
        let unit = Units::standard().parse(unit).unwrap();
        Offer {
            item: item.into(),
            description: String::new(),
            pack: PackSize {
                size: unit.quantity(1.0).unwrap(),
                written: 1.0,
                unit,
                name: String::new(),
            },
            price: Money::new(price.parse().unwrap(), currency),
            supplier: String::new(),
            valid_until: None,
            terms: OfferTerms::default(),
            span,
        }
    };
    PriceBook {
        currency,
        offers: vec![offer(("mix", "bag", "20")), offer(("labour", "h", "40"))],
        open: Vec::new(),
        freight: Vec::new(),
        span,
    }
}

/// The plan's own contingency wins over that of the class, and says so.
#[test]
fn a_class_brings_its_contingency_where_the_plan_states_none() {
    let rows = "3,10,%,common practice\n2,5,%,company\n";
    let (estimate, said) = priced("class 3", rows);
    let estimate = estimate.unwrap();
    assert!(said.is_empty(), "{said:?}");
    let price = &estimate.price;
    let cost = price.materials.plus(price.labour).unwrap();
    assert_eq!(
        price.contingency,
        cost.share("0.1".parse().unwrap()).unwrap()
    );
    let names = |estimate: &Estimate| -> Vec<String> {
        let factors = estimate.factors();
        factors.iter().map(|factor| factor.name.clone()).collect()
    };
    assert!(
        names(&estimate).contains(&"contingency: 3".to_owned()),
        "{:?}",
        names(&estimate)
    );
    let range = estimate.range.unwrap();
    assert_eq!(
        range.outer[0],
        price.total.share("0.8".parse().unwrap()).unwrap()
    );

    let own = priced("class 3  contingency 2%", rows).0.unwrap();
    assert_eq!(
        own.price.contingency,
        cost.share("0.02".parse().unwrap()).unwrap()
    );
    assert!(own.contingency.by_class.is_none());
    assert!(
        priced("", rows)
            .0
            .unwrap()
            .price
            .contingency
            .amount()
            .is_zero()
    );
}

#[test]
fn what_is_wrong_with_a_class_is_said() {
    let said = |bid, rows| priced(bid, rows).1.join("\n");
    insta::assert_snapshot!(
        [
            said("class 4", ""),
            said("class 4", "3,10,%,company\n"),
            said("class 4", "4,140,%,company\n"),
        ]
        .join("\n")
    );
}

/// A total that left them out would look right, so there is none.
#[test]
fn amounts_in_another_currency_give_no_estimate() {
    for bid in ["minimum 2150 EUR", "round to 5 INR"] {
        let (estimate, said) = priced(bid, "");
        assert!(estimate.is_none(), "{bid}");
        assert!(
            said.iter().all(|said| said.starts_with("E0510")),
            "{said:?}"
        );
    }
}

/// What is said of prices that hold until such days, of a bid with such settings.
fn ends(settings: &str, [mix, wage]: [&str; 2]) -> String {
    let text = format!(
        "parge 1\njob \"Test\" {{ {settings}  rules \"small\"\n\
         bid {{ burden 0%  overhead 0%  profit markup 0%  tax 0% on materials }} }}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure Wall on block {{ face a rect 10ft x 8ft plain }}\n"
    );
    let mut sources = Sources::new();
    let pack =
        parge_rules::load(&[pack_files(SCRIPT)], crate::contract::HOOKS, &mut sources).unwrap();
    let mut book = book(&mut sources);
    for (number, (offer, until)) in book.offers.iter_mut().zip([mix, wage]).enumerate() {
        offer.valid_until = until.parse().ok();
        offer.span = Span::new(offer.span.file, number, 4);
    }
    let takeoff = taken(&text, SCRIPT);
    let (pooled, _) = pool(&takeoff, &pack);
    let (_, said) = price(takeoff, pooled, &book, &pack);
    let said = said.iter().map(|said| shown(said, &Sources::new()));
    said.collect::<Vec<_>>().join("\n")
}

/// The client may accept on the last day; a price whose last day it is holds. A price that is out of
/// date already is told as that.
#[test]
fn prices_that_end_before_the_bid_are_told_in_one() {
    let bid = "date 2026-05-11 valid_until 2026-08-01";
    assert_eq!(ends(bid, ["2026-08-01", ""]), "");
    assert_eq!(ends("date 2026-05-11", ["2026-05-12", ""]), "");
    let said = [
        ends(bid, ["2026-07-31", ""]),
        ends(bid, ["2026-07-31", "2026-07-30"]),
        ends(bid, ["2026-05-10", "2026-05-11"]),
        ends(
            "date 2026-05-11 valid 30 days",
            ["2026-06-09", "2026-06-10"],
        ),
        ends("valid_until 2026-08-01", ["2026-07-31", "2026-08-01"]),
    ];
    insta::assert_snapshot!(said.join("\n\n"));
}
