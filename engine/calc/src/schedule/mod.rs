//! When what is worked: activities with waits between them, laid out over the working days of a
//! crew. Combinatorics only; nothing here knows packs, phases or estimates.
//!
//! **Time** is whole minutes of the clock, counted from midnight of the start date, so that all
//! arithmetic is exact. Work is whole person-minutes; who has hours as a broken number rounds up
//! to minutes with [`minutes_up`]. Times are local and floating: the change of summer time is
//! not looked at. A working day is one unbroken stretch of productive minutes from its begin.
//!
//! **How an activity runs.** On a day it runs in one unbroken stint, from where it begins until its
//! work is done, its bags of the day are placed or the day ends, with at least its least and at
//! most its greatest number of people, as many as are free. What is left goes on in a later day.
//! A bag that is opened counts on the day it is opened. Only least waits are known; a greatest
//! wait between two activities is not.
//!
//! **Method.** Critical path with waits on the calendar ([`critical_path`]); serial schedule
//! generation by latest finish, then most followers, then index; forward-backward improvement
//! and a search over priority lists of fixed seed and count (Kolisch 1996; Tormos & Lova 2001).
//! The plan is good and feasible, not proven shortest: [`Plan::bound`] says what no plan can beat.

mod bounds;
mod calendar;
mod chain;
mod critical_path;
mod error;
mod improve;
mod model;
mod network;
mod outcome;
mod serial;
mod site;

pub use calendar::{CalendarRules, Day, Days, HORIZON_DAYS};
pub use critical_path::{CriticalPath, Span, critical_path};
pub use error::ScheduleError;
pub use improve::{Aim, Search};
pub use model::{Activity, Bags, Problem, Wait, minutes_up};
pub use outcome::{DayUse, Piece, Placed, Plan};

use network::Network;

/// The plan of a problem on its days: always the same for the same input.
///
/// # Errors
///
/// What can never be worked, a circle among the waits, or work beyond the last of the days.
pub fn plan(problem: &Problem, days: &Days, search: Search) -> Result<Plan, ScheduleError> {
    let network = Network::of(problem)?;
    model::check(problem, days)?;
    let path = critical_path::walk(problem, &network, days)?;
    let best = improve::improve(problem, &network, days, &path, search)?;
    outcome::outcome(problem, &network, days, &path, best)
}

#[cfg(test)]
mod tests;
