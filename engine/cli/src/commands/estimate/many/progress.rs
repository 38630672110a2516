//! How far a long run is: a bar that is drawn over itself where somebody watches.

use std::io::{self, Write};
use std::time::{Duration, Instant};

/// Letters of the bar.
const BAR: usize = 30;
/// The bar is drawn no more often than this.
const PAUSE: Duration = Duration::from_millis(100);
/// Back to the first column, and all of the line away.
const CLEAR: &str = "\r\x1b[2K";

pub(super) struct Progress {
    /// How many there are; none where nobody watches.
    all: Option<usize>,
    done: usize,
    drawn: Option<Instant>,
}

impl Progress {
    pub(super) fn new(watched: bool, all: usize) -> Self {
        Self {
            all: watched.then_some(all),
            done: 0,
            drawn: None,
        }
    }

    /// One more is done.
    pub(super) fn step(&mut self, err: &mut dyn Write) -> io::Result<()> {
        self.done += 1;
        let Some(all) = self.all else {
            return Ok(());
        };
        if self.drawn.is_some_and(|drawn| drawn.elapsed() < PAUSE) {
            return Ok(());
        }
        self.drawn = Some(Instant::now());
        let filled = BAR * self.done.min(all) / all.max(1);
        let (full, empty) = ("#".repeat(filled), "-".repeat(BAR - filled));
        write!(err, "{CLEAR}[{full}{empty}] {} of {all} plans", self.done)?;
        err.flush()
    }

    /// Takes the bar away.
    pub(super) fn end(self, err: &mut dyn Write) -> io::Result<()> {
        match self.drawn {
            Some(_) => write!(err, "{CLEAR}"),
            None => Ok(()),
        }
    }
}
