use super::*;
use proptest::prelude::*;

fn unit(text: &str) -> Unit {
    Units::standard().parse(text).unwrap()
}

fn one(text: &str) -> f64 {
    unit(text).quantity(1.0).unwrap().value
}

/// Exact factors of NIST SP 811 (2008) appendix B.8 and NIST Handbook 44 appendix C.
#[test]
fn factors_are_exact() {
    assert_eq!(one("in"), 0.0254);
    assert_eq!(one("ft"), 0.3048);
    assert_eq!(one("yd"), 0.9144);
    assert_eq!(one("ft2"), 0.09290304);
    assert_eq!(one("yd2"), 0.83612736);
    assert_eq!(one("ft3"), 0.028316846592);
    assert_eq!(one("yd3"), 0.764554857984);
    assert_eq!(one("gal"), 0.003785411784);
    assert_eq!(one("qt"), 0.000946352946);
    assert_eq!(one("lb"), 0.45359237);
    assert_eq!(one("oz"), 0.028349523125);
    assert_eq!(one("mph"), 0.44704);
    assert_eq!(one("%"), 0.01);
}

#[test]
fn rates_keep_numerator_and_denominator_apart() {
    let yields = unit("ft3/bag");
    assert_eq!(
        yields.dim(),
        Dim::VOLUME
            .over(Dim::item(Item::new("bag").unwrap()))
            .unwrap()
    );
    assert_eq!(one("1/ft2"), 1.0 / 0.09290304);
    assert_eq!(one("h/ft2"), 3600.0 / 0.09290304);
    assert_eq!(unit("USD/h").dim(), Dim::MONEY.over(Dim::TIME).unwrap());
    assert_eq!(unit("lb/ft2/h").dim().symbols(), "kg/m2/s");
}

#[test]
fn thermometers_have_an_offset_and_stand_alone() {
    let boiling = unit("F").quantity(212.0).unwrap();
    assert!((boiling.value - 373.15).abs() < 1e-9);
    assert_eq!(unit("C").quantity(20.0).unwrap().value, 293.15);
    let wrong = Units::standard().parse("F/h").unwrap_err();
    assert_eq!(wrong, UnitError::TemperatureInRate);
}

#[test]
fn spellings_of_the_trade_are_understood_and_slips_named() {
    assert_eq!(one("sf"), one("ft2"));
    assert_eq!(one("m²"), one("m2"));
    let wrong = Units::standard().parse("ft3/bga").unwrap_err().to_string();
    assert_eq!(wrong, "`bga` is no known unit; did you mean `bag`?");
    assert_eq!(Units::standard().parse(" ").unwrap_err(), UnitError::Empty);
    assert!(Units::standard().parse("lb2").is_err());
}

proptest! {
    #[test]
    fn showing_undoes_reading(value in -1e9..1e9f64) {
        for text in ["in", "ft2", "gal", "lb/ft3", "F", "%"] {
            let unit = unit(text);
            let back = unit.show(unit.quantity(value).unwrap()).unwrap();
            prop_assert!((back - value).abs() <= 1e-9 * value.abs().max(1.0), "{text}: {back}");
        }
    }

    #[test]
    fn no_text_is_too_odd_to_be_refused(text in "\\PC{0,12}") {
        let _ = Units::standard().parse(&text);
    }
}
