//! The day plan and the batch cards in words and in the units they are shown in.

use jiff::civil::Date;
use parge_base::number::{NOISE_DECIMALS, round_to, whole_up};
use parge_base::{Dim, Quantity};
use parge_calc::days::cards::MOST;
use parge_calc::days::{Card, Day, DayPlan, Step, Work};
use parge_calc::job::{Job, UnitSystem};
use parge_calc::takeoff::Takeoff;

/// Seconds in an hour and in a minute.
const HOUR: f64 = 3600.0;
const MINUTE: f64 = 60.0;
/// Cubic metres in a US quart and in a litre, exact.
const QUART: f64 = 0.000946352946;
const LITRE: f64 = 0.001;
/// Metres in an inch and in a millimetre, exact.
const INCH: f64 = 0.0254;
const MILLIMETRE: f64 = 0.001;
/// Kilograms in a pound, exact.
const POUND: f64 = 0.45359237;
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
#[derive(Debug, Clone)]
pub struct CardShown<'a> {
    /// The day.
    pub day: &'a Day,
    /// The mix, in words.
    pub mix: &'a str,
    /// The finish.
    pub finish: &'a str,
    /// The card, in bags.
    pub card: &'a Card,
    /// Batches. Where no bag is opened, those that what is placed needs.
    pub batches: f64,
    /// The rest that the rule gives, in its order: water, times.
    pub given: Vec<GivenShown<'a>>,
}

/// What comes before every batch card.
pub const DATA_SHEET: &str = "The data sheet of the mix comes before what stands here, and so does what a batch does on site.";

/// What stands in place of a number of bags where what is placed is left of the day before.
pub const OPEN_BAG: &str = "from an open bag";

impl CardShown<'_> {
    /// The largest batch in words: `2 bags`, or `part of a bag, 0.93`.
    pub fn largest(&self) -> String {
        let batch = self.card.batch;
        match batch {
            // Rounded down: more could not be placed in time.
            part if part < 1.0 => format!("part of a bag, {}", -whole_up(-part * 100.0) / 100.0),
            1.0 => "1 bag".to_owned(),
            bags => format!("{bags} bags"),
        }
    }
}

/// Something that a rule gives with a card.
#[derive(Debug, Clone, PartialEq)]
pub struct GivenShown<'a> {
    /// Its name in the rule.
    pub name: &'a str,
    /// The figure.
    pub value: f64,
    /// Its unit: `min`, `qt/bag`; nothing for a plain number.
    pub unit: String,
}

impl GivenShown<'_> {
    /// Its name in words: `water low`.
    pub fn words(&self) -> String {
        self.name.replace('_', " ")
    }
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
    let mut text = String::new();
    for (phase, _) in &step.phases {
        let words = plan.words(phase);
        if text.is_empty() {
            text.push_str(words);
        } else {
            text.push_str("; ");
            text.push_str(&in_lower_case(words));
        }
    }
    text
}

/// A description as it stands within a line.
fn in_lower_case(words: &str) -> String {
    let mut rest = words.chars();
    match rest.next() {
        Some(first) => first.to_lowercase().chain(rest).collect(),
        None => String::new(),
    }
}

/// What a step does where there is little room: its first phase, and how many are done with it.
/// `Place the finish coat +2`.
pub fn short_step_words(plan: &DayPlan, step: &Step) -> String {
    let first = step
        .phases
        .first()
        .map_or("", |(phase, _)| plan.words(phase));
    match step.phases.len() {
        0 | 1 => first.to_owned(),
        more => format!("{first} +{}", more - 1),
    }
}

/// What a day of work is called; nothing for a day without work.
pub fn day_label(plan: &DayPlan, date: Date) -> Option<&str> {
    let day = plan.days.iter().find(|day| day.date == date)?;
    Some(&day.label)
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
        let from_open = card.bags == 0.0;
        let least = whole_up(card.placed / card.batch);
        Some(CardShown {
            day: plan.days.get(card.day)?,
            mix: plan.words(&card.mix),
            finish: &job.finishes.get(card.finish)?.name,
            card,
            batches: if from_open { least } else { card.batches },
            given: given(card, job.units),
        })
    })
}

/// What the rule gives beside the size of a batch, which the card has already.
fn given(card: &Card, system: UnitSystem) -> Vec<GivenShown<'_>> {
    let besides = card.given.iter().filter(|(name, _)| **name != *MOST);
    let shown = besides.map(|(name, value)| {
        let (value, unit) = in_words(*value, system);
        let value = round_to(value, NOISE_DECIMALS);
        GivenShown { name, value, unit }
    });
    shown.collect()
}

/// A figure of a card in the unit it is read in on site; one of no such kind in SI units.
fn in_words(quantity: Quantity, system: UnitSystem) -> (f64, String) {
    let is_us = system == UnitSystem::Us;
    let (value, unit) = match quantity.dim.powers() {
        [0, 0, 0, 0, 0] => (quantity.value, ""),
        [0, 0, 1, 0, 0] => (quantity.value / MINUTE, "min"),
        [3, 0, 0, 0, 0] if is_us => (quantity.value / QUART, "qt"),
        [3, 0, 0, 0, 0] => (quantity.value / LITRE, "L"),
        [1, 0, 0, 0, 0] if is_us => (quantity.value / INCH, "in"),
        [1, 0, 0, 0, 0] => (quantity.value / MILLIMETRE, "mm"),
        [0, 1, 0, 0, 0] if is_us => (quantity.value / POUND, "lb"),
        [0, 1, 0, 0, 0] => (quantity.value, "kg"),
        [0, 0, 0, 1, 0] => temperature(quantity, system),
        _ => return (quantity.value, quantity.dim.symbols()),
    };
    match counted(quantity.dim) {
        Some(per) => (value, format!("{unit}{per}")),
        None => (quantity.value, quantity.dim.symbols()),
    }
}

/// What stands behind a unit for the thing that is counted: `/bag`. None where several are, or a
/// power of one.
fn counted(dim: Dim) -> Option<String> {
    let mut items = dim.counted();
    let text = match items.next() {
        None => String::new(),
        Some((item, -1)) if !dim_is_plain(dim) => format!("/{}", item.name()),
        Some((item, 1)) if dim_is_plain(dim) => item.name().to_owned(),
        Some(_) => return None,
    };
    items.next().is_none().then_some(text)
}

/// Whether nothing but things are counted.
fn dim_is_plain(dim: Dim) -> bool {
    dim.powers() == Dim::NONE.powers()
}

/// A temperature as the plan's unit system reads it.
fn temperature(quantity: Quantity, system: UnitSystem) -> (f64, &'static str) {
    match system {
        UnitSystem::Us => (quantity.value / FAHRENHEIT - 459.67, "F"),
        UnitSystem::Metric => (quantity.value - 273.15, "C"),
    }
}

/// The hours of a time.
pub fn hours(quantity: Quantity) -> f64 {
    quantity.value / HOUR
}

#[cfg(test)]
mod tests;
