use super::*;
use crate::change::Both;
use crate::price::{Estimate, offer_of};
use crate::testing::{SCRIPT, pack, shown};
use parge_base::prices::{Offer, PackSize, PriceBook};
use parge_base::{Currency, Money, Sources, Span, Units};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::sync::Arc;

const PLAN: &str = "parge 1
job \"Test\" {
  rules \"small\"
  crew { lead 1  hand 2 }
  bid { burden 30%  profit margin 20%  tax 7.25% on materials }
}
let long = 12ft
let tall = long / 2
let walls = 2
finish plain { technique stamp  thickness 1in }
structure \"Wall\" on block {
  face f rect long x tall count walls plain
}
";

/// The small pack with a plan, a price for its material and a wage.
fn basis(sources: &mut Sources) -> Basis {
    let rules = Arc::new(pack(SCRIPT, sources));
    let file = sources.add("plan.parge", PLAN);
    let parsed = parge_grammar::parse(file, PLAN);
    assert_eq!(parsed.diagnostics, []);
    let prices = sources.add("prices.csv", "mix\nlabour\nspare\n");
    let offer = |(number, item, unit, price): (usize, &str, &str, &str)| {
        let unit = Units::standard().parse(unit).unwrap();
        Offer {
            item: item.to_owned(),
            description: item.to_owned(),
            pack: PackSize {
                size: unit.quantity(1.0).unwrap(),
                written: 1.0,
                name: unit.text().to_owned(),
                unit,
            },
            price: Money::new(price.parse().unwrap(), usd()),
            supplier: String::new(),
            valid_until: None,
            terms: Default::default(),
            span: Span::new(prices, number * 4, number * 4 + 3),
        }
    };
    let offers = [
        (0, "mix", "bag", "24.80"),
        (1, "labour", "h", "36.50"),
        (2, "spare", "gal", "0.00"),
    ];
    Basis {
        plan: Arc::new(parsed.plan),
        rules,
        measuring: None,
        book: Arc::new(PriceBook {
            currency: usd(),
            offers: offers.map(offer).into(),
            open: Vec::new(),
            freight: Vec::new(),
            span: Span::new(prices, 0, 3),
        }),
        forecast: None,
        end: Span::new(file, PLAN.len(), PLAN.len()),
    }
}

fn usd() -> Currency {
    Currency::from_code("USD").unwrap()
}

fn estimate(basis: &Basis, sources: &Sources) -> Estimate {
    let (estimate, said) = basis.estimate(sources);
    estimate.unwrap_or_else(|| {
        let said: Vec<String> = said.iter().map(|said| shown(said, sources)).collect();
        panic!("{}", said.join("\n"))
    })
}

/// What is said of words that cannot be set.
fn refused(words: &[&str]) -> String {
    let mut sources = Sources::new();
    let basis = basis(&mut sources);
    let now = estimate(&basis, &sources);
    let words: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
    let (_, wrong) = read(&words, &basis, &now, &mut sources);
    let lines: Vec<String> = wrong.iter().map(|said| shown(said, &sources)).collect();
    lines.join("\n")
}

/// An estimate with some words set beside the one as it is.
fn what_if(words: &[String]) -> (Estimate, Estimate, Compared) {
    let mut sources = Sources::new();
    let basis = basis(&mut sources);
    let (now, said) = basis.estimate(&sources);
    let now = now.unwrap();
    let (sets, wrong) = read(words, &basis, &now, &mut sources);
    let wrong: Vec<String> = wrong.iter().map(|said| shown(said, &sources)).collect();
    assert_eq!(wrong, [""; 0], "{words:?}");
    let other = basis.with(&sets);
    let (then, said_then) = other.estimate(&sources);
    let then = then.unwrap_or_else(|| panic!("{words:?}: {said_then:?}"));
    let bases = Both {
        old: &basis,
        new: &other,
    };
    let estimates = Both {
        old: &now,
        new: &then,
    };
    let both_said = Both {
        old: said.as_slice(),
        new: said_then.as_slice(),
    };
    let compared = compared(&sets, bases, estimates, both_said);
    (now, then, compared)
}

fn one(word: &str) -> (Estimate, Estimate, Compared) {
    what_if(&[word.to_owned()])
}

#[test]
fn names_are_found_whole_or_shorter() {
    for (word, name) in [
        ("mixes.mix.yield=1 ft3/bag", "mixes.mix.yield"),
        ("mixes: mix, yield=1 ft3/bag", "mixes.mix.yield"),
        ("mixes.yield=1 ft3/bag", "mixes.mix.yield"),
        ("rates.place=0.2 h/ft2", "rates.place"),
        ("site.access.tight.labour=3", "site.access.tight.labour"),
        ("site.labour=3", "site.access.tight.labour"),
        ("prices.mix=30", "prices.mix"),
        ("prices.labour=40 USD", "prices.labour"),
        ("packs.mix=2 bag", "packs.mix"),
        ("bid.overhead=10%", "bid.overhead"),
        ("let.long=10ft", "let.long"),
        ("crew.lead=2", "crew.lead"),
    ] {
        let (_, _, compared) = one(word);
        assert_eq!(compared.sets[0].name, name, "{word}");
    }
}

#[test]
fn what_cannot_be_set_is_said_all_in_one_run() {
    insta::assert_snapshot!(refused(&[
        "mixes.mix.yeld=1 ft3/bag",
        "mixs.mix.yield=1 ft3/bag",
        "mixes.mix=1 ft3/bag",
        "mixes.mix.waste=12",
        "mixes.mix.waste=2 ft",
        "rates.place",
        "rates.clean=",
        "prices.mx=30",
        "prices.mix=-3",
        "prices.mix=30 EUR",
        "packs.mix=5gal",
        "packs.mix=0 bag",
        "bid.overhed=3%",
        "bid.overhead=3% burden 4%",
        "let.wide=3ft",
        "let.long=3",
        "let.long=3kg",
        "let.long=3ft\nlet x = 2",
        "crew.foreman=2",
        "crew=2 3",
        "measure.limits.x=3",
        "let.tall=6ft",
        "let.tall=7ft",
        "nothing.at.all=3",
    ]));
}

/// What each kind of input does, worked by hand where the small pack makes that short.
#[test]
fn each_kind_of_input_reaches_the_estimate() {
    let total = |word: &str| one(word).1.price.total;
    let before = one("let.walls=2").0.price;
    // 144 ft² of 1 in: 12 ft³ of 0.5 ft³ a bag, and 10 % waste.
    let packs = |word: &str| one(word).1.materials[0].packs;
    assert_eq!(packs("mixes.waste=10%"), Some(27.0));
    assert_eq!(packs("mixes.yield=1 ft3/bag"), Some(14.0));
    assert_eq!(packs("mixes.waste=50%"), Some(36.0));
    assert_eq!(packs("packs.mix=10 bag"), Some(3.0));
    assert_eq!(packs("let.walls=1"), Some(14.0));
    // Half as long is half as tall too, since one rests on the other.
    assert_eq!(packs("let.long=6ft"), Some(7.0));
    assert_eq!(packs("let.tall=12ft"), Some(53.0));
    let materials = one("prices.mix=30").1.price.materials;
    assert_eq!(materials.to_text(), "810.00");
    assert_eq!(total("bid.tax=0%"), before.total.minus(before.tax).unwrap());
    let profit = one("bid.profit=markup 25%").1.price.profit;
    assert_eq!(profit, before.profit);
    let (_, then, compared) = one("bid.overhead=10%");
    assert!(then.price.overhead.amount() > Decimal::ZERO);
    assert_eq!(compared.said.old.len() + compared.said.new.len(), 1);
}

/// An input that no figure rests on is said to be one, and so is a value that is no other.
#[test]
fn what_is_the_same_or_not_used_is_said() {
    let of = |word: &str| {
        let (_, _, compared) = one(word);
        let set = &compared.sets[0];
        (set.same, set.used, compared.changes.is_empty())
    };
    assert_eq!(of("mixes.yield=1/2 ft3/bag"), (true, true, true));
    assert_eq!(of("mixes.yield=0.6 ft3/bag"), (false, true, false));
    assert_eq!(of("let.long=144in"), (true, true, true));
    assert_eq!(of("bid.profit=20%"), (true, true, true));
    assert_eq!(of("bid.profit=margin 20%"), (true, true, true));
    assert_eq!(of("site.labour=3"), (false, false, true));
    assert_eq!(of("prices.spare=3"), (false, false, true));
    assert_eq!(of("prices.labour=36.5"), (true, true, true));
    assert_eq!(of("crew.lead=1"), (true, true, true));
}

/// The lines of what is set do not stand a second time among what changed.
#[test]
fn what_is_set_is_told_once() {
    for word in [
        "mixes.waste=12%",
        "prices.mix=30",
        "bid.burden=31%",
        "packs.mix=2 bag",
    ] {
        let (_, _, compared) = one(word);
        assert_eq!(compared.changes.lines, [], "{word}");
        assert!(!compared.changes.is_empty(), "{word}");
    }
    let (_, _, compared) = one("let.tall=11ft");
    assert!(!compared.changes.lines.is_empty());
    assert_eq!(compared.cautions.new.len(), 1, "work above 10 ft");
    assert_eq!(compared.cautions.old.len(), 0);
}

fn moves(by: Decimal) -> Most {
    let mut sources = Sources::new();
    let basis = basis(&mut sources);
    let now = estimate(&basis, &sources);
    most(&basis, &now, by, &sources)
}

#[test]
fn what_moves_the_total_most() {
    let found = moves(Decimal::new(1, 1));
    let way = |way: &Way| match way {
        Way::Difference(money) => money.to_text(),
        Way::Unknown(why) => why.clone(),
    };
    let moved = found.moved.iter().map(|moved| {
        let (down, up) = (way(&moved.down), way(&moved.up));
        format!(
            "{} {}: {down}, {up}; {}",
            moved.name, moved.value, moved.source
        )
    });
    let skipped = found.skipped.iter();
    let skipped = skipped.map(|no| format!("{} {}: {:?}", no.name, no.value, no.why));
    let lines: Vec<String> = moved.chain(skipped).collect();
    insta::assert_snapshot!(format!("{}\n{}", found.total.to_text(), lines.join("\n")));
}

/// Threads finish in any order; what they found does not show it.
#[test]
fn the_outcome_does_not_depend_on_threads() {
    let within = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
        pool.build().unwrap().install(|| moves(Decimal::new(5, 2)))
    };
    let alone = within(1);
    for threads in [2, 5] {
        assert_eq!(within(threads), alone, "{threads}");
    }
}

/// The words that set an input of the small estimate to so many times its value.
fn words_of(share: f64) -> Vec<(String, String)> {
    let of = |name: &str, value: f64, unit: &str| {
        (name.to_owned(), format!("{name}={}{unit}", value * share))
    };
    vec![
        of("mixes.mix.yield", 0.5, " ft3/bag"),
        of("mixes.mix.waste", 10.0, "%"),
        of("rates.place", 0.1, " h/ft2"),
        of("rates.clean", 5.0, "%"),
        of("prices.labour", 36.5, ""),
        of("prices.mix", 24.8, ""),
        of("bid.burden", 30.0, "%"),
        of("bid.profit", 20.0, "%"),
        of("bid.tax", 7.25, "%"),
        of("let.long", 12.0, "ft"),
        of("let.tall", 6.0, "ft"),
    ]
}

/// Setting an input to its value as it is changes nothing, alone and with all others.
#[test]
fn present_values_change_nothing() {
    let words: Vec<String> = words_of(1.0).into_iter().map(|(_, word)| word).collect();
    let (now, then, compared) = what_if(&words);
    assert_eq!(now.price.total, then.price.total);
    assert!(compared.changes.is_empty());
    assert!(
        compared.sets.iter().all(|set| set.same),
        "{:?}",
        compared.sets
    );
    for word in words {
        let (now, then, compared) = one(&word);
        assert_eq!(now.price.total, then.price.total, "{word}");
        assert!(compared.changes.is_empty(), "{word}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3))]

    /// A move is what setting the moved value is.
    #[test]
    fn moves_are_sets(percent in 1u32..60) {
        let by = Decimal::new(percent.into(), 2);
        let found = moves(by);
        let share = f64::from(percent) / 100.0;
        for (more, share) in [(false, 1.0 - share), (true, 1.0 + share)] {
            for (name, word) in words_of(share) {
                let moved = found.moved.iter().find(|moved| moved.name == name);
                let moved = moved.unwrap_or_else(|| panic!("{name} was not moved"));
                let (now, then, _) = one(&word);
                let difference = then.price.total.minus(now.price.total).unwrap();
                let way = if more { &moved.up } else { &moved.down };
                prop_assert_eq!(way, &Way::Difference(difference), "{}", word);
            }
        }
    }
}

/// An item that is sold by the row of its kind gets a row of its own.
#[test]
fn a_kind_may_be_priced_by_itself() {
    let mut sources = Sources::new();
    let basis = basis(&mut sources);
    let set = Set {
        input: Input::Price("mix/grey".to_owned()),
        value: NewValue::Price(Money::new(Decimal::TEN, usd())),
    };
    let other = basis.with(&[set]);
    let price = |basis: &Basis, item| offer_of(&basis.book, item).unwrap().price.to_text();
    assert_eq!(price(&other, "mix/grey"), "10.00");
    assert_eq!(price(&other, "mix"), "24.80");
    assert_eq!(price(&basis, "mix/grey"), "24.80");
}
