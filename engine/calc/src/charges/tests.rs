use crate::contract::{HOOKS, Packs};
use crate::measure::measure;
use crate::pool::pool;
use crate::price::{Estimate, price};
use crate::resolve::resolve;
use crate::takeoff::take_off;
use crate::testing::{pack_files, shown};
use parge_base::prices::{Offer, OfferTerms, PackSize, PriceBook};
use parge_base::{Currency, Money, Sources, Span, Units};

/// A wall of 100 ft2 takes 10 hours at 50: a job of 500 and a minimum of 1200.
const PLAN: &str = "parge 1\njob \"Test\" {\n  rules \"small\"\n  \
    bid { burden 0%  overhead 0%  profit markup 20%  tax 10% on total }\n}\n\
    finish plain { technique stamp  thickness 1in }\n\
    structure \"A\" on block { face a rect 10ft x 10ft plain }\n";

const SCRIPT: &str = r#"
fn labour(face) { hours("place", face.area * factor("rates", "place")); }
fn price(bid) {
    let least = factor("minimum", "job");
    if bid.total < least { charge("Minimum charge", least - bid.total); }
    charge("Travel", bid.hours * factor("minimum", "travel"));
    charge("Nothing", bid.total * 0);
    BREAK
}
"#;

fn estimate(currency: &str, more: &str) -> Result<Estimate, String> {
    let mut sources = Sources::new();
    let mut files = pack_files(&SCRIPT.replace("BREAK", more));
    files.texts.insert(
        "tables/minimum.csv".into(),
        "what,value,unit,source\njob,1200,USD,company\ntravel,1.255,USD/h,company\n".into(),
    );
    let pack = parge_rules::load(&[files], HOOKS, &mut sources).unwrap();
    let file = sources.add("plan.parge", PLAN);
    let parsed = parge_grammar::parse(file, PLAN);
    let (job, _) = resolve(&parsed.plan, Packs::of(&pack), Span::new(file, 0, 0));
    let (measured, _) = measure(job.unwrap(), Packs::of(&pack));
    let (takeoff, _) = take_off(measured, &pack);
    let (pooled, _) = pool(&takeoff, &pack);
    let unit = Units::standard().parse("h").unwrap();
    let currency = Currency::from_code(currency).unwrap();
    let book = PriceBook {
        currency,
        offers: vec![Offer {
            item: "labour".into(),
            description: String::new(),
            pack: PackSize {
                size: unit.quantity(1.0).unwrap(),
                written: 1.0,
                unit,
                name: String::new(),
            },
            price: Money::new("50".parse().unwrap(), currency),
            supplier: String::new(),
            valid_until: None,
            terms: OfferTerms::default(),
            span: Span::new(file, 0, 0),
        }],
        open: Vec::new(),
        freight: Vec::new(),
        span: Span::new(file, 0, 0),
    };
    let (estimate, said) = price(takeoff, pooled, &book, &pack);
    match said.first() {
        Some(first) => Err(shown(first, &sources)),
        None => Ok(estimate.unwrap()),
    }
}

/// 500 of labour and 20 % profit make 600; 600 more up to the minimum; 10 h of travel at 1.255 are
/// 12.55; tax of 10 % on 1212.55 is 121.26.
#[test]
fn a_minimum_charge_and_travel_are_added_before_tax() {
    let estimate = estimate("USD", "").unwrap();
    let charges: Vec<String> = estimate
        .charges
        .iter()
        .map(|charge| format!("{} {}", charge.name, charge.amount.to_text()))
        .collect();
    assert_eq!(charges, ["Minimum charge 600.00", "Travel 12.55"]);
    assert_eq!(estimate.price.charges.to_text(), "612.55");
    assert_eq!(estimate.price.tax.to_text(), "121.26");
    assert_eq!(estimate.price.total.to_text(), "1333.81");
}

#[test]
fn what_is_no_money_or_another_currency_is_refused() {
    insta::assert_snapshot!(
        [
            estimate("EUR", "").unwrap_err(),
            estimate("USD", r#"charge("Hours", bid.hours);"#).unwrap_err(),
            estimate("USD", r#"charge("Fee", quantity(20, "USD"));"#).unwrap_err(),
        ]
        .join("\n")
    );
}
