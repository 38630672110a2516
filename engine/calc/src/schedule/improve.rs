//! Better priority lists: forward-backward passes (Tormos & Lova 2001) on lists that are sampled
//! and changed a little again and again (Kolisch & Hartmann 1999), with a fixed seed and count.

use super::calendar::Days;
use super::critical_path::Path;
use super::error::ScheduleError;
use super::model::Problem;
use super::network::Network;
use super::serial::{Schedule, list_by, priorities, serial};
use std::cmp::Reverse;

/// What a plan is to be good at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aim {
    /// Fewest days; then fewest people summed over the days; then the earliest end.
    Days,
    /// The earliest end; then fewest people summed over the days.
    Minutes,
}

/// How long and for what is searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Search {
    /// How many lists are tried beyond those of the rules.
    pub rounds: u32,
    /// What is better.
    pub aim: Aim,
}

impl Default for Search {
    fn default() -> Self {
        Self {
            rounds: 400,
            aim: Aim::Days,
        }
    }
}

const SEED: u64 = 1;

/// After so many lists without gain a new one is sampled.
const PATIENCE: u32 = 25;

/// Forward-backward passes on one list at most; each must gain to be followed by another.
const PASSES: u32 = 4;

/// Splitmix64 (Steele, Lea & Flood 2014).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// A number below a limit, 0 for the limit 0.
    fn below(&mut self, limit: usize) -> usize {
        let wide = u128::from(self.next()) * limit as u128;
        (wide >> 64) as usize
    }
}

/// A schedule with everything as late as it goes up to a minute of its last day, in mirrored time.
pub(super) fn latest(
    problem: &Problem,
    mirrored: &Network,
    days: &Days,
    schedule: &Schedule,
    end: i64,
) -> Option<Schedule> {
    let days = days.mirrored(schedule.last_day()?, end);
    serial(problem, mirrored, &days, &by_end(schedule, mirrored)).ok()
}

/// The activities of a schedule, the last that ends first.
fn by_end(schedule: &Schedule, network: &Network) -> Vec<usize> {
    let mut list = network.order.clone();
    let key = |activity: &usize| Reverse(schedule.placements[*activity].end);
    list.sort_by_key(|activity| (key(activity), network.rank[*activity]));
    list
}

struct Improver<'a> {
    problem: &'a Problem,
    network: &'a Network,
    mirrored: Network,
    days: &'a Days,
    aim: Aim,
    random: Random,
}

/// The best schedule that is found.
pub(super) fn improve(
    problem: &Problem,
    network: &Network,
    days: &Days,
    path: &Path,
    search: Search,
) -> Result<Schedule, ScheduleError> {
    let mut improver = Improver {
        problem,
        network,
        mirrored: network.mirrored(),
        days,
        aim: search.aim,
        random: Random(SEED),
    };
    let rule = priorities(network, path);
    let first = list_by(network, &rule, |_| 0);
    let beyond =
        |activity: usize| ScheduleError::BeyondHorizon(problem.activities[activity].label.clone());
    let first = serial(problem, network, days, &first).map_err(beyond)?;
    let mut best = improver.justified(first);
    for list in improver.other_rules(path) {
        improver.take_better(&mut best, &list);
    }
    improver.search(&mut best, &rule, path, search.rounds);
    Ok(best)
}

impl Improver<'_> {
    /// What a schedule is judged by; less is better.
    fn score(&self, schedule: &Schedule) -> (i64, u64, i64) {
        match self.aim {
            Aim::Days => (schedule.last_date(), schedule.crew_days, schedule.end),
            Aim::Minutes => (schedule.end, schedule.crew_days, 0),
        }
    }

    /// Lists by latest start, by most followers, and by most work.
    fn other_rules(&self, path: &Path) -> [Vec<usize>; 3] {
        let followers = self.network.followers();
        let most: Vec<_> = followers.into_iter().map(Reverse).collect();
        let work = self.problem.activities.iter().map(|own| Reverse(own.work));
        [
            list_by(self.network, &path.latest_start, |_| 0),
            list_by(self.network, &most, |_| 0),
            list_by(self.network, &work.collect::<Vec<_>>(), |_| 0),
        ]
    }

    /// Schedules a list with its forward-backward passes.
    fn decode(&self, list: &[usize]) -> Option<Schedule> {
        let schedule = serial(self.problem, self.network, self.days, list).ok()?;
        Some(self.justified(schedule))
    }

    fn take_better(&self, best: &mut Schedule, list: &[usize]) {
        if let Some(found) = self.decode(list)
            && self.score(&found) < self.score(best)
        {
            *best = found;
        }
    }

    /// Forward-backward passes for as long as they gain.
    fn justified(&self, mut schedule: Schedule) -> Schedule {
        for _ in 0..PASSES {
            let Some(next) = self.pass(&schedule) else {
                break;
            };
            if self.score(&next) >= self.score(&schedule) {
                break;
            }
            schedule = next;
        }
        schedule
    }

    /// Everything as late as it goes on the same days, then everything as early as it goes in the
    /// order of those late starts. The late schedule only serves for its order.
    fn pass(&self, schedule: &Schedule) -> Option<Schedule> {
        let late = latest(self.problem, &self.mirrored, self.days, schedule, i64::MAX)?;
        let forward = by_end(&late, self.network);
        serial(self.problem, self.network, self.days, &forward).ok()
    }

    fn search<K: Ord + Copy>(&mut self, best: &mut Schedule, rule: &[K], path: &Path, rounds: u32) {
        let mut current = best.clone();
        let mut idle = 0;
        for _ in 0..rounds {
            if self.aim == Aim::Minutes && best.end == path.end {
                break;
            }
            let restart = idle >= PATIENCE;
            let list = if restart {
                self.sampled(rule)
            } else {
                self.changed(&current.list)
            };
            let Some(found) = self.decode(&list) else {
                continue;
            };
            idle = if restart || self.score(&found) < self.score(&current) {
                0
            } else {
                idle + 1
            };
            if restart || self.score(&found) <= self.score(&current) {
                current = found;
            }
            if self.score(&current) < self.score(best) {
                *best = current.clone();
            }
        }
    }

    /// A list that follows the rule more or less: the better of two draws each time.
    fn sampled<K: Ord + Copy>(&mut self, rule: &[K]) -> Vec<usize> {
        let (network, random) = (self.network, &mut self.random);
        list_by(network, rule, |ready| {
            random.below(ready).min(random.below(ready))
        })
    }

    /// A list with up to three activities moved to where their waits still allow them.
    fn changed(&mut self, list: &[usize]) -> Vec<usize> {
        let mut list = list.to_vec();
        for _ in 0..=self.random.below(3) {
            let from = self.random.below(list.len());
            let Some(activity) = list.get(from).copied() else {
                break;
            };
            let waits = |arcs: &[super::network::Arc], other: &usize| {
                arcs.iter().any(|arc| arc.other == *other)
            };
            let before = self.network.before.of_one(activity);
            let after = self.network.after.of_one(activity);
            let low = list
                .iter()
                .take(from)
                .rposition(|other| waits(before, other));
            let low = low.map_or(0, |place| place + 1);
            let high = list.iter().skip(from).position(|other| waits(after, other));
            let high = high.map_or(list.len(), |place| from + place);
            list.remove(from);
            list.insert(low + self.random.below(high - low), activity);
        }
        list
    }
}
