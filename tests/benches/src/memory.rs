//! How much memory the process has held at most, as the system counts it; only Linux says so.

use std::fs;

/// The most memory so far, in bytes.
pub fn most() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kibibytes: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kibibytes * 1024)
}
