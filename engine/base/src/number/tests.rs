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

/// Numbers of all sizes, near and far from where they would be rounded otherwise.
fn any_number() -> impl Strategy<Value = f64> {
    let steps = (-2_000_000i64..2_000_000, 0u32..10, -4i64..5);
    let near = steps.prop_map(|(whole, decimals, ulps)| {
        let x = whole as f64 / 2.0 / 10f64.powi(decimals as i32);
        f64::from_bits(x.to_bits().wrapping_add_signed(ulps))
    });
    let noisy = (-1e7..1e7f64, -9i32..1).prop_map(|(x, power)| x.round() + 10f64.powi(power));
    prop_oneof![
        near,
        noisy,
        -1e3..1e3f64,
        -1e15..1e15f64,
        -1e-8..1e-8f64,
        prop::num::f64::NORMAL,
        Just(0.0),
        Just(-0.0),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(20_000))]

    #[test]
    fn what_is_rounded_at_once_is_what_the_decimal_gives(x in any_number(), decimals in 0u32..12) {
        let exact = by_decimal(x, decimals);
        prop_assert_eq!(round_to(x, decimals).to_bits(), exact.to_bits(), "{} to {}", x, decimals);
        let up = by_decimal(x, NOISE_DECIMALS).ceil();
        prop_assert_eq!(whole_up(x).to_bits(), up.to_bits(), "{} up", x);
    }
}
