use super::statements;
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
