use super::*;
use parge_base::{Currency, Dim};

#[test]
fn areas_and_lengths_come_in_the_units_of_the_job() {
    let wall = Quantity {
        value: 0.09290304 * 160.0,
        dim: Dim::AREA,
    };
    assert_eq!(area(wall, UnitSystem::Us), (160.0, "ft2"));
    assert_eq!(area(wall, UnitSystem::Metric), (14.8644864, "m2"));
    let edge = Quantity {
        value: 0.3048 * 8.0,
        dim: Dim::LENGTH,
    };
    assert_eq!(length(edge, UnitSystem::Us), (8.0, "ft"));
    assert_eq!(length(edge, UnitSystem::Metric), (2.4384, "m"));
}

#[test]
fn the_status_counts_the_open_lines() {
    assert_eq!(status(0), "COMPLETE");
    assert_eq!(status(1), "INCOMPLETE: 1 line has no price");
    assert_eq!(status(3), "INCOMPLETE: 3 lines have no price");
}

#[test]
fn prices_keep_the_digits_of_the_book() {
    let price = |text: &str, code: &str| {
        Money::new(text.parse().unwrap(), Currency::from_code(code).unwrap())
    };
    assert_eq!(price_decimals(price("12.5", "USD")), 2);
    assert_eq!(price_decimals(price("0.0345", "USD")), 4);
    assert_eq!(price_decimals(price("1250.00", "JPY")), 0);
}
