use super::*;
use crate::contract::{HOOKS, Packs};
use crate::testing::{SCRIPT, pack_files};
use crate::{measure, pool, price, resolve, takeoff};
use parge_base::prices::{Offer, OfferTerms, PackSize, PriceBook};
use parge_base::{Dim, Sources, Span, Units};
use parge_rules::PackFiles;
use proptest::prelude::*;

const PLAN: &str = r#"parge 1
job "Court" {
  client "The owner"
  rules  "small"
  crew   2
  bid    { burden 30%  overhead 10%  profit margin 20%  tax 7% on materials }
}
let high = 8ft
finish stone { technique stamp  thickness 3/4in  colours granite 60%, moss 40%  sealer matte, 2 coats }
finish bark { technique carve  thickness 1 1/2in  relief 1.15 }
structure "Planter" on block {
  face street  rect 22ft 4in x 2ft 8in  stone
  face ends    rect 4ft x 2ft 8in  stone  count 2
}
structure "Gable" on wood {
  face gable  polygon (0ft, 0ft) (10ft, 0ft) (10ft, high) (5ft, 11ft) (0ft, high)  bark  at 14ft {
    opening vent  rect 12in x 8in  reveal 4in  count 2
  }
  face trunk  cylinder diameter 2ft x high  bark
}
"#;

const PRICES: [(&str, f64, &str, &str); 2] =
    [("mix", 1.0, "bag", "20"), ("labour", 1.0, "h", "40")];

fn book(rows: &[(&str, f64, &str, &str)], currency: &str, sources: &mut Sources) -> PriceBook {
    let file = sources.add("prices.csv", "item\n");
    let span = Span::new(file, 0, 4);
    let currency = Currency::from_code(currency).unwrap();
    let offer = |(item, written, unit, price): &(&str, f64, &str, &str)| {
        let name = unit;
        let unit = Units::standard().parse(unit).unwrap();
        Offer {
            item: (*item).into(),
            description: (*item).into(),
            pack: PackSize {
                size: unit.quantity(*written).unwrap(),
                written: *written,
                unit,
                name: (*name).into(),
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
        offers: rows.iter().map(offer).collect(),
        open: Vec::new(),
        freight: Vec::new(),
        span,
    }
}

fn estimate_by(
    text: &str,
    rows: &[(&str, f64, &str, &str)],
    currency: &str,
    files: &PackFiles,
) -> Estimate {
    let mut sources = Sources::new();
    let pack = parge_rules::load(std::slice::from_ref(files), HOOKS, &mut sources).unwrap();
    let file = sources.add("plan.parge", text);
    let parsed = parge_grammar::parse(file, text);
    assert!(parsed.diagnostics.is_empty(), "{:?}", parsed.diagnostics);
    let end = Span::new(file, text.len(), text.len());
    let (job, said) = resolve::resolve(&parsed.plan, Packs::of(&pack), end);
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    let (measured, said) = measure::measure(job.unwrap(), Packs::of(&pack));
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    let (taken, _) = takeoff::take_off(measured, &pack);
    let (pooled, _) = pool::pool(&taken, &pack);
    let book = book(rows, currency, &mut sources);
    price::price(taken, pooled, &book, &pack).0.unwrap()
}

fn estimate(text: &str) -> Estimate {
    estimate_by(text, &PRICES, "USD", &pack_files(SCRIPT))
}

/// The plan with a text in it replaced.
fn with(from: &str, to: &str) -> String {
    assert!(PLAN.contains(from), "{from}");
    PLAN.replace(from, to)
}

fn place(part: &Part) -> String {
    match part {
        Part::Job => "job".into(),
        Part::Rules => "rules".into(),
        Part::Finish(name) => format!("finish {name}"),
        Part::Structure(name) => name.clone(),
        Part::Face { structure, face } => format!("{structure}/{face}"),
        Part::Opening {
            structure,
            face,
            opening,
        } => format!("{structure}/{face}/{opening}"),
        Part::Price { item, .. } => format!("price {item}"),
    }
}

/// A line a change: `job client changed: A -> B`.
fn lines(changes: &Changes) -> Vec<String> {
    let words = |value: &Option<Value>| {
        value
            .as_ref()
            .map_or("-".into(), |value| value.words(changes.units))
    };
    let line = |change: &Change| {
        let place = place(&change.part);
        let (old, new) = (words(&change.old), words(&change.new));
        match change.kind {
            Kind::Added => format!("{place} added: {new}"),
            Kind::Removed => format!("{place} removed: {old}"),
            Kind::Renamed => format!("{place} renamed: {old} -> {new}"),
            Kind::Changed => format!("{place} {}: {old} -> {new}", change.what),
        }
    };
    changes.lines.iter().map(line).collect()
}

/// What changes when a text of the plan is replaced.
fn changed(from: &str, to: &str) -> Vec<String> {
    lines(&compare(&estimate(PLAN), &estimate(&with(from, to))))
}

#[test]
fn a_plan_against_itself_has_no_difference() {
    let changes = compare(&estimate(PLAN), &estimate(PLAN));
    assert!(changes.is_empty(), "{changes:?}");
    assert_eq!(changes.steps.len(), 6);
}

#[test]
fn text_without_meaning_is_no_difference() {
    let same = |from: &str, to: &str| {
        let changes = compare(&estimate(PLAN), &estimate(&with(from, to)));
        assert!(changes.is_empty(), "{from} -> {to}: {:?}", lines(&changes));
    };
    same("high", "h");
    same("2ft 8in", "32in");
    same("let high = 8ft", "let high = 4ft * 2");
    same("22ft 4in", "(20ft + 28in)");
    same("granite 60%, moss 40%", "moss 40%, granite 60%");
    same("thickness 3/4in", "thickness 0.75in");
    same("rect 4ft", "rect 1.2192m");
    same("reveal 4in  count 2", "count 2  reveal 4in");
    same(
        "x 2ft 8in  stone\n",
        "x 2ft 8in  stone  on block  at 2ft 8in\n",
    );
    same("relief 1.15 }", "relief 1.15 }  # as the last job");
    same("  stone  count 2", "  count 2  stone");
}

#[test]
fn settings_of_the_job() {
    assert_eq!(
        changed("\"The owner\"", "\"The heirs\""),
        ["job client: The owner -> The heirs"]
    );
    assert_eq!(
        changed("  client \"The owner\"\n", ""),
        ["job client: The owner -> -"]
    );
    assert_eq!(
        changed("\"Court\"", "\"Yard\""),
        ["job name: Court -> Yard"]
    );
    assert_eq!(
        changed(
            "crew   2",
            "crew 3\n  site \"North side\"\n  date 2026-05-11"
        ),
        [
            "job site: - -> North side",
            "job date: - -> 2026-05-11",
            "job crew: 2 -> 3"
        ]
    );
    assert_eq!(
        changed("crew   2", "crew 2\n  units metric"),
        ["job units: us -> metric"]
    );
    assert_eq!(
        changed(
            "crew   2",
            "crew 2\n  weather { air 91F  humidity 25%  wind 9mph  mix 80F }"
        ),
        [
            "job air temperature: - -> 91F",
            "job humidity: - -> 25%",
            "job wind: - -> 9mph",
            "job mix temperature: - -> 80F"
        ]
    );
    assert_eq!(
        changed(
            "{ burden 30%  overhead 10%  profit margin 20%  tax 7% on materials }",
            "{ burden 32.5%  profit markup 25%  tax 7% on total }"
        ),
        [
            "job burden: 30% -> 32.5%",
            "job overhead: 10% -> -",
            "job profit: margin 20% of the price -> markup 25% of the cost",
            "job tax: 7% on materials -> 7% on total"
        ]
    );
}

#[test]
fn finishes_added_removed_renamed_and_changed() {
    assert_eq!(
        changed(
            "thickness 3/4in  colours granite 60%, moss 40%  sealer matte, 2 coats",
            "thickness 1in  colours granite 70%, slate 30%  relief 1.1"
        ),
        [
            "finish stone thickness: 3/4in -> 1in",
            "finish stone relief: 1 -> 1.1",
            "finish stone colour granite: 60% -> 70%",
            "finish stone colour slate: - -> 30%",
            "finish stone sealer: matte -> -",
            "finish stone coats of sealer: 2 -> -",
            "finish stone colour moss: 40% -> -"
        ]
    );
    assert_eq!(
        changed("stone", "rubble"),
        ["finish rubble renamed: stone -> rubble"]
    );
    assert_eq!(
        changed(
            "finish bark {",
            "finish rock { technique carve  thickness 2in }\nfinish bark {"
        ),
        ["finish rock added: technique carve, thickness 2in"]
    );
    let more = with(
        "finish bark {",
        "finish rock { technique carve  thickness 2in }\nfinish bark {",
    );
    assert_eq!(
        lines(&compare(&estimate(&more), &estimate(PLAN))),
        ["finish rock removed: technique carve, thickness 2in"]
    );
}

#[test]
fn faces_added_removed_renamed_and_changed() {
    assert_eq!(
        changed(
            "rect 22ft 4in x 2ft 8in  stone",
            "rect 24ft x 2ft 8in  bark  on brick"
                .replace("brick", "wood")
                .as_str()
        ),
        [
            "Planter/street width: 22ft 4in -> 24ft",
            "Planter/street substrate: block -> wood",
            "Planter/street finish: stone -> bark"
        ]
    );
    assert_eq!(
        changed("  stone  count 2", "  stone"),
        ["Planter/ends count: 2 -> 1"]
    );
    assert_eq!(
        changed("face ends ", "face short "),
        ["Planter/short renamed: ends -> short"]
    );
    assert_eq!(
        changed("rect 4ft x 2ft 8in", "arch 4ft x 2ft 8in"),
        ["Planter/ends shape: rect, width 4ft, height 2ft 8in -> arch, width 4ft, height 2ft 8in"]
    );
    assert_eq!(
        changed("diameter 2ft x high", "diameter 2ft sweep 180deg x high"),
        ["Gable/trunk sweep: - -> 180deg"]
    );
    assert_eq!(
        changed("at 14ft", "at 15ft"),
        ["Gable/gable working height: 14ft -> 15ft"]
    );
    assert_eq!(
        changed("  at 14ft", ""),
        ["Gable/gable working height: 14ft -> 11ft"]
    );
    let new = "  face cap  rect 22ft 4in x 10in  stone  at 4ft {\n    opening pipe  circle diameter 3in\n  }\n}\nstructure \"Gable\"";
    let words = "rect, width 22ft 4in, height 10in, substrate block, finish stone, working height 4ft; opening pipe: circle, diameter 3in";
    let more = with("}\nstructure \"Gable\"", new);
    assert_eq!(
        lines(&compare(&estimate(PLAN), &estimate(&more))),
        [format!("Planter/cap added: {words}")]
    );
    assert_eq!(
        lines(&compare(&estimate(&more), &estimate(PLAN))),
        [format!("Planter/cap removed: {words}")]
    );
}

/// One `let` moves every size that rests on it, and each is told where it stands.
#[test]
fn a_changed_let_is_told_by_the_sizes_that_follow_it() {
    assert_eq!(
        changed("let high = 8ft", "let high = 9ft"),
        [
            "Gable/gable corner 3 up: 8ft -> 9ft",
            "Gable/gable corner 5 up: 8ft -> 9ft",
            "Gable/trunk height: 8ft -> 9ft"
        ]
    );
    assert_eq!(
        changed(" (5ft, 11ft)", ""),
        ["Gable/gable shape: \
             polygon, corner 1 along 0in, corner 1 up 0in, corner 2 along 10ft, corner 2 up 0in, \
             corner 3 along 10ft, corner 3 up 8ft, corner 4 along 5ft, corner 4 up 11ft, \
             corner 5 along 0in, corner 5 up 8ft -> \
             polygon, corner 1 along 0in, corner 1 up 0in, corner 2 along 10ft, corner 2 up 0in, \
             corner 3 along 10ft, corner 3 up 8ft, corner 4 along 0in, corner 4 up 8ft"]
    );
}

#[test]
fn openings_added_removed_renamed_and_changed() {
    assert_eq!(
        changed(
            "rect 12in x 8in  reveal 4in  count 2",
            "rect 12in x 9in  reveal 5in"
        ),
        [
            "Gable/gable/vent height: 8in -> 9in",
            "Gable/gable/vent reveal: 4in -> 5in",
            "Gable/gable/vent count: 2 -> 1"
        ]
    );
    assert_eq!(
        changed("opening vent", "opening louvre"),
        ["Gable/gable/louvre renamed: vent -> louvre"]
    );
    assert_eq!(
        changed(
            "    opening vent  rect 12in x 8in  reveal 4in  count 2\n",
            ""
        ),
        ["Gable/gable/vent removed: rect, width 1ft, height 8in, reveal 4in, count 2"]
    );
    assert_eq!(
        changed(
            "reveal 4in  count 2",
            "reveal 4in  count 2\n    opening hatch  rect 2ft x 2ft"
        ),
        ["Gable/gable/hatch added: rect, width 2ft, height 2ft"]
    );
}

#[test]
fn structures_added_removed_and_renamed() {
    assert_eq!(
        changed("\"Planter\"", "\"Long planter\""),
        ["Long planter renamed: Planter -> Long planter"]
    );
    let more =
        format!("{PLAN}structure \"Wall\" on block {{\n  face front  rect 9ft x 8ft  stone\n}}\n");
    let face = "rect, width 9ft, height 8ft, substrate block, finish stone";
    assert_eq!(
        lines(&compare(&estimate(PLAN), &estimate(&more))),
        [
            "Wall added: 1 face".to_owned(),
            format!("Wall/front added: {face}")
        ]
    );
    assert_eq!(
        lines(&compare(&estimate(&more), &estimate(PLAN))),
        [
            "Wall removed: 1 face".to_owned(),
            format!("Wall/front removed: {face}")
        ]
    );
}

/// A structure that has another name and other sizes is another structure.
#[test]
fn a_structure_with_another_name_and_size_came_and_another_went() {
    let text = with("\"Planter\"", "\"Bench\"").replace("22ft 4in", "20ft");
    let found = lines(&compare(&estimate(PLAN), &estimate(&text)));
    let heads: Vec<&str> = found
        .iter()
        .map(|line| line.split(':').next().unwrap())
        .collect();
    assert_eq!(
        heads,
        [
            "Bench added",
            "Bench/street added",
            "Bench/ends added",
            "Planter removed",
            "Planter/street removed",
            "Planter/ends removed"
        ]
    );
}

#[test]
fn prices_packs_wage_and_currency() {
    let by = |rows: &[(&str, f64, &str, &str)], currency| {
        let new = estimate_by(PLAN, rows, currency, &pack_files(SCRIPT));
        compare(&estimate(PLAN), &new)
    };
    let changes = by(
        &[("mix", 2.0, "bag", "38.505"), ("labour", 1.0, "h", "42")],
        "USD",
    );
    assert_eq!(
        lines(&changes),
        [
            "price mix price: 20.00 USD -> 38.505 USD",
            "price mix pack: bag -> bag of 2 bag",
            "price labour wage of an hour: 40.00 USD -> 42.00 USD"
        ]
    );
    assert!(changes.areas.is_empty());
    assert_eq!(changes.currency().map(Currency::code), Some("USD"));
    let euros = by(&PRICES, "EUR");
    assert_eq!(lines(&euros)[0], "job currency: USD -> EUR");
    assert_eq!(euros.currency(), None);
}

#[test]
fn estimates_with_open_lines_are_compared() {
    let open = estimate_by(PLAN, &PRICES[1..], "USD", &pack_files(SCRIPT));
    let changes = compare(&estimate(PLAN), &open);
    assert_eq!(lines(&changes), ["price mix price: 20.00 USD -> -"]);
    let sides = &changes.sides;
    assert_eq!((sides.old.open_lines, sides.new.open_lines), (0, 1));
    assert_eq!(sides.new.status, Status::Incomplete);
    let [mix] = changes.materials.as_slice() else {
        panic!("{:?}", changes.materials)
    };
    let cost = |amount: &Option<Amount>| amount.as_ref().unwrap().cost;
    assert!(cost(&mix.amounts.old).is_some() && cost(&mix.amounts.new).is_none());
    assert!(compare(&open, &open).is_empty());
}

#[test]
fn another_version_of_the_pack_and_another_factor() {
    let mut files = pack_files(SCRIPT);
    for (path, from, to) in [
        ("pack.toml", "1.0.0", "1.1.0"),
        ("tables/rates.csv", "place,0.1,", "place,0.125,"),
        ("tables/rates.csv", "clean,5,%", "clean,6,%"),
    ] {
        let text = files.texts.get_mut(path).unwrap();
        assert!(text.contains(from));
        *text = text.replace(from, to);
    }
    let changes = compare(&estimate(PLAN), &estimate_by(PLAN, &PRICES, "USD", &files));
    assert_eq!(
        lines(&changes),
        [
            "rules version: 1.0.0 -> 1.1.0",
            "rules rates: clean: 5% -> 6%",
            "rules rates: place: 0.1 h/ft2 -> 0.125 h/ft2"
        ]
    );
    assert!(changes.materials.is_empty());
    assert_eq!(changes.labour.len(), 2);
}

#[test]
fn cautions_that_come_and_go() {
    let found = changed("at 14ft", "at 9ft");
    assert_eq!(
        found,
        [
            "rules caution fall: Work above 10 ft -> -",
            "Gable/gable working height: 14ft -> 9ft"
        ]
    );
}

/// Street: 22 ft 4 in to 24 ft at 2 ft 8 in is 4 4/9 ft² more, at 3/4 in 0.27… ft³ and 0.55… bags
/// with waste 0.61…; hours at 0.1 an ft².
#[test]
fn quantities_and_money_before_and_after() {
    let (old, new) = (estimate(PLAN), estimate(&with("22ft 4in", "24ft")));
    let changes = compare(&old, &new);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
    let [area] = changes.areas.as_slice() else {
        panic!("{:?}", changes.areas)
    };
    assert_eq!(
        (area.structure.as_str(), area.face.as_str()),
        ("Planter", "street")
    );
    let feet = |quantity: Quantity| quantity.value / (0.3048 * 0.3048);
    assert_eq!(area.area.old.unwrap().dim, Dim::AREA);
    close(feet(area.area.old.unwrap()), 67.0 / 3.0 * 8.0 / 3.0);
    close(feet(area.area.new.unwrap()), 64.0);
    close(feet(changes.area.new) - feet(changes.area.old), 40.0 / 9.0);
    let [mix] = changes.materials.as_slice() else {
        panic!("{:?}", changes.materials)
    };
    let with_waste = |amount: &Option<Amount>| amount.as_ref().unwrap().with_waste();
    close(
        with_waste(&mix.amounts.new) - with_waste(&mix.amounts.old),
        40.0 / 9.0 / 16.0 / 0.5 * 1.1,
    );
    let hours: Vec<f64> = changes
        .labour
        .iter()
        .map(|line| line.work.new.unwrap().hours - line.work.old.unwrap().hours)
        .collect();
    assert!(
        (hours[0] - 0.44).abs() < 0.011 && hours[1] > 0.0,
        "{hours:?}"
    );
    assert_eq!(changes.total.old, old.price.total);
    let sum = changes
        .steps
        .iter()
        .fold(Money::zero(new.currency), |sum, step| {
            sum.plus(step.amount.new).unwrap()
        });
    assert_eq!(sum, changes.total.new);
}

/// What only one of the two plans needs has no amount in the other.
#[test]
fn a_material_that_only_one_plan_needs() {
    let script = SCRIPT
        .replace(
            "need(\"mix\"",
            "if face.substrate == \"wood\" { need(\"mix\"",
        )
        .replace("\"waste\"));", "\"waste\")); }");
    let files = pack_files(&script);
    let on_wood = estimate_by(PLAN, &PRICES, "USD", &files);
    let on_block = estimate_by(&with("on wood", "on block"), &PRICES, "USD", &files);
    let changes = compare(&on_wood, &on_block);
    assert!(changes.materials[0].amounts.old.is_some());
    assert!(changes.materials[0].amounts.new.is_none());
}

/// Blanks, comments and empty lines between the words of a plan.
fn respaced(gaps: &[u8]) -> String {
    let mut gaps = gaps.iter().cycle();
    let mut text = String::new();
    for line in PLAN.lines() {
        for part in line.split_inclusive("  ") {
            text += part;
            text += &" ".repeat(usize::from(*gaps.next().unwrap() % 4));
        }
        match gaps.next().unwrap() % 5 {
            0 => text += "  # a note",
            1 => text += "\n\n# a line of its own",
            2 => text += "\r",
            _ => {}
        }
        text += "\n";
    }
    text
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn a_plan_laid_out_anew_has_no_difference(gaps in prop::collection::vec(any::<u8>(), 1..60)) {
        let changes = compare(&estimate(PLAN), &estimate(&respaced(&gaps)));
        prop_assert!(changes.is_empty(), "{:?}", lines(&changes));
    }
}
