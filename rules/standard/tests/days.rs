//! The rules of the days of vertical concrete: the day of a crew, what the weather allows, batches,
//! and what a day takes by itself. All numbers are common practice, no source.

// An integration test is test code from its first line.
#![allow(clippy::unwrap_used)]

mod common;

use common::{batch, close, day, edited, pack, site, weather};

/// Half an hour of a day goes to setting up and clearing away.
#[test]
fn a_day_of_work_is_shorter_than_the_day_on_site() {
    let pack = pack();
    let answer = site().ask(&pack);
    close(answer.given("people", "1"), 4.0);
    close(answer.given("productive", "h"), 8.5);
    let unsaid = site().absent("crew").absent("on_site").ask(&pack);
    close(unsaid.given("people", "1"), 2.0);
    close(unsaid.given("productive", "h"), 7.5);
}

/// Read between the rows, and held at their ends.
#[test]
fn hot_air_shortens_the_working_time() {
    let pack = pack();
    let minutes = |air: f64| {
        let answer = weather().set("air", air, "F").ask(&pack);
        answer.given("working_time", "min")
    };
    for (air, expected) in [
        (45.0, 30.0),
        (50.0, 30.0),
        (60.0, 25.0),
        (70.0, 20.0),
        (85.0, 15.0),
        (90.0, 13.0),
        (100.0, 10.0),
        (110.0, 10.0),
    ] {
        close(minutes(air), expected);
    }
    let unsaid = weather().ask(&pack);
    close(unsaid.given("working_time", "min"), 20.0);
    assert!(unsaid.0.given("no_coats").is_none());
}

/// C10: warmer than 40 F; at 40 F it is too cold (IBC 2018 2512.4).
#[test]
fn no_coat_goes_on_in_the_cold() {
    let pack = pack();
    for (air, cold) in [(30.0, true), (40.0, true), (40.1, false), (70.0, false)] {
        let answer = weather().set("air", air, "F").ask(&pack);
        assert_eq!(answer.0.given("no_coats").is_some(), cold, "{air}");
    }
}

/// The smaller of the mixer and people x working time / time for a bag.
#[test]
fn a_batch_is_what_is_placed_in_time_or_what_the_mixer_holds() {
    let pack = pack();
    // 3 x 20 min / 45 min
    let slow = batch("finish-mix", 0.75).ask(&pack);
    close(slow.given("most", "bag"), 4.0 / 3.0);
    // 3 x 20 min / 6 min are 10 bags; the mixer holds 2.
    close(
        batch("finish-mix", 0.1).ask(&pack).given("most", "bag"),
        2.0,
    );
    let large = edited("tables/mixing.csv", "mixer,2,bag", "mixer,6,bag");
    close(
        batch("finish-mix", 0.1).ask(&large).given("most", "bag"),
        6.0,
    );
    // Hotter air: 3 x 13 min / 45 min.
    let hot = batch("finish-mix", 0.75).set("working_time", 13.0, "min");
    close(hot.ask(&pack).given("most", "bag"), 39.0 / 45.0);
    for (name, unit, figure) in [
        ("working_time", "min", 20.0),
        ("water_low", "qt/bag", 4.75),
        ("water_high", "qt/bag", 5.0),
        ("mix", "min", 2.0),
        ("rest", "min", 3.0),
        ("remix", "min", 1.0),
        ("on_the_wall", "min", 20.0),
    ] {
        close(slow.given(name, unit), figure);
    }
}

/// Three of the four people come: 3 x 0.5 h, and 3 x 30 min there and back.
#[test]
fn each_day_is_set_up_and_travelled_to() {
    let pack = pack();
    let answer = day().set("travel", 30.0, "min").ask(&pack);
    close(answer.hours("set-up"), 1.5);
    close(answer.hours("travel"), 3.0);
    close(answer.hours("protect"), 0.0);
    let near = day().ask(&pack);
    close(near.hours("set-up"), 1.5);
    close(near.hours("travel"), 0.0);
    assert!(near.0.needs.is_empty() && near.warnings().is_empty());
}
