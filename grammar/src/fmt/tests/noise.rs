//! Texts that are no plans, and plans that are very long.

use super::check;
use crate::fmt::format;
use crate::parse;
use crate::tests::growth::grows_in_proportion;
use parge_base::{Code, Sources};
use proptest::prelude::*;

/// A text is laid out if it can be read, and otherwise its mistakes are told.
fn bear(text: &str) {
    let file = Sources::new().add("plan", "");
    let found = parse(file, text).diagnostics;
    match format(file, text) {
        Ok(laid_out) => {
            assert_eq!(found, [], "{text:?}");
            check(text, &laid_out);
        }
        Err(told) => assert!(
            told == found && told.iter().all(|told| told.code != Code::CannotWrite),
            "{text:?} {told:?}"
        ),
    }
}

const TOKENS: [&str; 44] = [
    "3ft",
    "12' 6-3/4\"",
    "6\"",
    "2",
    "1/2",
    "3 810",
    "-5C",
    "60%",
    "a",
    "relief",
    "face b rect",
    "opening c rect",
    "thickness",
    "colours",
    "crew",
    "air",
    "count",
    "at",
    "on",
    "x",
    "×",
    "(",
    ")",
    "{",
    "}",
    ",",
    ",",
    "=",
    "+",
    "-",
    "-",
    "*",
    "/",
    "^",
    ".",
    "\"d\"",
    "d2\"",
    "#",
    "# e",
    "\n",
    "\n",
    "\r",
    "\u{A0}",
    "½",
];

fn tokens() -> impl Strategy<Value = String> {
    let token = (
        proptest::sample::select(TOKENS.to_vec()),
        proptest::sample::select(vec!["", " ", "  ", "\n", "\t"]),
    );
    let joined = |tokens: Vec<(&str, &str)>| -> String {
        tokens
            .iter()
            .flat_map(|(token, gap)| [*token, *gap])
            .collect()
    };
    proptest::collection::vec(token, 0..12).prop_map(joined)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn any_text_is_borne(text in "\\PC{0,200}") {
        bear(&text);
        bear(&format!("parge 1\n# {text}"));
    }

    #[test]
    fn any_characters_are_borne(text in proptest::collection::vec(any::<char>(), 0..60)) {
        bear(&text.into_iter().collect::<String>());
    }

    #[test]
    fn any_mixture_of_words_is_borne(text in tokens()) {
        bear(&format!("parge 1\nlet a = {text}"));
        bear(&format!("parge 1\nlet a = min({text})"));
        bear(&format!("parge 1\nstructure a on b {{ face c rect {text} }}"));
        bear(&format!("parge 1\nfinish a {{ relief {text}\n}}"));
        bear(&format!("parge 1\njob \"s\" {{ {text} }}"));
    }
}

#[test]
fn long_plans_and_noise_are_soon_over() {
    let head = "parge 1\nstructure \"a\" on b {\n";
    let face = "  face \"c\" rect 3ft x min(2ft, a + 1ft) d { opening e rect 1in x 1in }\n";
    grows_in_proportion("faces", 300, |faces| {
        bear(&format!("{head}{}}}\n", face.repeat(faces)));
    });
    grows_in_proportion("values", 500, |values| {
        let values = "b + 1, ".repeat(values) + "c";
        bear(&format!("parge 1\nlet a = min({values})\n"));
    });
    for piece in [
        "{",
        "(",
        "\"",
        "#\n",
        "a{",
        "-",
        "1 ",
        "1/",
        "\u{200B}",
        "let a = 1\n",
    ] {
        grows_in_proportion(piece, 20_000, |bytes| {
            let noise = piece.repeat(bytes / piece.len());
            bear(&noise);
            bear(&format!("parge 1\n{noise}"));
        });
    }
}
