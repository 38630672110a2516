use super::*;

#[test]
fn thousands_are_set_apart() {
    assert_eq!(number(1234567.891, 2), "1,234,567.89");
    assert_eq!(number(-123.0, 0), "-123");
    assert_eq!(number(-1234.0, 0), "-1,234");
    assert_eq!(grouped("999.50"), "999.50");
}

#[test]
fn names_cannot_command_the_terminal() {
    assert_eq!(visible("Wall\u{1b}[2J"), "Wall\u{fffd}[2J");
}
