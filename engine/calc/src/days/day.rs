//! What a day itself takes: the rule `day` of the pack is asked for every day of work.

use super::asked::{Part, Questions};
use super::weather::parts as parts_of;
use super::{Day, Site, Step};
use crate::contract::DAY_HOOK;
use crate::job::Job;
use crate::takeoff::{Rules, Taken};
use parge_base::{Dim, Quantity, QuantityError};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Asks for every day, in their order. What the days take stands in the order of the days; a pack
/// without the rule takes nothing.
pub(super) fn ask(
    days: &mut [Day],
    steps: &[Step],
    site: &Site,
    job: &Job,
    questions: &mut Questions,
    rules: &mut Rules<'_>,
) -> Result<Vec<Taken>, QuantityError> {
    let mut daily = Vec::with_capacity(days.len());
    let mut number = 0.0;
    for day in days {
        number += 1.0;
        let on = OnTheDay::of(day, steps)?;
        let plain = |number| Part::counted(Quantity::plain(number));
        let mut parts = vec![
            ("number", plain(number)),
            ("people", plain(f64::from(day.people))),
            ("crew", Part::Known(Some(site.people))),
            ("hours", Part::counted(on.hours)),
            ("travel", Part::Known(site.travel)),
            ("phases", phases(&on)),
            ("placed", placed(&on)),
        ];
        parts.extend(parts_of(&day.weather, job));
        day.asked = questions.ask(rules, DAY_HOOK, day.label.clone(), ("day", &parts));
        let asked = day.asked.and_then(|asked| questions.all.get(asked));
        daily.push(rules.taken_of_one(asked.map_or(usize::MAX, |asked| asked.run)));
    }
    Ok(daily)
}

/// The phases that are worked on, each with its `name`.
fn phases(on: &OnTheDay) -> Part {
    let each = on.phases.iter();
    let things = each.map(|phase| vec![("name", Part::Text(phase.to_string()))]);
    Part::List("phase", things.collect())
}

/// The mixes that are placed, each with the area and the length along the ground.
fn placed(on: &OnTheDay) -> Part {
    let things = on.placed.iter().map(|(mix, (area, ground))| {
        vec![
            ("mix", Part::Text(mix.to_string())),
            ("area", Part::counted(*area)),
            ("ground_run", Part::counted(*ground)),
        ]
    });
    Part::List("lot", things.collect())
}

/// What is done on one day, added up.
struct OnTheDay {
    hours: Quantity,
    phases: BTreeSet<Arc<str>>,
    /// Area and length along the ground, by mix.
    placed: BTreeMap<Arc<str>, (Quantity, Quantity)>,
}

impl OnTheDay {
    fn of(day: &Day, steps: &[Step]) -> Result<Self, QuantityError> {
        let mut on = Self {
            hours: Quantity::zero(Dim::TIME),
            phases: BTreeSet::new(),
            placed: BTreeMap::new(),
        };
        for work in &day.work {
            let Some(step) = steps.get(work.step) else {
                continue;
            };
            let share = Quantity::plain(work.share);
            on.hours = on.hours.plus(step.work()?.times(share)?)?;
            let phases = step.phases.iter();
            on.phases.extend(phases.map(|(phase, _)| Arc::clone(phase)));
            for mixed in &step.mixed {
                let nothing = (Quantity::zero(Dim::AREA), Quantity::zero(Dim::LENGTH));
                let sum = on.placed.entry(Arc::clone(&mixed.mix)).or_insert(nothing);
                sum.0 = sum.0.plus(mixed.area.times(share)?)?;
                sum.1 = sum.1.plus(mixed.ground.times(share)?)?;
            }
        }
        Ok(on)
    }
}
