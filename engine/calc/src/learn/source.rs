//! What the source column says of a value that past jobs taught.

use jiff::civil::Date;

/// Stands before the value that a row had before own jobs moved it.
const BEFORE: &str = "before";

/// `own jobs: 7 jobs, 2025-03-02 to 2026-08-14; before 10`: from how many jobs of which days a value
/// comes, and what it was before any own job moved it, in the unit of the row. What is learned
/// later begins there anew, with all jobs, so that no job counts twice.
pub fn source(jobs: usize, days: Option<(Date, Date)>, before: Option<f64>) -> String {
    let jobs = match jobs {
        1 => "1 job".to_owned(),
        more => format!("{more} jobs"),
    };
    let days = match days {
        None => "days not recorded".to_owned(),
        Some((first, last)) => format!("{first} to {last}"),
    };
    let before = before.map_or(String::new(), |before| format!("; {BEFORE} {before}"));
    format!("own jobs: {jobs}, {days}{before}")
}

/// The value before own jobs moved it, of what stands behind `own jobs:`.
pub(super) fn before(jobs: &str) -> Option<f64> {
    let (_, before) = jobs.rsplit_once(';')?;
    let value = before.trim().strip_prefix(BEFORE)?;
    let value: f64 = value.trim().parse().ok()?;
    (value.is_finite() && value >= 0.0).then_some(value)
}

#[cfg(test)]
mod tests;
