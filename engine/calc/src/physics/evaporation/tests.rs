use super::super::dew_point::saturation_pressure;
use super::super::testing::{input, near, show};
use super::*;

const RATE: &str = "lb/ft2/h";

fn readings(tape: &mut Tape, mix: (f64, &str), air: (f64, &str), r: f64, wind: f64) -> Readings {
    let wind_unit = if air.1 == "C" { 1.0 / 1.609344 } else { 1.0 };
    Readings {
        mix: input(tape, mix.0, mix.1),
        air: input(tape, air.0, air.1),
        humidity: input(tape, r, "1"),
        wind: input(tape, wind * wind_unit, "mph"),
    }
}

fn by_inch_pound(mix: f64, air: f64, r: f64, mph: f64) -> f64 {
    let mut tape = Tape::new();
    let of = readings(&mut tape, (mix, "F"), (air, "F"), r, mph);
    let found = inch_pound(&mut tape, of, None).unwrap();
    show(&tape, found.rate, RATE)
}

/// E4: each form on its own. The same weather gives 1.189 kg/m2/h by the one; the published 1.15 is
/// by the other, with its rounded readings (31 °C, 27 °C, 19 km/h).
#[test]
fn the_two_forms_differ_by_three_percent() {
    let mut tape = Tape::new();
    let of = readings(&mut tape, (87.0, "F"), (80.0, "F"), 0.5, 12.0);
    let inch = inch_pound(&mut tape, of, None).unwrap();
    near(show(&tape, inch.rate, RATE), 0.2435, 0.00005);
    near(show(&tape, inch.rate, "kg/m2/h"), 1.189, 0.0005);
    let si = metric(&mut tape, of, None).unwrap();
    let gap = show(&tape, inch.rate, RATE) / show(&tape, si.rate, RATE);
    assert!((1.02..1.05).contains(&gap), "{gap}");

    let of = readings(&mut tape, (31.0, "C"), (27.0, "C"), 0.5, 19.0);
    let si = metric(&mut tape, of, None).unwrap();
    near(show(&tape, si.rate, "kg/m2/h"), 1.15, 0.005);
}

/// E7: the inch-pound form in exact metric units has no gap.
#[test]
fn the_inch_pound_form_in_exact_metric_units_is_itself() {
    for (mix, air, r, wind) in [(87.0, 80.0, 0.5, 12.0), (95.0, 100.0, 0.1, 25.0)] {
        let c = |f: f64| (f - 32.0) / 1.8 + 32.0 / 1.8;
        let v = wind * 1.609344;
        let scale = 1.8f64.powf(2.5) * (0.4 / 1.609344) * 4.882428;
        let exact = scale * (c(mix).powf(2.5) - r * c(air).powf(2.5)) * (v + 4.02336) * 1e-6;
        let got = by_inch_pound(mix, air, r, wind) * 4.882428;
        near(got, exact, 1e-6);
    }
}

/// E6: Menzel's formula (1954), `0.44 (e0 - r ea) (0.253 + 0.096 V)` with psi and mph, is
/// another one altogether. From memory; within 4 % of the program's.
#[test]
fn menzel_comes_to_the_same_within_four_percent() {
    let psi = |f: f64| saturation_pressure((f - 32.0) / 1.8) / 6894.757293;
    for (mix, air, r, wind, printed) in [
        (87.0, 80.0, 0.5, 12.0, 0.236),
        (90.0, 80.0, 0.5, 10.0, 0.238),
        (90.0, 80.0, 0.5, 20.0, 0.426),
    ] {
        let menzel = 0.44 * (psi(mix) - r * psi(air)) * (0.253 + 0.096 * wind);
        // Its own saturation pressures are the Magnus formula's, half a percent off the tables.
        near(menzel, printed, 0.0005 + 0.005 * printed);
        let got = by_inch_pound(mix, air, r, wind);
        assert!((got / menzel - 1.0).abs() < 0.04, "{got} {menzel}");
    }
}

/// E11: less than nothing is no evaporation, and is flagged.
#[test]
fn moisture_that_condenses_is_no_evaporation() {
    let mut tape = Tape::new();
    let of = readings(&mut tape, (10.0, "C"), (35.0, "C"), 0.9, 10.0);
    let found = metric(&mut tape, of, None).unwrap();
    near(show(&tape, found.formula, "kg/m2/h"), -0.998, 0.0005);
    assert_eq!(show(&tape, found.rate, "kg/m2/h"), 0.0);
    assert!(found.condensation);
    let found = inch_pound(&mut tape, of, None).unwrap();
    assert!(found.condensation && show(&tape, found.rate, RATE) == 0.0);
}

#[test]
fn more_wind_and_drier_air_take_more_water() {
    let start = by_inch_pound(80.0, 84.0, 0.4, 9.0);
    assert!(by_inch_pound(80.0, 84.0, 0.4, 10.0) > start);
    assert!(by_inch_pound(80.0, 84.0, 0.3, 9.0) > start);
    assert!(by_inch_pound(85.0, 84.0, 0.4, 9.0) > start);
}

#[test]
fn readings_outside_of_the_formula_have_no_value() {
    for (mix, air, r) in [(-5.0, 40.0, 0.5), (40.0, -5.0, 0.5), (80.0, 80.0, 1.2)] {
        let mut tape = Tape::new();
        let of = readings(&mut tape, (mix, "F"), (air, "F"), r, 5.0);
        let error = inch_pound(&mut tape, of, None).unwrap_err();
        assert!(matches!(error, PhysicsError::OutOfRange(..)), "{error}");
    }
    let mut tape = Tape::new();
    let mut of = readings(&mut tape, (80.0, "F"), (80.0, "F"), 0.5, 5.0);
    of.wind = of.mix;
    assert!(inch_pound(&mut tape, of, None).is_err(), "a wind of 80 F");
}

/// What is on the tape is all of it: for other weather the tape gives the same bits.
#[test]
fn the_tape_replays() {
    let mut tape = Tape::new();
    let of = readings(&mut tape, (87.0, "F"), (80.0, "F"), 0.5, 12.0);
    let found = inch_pound(&mut tape, of, None).unwrap();
    let mut other = Tape::new();
    let also = readings(&mut other, (91.0, "F"), (99.0, "F"), 0.2, 7.0);
    let inputs = [also.mix, also.air, also.humidity, also.wind].map(|node| other.value(node));
    let replay = tape.replay(&inputs).unwrap();
    let again = inch_pound(&mut other, also, None).unwrap();
    assert_eq!(replay.value(found.rate), other.value(again.rate));
}
