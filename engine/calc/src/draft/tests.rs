//! A draft says what a draft of the same text says that was never edited, to the bit.

use super::*;
use crate::contract::HOOKS;
use crate::testing::{SCRIPT, pack as small_pack};
use parge_base::prices::{Offer, OfferTerms, PackSize};
use parge_base::{Currency, Money, Span, Units};
use parge_rules::Pack;
use proptest::prelude::*;

fn offer((item, unit, price): (&str, &str, &str), span: Span) -> Offer {
    let currency = Currency::from_code("USD").unwrap();
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
}

/// A book that has some of the items of the packs, so that some estimates are incomplete.
fn book() -> PriceBook {
    let span = Span::new(Sources::new().add("prices.csv", "item\n"), 0, 4);
    let rows = [
        ("mix", "bag", "20"),
        ("finish-mix", "bag", "24.50"),
        ("labour", "h", "40"),
    ];
    PriceBook {
        currency: Currency::from_code("USD").unwrap(),
        offers: rows.map(|row| offer(row, span)).to_vec(),
        open: Vec::new(),
        freight: Vec::new(),
        span,
    }
}

fn rests_on<'p>(pack: &'p Pack, book: &'p PriceBook) -> RestsOn<'p> {
    RestsOn {
        packs: Packs::of(pack),
        book,
        forecast: None,
        joined: &|plan| plan,
    }
}

fn standard() -> Pack {
    let files = parge_standard_packs::find("vertical-concrete").unwrap();
    parge_rules::load(&[files], HOOKS, &mut Sources::new()).unwrap()
}

/// All that a draft says, with figures as bits.
fn said(draft: &mut Draft<'_>) -> (Vec<String>, Option<(Price, Status)>) {
    let bits = |quantity: Quantity| format!("{:x} {:?}", quantity.value.to_bits(), quantity.dim);
    let mut lines = Vec::new();
    for face in draft.faces() {
        let DraftFace {
            structure,
            name,
            count,
            net,
            takes,
        } = face;
        let needs = takes
            .needs
            .iter()
            .map(|need| format!("{} {} {}", need.item, bits(need.amount), bits(need.waste)));
        let hours = takes.hours.iter().map(|hours| bits(hours.time));
        let takes: Vec<String> = needs.chain(hours).collect();
        lines.push(format!(
            "{structure}.{name} x{count} {} {takes:?}",
            bits(net)
        ));
    }
    if let Some(sums) = draft.sums() {
        let items = sums.items();
        lines.extend(
            items.map(|(item, need, waste)| format!("{item} {} {}", bits(need), bits(waste))),
        );
        let phases = sums.phases();
        lines.extend(phases.map(|(phase, time)| format!("{phase} {}", bits(time))));
    }
    (lines, draft.price())
}

/// Holds a draft against one of the same text that was never edited.
fn compare(draft: &mut Draft<'_>) -> Result<(), TestCaseError> {
    let mut sources = Sources::new();
    let mut anew = Draft::new(&mut sources, "plan", draft.text().to_owned(), draft.on);
    prop_assert_eq!(said(draft), said(&mut anew), "{}", draft.text());
    prop_assert_eq!(
        draft.mistakes().is_empty(),
        anew.mistakes().is_empty(),
        "{}: {:?} or {:?}",
        draft.text(),
        draft.mistakes(),
        anew.mistakes()
    );
    // What is told of one structure is told of the whole.
    let told = |told: &Diagnostic| {
        (
            told.code,
            told.message.clone(),
            told.span().map(Span::range),
        )
    };
    let all: Vec<_> = anew.mistakes().iter().map(told).collect();
    for mistake in draft.mistakes() {
        prop_assert!(
            all.contains(&told(mistake)),
            "{mistake:?} in {}",
            draft.text()
        );
    }
    Ok(())
}

/// Puts words in the place of others that are there once.
fn put(draft: &mut Draft<'_>, words: &str, others: &str) {
    let at = draft.text().find(words).unwrap();
    draft.edit(at..at + words.len(), others).unwrap();
}

const PLAN: &str = "parge 1
job \"Test\" {
  date 2026-05-11  rules \"small\"  crew 3
  bid { burden 30%  overhead 10%  profit markup 20%  tax 0% on materials }
}
let low = 2ft 8in
finish plain { technique stamp  thickness 1in }
finish deep { technique carve  thickness 2in }
template bay(width) on block { finish plain  face back rect width x 8ft
  edge cap back.top }
structure \"A\" on block { # the first
  finish plain
  face f rect 12ft x low
  face g rect f.width x 6ft { opening door rect 3ft x 5ft }
}
structure \"B\" from bay(9ft)
structure \"C\" on wood {
  after \"A\"
  finish deep
  face f circle diameter 5ft count 2
}
structure \"D\" on block { finish plain  face only rect 4ft x 4ft
  edge corner 4ft }
note \"as agreed\"
";

fn draft<'p>(pack: &'p Pack, book: &'p PriceBook) -> Draft<'p> {
    let draft = Draft::new(
        &mut Sources::new(),
        "plan",
        PLAN.to_owned(),
        rests_on(pack, book),
    );
    assert_eq!(draft.mistakes(), []);
    draft
}

/// Whether an edit has one structure put in anew: that leaves the figures of what it was behind, and
/// an evaluation of the whole does not.
fn was_put_in(draft: &mut Draft<'_>, words: &str, others: &str) -> bool {
    put(draft, words, others);
    assert_eq!(draft.mistakes(), []);
    compare(draft).unwrap();
    draft.standing.as_ref().unwrap().has_grown()
}

#[test]
fn one_structure_is_put_in_and_the_others_stand() {
    let (pack, book) = (small_pack(SCRIPT, &mut Sources::new()), book());
    let mut draft = draft(&pack, &book);
    let edits = [
        ("12ft x low", "14ft 6in x low + 3in"),
        ("bay(9ft", "bay(low + 4ft"),
        ("diameter 5ft count 2", "diameter 5ft 6in count 3 at 12ft"),
        ("edge corner 4ft", "edge corner 4ft count 2\n edge cap 1ft"),
        ("edge cap 1ft", "face more rect 2ft x 2ft on wood"),
        (
            "face g rect f.width x 6ft {",
            "face h rect g.width x 1ft\nface g rect f.width x 6ft {",
        ),
        ("finish deep\n", "finish plain\n"),
        ("face h rect g.width x 1ft\n", ""),
        ("  after \"A\"\n", "  after \"A\" # first\n"),
    ];
    for (words, others) in edits {
        assert!(was_put_in(&mut draft, words, others), "{others}");
    }
}

#[test]
fn what_does_not_rest_on_one_structure_alone_is_evaluated_whole() {
    let (pack, book) = (small_pack(SCRIPT, &mut Sources::new()), book());
    let mut draft = draft(&pack, &book);
    let edits = [
        ("let low = 2ft 8in", "let low = 3ft"),
        ("  after \"A\"\n", "  after \"A\", \"B\"\n"),
        ("after \"A\", \"B\"", ""),
        ("structure \"D\"", "structure \"E\""),
        // The circle of C is tied to A now, and A to it.
        ("diameter 5ft count", "diameter \"A\".g.height count"),
        ("x 6ft {", "x 5ft 6in {"),
        ("count 2\n", "count 4\n"),
        // No longer.
        ("\"A\".g.height", "5ft"),
        (
            "note \"as agreed\"",
            "note \"as agreed\"\nlet wide = sum(E.area) / 1ft\nlet deep = wide + only.width",
        ),
        (
            "structure \"E\" on block { ",
            "structure \"E\" on block { face second rect 1ft x 1ft\n ",
        ),
        // A second face of that name, so that nobody knows which one is meant.
    ];
    for (words, others) in edits {
        assert!(!was_put_in(&mut draft, words, others), "{others}");
    }
    put(&mut draft, "face f circle", "face only circle");
    assert!(!draft.mistakes().is_empty());
    compare(&mut draft).unwrap();
}

#[test]
fn mistakes_come_and_go_with_their_places() {
    let (pack, book) = (small_pack(SCRIPT, &mut Sources::new()), book());
    let mut draft = draft(&pack, &book);
    let shown = |draft: &Draft<'_>| -> Vec<String> {
        let each = draft.mistakes().iter();
        each.map(|said| {
            let at = said.span().map_or("", |span| &draft.text()[span.range()]);
            format!("{} at `{at}`", said.code.id())
        })
        .collect()
    };
    put(&mut draft, "12ft x low", "12f x low");
    insta::assert_debug_snapshot!(shown(&draft));
    assert_eq!(draft.faces().count(), 0);
    assert!(draft.sums().is_none() && draft.price().is_none());
    compare(&mut draft).unwrap();
    put(&mut draft, "12f x low", "12ft x lower");
    compare(&mut draft).unwrap();
    insta::assert_debug_snapshot!(shown(&draft));
    put(&mut draft, "rect f.width", "rect");
    compare(&mut draft).unwrap();
    // Elsewhere, while this stands open.
    put(&mut draft, "face only rect", "face only rectangle");
    compare(&mut draft).unwrap();
    insta::assert_debug_snapshot!(shown(&draft));
    put(&mut draft, "rectangle", "rect");
    put(&mut draft, "g rect x 6ft", "g rect 9ft x 6ft");
    put(&mut draft, "lower", "low");
    assert_eq!(draft.mistakes(), []);
    compare(&mut draft).unwrap();
    // An opening that does not fit is told by measuring, and a block that does not close by reading.
    put(&mut draft, "rect 3ft x 5ft", "rect 30ft x 5ft");
    compare(&mut draft).unwrap();
    insta::assert_debug_snapshot!(shown(&draft));
    put(&mut draft, "rect 30ft x 5ft }", "rect 3ft x 5ft");
    compare(&mut draft).unwrap();
    assert!(!draft.mistakes().is_empty());
}

#[test]
fn an_edit_must_lie_in_the_text() {
    let (pack, book) = (small_pack(SCRIPT, &mut Sources::new()), book());
    let mut draft = draft(&pack, &book);
    let end = draft.text().len();
    assert_eq!(draft.edit(end..end + 1, ""), Err(NoPlace));
    draft.edit(end..end, "note \"½\"").unwrap();
    assert_eq!(draft.edit(end + 7..end + 7, "x"), Err(NoPlace));
    assert_eq!(draft.text(), format!("{PLAN}note \"½\""));
}

/// Pieces of plans, some of which fit where they come.
const PIECES: [&str; 28] = [
    "12ft",
    "7ft 3in",
    "low",
    "f.width",
    "g.area / 2ft",
    "count 2",
    "on wood",
    "deep",
    "plain",
    "face new rect 3ft x low",
    "face f rect 2ft x 2ft",
    "edge cap 9ft",
    "opening o rect 1ft x 1ft",
    "\"C\".f.height",
    "finish deep",
    "height 6ft",
    "at 14ft",
    "after \"B\"",
    "x",
    " ",
    "\n",
    "{",
    "}",
    "#",
    "\"",
    "structure \"N\" on block { face only rect 2ft x 9ft plain }",
    "circle diameter 4ft",
    "let more = 1ft",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn edits_anywhere_come_to_what_the_text_comes_to(
        edits in prop::collection::vec(
            (0.0..1.0, 0usize..12, prop::sample::select(PIECES.to_vec())), 1..6,
        ),
    ) {
        let (pack, book) = (small_pack(SCRIPT, &mut Sources::new()), book());
        let mut draft = draft(&pack, &book);
        for (at, length, piece) in edits {
            let start = (at * draft.text().len() as f64) as usize;
            let end = (start + length).min(draft.text().len());
            // Half of the edits are taken back, so that not all end in mistakes.
            let (old, whole) = (draft.text().get(start..end).map(str::to_owned), length % 2 == 0);
            if draft.edit(start..end, piece).is_ok() {
                compare(&mut draft)?;
                if let Some(old) = old.filter(|_| whole || !draft.mistakes().is_empty()) {
                    draft.edit(start..start + piece.len(), &old).unwrap();
                    compare(&mut draft)?;
                }
            }
        }
    }
}

/// Sizes, counts and finishes of faces by the concrete pack.
fn concrete(sizes: &[(u32, u32, u32)]) -> String {
    let face = |(at, (width, height, kind)): (usize, &(u32, u32, u32))| {
        let finish = ["drystone", "bark"][*kind as usize % 2];
        let substrate = ["block", "wood", "foam"][*kind as usize / 2 % 3];
        let count = 1 + kind / 6 % 3;
        format!("face f{at} rect {width}in x {height}in count {count} on {substrate} {finish}\n")
    };
    let faces: Vec<String> = sizes.iter().enumerate().map(face).collect();
    let structures = faces.chunks(2).enumerate();
    let structures: Vec<String> = structures
        .map(|(at, faces)| format!("structure \"S{at}\" {{\n{}}}\n", faces.concat()))
        .collect();
    format!(
        "parge 1\njob \"Test\" {{ rules \"vertical-concrete\"  crew 3  date 2026-05-11 }}\n\
         finish drystone {{ technique stamp  thickness 3/4in  relief 1.1  colours granite 60%, moss 40%  sealer matte, 2 coats }}\n\
         finish bark {{ technique carve  thickness 2in  relief 1.25 }}\n{}",
        structures.concat()
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    #[test]
    fn edited_faces_come_to_what_they_come_to_by_the_concrete_pack(
        before in prop::collection::vec((12u32..400, 12u32..200, 0u32..36), 4..9),
        after in prop::collection::vec((12u32..400, 12u32..200, 0u32..36), 8),
    ) {
        let (pack, book) = (standard(), book());
        let mut draft = Draft::new(
            &mut Sources::new(), "plan", concrete(&before), rests_on(&pack, &book),
        );
        let mut sizes = before;
        for (at, new) in after.into_iter().enumerate().take(sizes.len()) {
            sizes[at] = new;
            let wanted = concrete(&sizes);
            let line = |text: &str| {
                let start = text.find(&format!("face f{at} ")).unwrap();
                start..start + text[start..].find('\n').unwrap()
            };
            let old = line(draft.text());
            draft.edit(old, &wanted[line(&wanted)]).unwrap();
            prop_assert_eq!(draft.text(), wanted);
            compare(&mut draft)?;
        }
    }
}
