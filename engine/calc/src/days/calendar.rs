//! Steps put on dates: from hours to minutes, from links to waits, and back from the schedule to
//! days of work.

use super::weather::WeatherAnswers;
use super::{Day, Link, Planned, Site, Step, Work};
use crate::job::Job;
use crate::schedule::{
    Activity, Aim, Bags, CalendarRules, Days, Placed, Plan, Problem, ScheduleError, Search, Wait,
    minutes_up, plan,
};
use jiff::civil::{Date, DateTime, Time, Weekday, date};
use parge_base::number::whole_up;
use parge_base::{Code, Diagnostic};
use std::collections::BTreeMap;
use std::fmt::Display;

/// The days of work, and when each step is done.
pub(super) struct Dated {
    pub(super) planned: Vec<Planned>,
    pub(super) days: Vec<Day>,
}

/// Seconds in an hour and in a minute.
const HOUR: f64 = 3600.0;
const MINUTE: f64 = 60.0;

/// A Monday that stands for the first day on site where the plan states none. It is never shown.
const A_MONDAY: Date = date(2001, 1, 1);

/// The days of a week.
const WEEK: [Weekday; 7] = [
    Weekday::Monday,
    Weekday::Tuesday,
    Weekday::Wednesday,
    Weekday::Thursday,
    Weekday::Friday,
    Weekday::Saturday,
    Weekday::Sunday,
];

/// Steps times lists that are tried beyond those of the rules. A job of five structures, some forty
/// steps, is tried ten times over, which takes a few milliseconds; from some hundred steps on the
/// lists of the rules must do, each with its forward-backward passes.
const EFFORT: u32 = 420;
/// The most lists that are tried.
const MOST_ROUNDS: u32 = 60;

/// The one mix of the schedule: whether a day takes coats is the same for all of them.
const ANY_MIX: usize = 0;

/// Plans the steps; what keeps them from being planned in words.
pub(super) fn put_on_dates(
    job: &Job,
    site: &Site,
    steps: &[Step],
    links: &[Link],
    weather: &WeatherAnswers,
) -> Result<Dated, Box<Diagnostic>> {
    let found = days_of(job, site, weather).and_then(|days| {
        // Of a job beyond all measure this is known before anything is laid out for it.
        days.hold(
            steps.iter().map(|step| u128::from(minutes(step))).sum(),
            site.crew,
        )?;
        let problem = problem(job, site, steps, links);
        let count = u32::try_from(steps.len()).unwrap_or(u32::MAX);
        let search = Search {
            rounds: (EFFORT / count.max(1)).min(MOST_ROUNDS),
            aim: Aim::Days,
        };
        plan(&problem, &days, search)
    });
    match found {
        Ok(plan) => Ok(dated(job, steps, &plan)),
        Err(error) => Err(Box::new(unplanned(job, &error))),
    }
}

fn problem(job: &Job, site: &Site, steps: &[Step], links: &[Link]) -> Problem {
    let activities = steps.iter().map(|step| Activity {
        label: label(job, step),
        work: minutes(step),
        least_people: 1,
        most_people: site.crew,
        bags: coats(step),
        in_one_day: false,
        holds: Vec::new(),
    });
    let waits = links.iter().map(|link| Wait {
        before: link.before,
        after: link.after,
        // A wait longer than a century of minutes is beyond the calendar anyway.
        minutes: minutes_up(link.wait.value / HOUR).min(u64::from(u32::MAX)) as u32,
    });
    Problem {
        crew: site.crew,
        others: Vec::new(),
        activities: activities.collect(),
        waits: waits.collect(),
    }
}

/// The work of a step in person-minutes.
fn minutes(step: &Step) -> u64 {
    let seconds = step.work().map_or(0.0, |work| work.value);
    minutes_up(seconds / HOUR)
}

fn label(job: &Job, step: &Step) -> String {
    let phases: Vec<&str> = step.phases.iter().map(|(phase, _)| &**phase).collect();
    let phases = phases.join(", ");
    match step.structure {
        Some(number) => format!("{phases} of {}", job.structure_name(number)),
        None => format!("{phases} of the whole job"),
    }
}

/// That a step places coats, as a bag for the schedule: a day that takes no coats takes no bag,
/// and nothing else is counted in bags there.
fn coats(step: &Step) -> Option<Bags> {
    (!step.mixed.is_empty()).then_some(Bags {
        mix: ANY_MIX,
        count: 1,
    })
}

fn days_of(job: &Job, site: &Site, weather: &WeatherAnswers) -> Result<Days, ScheduleError> {
    let calendar = &job.calendar;
    let off = calendar.holidays.iter().chain(&calendar.lost);
    let rules = CalendarRules {
        start: calendar.start.map_or(A_MONDAY, |start| start.node),
        weekdays: WEEK
            .into_iter()
            .filter(|day| calendar.has_weekday(*day))
            .collect(),
        off: off.map(|date| date.node).collect(),
        begin: 0,
    };
    // Whole minutes, none of them lost to binary noise.
    let minutes = -whole_up(-site.productive.value / MINUTE) as u32;
    let cap = |date: Date, _: usize| {
        // Where the weather of the job takes no coats at all, the work must be kept warm, and the
        // days are planned so; the warning of it is said elsewhere.
        let too_cold = weather.no_coats(date) && !weather.never_coats();
        too_cold.then_some(0)
    };
    Days::lay_out(&rules, 1, |_| minutes, cap)
}

/// That there is no day plan, and why.
pub(super) fn unplanned(job: &Job, why: &dyn Display) -> Diagnostic {
    let message = format!(
        "the days of work cannot be planned: {why}; nothing is counted for travel, setting up and the weather of days"
    );
    let help = "check `crew`, `hours`, `workdays`, `after` and the weather of the plan, and the waits of the pack";
    Diagnostic::new(Code::NotPlanned, message, help).at(job.span, "")
}

fn dated(job: &Job, steps: &[Step], plan: &Plan) -> Dated {
    let is_dated = job.calendar.start.is_some();
    let mut days: BTreeMap<Date, Day> = BTreeMap::new();
    for usage in &plan.days {
        let number = days.len() + 1;
        let label = if is_dated {
            usage.date.to_string()
        } else {
            format!("day {number}")
        };
        let day = Day {
            date: usage.date,
            label,
            work: Vec::new(),
            people: usage.people,
            weather: job.weather_of(usage.date),
            asked: None,
        };
        days.insert(usage.date, day);
    }
    for (step, placed) in plan.placed.iter().enumerate() {
        let whole: u64 = placed.pieces.iter().map(|piece| piece.work).sum();
        for piece in &placed.pieces {
            if let Some(day) = days.get_mut(&piece.date) {
                day.work.push(Work {
                    step,
                    from: minute_of(piece.date, piece.from),
                    to: minute_of(piece.date, piece.until),
                    people: piece.people,
                    share: piece.work as f64 / whole.max(1) as f64,
                });
            }
        }
    }
    for day in days.values_mut() {
        day.work.sort_by_key(|work| (work.from, work.step));
    }
    Dated {
        planned: plan.placed.iter().take(steps.len()).map(planned).collect(),
        days: days.into_values().collect(),
    }
}

fn planned(placed: &Placed) -> Planned {
    Planned {
        first: placed.start.date(),
        last: placed
            .pieces
            .last()
            .map_or(placed.start.date(), |piece| piece.date),
        float: placed.float,
        critical: placed.critical,
    }
}

/// Minutes from the midnight in which a day begins; the one in which it ends is its last.
fn minute_of(day: Date, moment: DateTime) -> u32 {
    let minutes = moment
        .duration_since(day.to_datetime(Time::midnight()))
        .as_mins();
    u32::try_from(minutes).unwrap_or(0)
}
