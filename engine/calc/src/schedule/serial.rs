//! The serial schedule generation scheme: one activity after the other from a priority list, each
//! at the earliest place that is left (Kelley 1963; Kolisch 1996).

use super::calendar::{DAY, Days};
use super::critical_path::Path;
use super::model::Problem;
use super::network::Network;
use super::site::{Placement, Site};
use std::cmp::Reverse;

/// A schedule, by activity, with what it is judged by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Schedule {
    pub placements: Vec<Placement>,
    /// The list it was made from.
    pub list: Vec<usize>,
    /// When the last activity ends.
    pub end: i64,
    /// The most people at once on each day, summed over the days.
    pub crew_days: u64,
}

impl Schedule {
    /// The number of the calendar day on which it ends.
    pub fn last_date(&self) -> i64 {
        (self.end - 1).div_euclid(DAY)
    }

    /// The last working day on which something is done.
    pub fn last_day(&self) -> Option<usize> {
        let stints = self
            .placements
            .iter()
            .flat_map(|placement| &placement.stints);
        stints.map(|stint| stint.day).max()
    }
}

/// Schedules a list in which none comes before what it waits for; none when an activity is not
/// done by the last day.
pub(super) fn serial(
    problem: &Problem,
    network: &Network,
    days: &Days,
    list: &[usize],
) -> Result<Schedule, usize> {
    let mut site = Site::new(problem, days);
    let first = days.first_minute();
    let nowhere = Placement {
        start: first,
        end: first,
        stints: Vec::new(),
    };
    let mut placements = vec![nowhere; problem.activities.len()];
    for activity in list.iter().copied() {
        let ends = network.before.of_one(activity).iter();
        let ready = ends.map(|arc| placements[arc.other].end + arc.wait);
        let ready = ready.max().unwrap_or(first);
        let activity_itself = &problem.activities[activity];
        let found = site
            .find(activity_itself, ready.max(first))
            .ok_or(activity)?;
        site.book(activity_itself, &found);
        placements[activity] = found;
    }
    let end = placements.iter().map(|placement| placement.end).max();
    Ok(Schedule {
        end: end.unwrap_or(first),
        crew_days: site.crew_days(),
        list: list.to_vec(),
        placements,
    })
}

/// A list by a rule: of those that wait for nothing unplaced, `choose` takes one, given how many
/// there are in the order of the rule.
pub(super) fn list_by<K: Ord + Copy>(
    network: &Network,
    rule: &[K],
    mut choose: impl FnMut(usize) -> usize,
) -> Vec<usize> {
    let mut open = network.before.counts();
    let free = (0..open.len()).filter(|activity| open[*activity] == 0);
    let mut ready: Vec<(K, usize)> = free.map(|activity| (rule[activity], activity)).collect();
    ready.sort_unstable();
    let mut list = Vec::with_capacity(open.len());
    while !ready.is_empty() {
        let place = choose(ready.len()).min(ready.len() - 1);
        let (_, activity) = ready.remove(place);
        list.push(activity);
        for arc in network.after.of_one(activity) {
            open[arc.other] -= 1;
            if open[arc.other] == 0 {
                let entry = (rule[arc.other], arc.other);
                let place = ready.partition_point(|other| *other < entry);
                ready.insert(place, entry);
            }
        }
    }
    list
}

/// The priority rule: latest finish first, then most followers; ties by index.
pub(super) type Priority = (i64, Reverse<usize>);

/// The priority of each activity.
pub(super) fn priorities(network: &Network, path: &Path) -> Vec<Priority> {
    let followers = network.followers();
    let due = path.latest_finish.iter().copied();
    due.zip(followers.into_iter().map(Reverse)).collect()
}
