use super::super::testing::{input, near, show};
use super::*;

fn at(celsius: f64, humidity: f64) -> Outcome<f64> {
    let mut tape = Tape::new();
    let air = input(&mut tape, celsius, "C");
    let humidity = input(&mut tape, humidity, "1");
    dew_point(&mut tape, air, humidity, None).map(|node| show(&tape, node, "C"))
}

/// D5: psychrolib 2.5.0 (ASHRAE Handbook 2017), `GetTDewPointFromRelHum`, SI units. Another
/// formula, so within 0.02 °C.
#[test]
fn agrees_with_an_independent_library() {
    for (air, humidity, oracle) in [
        (20.0, 0.50, 9.272),
        (25.0, 0.60, 16.701),
        (25.0, 0.50, 13.864),
        (30.0, 0.70, 23.928),
        (10.0, 0.80, 6.713),
    ] {
        near(at(air, humidity).unwrap(), oracle, 0.02);
    }
}

/// D6, for the formula's own saturation pressure: ASHRAE's values at 5, 25 and 50 °C are
/// 872.6, 3169.7 and 12351.3 Pa; Magnus is within half a percent.
#[test]
fn saturation_pressure_is_near_the_tables() {
    for (celsius, pascal) in [(5.0, 872.6), (25.0, 3169.7), (50.0, 12351.3)] {
        let got = saturation_pressure(celsius);
        assert!((got / pascal - 1.0).abs() < 0.005, "{got} at {celsius}");
    }
}

/// D7.
#[test]
fn saturated_air_is_at_its_dew_point() {
    for air in [-20.0, 0.0, 9.5, 35.0] {
        near(at(air, 1.0).unwrap(), air, 1e-9);
    }
}

/// D7.
#[test]
fn air_without_moisture_has_no_dew_point() {
    for humidity in [0.0, -0.1, 1.01] {
        let error = at(20.0, humidity).unwrap_err();
        assert!(matches!(error, PhysicsError::OutOfRange(..)));
        assert!(
            error
                .to_string()
                .starts_with("the humidity must be over 0 %")
        );
    }
}

/// D1: 5 F over a dew point of 57 F is 62 F, exactly.
#[test]
fn the_margin_goes_on_top() {
    let mut tape = Tape::new();
    let dew = input(&mut tape, 57.0, "F");
    let margin = input(&mut tape, 25.0 / 9.0, "K");
    let coldest = coldest_surface(&mut tape, dew, margin, None).unwrap();
    near(show(&tape, coldest, "F"), 62.0, 1e-9);
}

proptest::proptest! {
    /// Never over the air's temperature, and higher in moister air.
    #[test]
    fn lies_below_the_air(air in -30.0..50.0f64, humidity in 0.01..0.99f64) {
        let low = at(air, humidity).unwrap();
        proptest::prop_assert!(low < air);
        proptest::prop_assert!(at(air, humidity + 0.01).unwrap() > low);
    }
}
