use super::statements;
use crate::{Canonical, canonical, parse, parse_part};
use parge_base::Sources;

fn cut(text: &str) -> Option<Vec<&str>> {
    let file = Sources::new().add("plan", "");
    let places = statements(file, text)?;
    Some(places.into_iter().map(|place| &text[place]).collect())
}

#[test]
fn statements_go_from_their_first_letter_to_the_end_of_their_block() {
    let text = "parge 1 # one\n\nlet a = 2ft +\n  3in\nstructure \"Wall\" on block { # here\n face f rect a x a\n}\nnote \"end }\"\n";
    assert_eq!(
        cut(text).unwrap(),
        [
            "parge 1",
            "let a = 2ft +\n  3in",
            "structure \"Wall\" on block { # here\n face f rect a x a\n}",
            "note \"end }\"",
        ]
    );
}

#[test]
fn a_text_whose_brackets_or_quotes_do_not_close_is_not_cut() {
    for text in [
        "structure \"Wall\" {\n face f",
        "note \"end",
        "let a = (2ft",
        "}",
    ] {
        assert_eq!(cut(text), None, "{text}");
    }
    assert_eq!(cut(""), Some(Vec::new()));
}

/// Reads a text in parts of so many statements, and holds what they say against the whole text.
fn in_parts(text: &str, of: usize) {
    let file = Sources::new().add("plan", "");
    let starts: Vec<usize> = statements(file, text)
        .unwrap()
        .chunks(of)
        .enumerate()
        .map(|(number, places)| if number == 0 { 0 } else { places[0].start })
        .collect();
    let whole = parse(file, text);
    let mut all = Vec::new();
    let mut words = Canonical::default();
    for (number, start) in starts.iter().enumerate() {
        let end = starts.get(number + 1).copied().unwrap_or(text.len());
        match parse_part(file, text, *start..end) {
            Some(part) => {
                words.add(&part);
                assert_eq!(part.version.is_some(), number == 0);
                all.extend(part.statements);
            }
            None => {
                assert!(!whole.diagnostics.is_empty(), "{text}");
                return;
            }
        }
    }
    assert_eq!(whole.diagnostics, [], "{text}");
    assert_eq!(all, whole.plan.statements);
    assert_eq!(words.into_text(), canonical(&whole.plan));
}

#[test]
fn a_text_read_part_by_part_says_what_it_says_as_a_whole() {
    for text in [
        include_str!("../tests/sample.parge").to_owned(),
        include_str!("../tests/sample.parge").replace('\n', "\r\n"),
        format!("\u{FEFF}{}", include_str!("../tests/sample.parge")),
        "parge 1\nlet a = 2ft\nfinish f { technique stump thiknes 2in }\nlet b = 2xx\n".to_owned(),
        "let a = 2ft\nlet b = 2ft\nlet c = 3ft\n".to_owned(),
    ] {
        for of in 1..5 {
            in_parts(&text, of);
        }
    }
}
