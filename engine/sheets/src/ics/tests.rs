use super::*;
use jiff::civil::date;

const STAMP: DateTime = date(2026, 6, 1).at(0, 0, 0, 0);

fn event(when: When, summary: &str, description: &str) -> Event {
    Event {
        uid: uid(&["Court", "planter", "scratch", "2026-06-05"]),
        when,
        summary: summary.to_owned(),
        description: description.to_owned(),
    }
}

fn day(summary: &str, description: &str) -> String {
    let (first, last) = (date(2026, 6, 5), date(2026, 6, 5));
    ics(
        &[event(When::Days { first, last }, summary, description)],
        STAMP,
    )
    .unwrap()
}

/// Undoes folding as section 3.1 says: a line end followed by a space is nothing.
fn unfolded(text: &str) -> Vec<String> {
    let whole = text.replace("\r\n ", "");
    whole.split_terminator("\r\n").map(str::to_owned).collect()
}

/// Sections 3.4 and 3.6.1: what must be there, in which order.
#[test]
fn a_whole_calendar() {
    let (first, last) = (date(2026, 12, 30), date(2026, 12, 31));
    let (from, until) = (first.at(7, 30, 0, 0), first.at(15, 0, 0, 0));
    let events = [
        event(When::Days { first, last }, "Cure", ""),
        event(When::Times { from, until }, "Scratch coat", "14 bags"),
        event(When::Times { from, until: from }, "Inspection", ""),
    ];
    let text = ics(&events, STAMP).unwrap();
    insta::assert_snapshot!(text.replace("\r\n", "\n"));
    assert_eq!(text.matches("\r\n").count(), text.matches('\n').count());
    assert_eq!(ics(&[], STAMP), None);
}

/// Section 3.3.11: backslash, semicolon, comma and line ends are escaped, a colon is not.
#[test]
fn texts_are_escaped() {
    let text = day(r"a\b; c, d: e", "one\r\ntwo\nthree\rfour\tfive\u{7}");
    let lines = unfolded(&text);
    assert!(lines.contains(&r"SUMMARY:a\\b\; c\, d: e".to_owned()));
    assert!(lines.contains(&"DESCRIPTION:one\\ntwo\\nthree\\nfour\tfive\u{fffd}".to_owned()));
    // Nobody writes a property of their own.
    let hostile = day("x\r\nEND:VEVENT\r\nBEGIN:VALARM", "");
    assert_eq!(unfolded(&hostile).len(), unfolded(&day("x", "")).len());
}

/// Section 3.1: no line is longer than 75 octets, and no letter is cut.
#[test]
fn long_lines_are_folded_between_letters() {
    for pad in 0..4 {
        let summary = format!("{}{}", "x".repeat(pad), "Mörtel€𝄞".repeat(40));
        let text = day(&summary, "");
        assert!(text.split("\r\n").all(|line| line.len() <= 75));
        assert!(text.split("\r\n").any(|line| line.len() > 70));
        assert!(unfolded(&text).contains(&format!("SUMMARY:{summary}")));
    }
    // Exactly 75 octets stay one line, 76 do not.
    let exact = "y".repeat(75 - "SUMMARY:".len());
    assert!(day(&exact, "").contains(&format!("\r\nSUMMARY:{exact}\r\n")));
    assert!(day(&format!("{exact}z"), "").contains("y\r\n z\r\n"));
}

/// Section 3.8.4.7: the same event has the same name, another has another.
#[test]
fn the_name_of_an_event_is_its_parts() {
    assert_eq!(uid(&["a", "bc"]), uid(&["a", "bc"]));
    assert_ne!(uid(&["a", "bc"]), uid(&["ab", "c"]));
    assert_ne!(uid(&["a", "1:b"]), uid(&["a", "1:c"]));
    // It must not change from one version of the program to the next.
    insta::assert_snapshot!(uid(&["Court", "planter", "scratch", "2026-06-05"]));
}

/// The end of time is an end as well.
#[test]
fn the_last_day_there_is() {
    let when = When::Days {
        first: Date::MAX,
        last: Date::MAX,
    };
    let text = ics(&[event(when, "x", "")], STAMP).unwrap();
    assert!(text.contains("DTSTART;VALUE=DATE:99991231") && !text.contains("DTEND"));
}
