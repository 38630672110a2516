use super::*;

#[test]
fn texts_are_broken_at_blanks_and_long_words_anywhere() {
    assert_eq!(
        lines("a wall of stone", 2.0, 10.0, 3),
        ["a wall", "of stone"]
    );
    assert_eq!(lines("", 2.0, 10.0, 3), Vec::<String>::new());
    let long = "x".repeat(5000);
    let lines = lines(&long, 2.0, 20.0, 2);
    assert_eq!(lines.len(), 2);
    assert!(lines[1].ends_with('…') && width(&lines[1], 2.0) <= 20.0 + LETTER * 2.0);
}
