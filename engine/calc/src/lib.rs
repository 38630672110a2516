//! From a plan to an estimate, one stage after the other, each a function from one type to the
//! next that also returns its diagnostics and keeps going past what is wrong:
//!
//! [`resolve::resolve`] → [`job::Job`] → [`measure::measure`] → [`measure::Measured`] →
//! [`takeoff::take_off`] → [`takeoff::Takeoff`] → [`pool::pool`] and [`price::price`] →
//! [`price::Estimate`] → [`alternates::with_alternates`].

pub mod actuals;
pub mod alternates;
pub mod change;
pub mod charges;
pub mod checks;
pub mod contract;
pub mod crew;
pub mod days;
pub mod draft;
pub mod elevation;
pub mod estimate_class;
pub mod expect;
pub mod explain;
pub mod job;
pub mod layout;
pub mod learn;
pub mod live;
pub mod measure;
mod origins;
pub mod parts;
pub mod physics;
pub mod pool;
pub mod price;
pub mod resolve;
pub mod schedule;
pub mod slips;
pub mod stages;
pub mod takeoff;
pub mod whatif;

#[cfg(test)]
#[path = "testing/tests.rs"]
mod testing;
