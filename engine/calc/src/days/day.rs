//! What a day itself takes: the rule `day` of the pack is asked for every day of work.

use super::asked::{Known, Part, Questions};
use super::weather::parts as parts_of;
use super::{Day, Site, Step};
use crate::contract::DAY_HOOK;
use crate::job::Job;
use crate::takeoff::{Rules, Taken};
use parge_base::{Dim, Quantity, QuantityError};
use std::collections::BTreeSet;

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
        let counted = |value| {
            Part::Known(Some(Known {
                value,
                source: None,
            }))
        };
        let mut parts = vec![
            ("number", counted(Quantity::plain(number))),
            ("people", counted(Quantity::plain(f64::from(day.people)))),
            ("crew", Part::Known(Some(site.people))),
            ("hours", counted(on.hours)),
            ("placed_area", counted(on.area)),
            ("ground_run", counted(on.ground)),
            ("travel", Part::Known(site.travel)),
            ("phases", Part::Texts(on.phases.into_iter().collect())),
        ];
        parts.extend(parts_of(&day.weather, job));
        day.asked = questions.ask(rules, DAY_HOOK, day.label.clone(), ("day", &parts));
        let taken = day.asked.and_then(|asked| questions.all.get(asked));
        daily.push(rules.taken_of_one(taken.map_or(usize::MAX, |asked| asked.run)));
    }
    Ok(daily)
}

/// What is done on one day, added up.
struct OnTheDay {
    hours: Quantity,
    area: Quantity,
    ground: Quantity,
    phases: BTreeSet<String>,
}

impl OnTheDay {
    fn of(day: &Day, steps: &[Step]) -> Result<Self, QuantityError> {
        let mut on = Self {
            hours: Quantity::zero(Dim::TIME),
            area: Quantity::zero(Dim::AREA),
            ground: Quantity::zero(Dim::LENGTH),
            phases: BTreeSet::new(),
        };
        for work in &day.work {
            let Some(step) = steps.get(work.step) else {
                continue;
            };
            let share = Quantity::plain(work.share);
            on.hours = on.hours.plus(step.work()?.times(share)?)?;
            on.area = on.area.plus(step.area.times(share)?)?;
            on.ground = on.ground.plus(step.ground.times(share)?)?;
            on.phases
                .extend(step.phases.iter().map(|(phase, _)| phase.to_string()));
        }
        Ok(on)
    }
}
