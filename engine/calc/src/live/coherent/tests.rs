use super::*;
use parge_base::Units;

#[test]
fn a_rate_has_the_number_that_is_written_in_the_units_of_the_system() {
    let usd = Currency::from_code("USD").unwrap();
    let units = Units::standard();
    for (system, unit, written) in [
        (UnitSystem::Us, "ft3/bag", 0.45),
        (UnitSystem::Us, "h/ft2", 0.033),
        (UnitSystem::Us, "lb/ft2", 12.0),
        (UnitSystem::Metric, "m3/bag", 0.0127),
        (UnitSystem::Metric, "kg/m2", 17.0),
    ] {
        let quantity = units.parse(unit).unwrap().quantity(written).unwrap();
        let system = System::new(system, usd);
        assert!((system.value(quantity) - written).abs() < 1e-12 * written);
        assert_eq!(system.unit(quantity.dim), unit);
    }
}
