//! Texts that are no plans at all.

use super::{SAMPLE, read};
use crate::MAX_DIAGNOSTICS;
use proptest::prelude::*;
use std::time::{Duration, Instant};

/// Generous, for a slow machine and a build without optimization.
const LIMIT: Duration = Duration::from_secs(20);

fn check(text: &str) {
    for diagnostic in read(text).diagnostics {
        assert!(!diagnostic.help.is_empty(), "{diagnostic:?}");
        assert!(!diagnostic.message.ends_with('.'), "{diagnostic:?}");
        assert!(!diagnostic.labels.is_empty(), "{diagnostic:?}");
        for label in diagnostic.labels {
            assert!(
                text.get(label.span.range()).is_some(),
                "{:?} in {text:?}",
                label.span
            );
        }
    }
}

/// Pieces of plans, good and bad, to be thrown together.
const TOKENS: &[&str] = &[
    "parge",
    "1",
    "job",
    "\"Heron\"",
    "{",
    "}",
    "(",
    ")",
    "let",
    "a",
    "=",
    "==",
    "3ft",
    "22 ft",
    "12' 6-3/4\"",
    "6\"",
    "'",
    "\"",
    "finish",
    "bark",
    "structure",
    "on",
    "block",
    "face",
    "rect",
    "x",
    "×",
    "arc",
    "radius",
    "sweep",
    "90deg",
    "polygon",
    "(0ft, 0ft)",
    "count",
    "2",
    "at",
    "opening",
    "reveal",
    "technique",
    "thickness",
    "3/4in",
    "3/0in",
    "colours",
    "60%",
    ",",
    "sealer",
    "coats",
    "weather",
    "air",
    "-5C",
    "84F",
    "bid",
    "profit",
    "markup",
    "tax",
    "date",
    "2026-02-30",
    "+",
    "-",
    "*",
    "/",
    "^",
    "min(",
    "\n",
    "\n\n",
    "#",
    "\\",
    "½",
    "’",
    "\u{200B}",
    "\u{202E}",
    "\0",
    "é",
    "日本",
    "-",
    "1e9",
    "99999999999999999999",
    "sq ft",
    "cuont",
    "\r\n",
    "\t",
    "\u{A0}",
    ";",
    "°",
    "′",
    "ft2",
    "to",
    "frustum",
    "diameter",
    "triangle",
    "sides",
    "_",
];

fn tokens() -> impl Strategy<Value = String> {
    let token = (
        proptest::sample::select(TOKENS),
        proptest::sample::select(vec!["", " ", " "]),
    );
    proptest::collection::vec(token, 0..60).prop_map(|tokens| {
        tokens
            .into_iter()
            .flat_map(|(token, blank)| [token, blank])
            .collect()
    })
}

proptest! {
    #[test]
    fn any_text_is_borne(text in "\\PC{0,400}") {
        check(&text);
    }

    #[test]
    fn any_characters_are_borne(text in proptest::collection::vec(any::<char>(), 0..60)) {
        check(&text.into_iter().collect::<String>());
    }

    #[test]
    fn any_mixture_of_words_is_borne(text in tokens()) {
        check(&text);
        check(&format!("parge 1\n{text}"));
        check(&format!("parge 1\nstructure \"s\" {{ face f {text} }}"));
        check(&format!("parge 1\njob \"s\" {{ {text} }}\nfinish f {{ {text} }}"));
        check(&format!("parge 1\nlet a = {text}"));
    }

    #[test]
    fn a_sample_cut_anywhere_is_borne(at in 0..SAMPLE.len(), length in 0..80usize) {
        let end = (at + length).min(SAMPLE.len());
        if let (Some(before), Some(after)) = (SAMPLE.get(..at), SAMPLE.get(end..)) {
            check(&format!("{before}{after}"));
        }
    }
}

/// Reads many copies of a piece behind a beginning, within the time allowed.
fn check_soon_over(start: &str, piece: &str, bytes: usize) {
    let text = start.to_owned() + &piece.repeat(bytes / piece.len());
    let begun = Instant::now();
    let parsed = read(&text);
    let told = parsed.diagnostics.len();
    assert!(
        begun.elapsed() < LIMIT,
        "{piece:?} {start:?} {:?}",
        begun.elapsed()
    );
    assert!(
        (1..=MAX_DIAGNOSTICS + 1).contains(&told),
        "{piece:?} {start:?} {told}"
    );
}

#[test]
fn megabytes_of_brackets_and_quotes_are_soon_over() {
    for piece in ["{", "(", "\"", "}", "{\n", "(\n"] {
        check_soon_over("", piece, 5_000_000);
    }
}

/// The parser would take minutes and gigabytes for it.
#[test]
fn an_endless_sum_is_refused_at_once() {
    let text = format!(
        "parge 1\nlet a = {}1ft\nlet b = 2ft\n",
        "1ft+".repeat(2_000_000)
    );
    let parsed = read(&text);
    assert_eq!(parsed.diagnostics.len(), 1);
    assert_eq!(parsed.diagnostics[0].code, parge_base::Code::TooLarge);
    assert_eq!(
        parsed.plan.statements.len(),
        1,
        "what follows is still read"
    );
}

#[test]
fn much_of_one_thing_is_soon_over_anywhere() {
    let starts = [
        "",
        "parge 1\nlet a = ",
        "parge 1\nstructure a { ",
        "parge 1\nfinish a { colours ",
    ];
    let pieces = [
        "{",
        "(",
        "\"",
        "}",
        ")",
        "\"\n",
        "}\n",
        "{}",
        "()",
        "a ",
        "a\n",
        "-",
        "2^",
        "face ",
        "let ",
        "structure {\n",
        "let a = (\n",
        "let a =\n",
        "\\",
        "12ft ",
        "3 ",
        "a{",
        "x ",
        "1/",
        "é ",
        "\u{200B}",
        "12 ft ",
        "face a rect (",
        "parge 1\n",
        "structure a { face b rect 1ft x 1ft {\n",
        "technique a ",
    ];
    for start in starts {
        for piece in pieces {
            check_soon_over(start, piece, 50_000);
        }
    }
}
