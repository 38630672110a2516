use super::*;

#[test]
fn nothing_is_markup_and_nothing_is_hidden() {
    assert_eq!(escape("<b a=\"'&"), "&lt;b a=&quot;&#39;&amp;");
    assert_eq!(
        escape("a\0b\u{1b}c\u{85}\u{ffff}"),
        "a\u{fffd}b\u{fffd}c\u{fffd}\u{fffd}"
    );
}

#[test]
fn no_text_turns_what_stands_beside_it() {
    assert_eq!(isolated("a\u{202e}b"), "ab");
    assert_eq!(isolated("קיר\u{2069}"), "\u{2068}קיר\u{2069}");
    assert_eq!(isolated("wall"), "wall");
}
