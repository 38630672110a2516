//! Offsets, lines and columns.

use super::analysis;
use parge_grammar::analysis::Position;

fn place(line: u32, column: u32) -> Position {
    Position { line, column }
}

#[test]
fn columns_are_counted_in_utf16() {
    let text = "é𝕏a\nb";
    let analysis = analysis(text);
    let both = [
        (0, place(0, 0)),
        (2, place(0, 1)),
        (6, place(0, 3)),
        (7, place(0, 4)),
        (8, place(1, 0)),
        (9, place(1, 1)),
    ];
    for (offset, position) in both {
        assert_eq!(analysis.position(offset), position);
        assert_eq!(analysis.offset(position), offset);
    }
    // Inside of a character, inside of a pair of units.
    assert_eq!(analysis.position(1), place(0, 0));
    assert_eq!(analysis.position(4), place(0, 1));
    assert_eq!(analysis.offset(place(0, 2)), 2);
}

#[test]
fn all_line_ends_are_known() {
    let analysis = analysis("ab\r\nc\rd\n\r\n");
    for (offset, position) in [
        (2, place(0, 2)),
        (4, place(1, 0)),
        (6, place(2, 0)),
        (8, place(3, 0)),
        (10, place(4, 0)),
    ] {
        assert_eq!(analysis.position(offset), position);
        assert_eq!(analysis.offset(position), offset);
    }
    // Between the two signs of one line end.
    assert_eq!(analysis.position(3), place(0, 2));
}

#[test]
fn places_beyond_the_end_are_the_end() {
    let analysis = analysis("ab\r\ncd");
    assert_eq!(analysis.offset(place(0, 99)), 2);
    assert_eq!(analysis.offset(place(1, 99)), 6);
    assert_eq!(analysis.offset(place(9, 0)), 6);
    assert_eq!(analysis.position(99), place(1, 2));
    assert_eq!(super::analysis("").position(5), place(0, 0));
}
