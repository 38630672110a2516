//! Times of what is done again and again.

use std::time::{Duration, Instant};

/// Once this much time is spent, what was timed three times is timed no more.
const ENOUGH: Duration = Duration::from_millis(600);
/// A run so long is not repeated.
const LONG: Duration = Duration::from_secs(5);
/// Runs at most.
const MOST: usize = 200;

/// The median time of what `work` does with what `ready` makes, which is not timed.
pub fn median<T, U, E>(
    mut ready: impl FnMut() -> Result<T, E>,
    mut work: impl FnMut(T) -> Result<U, E>,
) -> Result<Duration, E> {
    let (mut times, mut spent) = (Vec::new(), Duration::ZERO);
    while times.len() < MOST {
        let given = ready()?;
        let start = Instant::now();
        let made = work(given)?;
        let time = start.elapsed();
        drop(made);
        times.push(time);
        spent += time;
        if time > LONG || (spent > ENOUGH && times.len() >= 3) {
            break;
        }
    }
    times.sort_unstable();
    Ok(times.get(times.len() / 2).copied().unwrap_or_default())
}
