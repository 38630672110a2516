use super::*;
use parge_base::prices::{OfferTerms, PackSize};
use parge_base::{Currency, Dim, Sources, Span, Units};
use proptest::prelude::*;
use rust_decimal::Decimal;

const DAY: &str = "2026-05-11";

/// A row: supplier, pack in gal, price, from packs, first and last day.
type Line<'a> = (&'a str, f64, &'a str, u32, &'a str, &'a str);

fn book(item: &str, lines: &[Line<'_>]) -> PriceBook {
    let mut sources = Sources::new();
    let span = Span::new(sources.add("prices.csv", "item\n"), 0, 4);
    let currency = Currency::from_code("USD").unwrap();
    let unit = Units::standard().parse("gal").unwrap();
    let day = |text: &str| (!text.is_empty()).then(|| text.parse::<Date>().unwrap());
    let offer = |(supplier, size, price, from_packs, first, last): &Line<'_>| Offer {
        item: item.to_owned(),
        description: String::new(),
        pack: PackSize {
            size: unit.quantity(*size).unwrap(),
            written: *size,
            unit: unit.clone(),
            name: "pail".to_owned(),
        },
        price: Money::new(price.parse().unwrap(), currency),
        supplier: (*supplier).to_owned(),
        valid_until: day(last),
        terms: OfferTerms {
            valid_from: day(first),
            from_packs: *from_packs,
            ..OfferTerms::default()
        },
        span,
    };
    PriceBook {
        currency,
        offers: lines.iter().map(offer).collect(),
        open: Vec::new(),
        freight: Vec::new(),
        span,
    }
}

fn gallons(number: f64) -> Quantity {
    let unit = Units::standard().parse("gal").unwrap();
    unit.quantity(number).unwrap()
}

fn chosen(lines: &[Line<'_>], need: f64) -> Choice {
    let book = book("sealer", lines);
    let found = choose(&book, "sealer", gallons(need), DAY.parse().ok()).unwrap();
    match found {
        Found::Offer(choice) => *choice,
        other => panic!("{other:?}"),
    }
}

/// 22 gal: 5 pails of 5 gal at 142 are 710; 23 of 1 gal at 31 would be 682 for 22.
#[test]
fn the_cheapest_for_the_need_is_chosen() {
    let lines = [
        ("Mill Street Yard", 5.0, "142", 1, "", ""),
        ("Ferry Road Supply", 1.0, "31", 1, "", ""),
    ];
    let choice = chosen(&lines, 22.0);
    assert_eq!(
        (choice.packs, choice.cost.to_text().as_str()),
        (22.0, "682.00")
    );
    insta::assert_snapshot!(choice.reason, @"cheapest of 2 offers: 22 × pail of 1 gal from Ferry Road Supply, 682.00; next 710.00 from Mill Street Yard");
    // 24 gal: 5 pails are still 710, and 24 of 1 gal 744.
    let choice = chosen(&lines, 24.0);
    assert_eq!(
        (choice.packs, choice.cost.to_text().as_str()),
        (5.0, "710.00")
    );
}

/// 8 pails at 30 are 240; 10 at 22 are 220, two more than needed.
#[test]
fn buying_up_to_a_break_may_be_cheaper() {
    let lines = [
        ("Yard", 1.0, "30", 1, "", ""),
        ("Yard", 1.0, "22", 10, "", ""),
    ];
    let choice = chosen(&lines, 8.0);
    assert_eq!(
        (choice.packs, choice.cost.to_text().as_str()),
        (10.0, "220.00")
    );
    insta::assert_snapshot!(choice.reason, @"cheapest of 2 offers: 10 × pail of 1 gal from Yard, 220.00; 2 more than needed, as this price holds from 10; next 240.00 from Yard");
    // 7 at 30 are 210: no more is bought than needed.
    let choice = chosen(&lines, 7.0);
    assert_eq!(
        (choice.packs, choice.cost.to_text().as_str()),
        (7.0, "210.00")
    );
    // From 10 on the row of 10 holds, also where it is the dearer one.
    let dearer = [
        ("Yard", 1.0, "20", 1, "", ""),
        ("Yard", 1.0, "22", 10, "", ""),
    ];
    let choice = chosen(&dearer, 12.0);
    assert_eq!((choice.cost.to_text().as_str(), choice.of), ("264.00", 1));
    assert_eq!(chosen(&dearer, 9.0).cost.to_text(), "180.00");
}

#[test]
fn a_least_number_of_packs_is_bought() {
    let choice = chosen(&[("Yard", 1.0, "30", 12, "", "")], 5.0);
    assert_eq!(
        (choice.packs, choice.cost.to_text().as_str()),
        (12.0, "360.00")
    );
    insta::assert_snapshot!(choice.reason, @"the one offer: 12 × pail of 1 gal from Yard, 360.00; 7 more than needed, as this price holds from 12");
}

#[test]
fn a_price_that_does_not_hold_is_chosen_only_where_none_does() {
    let old = ("Old Quarry", 1.0, "10", 1, "", "2026-05-10");
    let to_come = ("Mill Street Yard", 1.0, "12", 1, "2026-05-12", "");
    let holds = (
        "Ferry Road Supply",
        1.0,
        "20",
        1,
        "2026-05-11",
        "2026-05-11",
    );
    let choice = chosen(&[old, to_come, holds], 3.0);
    assert_eq!(choice.cost.to_text(), "60.00");
    insta::assert_snapshot!(choice.reason, @"the one of 3 offers that holds: 3 × pail of 1 gal from Ferry Road Supply, 60.00");
    assert_eq!(chosen(&[old, to_come], 3.0).cost.to_text(), "30.00");
}

#[test]
fn of_equal_costs_the_one_without_surplus_and_then_the_first() {
    let lines = [
        ("A", 1.0, "10", 6, "", ""),
        ("B", 1.0, "12", 1, "", ""),
        ("C", 1.0, "12", 1, "", ""),
    ];
    let choice = chosen(&lines, 5.0);
    assert_eq!((choice.offer.supplier.as_str(), choice.packs), ("B", 5.0));
    assert!(choice.reason.ends_with("next 60.00 from C") || choice.reason.contains("next 60.00"));
}

#[test]
fn packs_of_another_kind_are_passed_over() {
    let lines = [("Yard", 5.0, "142", 1, "", "")];
    let book = book("sealer", &lines);
    let area = Quantity::new(3.0, Dim::AREA).unwrap();
    assert!(matches!(
        choose(&book, "sealer", area, None).unwrap(),
        Found::OtherKind(_)
    ));
    assert!(matches!(
        choose(&book, "lath", area, None).unwrap(),
        Found::Nothing
    ));
}

#[test]
fn one_offer_needs_no_reason() {
    let choice = chosen(&[("Yard", 5.0, "142", 1, "", "")], 8.0);
    assert_eq!(
        (choice.packs, choice.of, choice.reason.as_str()),
        (2.0, 1, "")
    );
}

/// A colour of its own row is never bought by the row for any colour.
#[test]
fn own_rows_come_before_those_of_the_general_item() {
    let mut all = book("colour", &[("Yard", 1.0, "50", 1, "", "")]);
    all.offers
        .extend(book("colour/moss", &[("Yard", 1.0, "60", 1, "", "")]).offers);
    let cost = |item: &str| match choose(&all, item, gallons(1.0), None).unwrap() {
        Found::Offer(choice) => choice.cost.to_text(),
        other => panic!("{other:?}"),
    };
    assert_eq!(
        [cost("colour/moss"), cost("colour/granite")],
        ["60.00", "50.00"]
    );
}

#[test]
fn the_wage_is_that_of_the_day() {
    let lines = [
        ("", 1.0, "36.50", 1, "", "2026-05-31"),
        ("", 1.0, "38.50", 1, "2026-06-01", ""),
    ];
    let wages = book("labour", &lines);
    let on = |day: &str| {
        let wage = wage_of(&wages, "labour", day.parse().ok());
        wage.map(|offer| offer.price.to_text())
    };
    assert_eq!(on("2026-05-31").as_deref(), Some("36.50"));
    assert_eq!(on("2026-06-01").as_deref(), Some("38.50"));
}

proptest! {
    /// No offer costs less than the one that is chosen, and all that is needed is bought.
    #[test]
    fn nothing_costs_less(
        rows in prop::collection::vec((0usize..3, 1u32..4, 1i64..5_000, 1u32..20), 1..8),
        need in 0.01f64..60.0,
    ) {
        let suppliers = ["A", "B", "C"];
        let texts: Vec<(usize, f64, String, u32)> = rows
            .iter()
            .map(|(who, size, cents, from)| {
                (*who, f64::from(*size), Decimal::new(*cents, 2).to_string(), *from)
            })
            .collect();
        let lines: Vec<Line<'_>> = texts
            .iter()
            .map(|(who, size, price, from)| {
                (suppliers[*who], *size, price.as_str(), *from, "", "")
            })
            .collect();
        let choice = chosen(&lines, need);
        let bought = choice.packs * choice.offer.pack.written;
        prop_assert!(bought >= need - 1e-9);
        let needed = whole_up(need / choice.offer.pack.written);
        let from = f64::from(choice.offer.terms.from_packs);
        prop_assert_eq!(choice.packs, needed.max(from));
        for (supplier, size, price, from, ..) in &lines {
            let needed = whole_up(need / size);
            // Another row of the supplier and pack may hold in its place.
            let replaced = lines.iter().any(|other| {
                other.0 == *supplier && other.1 == *size && other.3 > *from && f64::from(other.3) <= needed
            });
            let packs = needed.max(f64::from(*from));
            let cost = price.parse::<Decimal>().unwrap() * Decimal::try_from(packs).unwrap();
            prop_assert!(replaced || choice.cost.amount() <= cost);
        }
    }
}
