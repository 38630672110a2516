use super::*;
use parge_base::Units;

fn used(written: f64, unit: &str, pack: Option<f64>) -> Used {
    let unit = Units::standard().parse(unit).unwrap();
    Used {
        line: Line::Material("sealer".to_owned()),
        words: "Sealer".to_owned(),
        expected: unit.quantity(7.5).unwrap(),
        used: unit.quantity(written).unwrap(),
        pack: pack.map(|size| unit.quantity(size).unwrap()),
        unit,
    }
}

/// Two pails of 5 gal were opened: 7.5 gal were used, give or take 5 / sqrt(12) of them.
#[test]
fn the_last_of_opened_packs_is_half_used() {
    let pails = used(10.0, "gal", Some(5.0));
    assert!(pails.off().unwrap().abs() < 1e-12);
    assert!((pails.coarse() - 5.0 / 12f64.sqrt() / 7.5).abs() < 1e-12);
}

#[test]
fn a_measured_amount_is_as_fine_as_it_is_written() {
    assert!((used(10.0, "gal", None).coarse() - 0.1 / 12f64.sqrt()).abs() < 1e-12);
    assert!((used(7.5, "gal", None).coarse() - 0.5 / 7.5 / 12f64.sqrt()).abs() < 1e-12);
    assert_eq!(used(7.123, "gal", None).coarse(), 0.0);
}

#[test]
fn nothing_used_has_no_share() {
    assert_eq!(used(0.0, "gal", None).off(), None);
}

#[test]
fn packs_are_whole_or_not() {
    let gallons = |value| {
        Units::standard()
            .parse("gal")
            .unwrap()
            .quantity(value)
            .unwrap()
    };
    assert!(are_whole(gallons(10.0), gallons(5.0)));
    assert!(!are_whole(gallons(9.0), gallons(5.0)));
    assert!(!are_whole(gallons(0.0), gallons(5.0)));
}
