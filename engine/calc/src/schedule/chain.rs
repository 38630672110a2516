//! The chain that the end of a schedule hangs on, read off the schedule itself: for schedules that
//! do not fit between their begin and their end once all is put as late as it goes, so that
//! nothing can be said of their float that way.

use super::calendar::Days;
use super::network::Network;
use super::serial::Schedule;

/// For each activity the minutes of the clock by which it can end later: none in the chain, and
/// for the others up to what waits for them or to the end, whether people are free or not.
///
/// In the chain stands what ends last; what something in the chain waits for without a working
/// minute to spare; and what ends just where something in the chain begins, for it had the people.
pub(super) fn slack(network: &Network, days: &Days, schedule: &Schedule) -> Vec<i64> {
    let in_chain = chain(network, days, schedule);
    let slack = schedule.placements.iter().enumerate().map(|(at, placed)| {
        if in_chain.get(at).copied().unwrap_or(true) {
            return 0;
        }
        let waiting = network.after.of_one(at).iter();
        let starts = waiting.filter_map(|arc| {
            let later = schedule.placements.get(arc.other)?;
            Some(later.start - arc.wait)
        });
        let until = starts.min().unwrap_or(schedule.end).min(schedule.end);
        // It is not in the chain, so a minute does no harm.
        (until - placed.end).max(1)
    });
    slack.collect()
}

fn chain(network: &Network, days: &Days, schedule: &Schedule) -> Vec<bool> {
    let placements = &schedule.placements;
    let mut by_end: Vec<usize> = (0..placements.len()).collect();
    let end_of = |at: usize| placements.get(at).map_or(i64::MIN, |placed| placed.end);
    by_end.sort_by_key(|at| end_of(*at));
    let mut found = vec![false; placements.len()];
    let last = by_end.iter().copied();
    let mut open: Vec<usize> = last.filter(|at| end_of(*at) == schedule.end).collect();
    while let Some(at) = open.pop() {
        if std::mem::replace(&mut found[at], true) {
            continue;
        }
        let start = placements[at].start;
        let no_time = |from: i64| from <= start && days.worked_between(from, start) == 0;
        let awaited = network.before.of_one(at).iter();
        let awaited = awaited.filter(|arc| no_time(end_of(arc.other) + arc.wait));
        open.extend(awaited.map(|arc| arc.other));
        let before = by_end.partition_point(|other| end_of(*other) <= start);
        let ending_here = by_end.iter().take(before).rev();
        open.extend(
            ending_here
                .take_while(|other| no_time(end_of(**other)))
                .filter(|other| **other != at),
        );
    }
    found
}
