//! What is to be scheduled.

use super::calendar::Days;
use super::error::ScheduleError;

/// Something to be worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Activity {
    /// What the caller calls it; only for messages.
    pub label: String,
    /// Work in person-minutes. Zero is an event that takes no time.
    pub work: u64,
    /// The fewest people that can work on it, at least 1.
    pub least_people: u32,
    /// The most people that can work on it at once; more than the crew has counts as the crew.
    pub most_people: u32,
    /// The bags that it places, evenly with its work.
    pub bags: Option<Bags>,
    /// Whether it must begin and end on the same day.
    pub in_one_day: bool,
    /// What it holds of each resource of [`Problem::others`] while it runs; missing ones are 0.
    pub holds: Vec<u32>,
}

/// Bags of a mix.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bags {
    /// Which mix, counted from 0.
    pub mix: usize,
    /// How many bags.
    pub count: u32,
}

/// An activity that begins only so long after another has ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wait {
    /// The activity that ends.
    pub before: usize,
    /// The activity that begins.
    pub after: usize,
    /// Minutes of the clock, nights and weekends included, that lie between at least.
    pub minutes: u32,
}

/// Activities, what waits for what, and who is there to do it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// People in the crew.
    pub crew: u32,
    /// How much there is of each other resource: people of a class, a pump, scaffold lifts.
    pub others: Vec<u32>,
    /// The activities; they are named by their index.
    pub activities: Vec<Activity>,
    /// What waits for what.
    pub waits: Vec<Wait>,
}

/// Hours rounded up to whole minutes, so that no work is lost: `ceil(round(hours × 60, 6
/// decimals))`, which keeps an exact number of minutes from growing by binary noise. Negative
/// and undefined hours are no time.
pub fn minutes_up(hours: f64) -> u64 {
    let minutes = (hours * 60.0 * 1e6).round() / 1e6;
    // A cast of a float saturates and takes what is no number as 0.
    minutes.ceil() as u64
}

impl Problem {
    /// The most people that can be put on an activity.
    pub(super) fn most(&self, activity: &Activity) -> u32 {
        activity.most_people.min(self.crew)
    }
}

/// Finds what can never be worked on any of the days.
pub(super) fn check(problem: &Problem, days: &Days) -> Result<(), ScheduleError> {
    if problem.crew == 0 {
        return Err(ScheduleError::NoCrew);
    }
    for activity in &problem.activities {
        check_people(problem, activity)?;
        if let Some(bags) = activity.bags {
            let counted = bags.mix < days.mixes();
            if !counted || u64::from(bags.count) > activity.work {
                return Err(ScheduleError::Bags(activity.label.clone()));
            }
        }
        check_fit(problem, activity, days)?;
    }
    Ok(())
}

fn check_people(problem: &Problem, activity: &Activity) -> Result<(), ScheduleError> {
    if activity.least_people == 0 || activity.most_people < activity.least_people {
        return Err(ScheduleError::People(activity.label.clone()));
    }
    let capacities = std::iter::once(problem.crew).chain(problem.others.iter().copied());
    let needs = std::iter::once(activity.least_people).chain(activity.holds.iter().copied());
    for (needs, there) in needs.zip(capacities.chain(std::iter::repeat(0))) {
        if needs > there {
            return Err(ScheduleError::CrewTooSmall {
                label: activity.label.clone(),
                needs,
                there,
            });
        }
    }
    Ok(())
}

/// Whether some day takes it whole, or any of it where it can be split.
fn check_fit(problem: &Problem, activity: &Activity, days: &Days) -> Result<(), ScheduleError> {
    let most = u64::from(problem.most(activity));
    let (needed_bags, needed_work) = match (activity.bags, activity.in_one_day) {
        (Some(bags), true) => (bags.count, activity.work),
        (Some(bags), false) => (bags.count.min(1), 0),
        (None, true) => (0, activity.work),
        (None, false) => return Ok(()),
    };
    let mix = activity.bags.map(|bags| bags.mix);
    let takes_bags = |day: &&super::Day| mix.is_none_or(|mix| day.cap(mix) >= needed_bags);
    let takes_work = |day: &&super::Day| day.minutes().saturating_mul(most) >= needed_work;
    if !days.iter().any(|day| takes_work(&day)) {
        return Err(ScheduleError::LongerThanADay(activity.label.clone()));
    }
    if !days.iter().filter(takes_work).any(|day| takes_bags(&day)) {
        return Err(ScheduleError::BagsOverEveryDay(activity.label.clone()));
    }
    Ok(())
}
