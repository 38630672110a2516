//! The scan for tokens.

use crate::fmt::token::{Kind, Tokens};

/// The tokens of a text, with `|` between them.
fn cut(text: &str) -> String {
    let tokens: Vec<&str> = Tokens::new(text).map(|token| token.text).collect();
    tokens.join("|")
}

#[test]
fn numbers_are_one_token_with_their_units() {
    for (text, wanted) in [
        ("12ft 6 3/4in", "12ft|6 3/4in"),
        ("12'-6\" 22'4\"", "12'-6\"|22'4\""),
        ("6-3/4in 6-3in", "6-3/4in|6|-|3in"),
        ("1/2ft 1/2 1/2.5ft", "1/2ft|1|/|2|1|/|2.5ft"),
        ("3 810mm 3 81mm 3 8100", "3 810mm|3|81mm|3|8100"),
        ("2 1/2 2  1/2", "2 1/2|2|1|/|2"),
        ("22ft x8ft 3x4 3×4", "22ft|x|8ft|3|x|4|3|×|4"),
        ("60%moss 90°x 5°C 9m/s", "60%|moss|90°|x|5°C|9m/s"),
        (
            "2026-05-11 850 USD 2026-05-1",
            "2026-05-11|850|USD|2026|-|05|-|1",
        ),
    ] {
        assert_eq!(cut(text), wanted, "{text}");
    }
}

#[test]
fn texts_and_comments_are_one_token() {
    assert_eq!(
        cut("a\"b # \\\" {\"c#d \" {\ne"),
        "a|\"b # \\\" {\"|c|#d \" {|e"
    );
    assert_eq!(cut("a \"b\nc"), "a|\"b|c");
    assert_eq!(cut("a # b \t\r\nc"), "a|# b|c");
}

#[test]
fn line_ends_are_counted() {
    let lines: Vec<usize> = Tokens::new("\u{FEFF}a\r\n\r\nb\rc \n\r\n\rd e")
        .map(|token| token.lines)
        .collect();
    assert_eq!(lines, [0, 2, 1, 3, 0]);
}

#[test]
fn nothing_is_lost() {
    let text = "a{b=(c,-.d)}[°]½ ; \u{A0}\u{200B}";
    let all: String = Tokens::new(text).map(|token| token.text).collect();
    let kept = text.chars().filter(|letter| !letter.is_whitespace());
    assert_eq!(all, kept.collect::<String>());
    assert!(Tokens::new("; ½").any(|token| token.kind == Kind::Other));
}
