use super::*;
use proptest::prelude::*;

#[test]
fn sizes_are_written_as_short_as_they_can_be() {
    let sizes = [
        0.0,
        0.0001,
        0.05,
        0.1,
        0.3,
        0.75,
        1.0,
        8.25,
        10.0,
        12.0001,
        1850.0,
        0.1 + 0.2,
        1.0 / 3.0,
        99999.9999,
        9_999_999_999.0,
        1e10,
        123_456_789_012.5,
        1e300,
        f64::INFINITY,
    ];
    for size in sizes {
        assert_eq!(shortest(size), size.to_string());
    }
}

proptest! {
    #[test]
    fn any_size_is_written_as_short_as_it_can_be(
        bits in any::<u64>(),
        parts in 0_u64..200_000_000_000_000,
        power in 0..7,
    ) {
        for size in [f64::from_bits(bits).abs(), parts as f64 / 10_f64.powi(power)] {
            prop_assert_eq!(shortest(size), size.to_string());
        }
    }
}
