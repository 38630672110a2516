//! What is told about a name, a word or a number.

use super::{WHOLE, analysis, at, marked};
use parge_grammar::analysis::{Home, words_of_the_language};

fn told(text: &str) -> String {
    let (analysis, offset) = marked(text);
    let hover = analysis.hover(offset);
    hover.map_or_else(|| "nothing".to_owned(), |hover| hover.markdown)
}

fn in_whole(piece: &str) -> String {
    let hover = analysis(WHOLE).hover(at(WHOLE, piece) + 1);
    hover.map_or_else(|| "nothing".to_owned(), |hover| hover.markdown)
}

#[test]
fn names_show_their_statements() {
    insta::assert_snapshot!(told("let high = 2ft 8in\nlet a = |high + 1ft"), @"
    ```parge
    let high = 2ft 8in
    ```
    ");
    insta::assert_snapshot!(in_whole("drystone\n  height"), @"
    ```parge
    finish drystone
    ```
    ");
    insta::assert_snapshot!(in_whole("bow.width"), @r#"
    ```parge
    face bow arc radius 6ft sweep 90deg x street.height drystone on wood count 2
    ```

    in `"Entry planter"`
    "#);
    insta::assert_snapshot!(in_whole("bay(12ft"), @"
    ```parge
    template bay(width, high) on block
    ```
    ");
    insta::assert_snapshot!(in_whole("high \"tree"), @"
    ```parge
    template bay(width, high) on block
    ```

    `high` is given by each structure that is made from it
    ");
    insta::assert_snapshot!(in_whole("\"Entry planter\" { fin"), @r#"
    ```parge
    structure "Entry planter" on block
    ```
    "#);
}

#[test]
fn statements_that_hold_marks_of_markdown_stay_whole() {
    insta::assert_snapshot!(told("structure \"|```\" on block { }"), @r#"
    ````parge
    structure "```" on block
    ````
    "#);
    let long = format!("let |a = {}", "1 + ".repeat(500));
    assert!(told(&long).len() < 500);
    let odd = format!("let |a = {}", "é𝕏".repeat(500));
    assert!(told(&odd).ends_with("…\n```"));
}

#[test]
fn words_show_their_meaning_and_right_form() {
    insta::assert_snapshot!(told("structure \"A\" { face f |rect"), @r"
    **rect**: width W by height H; area W·H

    ```parge
    rect 22ft x 4ft
    ```
    ");
    insta::assert_snapshot!(in_whole("height 8ft\n"), @"
    **height**: the height of all faces whose shape leaves it out

    ```parge
    height 8ft
    ```
    ");
    insta::assert_snapshot!(told("let a = ma|x(1, 2)"), @"
    **max**: the largest of its values

    ```parge
    max(4ft, high)
    ```
    ");
}

#[test]
fn a_word_means_what_it_means_at_its_place() {
    let meaning = |text: &str| told(text).lines().next().unwrap_or("").to_owned();
    assert_eq!(
        meaning("fin|ish bark { }"),
        "**finish**: how a surface is made"
    );
    assert_eq!(
        meaning("structure A { fini|sh bark }"),
        "**finish**: the finish of all faces that name none"
    );
    assert_eq!(
        meaning(
            "structure A { face f rect 1ft x 1ft { opening o circle diameter 1ft fini|sh bark } }"
        ),
        "**finish**: the finish of the reveal, where that is not the face's"
    );
    assert_eq!(
        meaning("let a = street.|height"),
        "**height**: the height of the shape"
    );
    assert_eq!(meaning("let a = b\nlet |height = 2ft"), "```parge");
    assert_eq!(
        meaning("structure A { face f triangle si|des 1ft"),
        "**sides**: a triangle by its three sides, the bottom first"
    );
    assert_eq!(
        meaning(
            "structure A { face f rect 1ft x 1ft { opening o rect 1ft x 1ft reveal 4in on top, s|ides } }"
        ),
        "**sides**: the upright edges of the opening"
    );
    assert_eq!(
        meaning("structure A { face f rect 1ft |x 1ft"),
        "**x**: by, between two sizes"
    );
    assert_eq!(
        meaning("structure A { face f rect 1ft |× 1ft"),
        "**x**: by, between two sizes"
    );
    assert_eq!(
        meaning("job \"A\" { bid { profit |markup 20% } }"),
        "**markup**: a share of the cost"
    );
    assert_eq!(
        meaning("job \"A\" { client \"|rect\" }"),
        "nothing".to_owned()
    );
    assert_eq!(meaning("# |rect"), "nothing".to_owned());
}

#[test]
fn the_words_of_the_whole_plan_are_known() {
    let analysis = analysis(WHOLE);
    let words = words_of_the_language();
    for word in words.filter(|word| word.word.len() > 3 && word.home != Home::Property) {
        let word = word.word;
        let spaced = format!(" {word} ");
        let mut places = WHOLE.match_indices(&spaced).peekable();
        let is_there = places.peek().is_some();
        let known = places.any(|(place, _)| {
            let hover = analysis.hover(place + 2);
            hover.is_some_and(|hover| hover.markdown.starts_with(&format!("**{word}**")))
        });
        assert!(known || !is_there, "{word}");
    }
}

#[test]
fn sizes_are_told_in_the_other_system() {
    let of = |size: &str| {
        let text = format!("let a = {size} + b");
        let hover = analysis(&text).hover(9);
        hover.map_or_else(|| "nothing".to_owned(), |hover| hover.markdown)
    };
    assert_eq!(of("22ft"), "`22ft` is about `6.706m`");
    assert_eq!(of("12ft 6 3/4in"), "`12ft 6 3/4in` is about `3.829m`");
    assert_eq!(of("12' 6-3/4\""), "`12' 6-3/4\"` is about `3.829m`");
    assert_eq!(of("3/4in"), "`3/4in` is about `19.1mm`");
    assert_eq!(of("1in"), "`1in` is `25.4mm`");
    assert_eq!(of("3.81m"), "`3.81m` is `12ft 6in`");
    assert_eq!(of("3 810mm"), "`3 810mm` is `12ft 6in`");
    assert_eq!(of("40cm"), "`40cm` is about `1ft 3 3/4in`");
    assert_eq!(of("10mm"), "`10mm` is about `3/8in`");
    assert_eq!(of("42ft2"), "`42ft2` is about `3.9m2`");
    assert_eq!(of("9m²"), "`9m²` is about `96.88ft2`");
    assert_eq!(of("5gal"), "`5gal` is about `18.93L`");
    assert_eq!(of("2yd3"), "`2yd3` is about `1.529m3`");
    assert_eq!(of("20L"), "`20L` is about `5.28gal`");
    assert_eq!(of("50lb"), "`50lb` is about `22.68kg`");
    assert_eq!(of("25kg"), "`25kg` is about `55.12lb`");
    assert_eq!(of("84F"), "`84F` is about `28.9C`");
    assert_eq!(of("-5C"), "`-5C` is `23F`");
    assert_eq!(of("9mph"), "`9mph` is about `4m/s`");
    for nothing in ["60%", "2", "1.15", "90deg", "7bananas", "2026-04-20"] {
        assert_eq!(of(nothing), "nothing", "{nothing}");
    }
}

#[test]
fn only_the_number_at_the_place_is_told() {
    let of = |text| told(text);
    assert_eq!(
        of("structure A { face f polygon (|1in, 2in) (3in, 4in)"),
        "`1in` is `25.4mm`"
    );
    assert_eq!(
        of("structure A { face f polygon (1in, 2in|) (3in, 4in)"),
        "`2in` is `50.8mm`"
    );
    assert_eq!(
        of("structure A { face f rect 1|in x 2in"),
        "`1in` is `25.4mm`"
    );
    assert_eq!(of("let a = 1in\nlet b = |2in"), "`2in` is `50.8mm`");
    assert_eq!(of("let a = 3in - |2in"), "`2in` is `50.8mm`");
}
