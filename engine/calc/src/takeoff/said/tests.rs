use super::*;
use parge_base::Quantity;

fn job() -> Subject {
    let quantity = |number: f64, unit: &str| -> Quantity {
        Units::standard()
            .parse(unit)
            .unwrap()
            .quantity(number)
            .unwrap()
    };
    let values = [
        (
            "evaporation",
            Value::Quantity(quantity(0.2435, "lb/ft2/h"), None),
        ),
        ("air", Value::Quantity(quantity(84.4, "F"), None)),
        ("wind", Value::Absent),
    ];
    Subject {
        kind: "job".into(),
        values: values.map(|(name, value)| (name.into(), value)).to_vec(),
    }
}

#[test]
fn figures_stand_in_the_units_asked_for() {
    let said = filled(
        "about {evaporation lb/ft2/h} ({evaporation kg/m2/h}) at {air F}",
        Some(&job()),
    );
    assert_eq!(said.unwrap(), "about 0.24 lb/ft2/h (1.2 kg/m2/h) at 84 F");
    assert_eq!(filled("no figure", None).unwrap(), "no figure");
    assert_eq!(filled("an open { stays", None).unwrap(), "an open { stays");
}

#[test]
fn a_figure_that_is_not_there_is_a_fault_and_no_blank() {
    for text in [
        "{wind mph}",
        "{gusts mph}",
        "{air kg}",
        "{air paces}",
        "{air}",
    ] {
        let fault = filled(text, Some(&job())).unwrap_err();
        assert!(fault.message.contains(text), "{}", fault.message);
    }
    assert!(filled("{air F}", None).is_err());
}
