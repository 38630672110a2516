//! The day plan as files for other programs: a calendar, a chart, and lines of values.

use crate::chart::{Bar, Chart, Row, svg};
use crate::csv::{self, cell};
use crate::ics::{Event, When, ics, uid};
use crate::shown_days::{WorkShown, hours, short_step_words, step_words, work};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, Time};
use parge_base::Quantity;
use parge_calc::days::{DayPlan, Planned, Step};
use parge_calc::takeoff::Takeoff;
use std::collections::{BTreeMap, BTreeSet};

/// Seconds in a minute.
const MINUTE: f64 = 60.0;

/// The steps as events of whole days (iCalendar); none for a plan without dates.
pub fn calendar(takeoff: &Takeoff, plan: &DayPlan) -> Option<String> {
    if !plan.is_dated {
        return None;
    }
    let job = &takeoff.measured.job;
    let mut names = Names::default();
    let events: Vec<Event> = each(plan)
        .map(|(_, step, planned)| {
            let structure = structure_words(takeoff, step);
            let words = step_words(plan, step);
            let all_hours = hours(step.work().unwrap_or(Quantity::plain(0.0)));
            Event {
                uid: names.of(takeoff, step),
                when: When::Days {
                    first: planned.first,
                    last: planned.last,
                },
                summary: format!("{structure}: {words}"),
                description: format!(
                    "{all_hours:.1} hours of work; {} people in the crew",
                    plan.crew
                ),
            }
        })
        .collect();
    // As of the day of the bid: nothing here looks at a clock.
    let stamp = job.date.or_else(|| plan.days.first().map(|day| day.date))?;
    ics(&events, stamp.to_datetime(Time::midnight()))
}

/// The chart of the plan (SVG); none for a plan without dates.
pub fn drawing(takeoff: &Takeoff, plan: &DayPlan) -> Option<String> {
    let (first, last) = (plan.days.first()?.date, plan.days.last()?.date);
    if !plan.is_dated {
        return None;
    }
    let rows = each(plan).map(|(number, step, planned)| Row {
        structure: structure_words(takeoff, step).to_owned(),
        phase: short_step_words(plan, step),
        bars: bars(plan, number),
        waits: wait_after(plan, number).into_iter().collect(),
        critical: planned.critical,
    });
    let until = (plan.productive.value / MINUTE) as u32;
    Some(svg(&Chart {
        title: takeoff.measured.job.name.clone(),
        first,
        last,
        off: off(takeoff, first, last),
        hours: (0, until),
        rows: rows.collect(),
    }))
}

/// The work of all days as lines of values (CSV, RFC 4180), with a header.
pub fn lines(takeoff: &Takeoff, plan: &DayPlan) -> String {
    let mut out = format!("{}day,weekday,structure,work,people,hours\r\n", csv::MARK);
    for WorkShown {
        day,
        weekday,
        structure,
        work,
        people,
        hours,
        ..
    } in work(takeoff, plan)
    {
        let [day, weekday, structure, work] = [day, weekday, structure, &work].map(cell);
        let (people, hours) = (people.to_string(), format!("{hours:.2}"));
        out.push_str(&csv::line(&[day, weekday, structure, work, people, hours]));
    }
    out
}

/// The steps with when they are done.
fn each(plan: &DayPlan) -> impl Iterator<Item = (usize, &Step, &Planned)> {
    let both = plan.steps.iter().zip(&plan.planned).enumerate();
    both.map(|(number, (step, planned))| (number, step, planned))
}

fn structure_words<'a>(takeoff: &'a Takeoff, step: &Step) -> &'a str {
    let job = &takeoff.measured.job;
    step.structure
        .map_or("The whole job", |number| job.structure_name(number))
}

/// The names of events, so that the same step of a plan that changed is the same event when it is
/// imported again: neither its dates nor its place among the steps are part of its name.
#[derive(Default)]
struct Names {
    /// How often each was given.
    given: BTreeMap<String, usize>,
}

impl Names {
    fn of(&mut self, takeoff: &Takeoff, step: &Step) -> String {
        let job = &takeoff.measured.job;
        let of_what = match step.structure {
            Some(number) => ["structure", job.structure_name(number)],
            None => ["job", ""],
        };
        let phases = step.phases.iter().map(|(phase, _)| &**phase);
        let parts: Vec<&str> = [job.name.as_str()]
            .into_iter()
            .chain(of_what)
            .chain(phases)
            .collect();
        let name = uid(&parts);
        let count = self.given.entry(name.clone()).or_default();
        *count += 1;
        match *count {
            1 => name,
            again => uid(&[&name, &again.to_string()]),
        }
    }
}

fn bars(plan: &DayPlan, step: usize) -> Vec<Bar> {
    let bars = plan.days.iter().flat_map(|day| {
        let of_step = day.work.iter().filter(move |work| work.step == step);
        of_step.map(|work| Bar {
            from: moment(day.date, work.from),
            until: moment(day.date, work.to),
        })
    });
    bars.collect()
}

/// The longest time for which the next step must wait.
fn wait_after(plan: &DayPlan, step: usize) -> Option<Bar> {
    let links = plan.links.iter().filter(|link| link.before == step);
    let longest = links.map(|link| link.wait.value).fold(0.0, f64::max);
    let end = bars(plan, step).last()?.until;
    let minutes = (longest / MINUTE).ceil() as i64;
    (minutes > 0).then(|| Bar {
        from: end,
        until: end.saturating_add(minutes.minutes()),
    })
}

fn moment(date: Date, minutes: u32) -> DateTime {
    let midnight = date.to_datetime(Time::midnight());
    midnight.saturating_add(i64::from(minutes).minutes())
}

/// The days between two on which no work goes on.
fn off(takeoff: &Takeoff, first: Date, last: Date) -> BTreeSet<Date> {
    let calendar = &takeoff.measured.job.calendar;
    let days = std::iter::successors(Some(first), |day| day.tomorrow().ok());
    let days = days.take_while(|day| *day <= last);
    days.filter(|day| !calendar.is_workday(*day) || calendar.is_lost(*day))
        .collect()
}

#[cfg(test)]
mod tests;
