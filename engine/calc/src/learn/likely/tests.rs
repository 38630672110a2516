use super::*;
use statrs::distribution::StudentsT;

#[test]
fn the_closed_form_of_t_is_that_of_the_library() {
    let t = StudentsT::new(0.0, 1.0, super::super::model::TAILS).unwrap();
    for share in [0.001, 0.1, 0.37, 0.5, 0.6, 0.95, 0.9999] {
        let (own, library) = (t_of_four(share), t.inverse_cdf(share));
        assert!(
            (own - library).abs() < 1e-6 * library.abs().max(1.0),
            "{own} {library}"
        );
    }
}

#[test]
fn a_quantile_lies_between_its_neighbours() {
    let sorted = [10.0, 20.0, 40.0];
    assert_eq!(quantile(&sorted, 0.5), 20.0);
    assert_eq!(quantile(&sorted, 0.75), 30.0);
    assert_eq!(quantile(&sorted, 1.0), 40.0);
}

#[test]
fn a_share_of_the_variance_is_a_squared_correlation() {
    let a = [1.0, 2.0, 3.0, 4.0];
    assert_eq!(explained(&a, &[2.0, 4.0, 6.0, 8.0]), 1.0 - 0.25);
    assert_eq!(explained(&a, &[1.0, -1.0, -1.0, 1.0]), 0.0);
    assert_eq!(explained(&a, &[5.0; 4]), 0.0, "nothing varies");
}
