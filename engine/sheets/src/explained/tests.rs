use super::*;
use parge_base::Units;

fn quantity(number: f64, unit: &str) -> Quantity {
    Units::standard()
        .parse(unit)
        .unwrap()
        .quantity(number)
        .unwrap()
}

#[test]
fn figures_are_shown_in_the_units_of_the_job() {
    let shown = |number, unit| {
        let value = Value::Quantity(quantity(number, unit));
        [UnitSystem::Us, UnitSystem::Metric].map(|system| figure(value, None, system).text())
    };
    assert_eq!(shown(0.75, "in"), ["0.75 in", "19.05 mm"]);
    assert_eq!(shown(12.0, "ft2"), ["12 ft²", "1.115 m²"]);
    assert_eq!(shown(0.06, "h/ft2"), ["0.06 h/ft²", "0.6458 h/m²"]);
    assert_eq!(shown(0.45, "ft3/bag"), ["0.45 ft³/bag", "0.012743 m³/bag"]);
    assert_eq!(shown(86.0, "F"), ["86 F", "30 C"]);
    assert_eq!(shown(12345.5, "1"), ["12,345.5", "12,345.5"]);
    assert_eq!(shown(3.0, "1/ft2")[0], "3 1/ft²");
    let gallons = Units::standard().parse("gal").unwrap();
    let value = Value::Quantity(quantity(4.0, "gal"));
    assert_eq!(
        figure(value, Some(&gallons), UnitSystem::Us).text(),
        "4 gal"
    );
}
