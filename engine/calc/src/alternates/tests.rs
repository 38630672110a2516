use super::*;
use crate::testing::{SCRIPT, pack, taken};
use parge_base::prices::{Offer, OfferTerms, PackSize};
use parge_base::{Currency, Sources, Span, Units};

const PLAN: &str = "parge 1\njob \"Test\" {\n  rules \"small\"\n  \
    bid { burden 0%  overhead 0%  profit markup 0%  tax 0% on materials }\n}\n\
    finish plain { technique stamp  thickness 1in }\nfinish thick { technique carve  thickness 2in }\n\
    structure \"A\" on block { face a rect 10ft x 8ft plain at 12ft }\n\
    structure \"B\" on block {\n  edge cap 10ft\n  face b rect 10ft x 4ft plain\n}\n\
    alternate \"Thicker\" { structure \"B\" { finish thick } }\n\
    alternate \"Less\" { omit \"A\" }\n\
    alternate \"Both\" { structure \"A\" { finish thick }  omit \"B\" }\n";

fn book(sources: &mut Sources, items: &[&str]) -> PriceBook {
    let file = sources.add("prices.csv", "item\n");
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
            span: Span::new(file, 0, 4),
        }
    };
    let all = [("mix", "bag", "20"), ("labour", "h", "40")];
    let kept = all.into_iter().filter(|(item, ..)| items.contains(item));
    PriceBook {
        currency,
        offers: kept.map(offer).collect(),
        open: Vec::new(),
        freight: Vec::new(),
        span: Span::new(file, 0, 4),
    }
}

fn priced(plan: &str, items: &[&str]) -> (Estimate, Vec<Diagnostic>) {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let book = book(&mut sources, items);
    let takeoff = taken(plan, SCRIPT);
    let (pooled, _) = pool(&takeoff, &pack);
    let (estimate, known) = price(takeoff, pooled, &book, &pack);
    with_alternates(estimate.unwrap(), &pack, &book, &known)
}

fn total(plan: &str) -> Money {
    priced(plan, &["mix", "labour"]).0.price.total
}

/// An alternate is worth what the plan would cost if it were written so.
#[test]
fn a_difference_is_that_of_two_whole_estimates() {
    let (estimate, said) = priced(PLAN, &["mix", "labour"]);
    assert!(said.is_empty(), "{said:?}");
    let base = estimate.price.total;
    let without = |name: &str| {
        let start = PLAN.find(&format!("structure \"{name}\"")).unwrap();
        let end = start + PLAN[start..].find("}\n").unwrap() + 2;
        format!("{}{}", &PLAN[..start], &PLAN[end..])
    };
    let alone = |plan: String| plan.split("alternate").next().unwrap().to_owned();
    let unused = "finish thick { technique carve  thickness 2in }\n";
    let thicker = PLAN.replace(
        "face b rect 10ft x 4ft plain",
        "face b rect 10ft x 4ft thick",
    );
    let both = alone(without("B").replace("10ft x 8ft plain", "10ft x 8ft thick"));
    let both = both.replace("finish plain { technique stamp  thickness 1in }\n", "");
    let less = alone(without("A")).replace(unused, "");
    let wanted = [total(&thicker), total(&less), total(&both)];
    let wanted: Vec<Option<Money>> = wanted.map(|total| total.minus(base).ok()).into();
    let got: Vec<Option<Money>> = estimate
        .alternates
        .iter()
        .map(|one| one.difference)
        .collect();
    assert_eq!(got, wanted);
    // By hand, for `Less`: 120 ft2 x 1/12 ft / 0.5 ft3 = 20 bags and 10 % waste make 22; without A
    // 40 ft2 take 7.33, so 8. Hours 120 ft2 x 0.1 + 10 ft x 0.5 = 17 and 5 % make 17.85, and
    // without A 9.45. So 14 bags x 20 + 8.4 h x 40 = 616.
    assert_eq!(got[1].unwrap().to_text(), "-616.00");
    assert_eq!(
        estimate.alternates[2].changes,
        ["A: finish thick", "without B"]
    );
}

#[test]
fn a_line_without_a_price_leaves_the_alternate_without_one() {
    let plan = PLAN.replace(
        "finish thick { technique carve  thickness 2in }",
        "finish thick { technique carve  thickness 3in }",
    );
    let (estimate, said) = priced(&plan, &["mix", "labour"]);
    assert!(estimate.alternates[0].difference.is_some());
    // The rule warns of three inches, which only the alternate has.
    assert!(
        said[0].message.starts_with("alternate `Thicker`: "),
        "{said:?}"
    );
    let (estimate, _) = priced(PLAN, &["mix"]);
    assert!(
        estimate
            .alternates
            .iter()
            .all(|one| one.difference.is_none())
    );
}
