use super::super::price;
use super::*;
use crate::pool::pool;
use crate::price::Estimate;
use crate::testing::{SCRIPT, pack, taken};
use parge_base::prices::{Offer, OfferTerms, PackSize};
use parge_base::{Sources, Span, Units};

/// A plan of two items, which its rule states at once: the mix and, by the way, water.
fn priced(start: &str, rows: &[(&str, &str, &str, Option<u32>)]) -> Estimate {
    let script = SCRIPT.to_owned();
    let text = format!(
        "parge 1\njob \"Test\" {{ date 2026-05-11  rules \"small\"  crew 1  {start}\n\
         bid {{ burden 0%  overhead 10%  profit markup 0%  tax 10% on materials }} }}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure Wall on block {{ face a rect 10ft x 8ft plain }}\n"
    );
    let mut sources = Sources::new();
    let pack = pack(&script, &mut sources);
    let span = Span::new(sources.add("prices.csv", "item\n"), 0, 4);
    let currency = Currency::from_code("USD").unwrap();
    let offer = |(item, unit, supplier, lead_days): &(&str, &str, &str, Option<u32>)| {
        let unit = Units::standard().parse(unit).unwrap();
        Offer {
            item: (*item).to_owned(),
            description: String::new(),
            pack: PackSize {
                size: unit.quantity(1.0).unwrap(),
                written: 1.0,
                unit,
                name: "bag".to_owned(),
            },
            price: Money::new("20".parse().unwrap(), currency),
            supplier: (*supplier).to_owned(),
            valid_until: None,
            terms: OfferTerms {
                lead_days: *lead_days,
                taxed: lead_days.is_none(),
                ..OfferTerms::default()
            },
            span,
        }
    };
    let freight = |supplier: &str| Freight {
        supplier: supplier.to_owned(),
        amount: Money::new("85".parse().unwrap(), currency),
        span,
    };
    let book = PriceBook {
        currency,
        offers: rows.iter().map(offer).collect(),
        open: Vec::new(),
        freight: vec![freight("Yard"), freight("Nobody")],
        span,
    };
    let takeoff = taken(&text, &script);
    let (pooled, _) = pool(&takeoff, &pack);
    price(takeoff, pooled, &book, &pack).0.unwrap()
}

/// 80 ft2 at 1 in are 6.667 ft3, 13.33 bags and 10 %: 15 bags, 300. Overhead is on the freight as
/// well; what is not taxed bears no tax.
#[test]
fn freight_is_paid_once_and_of_who_is_bought_from() {
    let mix = ("mix", "bag", "Yard", Some(10));
    let estimate = priced("start 2026-06-01", &[mix, ("labour", "h", "", None)]);
    let [purchase] = estimate.purchases.as_slice() else {
        panic!("{:?}", estimate.purchases);
    };
    assert_eq!(purchase.supplier, "Yard");
    assert_eq!(purchase.cost.to_text(), "300.00");
    assert_eq!(estimate.price.freight.to_text(), "85.00");
    let price = &estimate.price;
    let direct = price.materials.plus(price.freight).unwrap();
    let direct = direct.plus(price.labour).unwrap();
    let overhead = direct.share("0.1".parse().unwrap()).unwrap();
    assert_eq!(price.overhead, overhead);
    assert_eq!(
        [price.taxed, price.tax].map(Money::to_text),
        ["0.00", "0.00"]
    );
}

/// Ten days before the first of June; without a first day none is told.
#[test]
fn an_order_is_due_before_the_first_day() {
    let rows = [("mix", "bag", "Yard", Some(10)), ("labour", "h", "", None)];
    let due = |start: &str| priced(start, &rows).purchases[0].lines[0].order_by;
    let day = due("start 2026-06-01").map(|day| day.to_string());
    assert_eq!(day.as_deref(), Some("2026-05-22"));
    assert_eq!(due(""), None);
    let unknown = [("mix", "bag", "Yard", None), ("labour", "h", "", None)];
    assert_eq!(
        priced("start 2026-06-01", &unknown).purchases[0].lines[0].order_by,
        None
    );
}

#[test]
fn what_has_no_price_is_bought_of_nobody() {
    let estimate = priced("", &[("labour", "h", "Yard", None)]);
    let [purchase] = estimate.purchases.as_slice() else {
        panic!("{:?}", estimate.purchases);
    };
    assert_eq!((purchase.supplier.as_str(), purchase.lines.len()), ("", 1));
    assert!(estimate.price.freight.amount().is_zero());
}
