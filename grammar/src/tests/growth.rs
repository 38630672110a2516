//! Whether work takes time in proportion to its size, by two sizes in one run. To hold a time against
//! a fixed one would tell of the machine.

use std::time::{Duration, Instant};

/// How many times as large the larger of both is. The smaller is done as many times, so that both take
/// equally long where time is in proportion, and whatever else a machine does delays both alike.
const TIMES: usize = 16;

/// How many times as long the larger may take. By the square of its size it takes 16 times as long.
const MOST: u32 = 6;

/// How often both are measured before that is believed.
const TRIES: usize = 8;

/// Looks that `work` takes time in proportion to its size at worst.
pub(crate) fn grows_in_proportion(what: &str, size: usize, work: impl Fn(usize)) {
    let timed = |times, size| {
        let start = Instant::now();
        (0..times).for_each(|_| work(size));
        start.elapsed()
    };
    let (mut small, mut large) = (Duration::MAX, Duration::MAX);
    let in_proportion = (0..TRIES).any(|_| {
        small = small.min(timed(TIMES, size / TIMES));
        large = large.min(timed(1, size));
        large <= small * MOST
    });
    assert!(
        in_proportion,
        "{what}: {small:?} for {TIMES} times, and {large:?} for {TIMES} times as much"
    );
}
