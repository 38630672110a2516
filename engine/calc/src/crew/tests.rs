use super::*;
use crate::testing::{measured, shown};
use parge_base::prices::{Offer, OfferTerms, PackSize};
use parge_base::{Currency, FileId, Money, Quantity, Sources, Span, Units};

fn book(items: &[&str], open: &[&str], file: FileId) -> PriceBook {
    let currency = Currency::from_code("USD").unwrap();
    let unit = Units::standard().parse("h").unwrap();
    let span = Span::new(file, 0, 4);
    let offer = |item: &&str| Offer {
        item: (*item).to_owned(),
        description: String::new(),
        pack: PackSize {
            size: Quantity::new(3600.0, unit.dim()).unwrap(),
            written: 1.0,
            unit: unit.clone(),
            name: "hour".to_owned(),
        },
        price: Money::new("40".parse().unwrap(), currency),
        supplier: String::new(),
        valid_until: None,
        terms: OfferTerms::default(),
        span,
    };
    PriceBook {
        currency,
        offers: items.iter().map(offer).collect(),
        open: open.iter().map(|item| ((*item).to_owned(), span)).collect(),
        freight: Vec::new(),
        span,
    }
}

/// What is said of a crew by such a price book.
fn said(items: &[&str], open: &[&str]) -> Vec<String> {
    let text = "parge 1\njob \"Test\" { rules \"small\"  crew { lead 1  finsher 2  boss 1 } }\n\
         finish plain { technique stamp  thickness 1in }\n\
         structure \"Wall\" on block { face f rect 4ft x 4ft plain }\n";
    let job = measured(text).job;
    // The small pack's files stand before the plan, whose spans these are.
    let mut sources = Sources::new();
    let plan = job.span.file;
    let mut file = sources.add("", text);
    while file != plan {
        file = sources.add("", text);
    }
    let file = sources.add("prices.csv", "item");
    let told = unknown_classes(&job, &book(items, open, file));
    told.iter().map(|d| shown(d, &sources)).collect()
}

#[test]
fn a_book_with_one_wage_pays_all_classes_by_it() {
    assert_eq!(said(&["labour", "colour/moss"], &[]), Vec::<String>::new());
}

#[test]
fn a_book_with_classes_has_one_for_each_of_the_crew() {
    let told = said(&["labour", "labour/lead"], &["labour/finisher"]);
    assert_eq!(
        told,
        [
            "E0211 at `finsher`, `item`: the price book has no wage class `finsher` | did you \
             mean `finisher`?",
            "E0211 at `boss`, `item`: the price book has no wage class `boss` | add a row \
             `labour/boss` to it",
        ]
    );
}

#[test]
fn classes_are_those_of_rows_with_and_without_a_price() {
    let file = Sources::new().add("", "item");
    let book = book(
        &["labour", "labour/lead", "labourer"],
        &["labour/helper"],
        file,
    );
    assert_eq!(wage_classes(&book), ["lead", "helper"]);
}

fn class(name: &str, people: i64, wage: Option<&str>) -> PaidClass {
    let currency = Currency::from_code("USD").unwrap();
    PaidClass {
        name: name.to_owned(),
        people: people.into(),
        wage: wage.map(|wage| Money::new(wage.parse().unwrap(), currency)),
    }
}

/// 1 x 48 + 2 x 39.50 + 1 x 27.25 = 154.25 for 4 people; a third of a cent is rounded at the
/// hundredth of a cent, and a half of that goes up.
#[test]
fn the_wage_of_a_crew_is_the_mean_by_people() {
    let mean = |classes: &[PaidClass]| mean_wage(classes).unwrap().map(Money::to_price_text);
    let crew = [
        class("lead", 1, Some("48")),
        class("finisher", 2, Some("39.50")),
        class("helper", 1, Some("27.25")),
    ];
    assert_eq!(mean(&crew).unwrap(), "38.5625");
    let third = [class("lead", 1, Some("40")), class("helper", 2, Some("30"))];
    assert_eq!(mean(&third).unwrap(), "33.3333");
    let eighth = [
        class("lead", 1, Some("30.01")),
        class("helper", 15, Some("30")),
    ];
    assert_eq!(mean(&eighth).unwrap(), "30.0006");
    let open = [class("lead", 1, Some("40")), class("helper", 2, None)];
    assert_eq!((mean(&open), mean(&[])), (None, None));
}
