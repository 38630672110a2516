use super::super::tests::noise::{Dice, changed_inside, corpus};
use super::super::tests::zipped;
use super::*;

/// What is said of a file with and without reading ahead.
fn both(bytes: &[u8]) -> [Result<Kind, Diagnostic>; 2] {
    [
        look_into(bytes).map(|(kind, _)| kind),
        container::look_into(bytes),
    ]
}

#[test]
fn reading_ahead_changes_nothing_of_what_is_said() {
    let mut dice = Dice::of(5);
    let mut refused = 0;
    for (name, bytes) in corpus() {
        for round in 0..12 {
            let changed = changed_inside(&bytes, &mut dice).unwrap_or_default();
            let cut = &bytes[..bytes.len() * round / 12];
            for bytes in [&changed, cut] {
                let [ahead, in_order] = both(bytes);
                assert_eq!(ahead, in_order, "{name}, {round}");
                refused += usize::from(ahead.is_err());
            }
        }
    }
    assert!(refused > 20, "{refused}");
}

/// The parts that hold no cells are looked through first, and what is wrong is told in the order of
/// the parts.
#[test]
fn the_first_part_with_anything_wrong_is_told() {
    let entities = b"<!DOCTYPE a [<!ENTITY b \"bb\">]><a/>".as_slice();
    let mut bytes = zipped(&[
        ("xl/worksheets/sheet1.xml", entities),
        ("xl/workbook.xml", b"<workbook/>"),
        ("xl/styles.xml", b"<a>some styles</a>"),
    ]);
    let [ahead, in_order] = both(&bytes);
    assert_eq!(ahead, in_order);
    let said = ahead.unwrap_err().message;
    assert!(said.contains("declares entities"), "{said}");
    // Its sum is wrong now.
    let styles = b"xl/styles.xml";
    let at = bytes.windows(styles.len()).position(|part| part == styles);
    bytes[at.unwrap() + styles.len() + 4] ^= 1;
    for looked in both(&bytes) {
        assert_eq!(looked.unwrap_err().message, said);
    }
}
