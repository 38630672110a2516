use super::*;

#[test]
fn places_count_characters_and_lines_from_one() {
    let mut sources = Sources::new();
    let file = sources.add("a.parge", "ab\nçd\r\n");
    assert_eq!(sources.place(file, 0), Place { line: 1, column: 1 });
    assert_eq!(sources.place(file, 3), Place { line: 2, column: 1 });
    assert_eq!(sources.place(file, 5), Place { line: 2, column: 2 });
    assert_eq!(sources.slice(sources.line_span(file, 2)), "çd");
    assert_eq!(sources.slice(sources.line_span(file, 99)), "");
}

#[test]
fn nodes_are_equal_wherever_they_stand() {
    let file = Sources::new().add("a", "x");
    assert_eq!(
        Spanned::new(1, Span::new(file, 0, 1)),
        Spanned::new(1, Span::new(file, 5, 9))
    );
}
