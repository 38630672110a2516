//! The form of the day plan within the JSON of an estimate; see [`crate::wire`].

use crate::wire::Measure;
use crate::wire_rows::Rows;
use crate::wire_takes::TakesWire;
use serde::Serialize;

/// Which work is done on which day.
#[derive(Debug, Serialize)]
pub struct DaysWire<'a> {
    /// Whether the days have dates.
    pub dated: bool,
    /// People in the crew.
    pub crew: u32,
    /// The time of a day in which work goes on.
    pub productive: Measure<'static>,
    /// What is to be done.
    pub steps: Rows<'a, StepWire<'a>>,
    /// The days of work.
    pub days: Rows<'a, DayWire<'a>>,
    /// What is mixed on them.
    pub batches: Rows<'a, BatchWire<'a>>,
}

/// Phases of a structure that are done together.
#[derive(Debug, Serialize)]
pub struct StepWire<'a> {
    /// The structure.
    pub structure: Option<&'a str>,
    /// The phases.
    pub phases: Vec<&'a str>,
    /// In words.
    pub description: String,
    /// Of one person.
    pub hours: f64,
    /// The label of the first day.
    pub first: Option<&'a str>,
    /// The label of the last day.
    pub last: Option<&'a str>,
    /// Minutes of working time.
    pub float: u64,
    /// Whether it cannot be late.
    pub critical: bool,
}

/// A day of work.
#[derive(Debug, Serialize)]
pub struct DayWire<'a> {
    /// What it is called.
    pub label: &'a str,
    /// ISO 8601.
    pub date: Option<String>,
    /// The most at once.
    pub people: u32,
    /// What is worked on.
    pub work: Vec<WorkWire>,
    /// What the day takes by itself.
    pub takes: TakesWire<'a>,
}

/// A day's work on a step.
#[derive(Debug, Serialize)]
pub struct WorkWire {
    /// Its place among the steps, from 0.
    pub step: usize,
    /// Minutes from the start of the day's work.
    pub from: u32,
    /// To.
    pub to: u32,
    /// People.
    pub people: u32,
    /// Of the step.
    pub share: f64,
}

/// The mixing of one mix for one finish on one day.
#[derive(Debug, Serialize)]
pub struct BatchWire<'a> {
    /// The label of the day.
    pub day: &'a str,
    /// The item.
    pub mix: &'a str,
    /// In words.
    pub description: &'a str,
    /// The finish.
    pub finish: &'a str,
    /// Whole bags to open.
    pub bags: f64,
    /// What is placed, in bags.
    pub placed: f64,
    /// The largest batch, in bags.
    pub largest: f64,
    /// Batches.
    pub batches: f64,
    /// People who place it.
    pub people: u32,
    /// What the rule gives besides.
    pub given: Vec<GivenWire<'a>>,
}

/// A figure that a rule gives.
#[derive(Debug, Serialize)]
pub struct GivenWire<'a> {
    /// Its name.
    pub name: &'a str,
    /// The figure.
    pub value: f64,
    /// Its unit.
    pub unit: String,
}
