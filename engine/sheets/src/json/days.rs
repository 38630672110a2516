//! The day plan as JSON.

use super::measure;
use super::takes::Units;
use crate::shown_days::{self, CardShown};
use crate::wire_days::{BatchWire, DayWire, DaysWire, GivenWire, StepWire, WorkWire};
use crate::wire_rows::Rows;
use parge_base::Quantity;
use parge_base::number::{NOISE_DECIMALS, round_to};
use parge_calc::days::{Day, DayPlan, Planned, Step};
use parge_calc::price::Estimate;
use parge_calc::takeoff::Takeoff;

/// The day plan; none where there is none.
pub(super) fn days<'a>(units: &'a Units<'a>, estimate: &'a Estimate) -> Option<DaysWire<'a>> {
    let takeoff = &estimate.takeoff;
    let plan = takeoff.days.as_ref()?;
    Some(DaysWire {
        dated: plan.is_dated,
        crew: plan.crew,
        productive: measure(shown_days::hours(plan.productive), "h"),
        steps: Rows::of(move || {
            let both = plan.steps.iter().zip(&plan.planned);
            both.map(move |(of, planned)| step(takeoff, plan, of, planned))
        }),
        days: Rows::of(move || {
            let days = plan.days.iter().zip(0..);
            days.map(move |(of, number)| day(units, estimate, plan, of, number))
        }),
        batches: Rows::of(move || shown_days::cards(takeoff, plan).map(batch)),
    })
}

fn step<'a>(
    takeoff: &'a Takeoff,
    plan: &'a DayPlan,
    step: &'a Step,
    planned: &Planned,
) -> StepWire<'a> {
    let job = &takeoff.measured.job;
    let hours = shown_days::hours(step.work().unwrap_or(Quantity::plain(0.0)));
    StepWire {
        structure: step.structure.map(|number| job.structure_name(number)),
        phases: step.phases.iter().map(|(phase, _)| &**phase).collect(),
        description: shown_days::step_words(plan, step),
        hours: round_to(hours, NOISE_DECIMALS),
        first: shown_days::day_label(plan, planned.first),
        last: shown_days::day_label(plan, planned.last),
        float: planned.float,
        critical: planned.critical,
    }
}

fn day<'a>(
    units: &'a Units<'a>,
    estimate: &'a Estimate,
    plan: &DayPlan,
    day: &'a Day,
    number: usize,
) -> DayWire<'a> {
    let work = day.work.iter().map(|work| WorkWire {
        step: work.step,
        from: work.from,
        to: work.to,
        people: work.people,
        share: round_to(work.share, NOISE_DECIMALS),
    });
    DayWire {
        label: &day.label,
        date: plan.is_dated.then(|| day.date.to_string()),
        people: day.people,
        work: work.collect(),
        takes: units.of_line(&estimate.takeoff.daily, number),
    }
}

fn batch(shown: CardShown<'_>) -> BatchWire<'_> {
    let card = shown.card;
    let given = shown.given.into_iter().map(|given| GivenWire {
        name: given.name,
        value: given.value,
        unit: given.unit,
    });
    BatchWire {
        day: &shown.day.label,
        mix: &card.mix,
        description: shown.mix,
        finish: shown.finish,
        bags: card.bags,
        placed: round_to(card.placed, NOISE_DECIMALS),
        largest: round_to(card.batch, NOISE_DECIMALS),
        batches: shown.batches,
        people: card.people,
        given: given.collect(),
    }
}
