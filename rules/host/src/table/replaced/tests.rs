use super::*;
use crate::pack::Pack;
use crate::testing::{face, files, loaded, rule, said};
use parge_base::Sources;

const RULE: &str = "need(\"mix\", face.area * face.thickness / factor(\"mixes\", \"yield\"), \
                    factor(\"mixes\", \"waste\"));";

fn pack() -> (Pack, Sources) {
    loaded(&files(&rule(RULE))).unwrap()
}

fn row<'p>(pack: &'p Pack, key: &str) -> &'p Row {
    pack.tables().find("mixes", &[key]).unwrap()
}

/// The place of a text in a file of its own.
fn place(text: &str, sources: &mut Sources) -> Span {
    let file = sources.add("--set", text);
    Span::new(file, 0, text.len())
}

fn with(pack: &Pack, key: &str, cell: Cell) -> Pack {
    let keys = vec![key.to_owned()];
    let table = "mixes".to_owned();
    pack.with_values(&[OtherValue { table, keys, cell }])
}

fn need(pack: &Pack) -> (f64, f64) {
    let run = pack.run(&["coats"], &face(10.0, 0.02, [0.6, 0.4]));
    assert!(run.errors.is_empty(), "{:?}", run.errors);
    let need = &run.needs[0];
    (
        run.tape.value(need.amount).value,
        run.tape.value(need.waste).value,
    )
}

#[test]
fn amounts_are_numbers_with_units() {
    let units = Units::standard();
    let read = |text: &str| {
        let (value, unit) = amount(text, &units)?;
        Some((
            value,
            unit.map_or(String::new(), |unit| unit.text().to_owned()),
        ))
    };
    for (text, value, unit) in [
        ("12%", 12.0, "%"),
        ("3", 3.0, ""),
        ("1 1/2in", 1.5, "in"),
        ("0.45 ft3/bag", 0.45, "ft3/bag"),
        ("0.5 1/ft2", 0.5, "1/ft2"),
        ("-4 F", -4.0, "F"),
    ] {
        assert_eq!(read(text), Some((value, unit.to_owned())), "{text}");
    }
    for text in ["", "ft", "12 mpg", "1..2 ft", "é3"] {
        assert_eq!(read(text), None, "{text}");
    }
}

#[test]
fn another_value_moves_what_rests_on_it() {
    let (pack, mut sources) = pack();
    let before = need(&pack);
    let span = place("1 ft3/bag", &mut sources);
    let cell = row(&pack, "yield")
        .other("1 ft3/bag", pack.units(), span)
        .unwrap();
    let moved = with(&pack, "yield", cell);
    assert_eq!(need(&moved).0, before.0 / 2.0);
    assert_eq!(row(&moved, "yield").words(), "1 ft3/bag");
    // The pack that it was made from stays as it is.
    assert_eq!(need(&pack), before);
    assert_eq!(row(&pack, "yield").words(), "0.5 ft3/bag");
}

/// A value in another unit of its kind is the same value.
#[test]
fn the_present_value_in_another_unit_changes_nothing() {
    let (pack, mut sources) = pack();
    let span = place("", &mut sources);
    for (key, text) in [
        ("limit", "1/12 ft"),
        ("waste", "0.1 1"),
        ("yield", "1/2 ft3/bag"),
    ] {
        let Ok(Cell::Factor(now)) = row(&pack, key).other(text, pack.units(), span) else {
            panic!("{key}");
        };
        let Cell::Factor(was) = &row(&pack, key).cell else {
            panic!("{key}")
        };
        assert!(
            (now.quantity.value - was.quantity.value).abs() < 1e-15,
            "{key}"
        );
        assert_eq!(now.span, was.span);
        assert_eq!(now.source, FactorSource::Company);
    }
}

#[test]
fn what_no_row_can_say_is_refused() {
    let (pack, mut sources) = pack();
    let mut lines = Vec::new();
    for (key, text) in [
        ("waste", "12"),
        ("waste", "-5%"),
        ("yield", "3 ft"),
        ("yield", "half"),
        ("limit", "1e309ft"),
    ] {
        let span = place(text, &mut sources);
        let refused = row(&pack, key).other(text, pack.units(), span).unwrap_err();
        lines.push(said(&[refused], &sources));
    }
    insta::assert_snapshot!(lines.join("\n"));
}

/// Moving is free of binary noise: what is shown is what is reckoned with.
#[test]
fn a_moved_value_is_a_plain_decimal() {
    let (pack, _) = pack();
    let moved = |key: &str, share: f64| with(&pack, key, row(&pack, key).times(share).unwrap());
    let words = |key: &str, share: f64| row(&moved(key, share), key).words();
    assert_eq!(words("waste", 1.1), "11%");
    assert_eq!(words("yield", 0.9), "0.45 ft3/bag");
    assert_eq!(words("waste", 1.1 * 1.1), "12.1%");
    assert_eq!(need(&moved("yield", 1.0)), need(&pack));
    assert!(row(&pack, "mix").times(1.1).is_none());
}

#[test]
fn a_text_is_replaced_by_any_text() {
    let (pack, mut sources) = pack();
    let span = place("slow", &mut sources);
    let cell = row(&pack, "mix")
        .other(" slow ", pack.units(), span)
        .unwrap();
    let moved = with(&pack, "mix", cell);
    assert_eq!(moved.tables().text("mixes", &["mix"]), Some("slow"));
}
