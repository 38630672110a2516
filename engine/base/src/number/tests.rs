use super::*;
use proptest::prelude::*;

#[test]
fn rounds_up_without_being_fooled_by_binary_noise() {
    assert_eq!(whole_up(0.1 * 3.0 * 10.0), 3.0, "plain ceil gives 4");
    assert_eq!(whole_up(14.000_000_000_000_002), 14.0);
    assert_eq!(whole_up(14.000_000_1), 15.0);
    assert_eq!(whole_up(0.0), 0.0);
}

/// Y10 of the published checks: one tutorial rounds 9.22 bags down to 9, which is wrong.
#[test]
fn bags_always_round_up() {
    let bags = [494.2, 10.5, 9.22, 0.85].map(whole_up);
    assert_eq!(bags, [495.0, 11.0, 10.0, 1.0]);
}

#[test]
fn rounds_half_away_from_zero() {
    assert_eq!(round_to(1.005, 2), 1.01);
    assert_eq!(round_to(-1.005, 2), -1.01);
    assert_eq!(round_to(2.5, 0), 3.0);
    assert_eq!(round_to(1e300, 2), 1e300);
}

proptest! {
    /// Against exact whole arithmetic: n/d built from integers, so the true quotient is known.
    #[test]
    fn agrees_with_exact_rationals(n in 0u64..10_000_000, d in 1u64..10_000) {
        prop_assert_eq!(whole_up(n as f64 / d as f64), n.div_ceil(d) as f64);
    }
}
