use super::*;

#[test]
fn no_text_is_a_formula() {
    for text in [
        "=1+1",
        "+1",
        "-1",
        "@x",
        "\t=1",
        "\r=1",
        "\n=1",
        "  =1",
        "\u{a0}=1",
        "\u{200b}=1",
        "\u{202e}=1",
        "＝1",
        "＋1",
        "－1",
        "＠x",
        "﹦1",
        "\0=1",
        "\"=1",
        "wall;=1",
        "wall; ＝1",
    ] {
        let cell = cell(text);
        let part = cell
            .trim_matches('"')
            .rsplit(';')
            .next()
            .unwrap()
            .to_owned();
        assert!(part.starts_with('\''), "{text:?} is {cell:?}");
    }
}

#[test]
fn other_texts_stay_as_they_are() {
    assert_eq!(cell("3/4 in lath"), "3/4 in lath");
    assert_eq!(cell("a-b=c"), "a-b=c");
    assert_eq!(cell("Mill, \"Street\""), "\"Mill, \"\"Street\"\"\"");
    assert_eq!(cell("two\r\nlines\tand\u{7}"), "two lines and\u{fffd}");
}
