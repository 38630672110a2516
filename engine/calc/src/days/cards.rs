//! Batch cards: what the mixer is told on each day.
//!
//! A batch is no larger than the mixer, and no larger than what the people placing it put up
//! within its working time; the rule `batches` of the pack knows both. Bags are whole over the
//! job: a bag opened on one day is used up on the next, so that the cards add up to the bags that
//! are bought.

use super::asked::{Known, Part, Questions, Source};
use super::weather::WeatherAnswers;
use super::{Day, Step};
use crate::contract::BATCH_HOOK;
use crate::job::{Finish, Job};
use crate::takeoff::Rules;
use parge_base::number::whole_up;
use parge_base::{Code, Diagnostic, Quantity, QuantityError};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The mixing of one mix for one finish on one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// The number of the day in [`super::DayPlan::days`].
    pub day: usize,
    /// The item, such as `finish-mix`.
    pub mix: Arc<str>,
    /// The number of the finish in [`Job::finishes`].
    pub finish: usize,
    /// Whole bags to open.
    pub bags: f64,
    /// What is placed, in bags, with waste.
    pub placed: f64,
    /// The largest batch: whole bags, or part of one where a whole bag cannot be placed in time.
    pub batch: f64,
    /// How many batches for what is placed.
    pub batches: f64,
    /// People who place it.
    pub people: u32,
    /// What the rule says besides, by name: working time, water and times.
    pub given: Vec<(Arc<str>, Quantity)>,
    /// The question in [`super::DayPlan::asked`] that the size of the batch answers.
    pub asked: usize,
}

/// The name under which the rule gives the largest batch.
pub const MOST: &str = "most";

/// The cards of all days.
pub(super) fn cards(
    days: &[Day],
    steps: &[Step],
    job: &Job,
    weather: &WeatherAnswers,
    questions: &mut Questions,
    rules: &mut Rules<'_>,
) -> Result<Vec<Card>, QuantityError> {
    let mut cards = Vec::new();
    // What of each mix is placed so far, and the whole bags opened for it.
    let mut so_far: BTreeMap<Arc<str>, (f64, f64)> = BTreeMap::new();
    for (number, day) in days.iter().enumerate() {
        for ((mix, finish), lot) in lots(day, steps)? {
            let (placed, opened) = so_far.entry(Arc::clone(&mix)).or_default();
            *placed += lot.amount.value;
            let bags = whole_up(*placed) - *opened;
            *opened += bags;
            let lot = Lot { bags, ..lot };
            let asking = Asking {
                number,
                day,
                job,
                mix: &mix,
                finish,
                working_time: weather.working_time(day.date),
            };
            cards.extend(asking.card(&lot, questions, rules)?);
        }
    }
    Ok(cards)
}

/// What is placed of one mix on one day for one finish.
#[derive(Debug, Clone, Copy)]
struct Lot {
    amount: Quantity,
    placing: Quantity,
    people: u32,
    bags: f64,
}

fn lots(day: &Day, steps: &[Step]) -> Result<BTreeMap<(Arc<str>, usize), Lot>, QuantityError> {
    let mut lots: BTreeMap<(Arc<str>, usize), Lot> = BTreeMap::new();
    for work in &day.work {
        let share = Quantity::plain(work.share);
        let mixed = steps.get(work.step).map_or(&[][..], |step| &step.mixed);
        // What is needed by its volume comes mixed: it has no bags.
        for mixed in mixed
            .iter()
            .filter(|mixed| mixed.amount.dim.as_item().is_some())
        {
            let (amount, placing) = (mixed.amount.times(share)?, mixed.placing.times(share)?);
            match lots.get_mut(&(Arc::clone(&mixed.mix), mixed.finish)) {
                Some(lot) => {
                    lot.amount = lot.amount.plus(amount)?;
                    lot.placing = lot.placing.plus(placing)?;
                    // Fewer people place less in time: the batch must suit all who place it.
                    lot.people = lot.people.min(work.people);
                }
                None => {
                    let lot = Lot {
                        amount,
                        placing,
                        people: work.people,
                        bags: 0.0,
                    };
                    lots.insert((Arc::clone(&mixed.mix), mixed.finish), lot);
                }
            }
        }
    }
    Ok(lots)
}

/// The question for one card.
struct Asking<'a> {
    number: usize,
    day: &'a Day,
    job: &'a Job,
    mix: &'a Arc<str>,
    finish: usize,
    working_time: Option<Known>,
}

impl Asking<'_> {
    fn card(
        &self,
        lot: &Lot,
        questions: &mut Questions,
        rules: &mut Rules<'_>,
    ) -> Result<Option<Card>, QuantityError> {
        let Some(finish) = self.job.finishes.get(self.finish) else {
            return Ok(None);
        };
        let placing = lot.placing.over(lot.amount)?;
        let parts = [
            ("mix", Part::Text(self.mix.to_string())),
            ("finish", Part::Text(finish.name.clone())),
            ("technique", Part::Text(finish.technique.clone())),
            ("placing", Part::counted(placing)),
            (
                "people",
                Part::counted(Quantity::plain(f64::from(lot.people))),
            ),
            ("working_time", Part::Known(self.working_time)),
            ("colours", self.colours(finish)),
        ];
        let name = format!("{} for {} on {}", self.mix, finish.name, self.day.label);
        let Some(asked) = questions.ask(rules, BATCH_HOOK, name, ("batch", &parts)) else {
            return Ok(None);
        };
        let Some(most) = questions.answer(rules, asked, MOST, lot.amount.dim) else {
            rules.say(self.no_size());
            return Ok(None);
        };
        let most = most.value.value;
        // Free of binary noise: 2 bags that come out as 1.9999999999 are 2 bags.
        let whole = -whole_up(-most);
        let batch = if whole >= 1.0 { whole } else { most };
        if batch <= 0.0 {
            rules.say(self.no_size());
            return Ok(None);
        }
        Ok(Some(Card {
            day: self.number,
            mix: Arc::clone(self.mix),
            finish: self.finish,
            bags: lot.bags,
            placed: lot.amount.value,
            batch,
            // Not by the bags opened: what was left of one from the day before is mixed as well.
            batches: whole_up(lot.amount.value / batch),
            people: lot.people,
            given: given(questions, rules, asked),
            asked,
        }))
    }

    /// The colours of the finish, each with its `name` and `share`: for what is coloured in the mix.
    fn colours(&self, finish: &Finish) -> Part {
        let each = finish.colours.iter().map(|(name, share)| {
            let share = Known {
                value: self.job.value(*share),
                source: Some(Source::Plan(share.node)),
            };
            vec![
                ("name", Part::Text(name.clone())),
                ("share", Part::Known(Some(share))),
            ]
        });
        Part::List("colour", each.collect())
    }

    fn no_size(&self) -> Diagnostic {
        let message = format!(
            "rule `batches` gives no size for a batch of `{}`: `{MOST}` must be more than nothing, in the unit of the mix",
            self.mix
        );
        let help = "write `give(\"most\", …)` in the rule, such as the bags that the mixer holds";
        Diagnostic::new(Code::RuleFailed, message, help)
    }
}

/// All that the rule gave.
fn given(questions: &Questions, rules: &Rules<'_>, asked: usize) -> Vec<(Arc<str>, Quantity)> {
    let run = questions
        .all
        .get(asked)
        .and_then(|asked| rules.runs.get(asked.run));
    let lines = run.map_or(&[][..], |run| &run.given).iter();
    let values =
        lines.filter_map(|line| Some((Arc::clone(&line.name), run?.tape.value(line.value))));
    values.collect()
}
