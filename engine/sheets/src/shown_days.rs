//! The day plan and the batch cards in words and in the units they are shown in.

use parge_base::{Dim, Quantity};
use parge_calc::days::{Card, Day, DayPlan, Step, Work};
use parge_calc::job::{Job, UnitSystem};
use parge_calc::takeoff::Takeoff;

/// Seconds in an hour and in a minute.
const HOUR: f64 = 3600.0;
const MINUTE: f64 = 60.0;
/// Cubic metres in a US quart and in a litre, exact.
const QUART: f64 = 0.000946352946;
const LITRE: f64 = 0.001;
/// Kelvin in a degree Fahrenheit, and what the scales differ by.
const FAHRENHEIT: f64 = 5.0 / 9.0;

/// A day's work on one structure.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkShown<'a> {
    /// The day: its date, or `day 3`.
    pub day: &'a str,
    /// The day of the week, where the day has a date.
    pub weekday: &'static str,
    /// The structure; `the whole job` for what is done once.
    pub structure: &'a str,
    /// What is done, in words.
    pub work: String,
    /// People.
    pub people: u32,
    /// Hours of all people together.
    pub hours: f64,
    /// The share of the work that is done, from 0 to 1.
    pub share: f64,
    /// Whether a delay makes the job longer.
    pub critical: bool,
}

/// A batch card in the units shown.
#[derive(Debug, Clone, PartialEq)]
pub struct CardShown<'a> {
    /// The day.
    pub day: &'a str,
    /// The mix, in words.
    pub mix: &'a str,
    /// The finish.
    pub finish: &'a str,
    /// Whole bags to open.
    pub bags: f64,
    /// The largest batch, in bags.
    pub batch: f64,
    /// Batches.
    pub batches: f64,
    /// People who place it.
    pub people: u32,
    /// The rest that the rule gives: water, times.
    pub given: Vec<GivenShown<'a>>,
}

/// Something that a rule gives with a card.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GivenShown<'a> {
    /// Its name in the rule.
    pub name: &'a str,
    /// The figure.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
}

/// The work of all days, in order.
pub fn work<'a>(takeoff: &'a Takeoff, plan: &'a DayPlan) -> impl Iterator<Item = WorkShown<'a>> {
    let job = &takeoff.measured.job;
    plan.days.iter().flat_map(move |day| {
        let shown = day.work.iter();
        shown.filter_map(move |work| work_shown(job, plan, (day, work)))
    })
}

fn work_shown<'a>(
    job: &'a Job,
    plan: &'a DayPlan,
    (day, work): (&'a Day, &Work),
) -> Option<WorkShown<'a>> {
    let step = plan.steps.get(work.step)?;
    let planned = plan.planned.get(work.step)?;
    let minutes = work.to.saturating_sub(work.from);
    Some(WorkShown {
        day: &day.label,
        weekday: weekday(day, plan),
        structure: step
            .structure
            .map_or("the whole job", |number| job.structure_name(number)),
        work: step_words(plan, step),
        people: work.people,
        hours: f64::from(minutes) / 60.0 * f64::from(work.people),
        share: work.share,
        critical: planned.critical,
    })
}

/// What a step does: `Place the finish coat; texture, release and stamp`.
pub fn step_words(plan: &DayPlan, step: &Step) -> String {
    let words = step.phases.iter().map(|(phase, _)| plan.words(phase));
    let words: Vec<&str> = words.collect();
    words.join("; ")
}

/// The day of the week in three letters; nothing for a day without a date.
pub fn weekday(day: &Day, plan: &DayPlan) -> &'static str {
    const NAMES: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
    let number = usize::from(day.date.weekday().to_monday_zero_offset().unsigned_abs());
    if plan.is_dated {
        NAMES.get(number).copied().unwrap_or("")
    } else {
        ""
    }
}

/// The cards of all days, in order.
pub fn cards<'a>(takeoff: &'a Takeoff, plan: &'a DayPlan) -> impl Iterator<Item = CardShown<'a>> {
    let job = &takeoff.measured.job;
    plan.cards.iter().filter_map(move |card| {
        let day = plan.days.get(card.day)?;
        Some(CardShown {
            day: &day.label,
            mix: plan.words(&card.mix),
            finish: &job.finishes.get(card.finish)?.name,
            bags: card.bags,
            batch: card.batch,
            batches: card.batches,
            people: card.people,
            given: given(card, job.units),
        })
    })
}

fn given(card: &Card, system: UnitSystem) -> Vec<GivenShown<'_>> {
    let shown = card.given.iter().map(|(name, value)| {
        let (value, unit) = in_words(*value, system);
        GivenShown { name, value, unit }
    });
    shown.collect()
}

/// A figure of a card in the unit it is read in on site.
fn in_words(quantity: Quantity, system: UnitSystem) -> (f64, &'static str) {
    let dim = quantity.dim;
    let volume = Dim::AREA.times(Dim::LENGTH);
    let is_water = volume.is_some_and(|volume| dim.powers() == volume.powers());
    match system {
        _ if dim == Dim::TIME => (quantity.value / MINUTE, "min"),
        UnitSystem::Us if is_water => (quantity.value / QUART, "qt"),
        UnitSystem::Metric if is_water => (quantity.value / LITRE, "L"),
        _ => (quantity.value, ""),
    }
}

/// A temperature as the plan's unit system reads it.
pub fn temperature(quantity: Quantity, system: UnitSystem) -> (f64, &'static str) {
    match system {
        UnitSystem::Us => (quantity.value / FAHRENHEIT - 459.67, "F"),
        UnitSystem::Metric => (quantity.value - 273.15, "C"),
    }
}

/// The hours of a time.
pub fn hours(quantity: Quantity) -> f64 {
    quantity.value / HOUR
}
