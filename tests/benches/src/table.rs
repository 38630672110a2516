//! The table that the benches print: a line a stage.

use std::fmt;
use std::time::Duration;

/// A stage of a plan of some size.
#[derive(Debug)]
pub struct Line {
    /// What is done.
    pub stage: &'static str,
    /// The faces of the plan.
    pub faces: usize,
    /// How long it takes.
    pub time: Duration,
    /// The most memory that the process has held up to the end of the stage, in bytes.
    pub memory: Option<u64>,
    /// What the same takes at best, and what that is.
    pub floor: Option<(Duration, &'static str)>,
}

/// The head of the table.
pub const HEAD: &str =
    "stage                   faces       time     a face    memory  memory a face   ratio  to";

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let faces = self.faces.max(1) as f64;
        write!(
            f,
            "{:<18} {:>10} {:>8.2}ms {:>8.0}ns",
            self.stage,
            self.faces,
            self.time.as_secs_f64() * 1e3,
            self.time.as_nanos() as f64 / faces
        )?;
        match self.memory {
            Some(bytes) => write!(
                f,
                " {:>7.0}MB {:>12.0} B",
                bytes as f64 / 1e6,
                bytes as f64 / faces
            )?,
            None => write!(f, " {:>9} {:>14}", "", "")?,
        }
        if let Some((floor, what)) = self.floor {
            let ratio = self.time.as_secs_f64() / floor.as_secs_f64().max(1e-12);
            write!(f, " {ratio:>7.2}  {what}")?;
        }
        Ok(())
    }
}
