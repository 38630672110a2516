//! What the rule `weather` of the pack makes of the weather that the plan states.

use super::asked::{Known, Part, Questions, Source};
use crate::contract::WEATHER_HOOK;
use crate::job::{Figure, Job, Weather};
use crate::takeoff::Rules;
use jiff::civil::Date;
use parge_base::{Dim, NodeId};
use std::collections::BTreeMap;

/// What a rule sees of a weather: its readings, and what follows from them.
pub(super) fn parts(weather: &Weather, job: &Job) -> [(&'static str, Part); 6] {
    let known = |node: Option<NodeId>| {
        Part::Known(node.map(|node| Known {
            value: job.tape.value(node),
            source: Some(Source::Plan(node)),
        }))
    };
    let stated = |figure: Option<Figure>| known(figure.map(|figure| figure.node));
    [
        ("air", stated(weather.air)),
        ("humidity", stated(weather.humidity)),
        ("wind", stated(weather.wind)),
        ("mix", stated(weather.mix)),
        (
            "evaporation",
            known(weather.evaporation.map(|found| found.rate)),
        ),
        ("dew_point", known(weather.dew_point)),
    ]
}

/// The coldest air that the plan states.
pub(super) fn coldest(job: &Job) -> Option<NodeId> {
    let all = job.weather_on.values().chain([&job.weather]);
    let air = all.filter_map(|weather| Some(weather.air?.node));
    air.min_by(|a, b| {
        let value = |node: &NodeId| job.tape.value(*node).value;
        value(a).total_cmp(&value(b))
    })
}

/// What the rule `weather` makes of the days.
#[derive(Debug, Default)]
pub(super) struct WeatherAnswers {
    general: Answer,
    on: BTreeMap<Date, Answer>,
}

#[derive(Debug, Clone, Copy, Default)]
struct Answer {
    working_time: Option<Known>,
    no_coats: bool,
}

impl WeatherAnswers {
    /// Asks the rule for the weather of the job and for that of every day with its own.
    pub(super) fn of(job: &Job, questions: &mut Questions, rules: &mut Rules<'_>) -> Self {
        let mut ask = |weather: &Weather, name: String| {
            let parts = parts(weather, job);
            let asked = questions.ask(rules, WEATHER_HOOK, name, ("weather", &parts));
            asked.map_or(Answer::default(), |asked| Answer {
                working_time: questions.answer(rules, asked, "working_time", Dim::TIME),
                no_coats: questions
                    .answer(rules, asked, "no_coats", Dim::NONE)
                    .is_some(),
            })
        };
        let general = ask(&job.weather, "the weather of the job".to_owned());
        let on = job
            .weather_on
            .iter()
            .map(|(date, weather)| (*date, ask(weather, format!("the weather on {date}"))));
        let on = on.collect();
        Self { general, on }
    }

    fn of_day(&self, date: Date) -> Answer {
        self.on.get(&date).copied().unwrap_or(self.general)
    }

    /// How long a batch can be worked on a day.
    pub(super) fn working_time(&self, date: Date) -> Option<Known> {
        self.of_day(date).working_time
    }

    /// Whether no coat can be placed on a day.
    pub(super) fn no_coats(&self, date: Date) -> bool {
        self.of_day(date).no_coats
    }

    /// Whether that holds for every day without a weather of its own.
    pub(super) fn never_coats(&self) -> bool {
        self.general.no_coats
    }
}
