use super::*;
use parge_base::Currency;
use proptest::prelude::*;

#[test]
fn lengths_in_feet_and_inches() {
    let cases = [
        (0.0, "0in"),
        (0.0254, "1in"),
        (0.3048, "1ft"),
        (2.0 * 0.3048 + 8.0 * 0.0254, "2ft 8in"),
        (32.0 * 0.0254, "2ft 8in"),
        (12.0 * 0.3048 + 6.75 * 0.0254, "12ft 6 3/4in"),
        (0.75 * 0.0254, "3/4in"),
        (1.5 * 0.0254, "1 1/2in"),
        (0.0625 * 0.0254, "1/16in"),
        (11.9375 * 0.0254, "11 15/16in"),
        (-1.5 * 0.0254, "-1 1/2in"),
        (3.2, "10ft 5.9843in"),
        (0.02, "0.7874in"),
        (1e-9, "0in"),
        // Nearly two feet: decimals that round up to a whole foot are carried.
        (24.0 * 0.0254 - 1e-7, "2ft"),
    ];
    for (metres, text) in cases {
        assert_eq!(feet_inches(metres), text, "{metres} m");
    }
}

#[test]
fn lengths_in_metres() {
    let cases = [
        (0.0, "0mm"),
        (0.02, "20mm"),
        (0.8125, "812.5mm"),
        (1.0, "1.000m"),
        (3.81, "3.810m"),
        (6.8072, "6.8072m"),
        (-2.5, "-2.500m"),
    ];
    for (length, text) in cases {
        assert_eq!(metres(length), text, "{length} m");
    }
}

#[test]
fn other_kinds_in_the_units_of_the_job() {
    let quantity = |value, dim| Value::Quantity(Quantity { value, dim });
    let money = Money::new(
        "26.155".parse().unwrap(),
        Currency::from_code("USD").unwrap(),
    );
    let cases = [
        (Value::text("matte"), "matte", "matte"),
        (Value::Share(0.6), "60%", "60%"),
        (Value::Angle(std::f64::consts::FRAC_PI_2), "90deg", "90deg"),
        (quantity(1.15, Dim::NONE), "1.15", "1.15"),
        (
            quantity(273.15 + 52.0 * 5.0 / 9.0, Dim::TEMPERATURE),
            "84F",
            "28.8889C",
        ),
        (quantity(4.02336, Dim::SPEED), "9mph", "4.0234m/s"),
        (quantity(9.290304, Dim::AREA), "100ft2", "9.2903m2"),
        (quantity(5400.0, Dim::TIME), "1.5h", "1.5h"),
        (Value::Price(money), "26.155 USD", "26.155 USD"),
    ];
    for (value, us, metric) in cases {
        assert_eq!(value.words(UnitSystem::Us), us);
        assert_eq!(value.words(UnitSystem::Metric), metric);
    }
}

#[test]
fn values_are_the_same_within_a_billionth() {
    let length = |value| Value::Quantity(Quantity::new(value, Dim::LENGTH).unwrap());
    assert!(length(32.0 * 0.0254).same(&length(2.0 * 0.3048 + 8.0 * 0.0254)));
    assert!(length(0.0).same(&length(1e-17)));
    assert!(!length(1.0).same(&length(1.000_001)));
    assert!(!length(1.0).same(&Value::Share(1.0)));
    assert!(!Value::text("a").same(&Value::text("b")));
}

proptest! {
    /// What is written is the length, to the last digit shown.
    #[test]
    fn feet_and_inches_say_the_length(sixteenths in 0u32..2_000_000) {
        let text = feet_inches(f64::from(sixteenths) / 16.0 * 0.0254);
        let mut inches = 0.0;
        for part in text.trim_end_matches("in").split(' ') {
            inches += match (part.strip_suffix("ft"), part.split_once('/')) {
                (Some(feet), _) => 12.0 * feet.parse::<f64>().unwrap(),
                (_, Some((top, bottom))) => {
                    top.parse::<f64>().unwrap() / bottom.parse::<f64>().unwrap()
                }
                _ => part.parse::<f64>().unwrap(),
            };
        }
        prop_assert_eq!(inches, f64::from(sixteenths) / 16.0, "{}", text);
    }
}
