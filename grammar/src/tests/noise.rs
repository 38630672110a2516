//! Texts that are no plans at all.

use super::growth::grows_in_proportion;
use super::{SAMPLE, good, read, told};
use crate::MAX_DIAGNOSTICS;
use crate::ast::Statement;
use crate::outline::{MAX_BLOCKS, MAX_PARENS};
use parge_base::Code;
use proptest::prelude::*;

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
    "valid",
    "days",
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

/// Reads many copies of a piece behind a beginning, in time that grows with their number alone.
fn check_soon_over(start: &str, piece: &str, bytes: usize) {
    let what = format!("{piece:?} {start:?}");
    // Even by either count: an odd number of quotes is another kind of noise.
    let copies = (bytes / piece.len()).next_multiple_of(32);
    grows_in_proportion(&what, copies, |copies| {
        check_told(&(start.to_owned() + &piece.repeat(copies)), &what);
    });
}

/// Looks that some is told of a text, and not more than is read.
fn check_told(text: &str, what: &str) {
    let parsed = read(text);
    let told = parsed.diagnostics.len();
    assert!((1..=MAX_DIAGNOSTICS + 1).contains(&told), "{what} {told}");
    // A message of megabytes tells nothing.
    for found in parsed.diagnostics {
        let said = found.message.len() + found.help.len();
        assert!(said < 1000, "{what} {said} bytes");
    }
}

#[test]
fn megabytes_of_brackets_and_quotes_are_soon_over() {
    for piece in ["{", "(", "\"", "}", "{\n", "(\n"] {
        check_soon_over("", piece, 2_000_000);
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
    assert_eq!(parsed.diagnostics[0].code, Code::TooLarge);
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

/// The codes of a text's mistakes.
fn codes(text: &str) -> Vec<&'static str> {
    let found = read(text).diagnostics;
    found.iter().map(|found| found.code.id()).collect()
}

/// Whether the statement at the end was read, whatever stands before it.
fn reads_the_last(text: &str) -> bool {
    let last = read(text).plan.statements.pop();
    matches!(last, Some(Statement::Let(found)) if found.name.node == "last")
}

#[test]
fn deep_nesting_is_told_at_its_limit_and_not_before() {
    let around = |open: &str, inside: &str, close: &str, depth: usize| {
        let (open, close) = (open.repeat(depth), close.repeat(depth));
        format!("parge 1\nlet a = {open}{inside}{close}\nlet last = 1ft\n")
    };
    assert_eq!(codes(&around("(", "1ft", ")", 60)), [""; 0]);
    for depth in [MAX_PARENS + 1, 1000, 100_000] {
        let text = around("(", "1ft", ")", depth);
        assert_eq!(codes(&text), ["E0109"], "{depth}");
        assert!(reads_the_last(&text), "{depth}");
    }
    for (open, close) in [
        ("min(", ")"),
        ("min(1ft, ", ")"),
        ("-(", ")"),
        ("1ft + (", ")"),
    ] {
        let text = around(open, "1ft", close, 10_000);
        assert_eq!(codes(&text), ["E0109"], "{open}");
        assert!(reads_the_last(&text), "{open}");
    }
    // What is not in brackets may be deep as well.
    for piece in ["-", "2 ^ ", "- ", "1 / "] {
        let text = around(piece, "1", "", 50_000);
        let found = codes(&text);
        assert!(found.len() <= 1, "{piece} {found:?}");
        assert!(reads_the_last(&text), "{piece}");
    }
    let blocks = |depth: usize| {
        let (open, close) = ("job \"a\" {".repeat(depth), "}".repeat(depth));
        format!("parge 1\n{open}{close}\nlet last = 1ft\n")
    };
    assert!(!codes(&blocks(MAX_BLOCKS)).contains(&"E0109"));
    for depth in [MAX_BLOCKS + 1, 1000, 100_000] {
        let found = codes(&blocks(depth));
        let deep = found.iter().filter(|code| **code == "E0109").count();
        assert_eq!(deep, 1, "{depth} {found:?}");
        assert!(reads_the_last(&blocks(depth)), "{depth}");
    }
}

#[test]
fn huge_numbers_are_read_or_told() {
    let nines = "9".repeat(10_000);
    let zeros = "0".repeat(10_000);
    let of = |value: &str| format!("parge 1\nlet a = {value}\nlet last = 1ft\n");
    let too_large = [
        nines.clone(),
        format!("{nines}ft"),
        format!("{nines}.{nines}m"),
        format!("{nines} 3/4in"),
        format!("-{nines}C"),
        format!("1{zeros}ft 6in"),
        format!("{nines}%"),
        format!("{nines}deg"),
    ];
    for value in too_large {
        let shown = value.get(..12).unwrap_or(&value).to_owned();
        assert_eq!(codes(&of(&value)), ["E0111"], "{shown}");
        assert!(reads_the_last(&of(&value)), "{shown}");
        let found = read(&of(&value)).diagnostics;
        assert!(found[0].message.len() < 200, "{}", found[0].message);
    }
    // A number may be long without being large.
    for value in [
        format!("0.{zeros}1ft"),
        format!("{zeros}2.5ft"),
        format!("2.5{zeros}ft"),
    ] {
        good(&of(&value));
    }
    // The language has no exponents, so that `e` is no part of a number.
    for value in ["1e999", "1e999ft", "1E+999", "1e-999m", "0x1p999"] {
        assert_ne!(codes(&of(value)), [""; 0], "{value}");
        assert!(reads_the_last(&of(value)), "{value}");
    }
    assert_ne!(codes(&format!("parge {nines}\nlet a = 1ft\n")), [""; 0]);
}

/// What cannot be seen, by its number: the controls but for blanks and line ends, the characters
/// without width, those that turn the direction of writing, and selectors of variants, some of
/// which Unicode lets stand in a word.
const UNSEEN: [char; 34] = [
    '\0',
    '\u{1}',
    '\u{7}',
    '\u{8}',
    '\u{1B}',
    '\u{7F}',
    '\u{85}',
    '\u{9F}',
    '\u{AD}',
    '\u{34F}',
    '\u{61C}',
    '\u{115F}',
    '\u{1160}',
    '\u{17B4}',
    '\u{180B}',
    '\u{180E}',
    '\u{200B}',
    '\u{200C}',
    '\u{200D}',
    '\u{200E}',
    '\u{200F}',
    '\u{2028}',
    '\u{2029}',
    '\u{202A}',
    '\u{202E}',
    '\u{2060}',
    '\u{2066}',
    '\u{2069}',
    '\u{3164}',
    '\u{FE0F}',
    '\u{FEFF}',
    '\u{FFA0}',
    '\u{E0001}',
    '\u{E0100}',
];

#[test]
fn what_cannot_be_seen_is_named_wherever_it_stands() {
    let places = [
        "let wa?ll = 1ft",
        "let ?wall = 1ft",
        "let wall? = 1ft",
        "let wall ?= 1ft",
        "let wall = ? 1ft",
        "let wall = 1?ft",
        "let wall = 1ft ?+ 2ft",
        "let wall = 1ft?",
        "?let wall = 1ft",
        "le?t wall = 1ft",
        "let other = 1ft\n?\nlet wall = 1ft",
        "job \"Wa?ll\" { crew 1 }",
        "job \"?\" { crew 1 }",
        "job \"a\" { client \"?Heron\" }",
        "job \"a\" { ?client \"Heron\" }",
        "job \"a\" { client \"Heron\" }?",
        "job \"a\" ?{ client \"Heron\" }",
        "finish a { technique sta?mp }",
        "finish a { colours moss 60%,? umber 40% }",
        "structure \"a\" on blo?ck { face b rect 1ft x 1ft }",
        "structure \"a\" { face b? rect 1ft x 1ft }",
        "structure \"a\" { face b rect 1ft ?x 1ft }",
        "structure \"a\" { face b polygon (0ft, 0ft) (1ft?, 0ft) (0ft, 1ft) }",
        "structure \"a\" { face b rect 1ft x 1ft { opening c? rect 1in x 1in } }",
    ];
    for unseen in UNSEEN {
        for place in places {
            let text = format!("parge 1\n{}\n", place.replace('?', &unseen.to_string()));
            let message = format!(
                "an invisible character (U+{:04X}) stands here",
                u32::from(unseen)
            );
            let found = read(&text).diagnostics;
            let [only] = found.as_slice() else {
                panic!("{text:?} {found:?}");
            };
            assert_eq!(only.message, message, "{text:?}");
            assert!(!only.help.is_empty());
            let range = only.span().unwrap().range();
            assert_eq!(
                text.get(range),
                Some(unseen.to_string().as_str()),
                "{text:?}"
            );
        }
    }
}

/// Nothing in a comment is read, and an emoji is made of joiners; but what makes a comment look
/// like a statement, or a statement like a comment, is told there too.
#[test]
fn comments_may_hold_what_does_not_change_how_a_line_looks() {
    for letter in ['\u{200D}', '\u{FE0F}', '\u{200B}', '\u{AD}', '\0'] {
        good(&format!(
            "parge 1\n# a{letter}b\nlet a = 1ft # c{letter}\n# {letter}"
        ));
    }
    for letter in ['\u{202E}', '\u{2066}', '\u{2028}', '\u{85}'] {
        for comment in [
            "# a?b",
            "let b = 2ft # ?",
            "let c = (1ft # ?\n)",
            "# ?\nlet d = 1ft",
        ] {
            let text = format!("parge 1\n{}", comment.replace('?', &letter.to_string()));
            let told = told(&text);
            let message = format!(
                "an invisible character (U+{:04X}) stands here",
                u32::from(letter)
            );
            assert!(told.contains(&message) && !told.contains('\n'), "{told}");
        }
    }
}

/// A name that was meant to be another one is not missed as well.
#[test]
fn a_name_with_something_unseen_is_known_by_what_is_seen() {
    let plan =
        read("parge 1\nlet wa\u{200B}ll = 1ft\n\u{202E}finish \"ro\u{200D}ck\" { relief 1 }\n")
            .plan;
    assert!(
        plan.damages("wall") && plan.damages("rock"),
        "{:?}",
        plan.damaged
    );
    assert!(plan.damages_a("let") && plan.damages_a("finish"));
}

#[test]
fn blanks_of_all_kinds_stay_blanks() {
    good(
        "parge 1\nlet\ta\u{A0}= \u{B}1ft\u{C} + 2ft\nlet b = 3\u{202F}810mm\njob \"a\tb\" { crew 1 }\n",
    );
}

/// The sample and texts with a mistake of every kind.
fn of_all_kinds() -> Vec<String> {
    let mut texts = vec![SAMPLE.to_owned()];
    let mistakes = [
        "let a = 22 ft\n\nlet b = (1ft,\n2ft\nlet c = \"d\n",
        "structure \"a {\n  face b rct 1ft x\n 1ft\n}\n}\n",
        "job \"a\"\n{\n  date 2026-02-30\n  bid\n}\nfinish f\n  technique stamp\n}\n",
        "finish f {\n  colours a 60%,\n    b forty\n  sealer matte,\n 2\n coats # x\n}\n",
        "let a =\n  1ft +\n\n  # b\n  2sq ft\nlett c = 3\n",
        "structure a {\n face b polygon (0ft, 0ft)\n (1ft,\n 0ft)\n",
        "job \"a\\\nb\" { client \"c\\d\"\n }\n",
    ];
    texts.extend(mistakes.map(|text| format!("parge 1\n{text}")));
    texts.push("let a = 1ft\nparge 1\n".to_owned());
    texts
}

/// What is said of a text, in words and by line; a line of two bytes at its end is one line.
fn in_words(text: &str) -> Vec<(Code, String, String, usize)> {
    let text_before = |at: usize| text.get(..at).unwrap_or("").replace("\r\n", "\n");
    let line = |at: usize| text_before(at).matches(['\n', '\r']).count() + 1;
    let found = read(text).diagnostics.into_iter().map(|found| {
        let at = found.span().unwrap().range().start;
        (found.code, found.message, found.help, line(at))
    });
    found.collect()
}

#[test]
fn lines_may_end_in_any_way() {
    for text in of_all_kinds() {
        let (plan, found) = (read(&text).plan, in_words(&text));
        for end in ["\r\n", "\r"] {
            let other = text.replace('\n', end);
            assert_eq!(in_words(&other), found, "{end:?} {text}");
            assert_eq!(bare(&read(&other).plan), bare(&plan), "{end:?} {text}");
        }
        // Ends of two kinds, as when two files were put together. A lone CR before an empty line
        // would be read with the LF of that one.
        let mixed: String = text
            .split_inclusive('\n')
            .enumerate()
            .map(|(at, line)| line.replace('\n', ["\n", "\r\n"][at % 2]))
            .collect();
        assert_eq!(in_words(&mixed), found, "{mixed:?}");
    }
}

/// A plan without the places of its faces.
fn bare(plan: &crate::ast::Plan) -> String {
    let told = format!("{plan:?}");
    let mut parts = told.split("Span {");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |bare, part| {
        bare + part.split_once('}').map_or("", |(_, rest)| rest)
    })
}

#[test]
fn a_byte_order_mark_means_nothing_at_the_start_and_is_told_elsewhere() {
    for text in of_all_kinds() {
        let marked = format!("\u{FEFF}{text}");
        assert_eq!(in_words(&marked), in_words(&text));
        assert_eq!(bare(&read(&marked).plan), bare(&read(&text).plan));
    }
    assert_eq!(codes("\u{FEFF}"), ["E0102"]);
    assert_eq!(codes("\u{FEFF}parge 1\n"), codes("parge 1\n"));
    let told = told("\u{FEFF}\u{FEFF}parge 1\nlet a = 1ft\n");
    assert!(
        told.contains("an invisible character (U+FEFF) stands here"),
        "{told}"
    );
}

/// Kinds of noise that each take another way through the reader.
const KINDS: [(&str, &str); 12] = [
    ("", "a"),
    ("", "a "),
    ("", "a\n"),
    ("", "{"),
    ("", "(\n"),
    ("", "\""),
    ("", "\u{200B}"),
    ("", "日本\n"),
    ("parge 1\n", "let a = 1ft +\n"),
    ("parge 1\n", "let \u{202E} = 1ft\n"),
    ("parge 1\nstructure a {\n", "face a rect 1ft x 1ft {\n"),
    ("parge 1\n# ", "\u{202E}"),
];

/// A plan of fifty megabytes; takes minutes without optimization. Run it with
/// `cargo test --release -p parge-grammar megabytes -- --ignored`.
#[test]
#[ignore = "takes minutes without optimization"]
fn fifty_megabytes_of_noise_are_soon_over() {
    for (start, piece) in KINDS {
        check_soon_over(start, piece, 50_000_000);
    }
}

/// The bound on a text, and noise right under it. It takes a gigabyte of memory.
#[test]
#[ignore = "takes minutes and a gigabyte"]
fn a_text_of_more_than_1024_megabytes_is_refused() {
    let most = parge_base::Sources::MAX_BYTES;
    let over = "{".repeat(most + 1);
    assert_eq!(codes(&over), ["E0112"]);
    let under = over.get(..most).unwrap();
    // A block without statement, no version line, too many blocks: each told once.
    assert_eq!(codes(under), ["E0106", "E0108", "E0109"]);
}

#[test]
fn two_megabytes_of_noise_are_soon_over() {
    for (start, piece) in KINDS {
        check_soon_over(start, piece, 2_000_000);
    }
}
