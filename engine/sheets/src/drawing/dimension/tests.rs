use super::*;

/// A dimension is never broken over two lines.
fn words(metres: f64, units: UnitSystem) -> String {
    let text = dimension(metres, units);
    assert!(!text.contains(' '), "{text}");
    text.replace(HARD_BLANK, " ")
}

#[test]
fn feet_and_inches_as_the_trade_writes_them() {
    let feet = [
        (22.0 + 4.0 / 12.0, "22'-4\""),
        (8.0, "8'-0\""),
        (0.5, "6\""),
        (0.0, "0\""),
        (1.0 / 24.0, "1/2\""),
        (12.0 + 6.75 / 12.0, "12'-6 3/4\""),
        // A sixteenth below a foot is rounded to eleven inches and fifteen sixteenths.
        (1.0 - 1.0 / 192.0, "11 15/16\""),
        (0.9999, "1'-0\""),
    ];
    for (feet, wanted) in feet {
        assert_eq!(words(feet * 0.3048, UnitSystem::Us), wanted);
    }
    assert_eq!(words(3.81, UnitSystem::Metric), "3.810 m");
    assert_eq!(words(0.0125, UnitSystem::Metric), "0.013 m");
}
