//! The plan as it is read: pieces of each activity, and what each day takes.

use super::bounds::bound;
use super::calendar::Days;
use super::chain;
use super::critical_path::Path;
use super::error::ScheduleError;
use super::improve;
use super::model::Problem;
use super::network::Network;
use super::serial::Schedule;
use super::site::Stint;
use jiff::civil::{Date, DateTime};
use std::collections::BTreeMap;

/// A stretch of one day with the same number of people on an activity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// The day.
    pub date: Date,
    /// From when.
    pub from: DateTime,
    /// Until when.
    pub until: DateTime,
    /// People on it.
    pub people: u32,
    /// Person-minutes of work; up to a minute of all people less than the time they are there.
    pub work: u64,
}

/// Where an activity lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placed {
    /// When it begins.
    pub start: DateTime,
    /// When it ends.
    pub end: DateTime,
    /// Its pieces in order; none when it takes no work.
    pub pieces: Vec<Piece>,
    /// The bags it opens, by day.
    pub bags: BTreeMap<Date, u32>,
    /// Productive minutes by which it can begin later so that the plan ends no later: how much
    /// later it lies with all put as late as they go. This is the float with this crew; the float
    /// without regard to the crew is [`Span::total_float`](super::Span::total_float). By delaying
    /// one alone more can be won. Where all put late do not fit, it is the time up to what waits
    /// for it, and none for what the end hangs on.
    pub float: u64,
    /// Whether it has no float.
    pub critical: bool,
}

/// What a working day takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayUse {
    /// The day.
    pub date: Date,
    /// Person-minutes worked.
    pub work: u64,
    /// Person-minutes that the whole crew has on it.
    pub available: u64,
    /// The most people that work at once.
    pub people: u32,
    /// Bags of each mix.
    pub bags: Vec<u32>,
}

/// When everything is worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// By activity.
    pub placed: Vec<Placed>,
    /// The days on which something is worked, in order.
    pub days: Vec<DayUse>,
    /// When the last activity ends.
    pub end: DateTime,
    /// No plan ends before this: critical path, the crew's time, the bags a day.
    pub bound: DateTime,
}

pub(super) fn outcome(
    problem: &Problem,
    network: &Network,
    days: &Days,
    path: &Path,
    schedule: Schedule,
) -> Result<Plan, ScheduleError> {
    let floats = floats(problem, network, days, &schedule);
    let placed = schedule.placements.iter().zip(floats);
    let placed = placed.map(|(placement, float)| Placed {
        start: days.moment(placement.start),
        end: days.moment(placement.end),
        pieces: placement
            .stints
            .iter()
            .flat_map(|stint| pieces(days, stint))
            .collect(),
        bags: placement
            .stints
            .iter()
            .filter(|stint| stint.bags > 0)
            .map(|stint| (days.date(stint.day), stint.bags))
            .collect(),
        float: days.worked_between(placement.start, placement.start + float),
        critical: float == 0,
    });
    Ok(Plan {
        placed: placed.collect(),
        days: day_uses(problem, days, &schedule),
        end: days.moment(schedule.end),
        bound: days.moment(bound(problem, days, path)),
    })
}

fn pieces<'a>(days: &'a Days, stint: &'a Stint) -> impl Iterator<Item = Piece> + 'a {
    stint.slices.iter().map(|slice| Piece {
        date: days.date(stint.day),
        from: days.moment(slice.from),
        until: days.moment(slice.until),
        people: slice.people,
        work: slice.work,
    })
}

/// Minutes of the clock by which each activity can begin later.
fn floats(problem: &Problem, network: &Network, days: &Days, schedule: &Schedule) -> Vec<i64> {
    let latest = improve::latest(problem, &network.mirrored(), days, schedule, schedule.end);
    // All put late may need more days than there are: a stint that ends with the day forwards may
    // not do so backwards.
    let Some(latest) = latest else {
        return chain::slack(network, days, schedule);
    };
    // What ran forwards in the mirror began where it ends there.
    let starts = schedule.placements.iter().zip(&latest.placements);
    starts
        .map(|(here, late)| (-late.end - here.start).max(0))
        .collect()
}

fn day_uses(problem: &Problem, days: &Days, schedule: &Schedule) -> Vec<DayUse> {
    let mut uses: BTreeMap<usize, DayUse> = BTreeMap::new();
    let mut changes: BTreeMap<usize, BTreeMap<i64, i64>> = BTreeMap::new();
    for (activity, placement) in problem.activities.iter().zip(&schedule.placements) {
        for stint in &placement.stints {
            let minutes = days.get(stint.day).map_or(0, super::Day::minutes);
            let own = uses.entry(stint.day).or_insert_with(|| DayUse {
                date: days.date(stint.day),
                work: 0,
                available: minutes.saturating_mul(u64::from(problem.crew)),
                people: 0,
                bags: vec![0; days.mixes()],
            });
            let changes = changes.entry(stint.day).or_default();
            for slice in &stint.slices {
                own.work += slice.work;
                *changes.entry(slice.from).or_default() += i64::from(slice.people);
                *changes.entry(slice.until).or_default() -= i64::from(slice.people);
            }
            let mix = activity.bags.and_then(|bags| own.bags.get_mut(bags.mix));
            if let Some(bags) = mix {
                *bags += stint.bags;
            }
        }
    }
    for (day, own) in &mut uses {
        let steps = changes.get(day).into_iter().flat_map(BTreeMap::values);
        let levels = steps.scan(0_i64, |there, step| {
            *there += step;
            Some(*there)
        });
        own.people = levels
            .max()
            .and_then(|most| most.try_into().ok())
            .unwrap_or(0);
    }
    uses.into_values().collect()
}
