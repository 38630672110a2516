use super::*;

#[test]
fn a_number_keeps_its_digits_and_its_sign_binds() {
    let said = [0.0, 0.1, 1.0 / 3.0, -2.5, 1e-12, 1e20, PI, 2.0 * PI].map(number);
    let wanted = [
        "0",
        "0.1",
        "0.3333333333333333",
        "(-2.5)",
        "1E-12",
        "1E20",
        "PI()",
        "(2*PI())",
    ];
    assert_eq!(said, wanted);
}
