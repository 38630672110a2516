//! Exit codes.

use std::process::ExitCode;

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// All is well.
    Fine = 0,
    /// There are problems in the user's files; an incomplete estimate is one.
    Problems = 1,
    /// The command was used wrongly.
    Usage = 2,
    /// A file could not be read or written, or the program itself failed.
    Failed = 3,
    /// A check failed.
    CheckFailed = 4,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}
