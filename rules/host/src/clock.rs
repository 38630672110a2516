//! The one clock of the rules: how long a run may take. Only the host looks at it; no script can.
//!
//! The script engine is one for all threads and says of its progress only how many steps a call
//! has taken, so what bounds a run is kept by the thread that runs it.

use parge_base::number::round_to;
use std::cell::Cell;
use std::fmt;
use std::time::{Duration, Instant};

#[derive(Debug, Clone, Copy)]
struct Running {
    /// None where the limit lies beyond what the clock can count.
    end: Option<Instant>,
    limit: Duration,
}

thread_local! {
    static RUNNING: Cell<Option<Running>> = const { Cell::new(None) };
    /// Steps of the hook that runs, by themselves since they are noted at every one.
    static STEPS_TAKEN: Cell<u64> = const { Cell::new(0) };
}

/// Bounds what runs on this thread, for as long as it is held.
pub(crate) struct Watch(());

impl Watch {
    pub(crate) fn start(limit: Duration) -> Self {
        let end = Instant::now().checked_add(limit);
        RUNNING.set(Some(Running { end, limit }));
        STEPS_TAKEN.set(0);
        Self(())
    }

    /// The steps that the last hook took.
    pub(crate) fn steps(&self) -> u64 {
        STEPS_TAKEN.get()
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        RUNNING.set(None);
    }
}

/// A run took longer than it may.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OutOfTime(Duration);

impl fmt::Display for OutOfTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = round_to(self.0.as_secs_f64(), 3);
        write!(
            f,
            "the rules ran longer than the {seconds} s that they may take; the computer may be busy"
        )
    }
}

/// Whether the run of this thread is out of time. What no run has started never is.
pub(crate) fn passed() -> Option<OutOfTime> {
    let Running { end, limit } = RUNNING.get()?;
    (Instant::now() >= end?).then_some(OutOfTime(limit))
}

/// The clock is looked at once in so many steps, from the first on: a step takes less time than
/// looking.
const STEPS: u64 = 32;

/// Notes how many steps the hook has taken; now and then the same answer as [`passed`].
pub(crate) fn progress(steps: u64) -> Option<OutOfTime> {
    STEPS_TAKEN.set(steps);
    match steps % STEPS {
        1 => passed(),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
