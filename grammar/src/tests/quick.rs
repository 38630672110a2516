//! Lines that are read by hand say what the parser says of them, to the place.

use super::corpus::files;
use crate::{parse, parsed};
use parge_base::Sources;
use proptest::prelude::*;
use proptest::sample::select;

/// Looks that a text says the same to both, mistakes and places among it.
pub(super) fn reads_alike(text: &str) {
    let file = Sources::new().add("plan", "");
    let (by_hand, by_parser) = (parse(file, text), parsed(file, text, false));
    assert_eq!(format!("{by_hand:#?}"), format!("{by_parser:#?}"), "{text}");
}

#[test]
fn the_corpus_reads_alike() {
    for (_, bytes) in files() {
        reads_alike(&String::from_utf8_lossy(bytes));
    }
}

/// Tokens of lines, among them those that make two readings of what stands before or behind them.
const TOKENS: &[&str] = &[
    "face",
    "opening",
    "edge",
    "finish",
    "height",
    "at",
    "after",
    "conditions",
    "count",
    "on",
    "from",
    "reveal",
    "rect",
    "triangle",
    "sides",
    "trapezoid",
    "to",
    "polygon",
    "circle",
    "diameter",
    "arch",
    "rise",
    "cylinder",
    "sweep",
    "frustum",
    "arc",
    "radius",
    "ellipse",
    "ring",
    "cone",
    "dome",
    "stations",
    "stepped",
    "shape",
    "measured",
    "around",
    "high",
    "top",
    "bottom",
    "x",
    "x2",
    "x 2",
    "×",
    "a",
    "low",
    "é",
    "_a",
    "a1",
    "f0.width",
    "a . b",
    "a.b.c",
    "a.b.c.d",
    "\"b c\"",
    "\"\"",
    "\" \"",
    "\"\\\"\"",
    "\"a\".b",
    ".",
    ".5",
    "(",
    ")",
    "(1ft, 2ft)",
    ",",
    "+",
    "-",
    "*",
    "/",
    "^",
    "=",
    "{",
    "}",
    "#",
    "1",
    "2.5",
    "0",
    "007",
    "3 810",
    "3/4",
    "3/4in",
    "6-3/4in",
    "22ft",
    "4in",
    "2ft 4in",
    "2ft  4in",
    "2ft 13in",
    "2.5ft 3in",
    "4in 2ft",
    "1m 5mm",
    "2m 5in",
    "12'",
    "6\"",
    "12'-6\"",
    "12ft 6 3/4in",
    "90deg",
    "90°",
    "90",
    "60%",
    "84F",
    "-5C",
    "ft",
    "in",
    "m",
    "m2",
    "ft²",
    "²",
    "m/s",
    "/s",
    "ft2",
    "sq ft",
    "cu",
    "s",
    "deg",
    "rad",
    "F",
    "9999999999999999999999",
    "max(1ft, 2ft)",
    "'",
    "\"",
    "\\",
    "°",
    "%",
];

const BLANKS: &[&str] = &[
    " ", " ", " ", "", "  ", "\t", "\u{A0}", "\n", " # c\n", ",\n",
];

/// Lines without a mistake, for what stands about a change to have a meaning.
const LINES: &[&str] = &[
    "face a rect 22ft x 2ft 8in",
    "face \"b c\" rect 22ft 4in ashlar count 2 on wood at 9ft from \"Rooms!A7\"",
    "face a rect b.width * 2 - 1.5m x low / 2 + low",
    "face a rect 12ft 6 3/4in x 3/4in",
    "face a stations stepped (0ft, 7ft) (10ft, 6ft)",
    "face a triangle 12ft x low",
    "face a trapezoid 12ft to 8ft x 4ft",
    "face a cylinder diameter 3ft sweep 90deg x 8ft",
    "face a frustum 30in to 22in x 4ft 4in",
    "face a arc radius 6ft sweep 90deg x 2ft 7in",
    "face a arch 3ft x 6ft 6in rise 8in moss",
    "face a polygon (0ft, 0ft) (9ft, 0ft) (8ft, 4ft - 1in)",
    "opening d arch 3ft x 6ft reveal 6in opening p circle diameter 8in count 2",
    "opening a rect 2ft x 1ft reveal 4in on top, sides finish bark from \"A8\"",
    "finish bark",
    "height 2400mm",
    "at 9ft",
    "edge cap b.top count 2",
];

#[derive(Debug, Clone)]
enum Change {
    Nothing,
    Put(f64, &'static str, &'static str),
    Instead(f64, &'static str),
    Blank(f64, &'static str),
    Cut(f64),
}

fn change() -> impl Strategy<Value = Change> {
    let at = 0.0..1.0;
    prop_oneof![
        1 => Just(Change::Nothing),
        3 => (at.clone(), select(TOKENS), select(BLANKS))
            .prop_map(|(at, token, blank)| Change::Put(at, token, blank)),
        3 => (at.clone(), select(TOKENS)).prop_map(|(at, token)| Change::Instead(at, token)),
        2 => (at.clone(), select(BLANKS)).prop_map(|(at, blank)| Change::Blank(at, blank)),
        1 => at.prop_map(Change::Cut),
    ]
}

/// A line with changes between its words.
fn changed(line: &str, changes: &[Change]) -> String {
    let mut words: Vec<String> = line.split_inclusive(' ').map(str::to_owned).collect();
    for change in changes {
        let place = |share: f64| (share * words.len() as f64) as usize;
        match change {
            Change::Nothing => {}
            Change::Put(at, token, blank) => words.insert(place(*at), format!("{token}{blank}")),
            Change::Instead(at, token) => {
                let at = place(*at);
                words[at] = format!("{token} ");
            }
            Change::Blank(at, blank) => {
                let at = place(*at);
                words[at] = words[at].trim_end().to_owned() + blank;
            }
            Change::Cut(at) => {
                let at = place(*at);
                words.remove(at);
                words.push("a".into());
            }
        }
    }
    words.concat()
}

fn in_plan(line: &str) -> String {
    format!("parge 1\nstructure a on wood {{\n  {line}\n  face a rect 2ft {{\n  {line}\n  }}\n}}")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4096))]

    #[test]
    fn lines_changed_anywhere_read_alike(
        line in select(LINES),
        changes in proptest::collection::vec(change(), 1..4),
    ) {
        reads_alike(&in_plan(&changed(line, &changes)));
    }

    #[test]
    fn any_row_of_tokens_reads_alike(
        start in select(&["face a rect ", "edge a ", "opening a rect 2ft ", "height ", ""][..]),
        tokens in proptest::collection::vec((select(TOKENS), select(BLANKS)), 0..7),
    ) {
        let rest: String = tokens.iter().flat_map(|(token, blank)| [*token, *blank]).collect();
        reads_alike(&in_plan(&format!("{start}{rest}")));
    }
}
