use super::super::testing::{input, near, show};
use super::*;

/// In °C hours.
fn maturity(history: &[(f64, f64)], datum: f64) -> f64 {
    let mut tape = Tape::new();
    let periods: Vec<Period> = history
        .iter()
        .map(|(hours, celsius)| Period {
            time: input(&mut tape, *hours, "h"),
            temperature: input(&mut tape, *celsius, "C"),
        })
        .collect();
    let datum = input(&mut tape, datum, "C");
    let node = nurse_saul(&mut tape, &periods, datum, None).unwrap();
    tape.value(node).value / 3600.0
}

/// T4.
#[test]
fn a_history_adds_up_and_cold_adds_nothing() {
    let day = [(12.0, 25.0), (12.0, 15.0)];
    near(maturity(&day, 0.0), 480.0, 1e-6);
    near(maturity(&day, -10.0), 720.0, 1e-6);
    near(
        maturity(&[day[0], day[1], (12.0, -15.0)], -10.0),
        720.0,
        1e-6,
    );
    assert_eq!(maturity(&[(12.0, -15.0)], -10.0), 0.0);
}

#[test]
fn no_history_is_no_maturity() {
    let mut tape = Tape::new();
    let datum = input(&mut tape, 0.0, "C");
    assert!(nurse_saul(&mut tape, &[], datum, None).is_err());
}

/// T3: Plowman's strength, `A + B log10(M / 1000)` per cent of that at 28 days, with M in °C
/// hours; textbook form, a check of the maturity only. At 28 days and 18 °C by the textbook's
/// rounded 19,800 °C hours it is 100 %.
#[test]
fn plowman_takes_twenty_eight_days_for_the_whole() {
    let percent = |m: f64| 21.0 + 61.0 * (m / 1000.0).log10();
    near(
        percent(maturity(&[(5.0 * 24.0, 18.0)], -11.0)),
        54.04,
        0.005,
    );
    near(percent(8120.0), 76.48, 0.005);
    near(percent(19_800.0), 100.10, 0.005);
    near(percent(maturity(&[(28.0 * 24.0, 18.0)], -11.0)), 100.0, 0.5);
}

/// T5 and T7.
#[test]
fn cold_lengthens_a_wait_and_warmth_shortens_none() {
    for (celsius, equivalent, governing) in
        [(10.0, 87.7, 87.7), (20.0, 48.0, 48.0), (30.0, 27.3, 48.0)]
    {
        let mut tape = Tape::new();
        let here = input(&mut tape, celsius, "C");
        let reference = input(&mut tape, 20.0, "C");
        let activation = input(&mut tape, 5000.0, "K");
        let stated = input(&mut tape, 48.0, "h");
        let factor = age_factor(&mut tape, here, reference, activation, None).unwrap();
        let found = wait(&mut tape, stated, factor, None).unwrap();
        near(show(&tape, found.equivalent, "h"), equivalent, 0.05);
        near(show(&tape, found.governing, "h"), governing, 0.05);
    }
}

proptest::proptest! {
    #[test]
    fn a_stated_wait_is_never_cut(celsius in -10.0..50.0f64, hours in 1.0..400.0f64) {
        let mut tape = Tape::new();
        let here = input(&mut tape, celsius, "C");
        let reference = input(&mut tape, 20.0, "C");
        let activation = input(&mut tape, 5000.0, "K");
        let stated = input(&mut tape, hours, "h");
        let factor = age_factor(&mut tape, here, reference, activation, None).unwrap();
        let found = wait(&mut tape, stated, factor, None).unwrap();
        let [governing, stated] = [found.governing, stated].map(|node| tape.value(node).value);
        proptest::prop_assert!(governing >= stated);
    }
}
