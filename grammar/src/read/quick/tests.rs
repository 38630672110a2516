//! What is read by hand, and what is left to the parser. That both say the same is tested with the
//! whole crate.

use crate::read::{Reader, Source};
use parge_base::{Sources, Units};
use std::ops::Range;

/// Which of some lines `read` reads.
fn those_read<'t, T>(
    lines: &[&'t str],
    read: impl Fn(&Reader<'_>, &Range<usize>) -> Option<T>,
) -> Vec<&'t str> {
    let units = Units::standard();
    let is_read = |text: &&&str| {
        let source = Source {
            file: Sources::new().add("plan", ""),
            text,
            units: &units,
            quick: true,
        };
        read(&Reader::new(&source), &(0..text.len())).is_some()
    };
    lines.iter().filter(is_read).copied().collect()
}

/// Whether a line is one member of a structure.
fn is_member(reader: &Reader<'_>, line: &Range<usize>) -> Option<()> {
    let is_face = reader.quick_face(line).is_some() || reader.quick_edge(line).is_some();
    (is_face || reader.quick_setting(line).is_some()).then_some(())
}

/// What plans consist of in the main: were it left to the parser, only time would tell.
#[test]
fn usual_lines_are_read() {
    let lines = [
        "face street rect 22ft x 2ft 8in",
        "face \"North wall\" rect 22ft 4in ashlar count 2 on wood at 9ft from \"Rooms!A7\"",
        "face a rect 12ft 6 3/4in x 3/4in",
        "face a stations (0ft, 7ft) (10ft, 6ft)",
        "face a stations stepped (0ft, 7ft) (10ft, 6ft)",
        "face a rect street.width * 2 - 1.5m x high / 2",
        "face a rect south.street.width",
        "face a triangle 12ft x low",
        "face a trapezoid 12ft to 8ft x 4ft",
        "face a circle diameter 8in",
        "face a cylinder diameter 3ft x 8ft",
        "face a cylinder diameter 3ft sweep 90deg",
        "face a frustum 30in to 22in x 4ft 4in",
        "face a arc radius 6ft sweep 90deg x 2ft 7in",
        "face a ellipse 3ft x 2ft",
        "face a ring 3ft to 2ft",
        "face a arch 3ft x 6ft 6in",
        "face a arch 3ft x 6ft 6in rise 8in",
        "face a cone diameter 6ft x 2ft",
        "face a dome diameter 6ft x 2ft 9in",
        "face a polygon (0ft, 0ft) (9ft, 0ft) (8ft, 4ft)",
        "finish bark",
        "height 2400mm",
        "at 9ft",
        "edge cap street.top count 2",
    ];
    assert_eq!(those_read(&lines, is_member), lines);
    let lines = [
        "opening door arch 3ft x 6ft 6in reveal 6in  opening port circle diameter 8in count 2",
        "opening a rect 2ft x 1ft reveal 4in on top, sides finish bark from \"A8\"",
        "edge cap 3ft opening a circle diameter 2ft",
    ];
    assert_eq!(
        those_read(&lines, |reader, line| reader.quick_members(line)),
        lines
    );
    let lines = ["structure \"Block 1\" on wood", "structure a"];
    assert_eq!(
        those_read(&lines, |reader, line| reader.quick_head(line)),
        lines
    );
}

#[test]
fn what_could_read_another_way_is_left() {
    let lines = [
        "face a rect 6-3/4in",
        "face a rect 3/4",
        "face a rect 6 3/4 x 2ft",
        "face a rect 6 5/4in",
        "face a rect 2yd 1ft 6in",
        "face a rect 2m 1mm 1mm",
        "face a rect 12ft-6in",
        "face a rect 12' 6\"",
        "face a rect 3 810mm",
        "face a rect 22 ft",
        "face a rect 12in 4ft",
        "face a rect 2ft x -3ft",
        "face a rect max(2ft, 3ft)",
        "face a rect (2ft + 3ft) x 2ft",
        "face a rect 2ft \"\"",
        "face a rect 2ft \"b\\\"c\"",
        "face a rect 2ft count 2 m",
        "face a rect 2ft count 2 sq",
        "face a rect 2ft height 8ft",
        "face a rect 2ft from b",
        "face a rect 2^2 * 1ft",
        "face a rect 2ft × 3ft",
        "face a rect lowé",
        "face x rect 2ft",
        "face a triangle sides 3ft, 4ft, 5ft",
        "face a arc radius 6ft sweep 90 x 2ft",
        "face a polygon (0ft, 0ft) (9ft, 0ft)",
        "face a rect 2ft\nfinish b",
        "face a rect 2ft # b",
        "finish b height 8ft",
        "conditions",
    ];
    assert_eq!(those_read(&lines, is_member), [""; 0]);
}
