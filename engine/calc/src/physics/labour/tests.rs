use super::super::testing::{input, near, show};
use super::*;

/// L1 and L3.
#[test]
fn man_days_and_duration() {
    let mut tape = Tape::new();
    let inputs = [
        (16_000.0, "ft2"),
        (1000.0, "ft2"),
        (33.0, "h"),
        (8.0, "h"),
        (1.0, "1"),
    ];
    let inputs = inputs.map(|(number, unit)| input(&mut tape, number, unit));
    let days = man_days(&mut tape, inputs, None).unwrap();
    near(show(&tape, days, "1"), 66.0, 1e-9);
    let rest = [4.0, 0.75, 1.0].map(|number| input(&mut tape, number, "1"));
    let [crew, there, equivalent] = rest;
    let found = duration(&mut tape, [days, crew, there, equivalent], None).unwrap();
    near(show(&tape, found, "1"), 22.0, 1e-9);
}

/// L2.
#[test]
fn the_efficiency_is_a_mean() {
    let mut tape = Tape::new();
    let elements = [25.0, 50.0, 75.0, 100.0, 60.0, 70.0, 80.0, 76.0];
    let elements = elements.map(|share| input(&mut tape, share, "%"));
    let mean = efficiency(&mut tape, &elements, None).unwrap();
    near(show(&tape, mean, "%"), 67.0, 1e-9);
    let paid = input(&mut tape, 8.0, "h");
    let worked = productive_time(&mut tape, paid, mean, None).unwrap();
    near(show(&tape, worked, "h"), 5.36, 1e-9);
    assert!(efficiency(&mut tape, &[], None).is_err());
}

/// P10 and P11: the same rate, two totals.
#[test]
fn the_two_forms_of_learning_differ() {
    let mut tape = Tape::new();
    let of = [input(&mut tape, 100.0, "h"), input(&mut tape, 80.0, "%")];
    let mut total = |form, pieces| {
        let node = learnt_total(&mut tape, form, of, pieces, None).unwrap();
        show(&tape, node, "h")
    };
    near(total(Learning::CumulativeAverage, 4), 256.0, 1e-9);
    near(total(Learning::Unit, 4), 314.21, 0.005);
    near(
        total(Learning::Unit, 1),
        total(Learning::CumulativeAverage, 1),
        1e-9,
    );
}

#[test]
fn a_rate_that_is_none_is_refused() {
    for (rate, number) in [(0.0, 2), (-0.5, 2), (1.2, 2), (0.8, 0)] {
        let mut tape = Tape::new();
        let first = input(&mut tape, 100.0, "h");
        let rate = input(&mut tape, rate, "1");
        assert!(learnt(&mut tape, first, rate, number, None).is_err());
    }
    let mut tape = Tape::new();
    let of = [input(&mut tape, 100.0, "h"), input(&mut tape, 0.8, "1")];
    assert!(learnt_total(&mut tape, Learning::Unit, of, 10_001, None).is_err());
}
