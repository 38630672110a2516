use super::super::testing::{input, near, show};
use super::*;

fn limit(form: Form, unit: &str, [h, v, d]: [f64; 3], turn: f64, grip: f64) -> Outcome<f64> {
    let mut tape = Tape::new();
    let lift = Lift {
        horizontal: input(&mut tape, h, unit),
        vertical: input(&mut tape, v, unit),
        travel: input(&mut tape, d, unit),
        turn: input(&mut tape, turn.to_radians(), "1"),
        frequency: input(&mut tape, 1.0, "1"),
        coupling: input(&mut tape, grip, "1"),
    };
    let mass = if form == Form::Inch { "lb" } else { "kg" };
    recommended_weight(&mut tape, form, lift, None).map(|node| show(&tape, node, mass))
}

/// S11: at the best reach, height and grip without a turn, the load constant.
#[test]
fn the_best_lift_is_the_load_constant() {
    let inch = limit(Form::Inch, "in", [8.0, 30.0, 5.0], 0.0, 1.0).unwrap();
    near(inch, 51.0, 1e-9);
    let metric = limit(Form::Metric, "cm", [25.0, 75.0, 25.0], 0.0, 1.0).unwrap();
    near(metric, 23.0, 1e-9);
}

#[test]
fn reach_height_travel_and_turn_take_from_it() {
    // By hand: 51 × 10/20 × (1 - 0.0075 × 20) × (0.82 + 1.8/40) × (1 - 0.0032 × 45)
    let got = limit(Form::Inch, "in", [20.0, 50.0, 40.0], 45.0, 1.0).unwrap();
    near(got, 51.0 * 0.5 * 0.85 * 0.865 * 0.856, 1e-9);
    let low = limit(Form::Inch, "in", [20.0, 10.0, 40.0], 45.0, 1.0).unwrap();
    near(low, got, 1e-9);
}

#[test]
fn past_the_equation_nothing_is_recommended() {
    for sizes in [[26.0, 30.0, 10.0], [10.0, 71.0, 10.0], [10.0, 30.0, 71.0]] {
        assert!(
            limit(Form::Inch, "in", sizes, 0.0, 1.0).is_err(),
            "{sizes:?}"
        );
    }
    assert!(limit(Form::Inch, "in", [10.0, 30.0, 10.0], 140.0, 1.0).is_err());
    assert!(limit(Form::Inch, "in", [25.0, 70.0, 70.0], 135.0, 1.0).is_ok());
}

/// S16.
#[test]
fn a_faster_pace_takes_from_it_too() {
    for (pace, short, moderate) in [
        (0.2, 1.00, Some(0.95)),
        (0.5, 0.97, Some(0.92)),
        (1.0, 0.94, Some(0.88)),
        (2.0, 0.91, Some(0.84)),
        (3.0, 0.88, Some(0.79)),
        (4.0, 0.84, None),
        (5.0, 0.80, None),
        (6.0, 0.75, None),
    ] {
        assert_eq!(frequency_multiplier(pace, Duration::Short), Some(short));
        assert_eq!(frequency_multiplier(pace, Duration::Moderate), moderate);
    }
    assert_eq!(frequency_multiplier(1.5, Duration::Short), Some(0.91));
    assert_eq!(frequency_multiplier(0.0, Duration::Short), Some(1.00));
    assert_eq!(frequency_multiplier(7.0, Duration::Short), None);
    assert_eq!(frequency_multiplier(f64::NAN, Duration::Short), None);
}

/// S12 prints 0.95 for 40 cm of travel; the equation of S11 itself is 0.82 + 4.5 / 40 = 0.9325.
#[test]
fn the_equation_is_used_and_not_a_printed_table() {
    let got = limit(Form::Metric, "cm", [50.0, 75.0, 40.0], 0.0, 1.0).unwrap();
    near(got, 23.0 * 0.5 * 0.9325, 1e-9);
}
