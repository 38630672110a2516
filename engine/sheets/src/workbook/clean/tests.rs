use super::*;

#[test]
fn control_characters_are_replaced_and_line_ends_kept() {
    assert_eq!(
        clean("a\u{0}b\u{7}c\td\r\ne\u{FFFE}"),
        "a\u{FFFD}b\u{FFFD}c d\ne\u{FFFD}"
    );
    assert!(matches!(clean("plain, ü, 壁"), Cow::Borrowed(_)));
}

#[test]
fn long_texts_are_cut_where_a_cell_ends() {
    let long = "é".repeat(40_000);
    let cut = clean(&long);
    assert_eq!(cut.chars().count(), MAX_UNITS);
    assert!(cut.ends_with('…'));
    // Two units each: one unit of room is left unused rather than half a character written.
    let pairs = "🧱".repeat(20_000);
    let units: usize = clean(&pairs).chars().map(char::len_utf16).sum();
    assert_eq!(units, MAX_UNITS);
    // More bytes than units, yet within what a cell holds.
    let fits = "壁".repeat(30_000);
    assert_eq!(clean(&fits), fits);
}
