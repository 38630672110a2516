//! The critical path on the calendar, with as many people as an activity takes and nobody in its
//! way (Kelley & Walker 1959, with waits as in precedence diagramming).

use super::calendar::Days;
use super::error::ScheduleError;
use super::model::{self, Problem};
use super::network::Network;
use super::site::Site;
use jiff::civil::DateTime;

/// When an activity can lie at the earliest and at the latest, if nothing else took the crew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// Earliest start.
    pub earliest_start: DateTime,
    /// Earliest finish.
    pub earliest_finish: DateTime,
    /// Latest start that does not move the end.
    pub latest_start: DateTime,
    /// Latest finish that does not move the end.
    pub latest_finish: DateTime,
    /// Productive minutes between earliest and latest start.
    pub total_float: u64,
}

/// The critical path of all activities.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CriticalPath {
    /// By activity.
    pub spans: Vec<Span>,
    /// When the last one ends.
    pub end: DateTime,
}

/// The same in minutes.
#[derive(Debug, Clone)]
pub(super) struct Path {
    pub earliest_start: Vec<i64>,
    pub earliest_finish: Vec<i64>,
    pub latest_start: Vec<i64>,
    pub latest_finish: Vec<i64>,
    pub end: i64,
}

/// Forward and backward pass. An activity is alone on the site: it keeps to the working days, to
/// its own number of people and to the bags of a day, and waits for those before it.
///
/// # Errors
///
/// As [`plan`](super::plan).
pub fn critical_path(problem: &Problem, days: &Days) -> Result<CriticalPath, ScheduleError> {
    let network = Network::of(problem)?;
    model::check(problem, days)?;
    let path = walk(problem, &network, days)?;
    let span = |activity: usize| Span {
        earliest_start: days.moment(path.earliest_start[activity]),
        earliest_finish: days.moment(path.earliest_finish[activity]),
        latest_start: days.moment(path.latest_start[activity]),
        latest_finish: days.moment(path.latest_finish[activity]),
        total_float: days
            .worked_between(path.earliest_start[activity], path.latest_start[activity]),
    };
    Ok(CriticalPath {
        spans: (0..problem.activities.len()).map(span).collect(),
        end: days.moment(path.end),
    })
}

pub(super) fn walk(
    problem: &Problem,
    network: &Network,
    days: &Days,
) -> Result<Path, ScheduleError> {
    let site = Site::new(problem, days);
    let count = problem.activities.len();
    let mut path = Path {
        earliest_start: vec![0; count],
        earliest_finish: vec![0; count],
        latest_start: vec![0; count],
        latest_finish: vec![0; count],
        end: days.first_minute(),
    };
    for activity in network.order.iter().copied() {
        let ends = network.before.of_one(activity).iter();
        let ready = ends.map(|arc| path.earliest_finish[arc.other] + arc.wait);
        let ready = ready.max().unwrap_or(0).max(days.first_minute());
        let own = &problem.activities[activity];
        let found = site.find(own, ready);
        let found = found.ok_or_else(|| ScheduleError::BeyondHorizon(own.label.clone()))?;
        path.earliest_start[activity] = found.start;
        path.earliest_finish[activity] = found.end;
        path.end = path.end.max(found.end);
    }
    for activity in network.order.iter().rev().copied() {
        let starts = network.after.of_one(activity).iter();
        let due = starts.map(|arc| path.latest_start[arc.other] - arc.wait);
        let due = due.min().unwrap_or(path.end);
        let (start, finish) = latest(problem, &site, &path, activity, due);
        path.latest_start[activity] = start;
        path.latest_finish[activity] = finish;
    }
    Ok(path)
}

/// The latest start and finish of an activity that must have ended by a minute. To begin later
/// never ends sooner, so that the last start that is in time is found by halving.
fn latest(
    problem: &Problem,
    site: &Site<'_>,
    path: &Path,
    activity: usize,
    due: i64,
) -> (i64, i64) {
    let own = &problem.activities[activity];
    let mut best = (
        path.earliest_start[activity],
        path.earliest_finish[activity],
    );
    let (mut low, mut high) = (path.earliest_start[activity], due);
    while low <= high {
        let middle = low + (high - low) / 2;
        match site.find(own, middle).filter(|found| found.end <= due) {
            Some(found) => {
                best = (found.start, found.end);
                low = middle + 1;
            }
            None => high = middle - 1,
        }
    }
    best
}
