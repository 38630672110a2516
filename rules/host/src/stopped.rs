//! When a pack is given up: hooks that were stopped, and hooks that took long to fail.

use crate::bounds::{MAX_LOOKED_THROUGH, MAX_STEPS, MAX_STOPPED};
use parge_base::{Code, Diagnostic};

/// What a hook that failed had taken until then.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cost {
    /// Whether the run was out of time.
    pub(crate) out_of_time: bool,
    /// Its steps.
    pub(crate) steps: u64,
    /// Rows that its run had looked through.
    pub(crate) looked_through: usize,
}

/// The hooks of a pack that were stopped so far, over all its runs.
#[derive(Debug, Default)]
pub(crate) struct Stopped {
    count: usize,
    last: Option<Diagnostic>,
}

impl Stopped {
    /// Counts a hook that failed. One that a bound stopped counts, and so does one that failed by
    /// itself after more than a tenth of a bound: for thousands of faces it would take as long.
    /// Of time there is enough for one to run out of it.
    pub(crate) fn note(&mut self, said: &Diagnostic, cost: Cost) {
        let heavy = cost.steps > MAX_STEPS / 10 || cost.looked_through > MAX_LOOKED_THROUGH / 10;
        if cost.out_of_time {
            self.count = MAX_STOPPED;
        } else if said.code == Code::RuleLimit || heavy {
            self.count += 1;
        } else {
            return;
        }
        self.last = Some(said.clone());
    }

    /// What was said of the last one, once there are so many that the pack is given up.
    pub(crate) fn given_up(&self) -> Option<&Diagnostic> {
        self.last.as_ref().filter(|_| self.count >= MAX_STOPPED)
    }
}

#[cfg(test)]
mod tests;
