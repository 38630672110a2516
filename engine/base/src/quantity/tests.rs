use super::*;
use crate::unit::Units;

fn q(value: f64, unit: &str) -> Quantity {
    Units::standard()
        .parse(unit)
        .unwrap()
        .quantity(value)
        .unwrap()
}

#[test]
fn unlike_kinds_are_refused_in_the_estimators_words() {
    let wrong = q(2.0, "ft2").plus(q(1.0, "ft")).unwrap_err();
    assert_eq!(wrong.to_string(), "an area cannot be added to a length");
    let wrong = q(2.0, "ft2").minus(q(1.0, "ft")).unwrap_err();
    assert_eq!(
        wrong.to_string(),
        "a length cannot be subtracted from an area"
    );
    assert!(q(1.0, "bag").plus(q(1.0, "roll")).is_err());
    assert!(q(1.0, "ft").order(Quantity::plain(1.0)).is_err());
}

#[test]
fn rates_give_back_what_they_rate() {
    let bags = q(9.0, "ft3").over(q(0.45, "ft3/bag")).unwrap();
    assert_eq!(bags.dim, q(1.0, "bag").dim);
    assert!((bags.value - 20.0).abs() < 1e-12);
}

#[test]
fn nothing_divides_by_zero_or_overflows() {
    assert_eq!(
        q(1.0, "ft").over(Quantity::plain(0.0)),
        Err(QuantityError::DivisionByZero)
    );
    assert_eq!(
        q(1e200, "m").times(q(1e200, "m")),
        Err(QuantityError::NotFinite)
    );
    assert_eq!(
        Quantity::plain(-1.0).root(),
        Err(QuantityError::NoRoot(Dim::NONE))
    );
}

#[test]
fn powers_and_roots_carry_the_dimension() {
    assert_eq!(
        q(3.0, "m").power(Quantity::plain(2.0)).unwrap(),
        q(9.0, "m2")
    );
    assert_eq!(q(9.0, "m2").root().unwrap(), q(3.0, "m"));
    assert!(q(3.0, "m").power(Quantity::plain(0.5)).is_err());
    assert!(q(3.0, "m").power(q(1.0, "m")).is_err());
}
