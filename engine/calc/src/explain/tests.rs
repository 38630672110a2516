use super::figures::{Figure, PRICE_STEPS, Part, PriceStep, all, each};
use super::*;
use crate::measure::measure;
use crate::pool::pool;
use crate::price::price;
use crate::resolve::resolve;
use crate::takeoff::{Need, take_off};
use crate::testing::{SCRIPT, pack, pack_files};
use parge_base::prices::{Offer, OfferTerms, PackSize};
use parge_base::{Currency, Units};
use parge_rules::Pack;
use proptest::prelude::*;

/// A priced job with the texts it stands in.
struct Sample {
    estimate: Estimate,
    book: PriceBook,
    sources: Sources,
}

/// Runs a plan through all stages. Every material but those named is sold by three of the unit
/// that it is shown in.
fn priced(text: &str, load: impl Fn(&mut Sources) -> Pack, open: &[&str]) -> Sample {
    let mut sources = Sources::new();
    let pack = load(&mut sources);
    let file = sources.add("job.parge", text);
    let parsed = parge_grammar::parse(file, text);
    assert!(parsed.diagnostics.is_empty(), "{:?}", parsed.diagnostics);
    let end = Span::new(file, text.len(), text.len());
    let (job, said) = resolve(&parsed.plan, crate::contract::Packs::of(&pack), end);
    let job = job.unwrap_or_else(|| panic!("{said:?}"));
    let (measured, said) = measure(job, crate::contract::Packs::of(&pack));
    assert!(said.is_empty(), "{said:?}");
    let (takeoff, said) = take_off(measured, &pack);
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    let (pooled, _) = pool(&takeoff, &pack);
    let currency = Currency::from_code("USD").unwrap();
    let offer = |item: &str, unit: &Unit, written: f64| Offer {
        item: item.to_owned(),
        description: String::new(),
        pack: PackSize {
            size: unit.quantity(written).unwrap(),
            written,
            unit: unit.clone(),
            name: "pack".to_owned(),
        },
        price: Money::new(Decimal::new(2655, 2), currency),
        supplier: "Yard".to_owned(),
        valid_until: None,
        terms: OfferTerms::default(),
        span: end,
    };
    let hour = Units::standard().parse("h").unwrap();
    let materials = pooled.materials.iter();
    let sold = materials.filter(|material| !open.contains(&material.item.as_str()));
    let offers = sold.map(|material| offer(&material.item, &material.unit, 3.0));
    let book = PriceBook {
        currency,
        offers: offers.chain(wages(offer("labour", &hour, 1.0))).collect(),
        open: Vec::new(),
        freight: Vec::new(),
        span: end,
    };
    let (estimate, _) = price(takeoff, pooled, &book, &pack);
    Sample {
        estimate: estimate.unwrap(),
        book,
        sources,
    }
}

/// The wage of all, and of two classes.
fn wages(all: Offer) -> [Offer; 3] {
    let of = |class: &str, cents: i64| Offer {
        item: format!("labour/{class}"),
        price: Money::new(Decimal::new(cents, 2), all.price.currency()),
        ..all.clone()
    };
    [of("lead", 4805), of("helper", 2740), all]
}

fn explained(sample: &Sample, name: &str) -> Result<Explanation, Unfound> {
    explain(&sample.estimate, &sample.book, &sample.sources, name)
}

/// The figure as the estimate has it; none where it has no price.
fn wanted(estimate: &Estimate, figure: &Figure) -> Option<Value> {
    let price = &estimate.price;
    let takeoff = &estimate.takeoff;
    let sum = |amounts: Vec<Quantity>| match amounts.as_slice() {
        [only] => *only,
        all => {
            let zero = Quantity::zero(all[0].dim);
            all.iter()
                .fold(zero, |sum, amount| sum.plus(*amount).unwrap())
        }
    };
    Some(match figure {
        Figure::Price(step) => Value::Money(match step {
            PriceStep::Materials => price.materials,
            PriceStep::Freight => price.freight,
            PriceStep::Labour => price.labour,
            PriceStep::Burden => price.burden,
            PriceStep::Overhead => price.overhead,
            PriceStep::Contingency => price.contingency,
            PriceStep::Profit => price.profit,
            PriceStep::Allowances => price.allowances,
            PriceStep::Charges => price.charges,
            PriceStep::Minimum => price.minimum,
            PriceStep::Rounding => price.rounding,
            PriceStep::Tax => price.tax,
            PriceStep::Total => price.total,
        }),
        Figure::Material(number, part) => {
            let line = &estimate.materials[*number];
            match part {
                Part::Need => Value::Quantity(line.material.need),
                Part::Waste => Value::Quantity(line.material.waste),
                Part::Packs => Value::Quantity(Quantity::plain(line.packs?)),
                Part::Cost => Value::Money(line.cost?),
            }
        }
        Figure::Hours(number) => {
            Value::Quantity(Quantity::plain(estimate.labour[*number].labour.hours))
        }
        Figure::LabourCost(number) => Value::Money(estimate.labour[*number].cost?),
        Figure::Name(node) | Figure::Measure(node) => {
            Value::Quantity(takeoff.measured.job.tape.value(*node))
        }
        Figure::FaceNeed(face, item) => {
            let needs = takeoff.faces[*face].needs.iter();
            let of_item = needs.filter(|need: &&Need| need.item == *item);
            Value::Quantity(sum(of_item.map(|need| need.amount).collect()))
        }
        Figure::FaceHours(face, phase) => {
            let hours = takeoff.faces[*face].hours.iter();
            let of_phase = hours.filter(|hours| hours.phase == *phase);
            Value::Quantity(sum(of_phase.map(|hours| hours.time).collect()))
        }
        Figure::Batch(card) => {
            let days = takeoff.days.as_ref()?;
            let asked = &days.asked[days.cards[*card].asked];
            let run = &takeoff.runs[asked.run];
            Value::Quantity(run.tape.value(run.given("most")?.value))
        }
    })
}

/// The bits of a value, so that equal means equal.
fn bits(value: Value) -> String {
    match value {
        Value::Quantity(quantity) => {
            format!("{:x} {}", quantity.value.to_bits(), quantity.dim.symbols())
        }
        Value::Money(money) => money.to_price_text(),
        Value::Rate(rate) => rate.to_string(),
    }
}

/// Explains every figure, and holds the leaves to it. Hands back how many there were.
fn hold(sample: &Sample) -> usize {
    let mut count = 0;
    let mut figures = Vec::new();
    each(&sample.estimate, &mut |figure, names| {
        figures.push((figure, names[0].clone()));
    });
    for (figure, name) in figures {
        let explanation = explained(sample, &name);
        let Some(wanted) = wanted(&sample.estimate, &figure) else {
            assert_eq!(explanation.unwrap_err(), Unfound::NoPrice { name });
            continue;
        };
        let explanation = explanation.unwrap_or_else(|error| panic!("{name}: {error:?}"));
        let evaluated = explanation.evaluate().unwrap();
        assert_eq!(bits(evaluated), bits(wanted), "{name}");
        let root = explanation.root().unwrap();
        assert_eq!(bits(root.value), bits(wanted), "{name}");
        holds_together(&explanation, &name);
        count += 1;
    }
    count
}

/// Every entry is reached, says where it comes from, and stands on entries that are there.
fn holds_together(explanation: &Explanation, name: &str) {
    let outline = Outline::of(explanation);
    assert_eq!(
        bits(outline.entries[0].value),
        bits(explanation.root().unwrap().value)
    );
    for entry in &outline.entries {
        assert!(
            entry.terms.iter().all(|term| *term < outline.entries.len()),
            "{name}"
        );
        for piece in &entry.formula {
            if let Piece::Term(term) = piece {
                assert!(entry.terms.contains(term), "{name}: {}", entry.name);
            }
        }
        if entry.terms.is_empty() && entry.origin != Some(Origin::Counted) {
            let of_numbers = entry
                .formula
                .iter()
                .any(|piece| matches!(piece, Piece::Number(_)));
            let stated = entry.place.is_some() || entry.note.is_some() || of_numbers;
            let empty = matches!(entry.value, Value::Money(money) if money.amount().is_zero());
            assert!(stated || empty, "{name}: `{}` has no place", entry.name);
        }
    }
}

fn demo() -> Sample {
    let text = include_str!("../../../../examples/alder-marsh/job.parge");
    let load = |sources: &mut Sources| {
        let files = parge_standard_packs::find("vertical-concrete").unwrap();
        parge_rules::load(&[files], crate::contract::HOOKS, sources).unwrap()
    };
    priced(text, load, &[])
}

/// The standard pack with days, travel, a hot day and a crew paid by classes.
fn by_days() -> Sample {
    let text = "parge 1\njob \"Test\" {\n  rules \"vertical-concrete\"\n  crew { lead 1  helper 2 }\n\
        start 2026-06-01  travel 40min\n  weather { air 75F }\n\
        weather 2026-06-03 { air 95F  humidity 20%  wind 15mph  mix 90F }\n\
        weather 2026-06-04 { air 95F  humidity 20%  wind 15mph  mix 90F }\n\
        bid { burden 32%  overhead 12%  profit margin 18%  tax 7.25% on total }\n}\n\
        finish plain { technique stamp  thickness 1in  relief 2  colours moss 100%  sealer matte, 2 coats }\n\
        structure Wall on block { face a rect 20ft x 9ft plain  face b rect 7ft x 9ft count 3 plain }\n\
        structure Shed on block { after Wall  face a rect 20ft x 9ft plain }\n";
    let load = |sources: &mut Sources| {
        let files = parge_standard_packs::find("vertical-concrete").unwrap();
        parge_rules::load(&[files], crate::contract::HOOKS, sources).unwrap()
    };
    priced(text, load, &[])
}

/// Figures that rest on days, batches and wage classes go down to the plan as all others do.
#[test]
fn the_leaves_of_a_plan_with_days_give_every_figure_again() {
    let sample = by_days();
    let days = sample.estimate.takeoff.days.as_ref().unwrap();
    assert!(days.days.len() > 3 && days.cards.len() > 3);
    assert!(hold(&sample) > 50);
}

/// What is needed for the weather of a day says so.
#[test]
fn a_need_of_a_hot_day_tells_its_reason() {
    let explanation = explained(&by_days(), "shade-cloth").unwrap();
    let notes = explanation
        .nodes
        .iter()
        .filter_map(|node| node.note.as_deref());
    let reasons: Vec<&str> = notes.filter(|note| note.starts_with("because")).collect();
    assert!(!reasons.is_empty());
    for reason in reasons {
        assert!(
            reason.starts_with("because evaporation 0.") && reason.contains(" > "),
            "{reason}"
        );
    }
}

/// A crew of classes is paid the mean of their wages: (48.05 + 2 x 27.40) / 3 = 34.2833.
#[test]
fn the_wage_of_a_crew_is_explained_by_its_classes() {
    let sample = by_days();
    let wage = sample.estimate.price.wage.unwrap();
    assert_eq!(wage.to_price_text(), "34.2833");
    let explanation = explained(&sample, "place.cost").unwrap();
    let outline = Outline::of(&explanation);
    let entry = |name: &str| outline.entries.iter().position(|entry| entry.name == name);
    let mean = entry("wage of one hour").unwrap();
    assert_eq!(
        formula_of(&outline, mean),
        "(people of `lead` × wage of `lead` + people of `helper` × wage of `helper`) / \
         (people of `lead` + people of `helper`)"
    );
    // Without classes in the plan `labour` pays all.
    let plain = small(&plan("face a rect 20ft x high plain"), &[]);
    assert!(plain.estimate.classes.is_empty());
    assert_eq!(plain.estimate.price.wage.unwrap().to_price_text(), "26.55");
}

fn small(text: &str, open: &[&str]) -> Sample {
    priced(text, |sources| pack(SCRIPT, sources), open)
}

fn plan(faces: &str) -> String {
    format!(
        "parge 1\njob \"Test\" {{\n  rules \"small\"\n  prices \"p.csv\"\n\
         bid {{ burden 32%  overhead 12%  profit margin 18%  tax 7.25% on total }}\n}}\n\
         let high = 9ft\nfinish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{\n{faces}\n}}\nallowance \"Lift\" 640.50 USD\n"
    )
}

/// Rules were run for one face of a class and replayed for the others; whichever it is, the
/// leaves give the figure to the last bit.
#[test]
fn the_leaves_of_every_figure_of_the_demo_give_it_again() {
    assert!(hold(&demo()) > 300);
}

#[test]
fn a_figure_without_a_price_is_not_explained_and_the_rest_is() {
    let text = plan("face a rect 20ft x high plain count 2\nedge cap 10ft count 3");
    let sample = small(&text, &["mix"]);
    assert!(hold(&sample) > 20);
    let total = explained(&sample, "total").unwrap();
    let note = total.root().unwrap().note.clone().unwrap();
    assert!(note.starts_with("INCOMPLETE"), "{note}");
}

/// A rule for the price that looks at all of a bid.
const PRICE: &str = r#"
fn price(bid) {
    let least = factor("minimum", "job");
    if bid.total < least { charge("Minimum charge", least - bid.total); }
    let travel = bid.hours * factor("minimum", "travel");
    charge("Travel", travel + bid.area * factor("minimum", "washing"));
    charge("Rebate", (bid.burden + bid.overhead) / 1000 + min(bid.profit, bid.allowances) / 1000
        - (bid.materials + bid.labour) * 0.01);
}
"#;

fn charged(text: &str, open: &[&str]) -> Sample {
    let load = |sources: &mut Sources| {
        let mut files = pack_files(&format!("{SCRIPT}\n{PRICE}"));
        let table = "what,value,unit,source\njob,120000000,USD,company\ntravel,1.255,USD/h,company\n\
                     washing,0.031,USD/ft2,company\n";
        files
            .texts
            .insert("tables/minimum.csv".into(), table.into());
        parge_rules::load(&[files], crate::contract::HOOKS, sources).unwrap()
    };
    priced(text, load, open)
}

/// Below a charge stand its script's steps, the tables and the lines of the bid.
#[test]
fn charges_are_explained_down_to_the_lines_of_the_bid() {
    let text = plan("face a rect 20ft x high plain count 2\nedge cap 10ft count 3");
    let sample = charged(&text, &[]);
    assert_eq!(sample.estimate.charges.len(), 3);
    assert!(hold(&sample) > 20);
    let explanation = explained(&sample, "charges").unwrap();
    let origins = |origin: Origin| {
        let nodes = explanation.nodes.iter();
        nodes
            .filter(|node| node.step == Step::Given(origin))
            .count()
    };
    assert!(origins(Origin::PriceBook) > 2 && origins(Origin::Table) > 3);
    let outline = Outline::of(&explanation);
    let entry = |name: &str| {
        let found = outline.entries.iter().position(|entry| entry.name == name);
        found.unwrap_or_else(|| panic!("no entry `{name}`"))
    };
    assert_eq!(
        formula_of(&outline, entry("Minimum charge")),
        "minimum job − price before charges and tax"
    );
    for name in [
        "materials",
        "labour",
        "travel",
        "hours of all phases",
        "coated area of all faces",
    ] {
        entry(name);
    }
    // With a line without a price as well.
    assert!(hold(&charged(&text, &["mix"])) > 20);
}

#[test]
fn names_are_found_in_every_spelling() {
    let sample = small(&plan("face a rect 20ft x high plain"), &[]);
    let found = |name: &str| explained(&sample, name).map(|explanation| explanation.figure);
    for name in ["Wall.a.area", "\"Wall\".a.area", "a.area", " a . area "] {
        assert_eq!(found(name).unwrap(), "Wall.a.area");
    }
    assert_eq!(found("mix").unwrap(), "material.mix");
    assert_eq!(found("place").unwrap(), "hours.place");
    assert_eq!(found("a.place").unwrap(), "Wall.a.hours.place");
    assert_eq!(found("high").unwrap(), "let.high");
    let unknown = |name: &str, nearest: Option<&str>| {
        let (name, nearest) = (name.to_owned(), nearest.map(str::to_owned));
        Unfound::Unknown { name, nearest }
    };
    assert_eq!(found("totl").unwrap_err(), unknown("totl", Some("total")));
    assert_eq!(found("\"\"..x").unwrap_err(), unknown("\"\"..x", None));
    assert_eq!(found("").unwrap_err(), unknown("", None));
}

#[test]
fn a_name_of_several_figures_is_asked_back() {
    let text = plan("face a rect 20ft x high plain")
        + "structure Two on block { face a rect 5ft x 5ft plain }\nlet total = 3ft\n";
    let sample = small(&text, &[]);
    let longer = |name: &str| match explained(&sample, name) {
        Err(Unfound::Ambiguous { longer, .. }) => longer,
        other => panic!("{other:?}"),
    };
    assert_eq!(longer("a.area"), ["Wall.a.area", "Two.a.area"]);
    assert_eq!(longer("total"), ["price.total", "let.total"]);
    assert_eq!(all(&sample.estimate).len(), hold(&sample));
    assert_eq!(PRICE_STEPS.len(), listing(&sample.estimate).price.len());
}

/// A plan as deep and as wide as nobody writes is explained without running out of stack.
#[test]
fn deep_and_wide_plans_are_explained() {
    let mut text = plan("face a rect n1500 x 9ft plain");
    text += "let n0 = 1ft\n";
    for number in 1..=1500 {
        text += &format!("let n{number} = n{} + 0.001ft\n", number - 1);
    }
    let corners: Vec<String> = (0..400)
        .map(|at| format!("({}ft, {}ft)", at, if at % 2 == 0 { 3 } else { 4 }))
        .collect();
    text += &format!(
        "structure Wide on block {{ face w polygon (0ft, 0ft) (399ft, 0ft) {} plain }}\n",
        corners.into_iter().rev().collect::<Vec<_>>().join(" ")
    );
    let sample = small(&text, &[]);
    for name in ["a.area", "w.area", "w.perimeter", "mix"] {
        let explanation = explained(&sample, name).unwrap();
        let outline = Outline::of(&explanation);
        assert!(outline.entries.len() > 3, "{name}");
        assert_eq!(
            explanation.evaluate(),
            explanation.root().map(|root| root.value)
        );
    }
}

/// Formulas as text, with names for terms.
fn formula_of(outline: &Outline, number: usize) -> String {
    let pieces = outline.entries[number]
        .formula
        .iter()
        .map(|piece| match piece {
            Piece::Text(text) => (*text).to_owned(),
            Piece::Number(number) => number.to_string(),
            Piece::Term(term) => outline.entries[*term].name.clone(),
        });
    pieces.collect()
}

#[test]
fn formulas_have_the_brackets_they_need() {
    let text = plan("face a rect 20ft x high plain")
        + "let p = 4ft\nlet q = 2ft\nlet r = 3ft\n\
           let w1 = (p + q) * r / q - (p - (q - r))\nlet w3 = p * r / (q * r)\nlet w2 = p - q - r * 2 * p / r\n";
    let sample = small(&text, &[]);
    let read = |name: &str| {
        let outline = Outline::of(&explained(&sample, name).unwrap());
        formula_of(&outline, 0).replace('`', "")
    };
    assert_eq!(read("w1"), "(p + q) × r / q − (p − (q − r))");
    assert_eq!(read("w3"), "p × r / (q × r)");
    assert_eq!(read("w2"), "p − q − r × 2 × p / r");
}

#[test]
fn equal_contributions_stand_together_the_largest_first() {
    let faces = "face a rect 2ft x 9ft plain\nface b rect 8ft x 9ft plain\nface c rect 60ft x 9ft plain\nface d rect 4ft x 9ft plain";
    let sample = small(&plan(faces), &[]);
    let outline = Outline::of(&explained(&sample, "hours.place").unwrap());
    let read = |terms: &[usize]| -> Vec<(String, bool)> {
        let entries = terms.iter().map(|term| &outline.entries[*term]);
        entries
            .map(|entry| (entry.name.clone(), entry.alike))
            .collect()
    };
    let top = &outline.entries[0].terms;
    assert_eq!(
        read(top),
        [
            ("`c` of `Wall`".to_owned(), false),
            ("plain on block, 3 reckoned alike".to_owned(), false)
        ]
    );
    assert_eq!(
        read(&outline.entries[top[1]].terms),
        [
            ("`b` of `Wall`".to_owned(), false),
            ("`d` of `Wall`".to_owned(), true),
            ("`a` of `Wall`".to_owned(), true)
        ]
    );
}

fn face(number: usize) -> impl Strategy<Value = String> {
    let sizes = (
        1u32..4000,
        1u32..300,
        1u32..4,
        0u32..3,
        any::<bool>(),
        any::<bool>(),
    );
    sizes.prop_map(move |(width, height, count, openings, wood, edge)| {
        let on = if wood { "on wood " } else { "" };
        let width = f64::from(width) / 16.0 + 1.0;
        let height = f64::from(height) / 16.0 + 1.0;
        let opening = match openings {
            0 => String::new(),
            count => format!("opening o rect 3in x 2.5in reveal 4in count {count}\n"),
        };
        let edge = if edge { "edge corner 7ft 1in count 2\n" } else { "" };
        format!("face f{number} rect {width}ft x {height}ft count {count} {on}plain {{\n{opening}{edge}}}")
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_leaves_of_generated_charges_give_them_again(
        faces in (1usize..4).prop_flat_map(|count| {
            (0..count).map(face).collect::<Vec<_>>()
        })
    ) {
        hold(&charged(&plan(&faces.join("\n")), &[]));
    }

    #[test]
    fn the_leaves_of_generated_jobs_give_their_figures_again(
        faces in (1usize..6).prop_flat_map(|count| {
            (0..count).map(face).collect::<Vec<_>>()
        })
    ) {
        hold(&small(&plan(&faces.join("\n")), &[]));
    }
}

/// Offers, freight, and all terms of a bid: every step gives the figure of the estimate again.
#[test]
fn every_step_of_a_bid_with_all_terms_is_explained() {
    for (rounding, tax) in [
        ("round up to 10 USD", "materials"),
        ("round to 5 USD", "total"),
    ] {
        let text = plan("face a rect 20ft x high plain count 2\nedge cap 10ft count 3");
        let terms = format!("contingency 8%  class 3  minimum 9999 USD  {rounding}");
        let text = text.replace(
            "tax 7.25% on total",
            &format!("tax 7.25% on {tax}  {terms}"),
        );
        let sample = by_offers(&text);
        let price = &sample.estimate.price;
        let steps = [price.freight, price.contingency, price.minimum];
        assert!(
            steps.iter().all(|step| !step.amount().is_zero()),
            "{price:?}"
        );
        assert!(price.taxed.amount().is_zero());
        assert!(hold(&sample) > 20);
        let outline = Outline::of(&explained(&sample, "total").unwrap());
        let names: Vec<&str> = outline
            .entries
            .iter()
            .map(|entry| entry.name.as_str())
            .collect();
        for name in [
            "freight",
            "contingency",
            "minimum",
            "freight of Shop",
            "least price",
        ] {
            assert!(names.contains(&name), "{name} in {names:?}");
        }
        let cost = explained(&sample, "mix").unwrap();
        let note = cost.root().unwrap().note.clone().unwrap();
        assert!(note.starts_with("cheapest of 2 offers"), "{note}");
    }
}

/// A sample whose mix has a second offer, from 200 packs on and not taxed, of a shop with a freight.
fn by_offers(text: &str) -> Sample {
    let first = small(text, &[]);
    let mut book = first.book.clone();
    let mut offer = book
        .offers
        .iter()
        .find(|offer| offer.item == "mix")
        .unwrap()
        .clone();
    offer.supplier = "Shop".to_owned();
    offer.price = Money::new(Decimal::new(5, 2), book.currency);
    offer.terms.from_packs = 200;
    offer.terms.taxed = false;
    book.freight.push(parge_base::prices::Freight {
        supplier: "Shop".to_owned(),
        amount: Money::new(Decimal::new(8_500, 2), book.currency),
        span: offer.span,
    });
    book.offers.push(offer);
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let file = sources.add("job.parge", text);
    let parsed = parge_grammar::parse(file, text);
    let end = Span::new(file, text.len(), text.len());
    let (job, _) = resolve(&parsed.plan, crate::contract::Packs::of(&pack), end);
    let (measured, _) = measure(job.unwrap(), crate::contract::Packs::of(&pack));
    let (takeoff, _) = take_off(measured, &pack);
    let (pooled, _) = pool(&takeoff, &pack);
    let (estimate, said) = price(takeoff, pooled, &book, &pack);
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    Sample {
        estimate: estimate.unwrap(),
        book,
        sources,
    }
}
