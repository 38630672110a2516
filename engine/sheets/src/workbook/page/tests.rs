use super::*;

#[test]
fn wrapped_texts_take_their_lines() {
    assert_eq!(lines("", 10.0), 1);
    assert_eq!(lines("ten digits", 10.0), 1);
    assert_eq!(lines("ten digits more", 10.0), 2);
    assert_eq!(lines("one\ntwo", 10.0), 2);
    assert_eq!(lines("abcdefghijklmnopqrstuvwxyz", 10.0), 3);
    assert_eq!(lines("abcdefghij klm", 10.0), 2);
    assert_eq!(lines("a abcdefghij", 10.0), 2);
}

#[test]
fn numbers_take_their_width_as_printed() {
    assert_eq!(printed_width(1234567.891, Look::Decimals(2)), 12.0);
    assert_eq!(printed_width(0.0, Look::Count), 1.0);
    assert_eq!(printed_width(-5.0, Look::Decimals(2)), 5.0);
    assert_eq!(printed_width(0.004, Look::Written), 5.0);
}
