use super::*;

#[test]
fn the_handbook_pack_loads() {
    assert!(handbook().is_some());
}

#[test]
fn a_value_outside_the_rounding_fails() {
    let check = Check {
        id: "X1",
        what: "",
        expected: 10.5,
        tolerance: 0.05,
        source: "",
        how_sure: "",
        computed: Some(10.56),
    };
    assert!(!check.passes());
    assert!(
        !Check {
            computed: None,
            ..check.clone()
        }
        .passes(),
        "no value is no pass"
    );
    assert!(
        Check {
            computed: Some(10.55),
            ..check
        }
        .passes()
    );
}

#[test]
fn a_plan_that_cannot_be_read_gives_no_value() {
    assert_eq!(expression("2ft + 3ft2"), None);
    assert_eq!(expression("2ft +"), None);
    assert_eq!(
        net_area("rect 1ft x 1ft { opening o rect 2ft x 2ft }"),
        None
    );
}
