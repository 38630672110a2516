//! What no plan can beat.

use super::calendar::Days;
use super::critical_path::Path;
use super::model::Problem;

/// The minute before which no plan ends: the critical path, the crew's whole time, and the bags
/// that the days allow.
pub(super) fn bound(problem: &Problem, days: &Days, path: &Path) -> i64 {
    let bags = (0..days.mixes()).map(|mix| bags_bound(problem, days, mix));
    bags.chain([path.end, energy_bound(problem, days)])
        .max()
        .unwrap_or(path.end)
}

/// The first minute by which the whole crew could have done all work.
fn energy_bound(problem: &Problem, days: &Days) -> i64 {
    let crew = u128::from(problem.crew.max(1));
    let work = problem.activities.iter().map(|own| u128::from(own.work));
    let mut left = work.sum::<u128>().div_ceil(crew);
    for day in days.iter() {
        let minutes = u128::from(day.minutes());
        if left <= minutes {
            let minutes = u64::try_from(left).unwrap_or(0);
            return if left == 0 {
                days.first_minute()
            } else {
                day.from.saturating_add_unsigned(minutes)
            };
        }
        left -= minutes;
    }
    days.first_minute()
}

/// The first productive minute of the day by which all bags of a mix can be placed.
fn bags_bound(problem: &Problem, days: &Days, mix: usize) -> i64 {
    let bags = problem.activities.iter().filter_map(|own| own.bags);
    let of_mix = bags.filter(|bags| bags.mix == mix);
    let mut left: u64 = of_mix.map(|bags| u64::from(bags.count)).sum();
    for day in days.iter() {
        left = left.saturating_sub(u64::from(day.cap(mix)));
        if left == 0 {
            return day.from;
        }
    }
    days.first_minute()
}
