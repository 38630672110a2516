//! The day plan: which work is done on which day, under waits, weather and crew; the batches of
//! each day; and what a day itself takes, such as travel and shade.
//!
//! Works on the hours that the rules gave: phases become steps ([`steps`]), steps are put in order
//! ([`links`]) and on dates ([`crate::schedule`]). Then the pack's rules are asked about each day.

pub mod asked;
mod calendar;
pub mod cards;
mod day;
pub mod links;
mod phases;
pub mod steps;
mod weather;

pub use asked::{Asked, Source};
pub use cards::Card;
pub use links::Link;
pub(crate) use phases::Phases;
pub(crate) use steps::Steps;
pub use steps::{Mixed, Step};

use crate::contract::{MATERIALS, MIXES, PHASES, WORKDAY_HOOK};
use crate::job::Weather;
use crate::measure::Measured;
use crate::takeoff::{Rules, Taken};
use asked::{Known, Part, Questions, Source as From};
use jiff::civil::Date;
use parge_base::{Code, Diagnostic, Dim, Quantity, QuantityError};
use parge_rules::Tables;
use std::collections::BTreeMap;
use std::sync::Arc;
use weather::WeatherAnswers;

/// Which work is done on which day.
#[derive(Debug, Clone)]
pub struct DayPlan {
    /// Whether the plan states the first day. If not, dates count from a Monday that stands for
    /// the first day on site, and only [`Day::label`] may be shown.
    pub is_dated: bool,
    /// People in the crew.
    pub crew: u32,
    /// The time of a day in which work goes on.
    pub productive: Quantity,
    /// What is to be done.
    pub steps: Vec<Step>,
    /// What must come before what.
    pub links: Vec<Link>,
    /// When each step is done, in their order.
    pub planned: Vec<Planned>,
    /// The days on which work goes on.
    pub days: Vec<Day>,
    /// What is mixed on them.
    pub cards: Vec<Card>,
    /// What the rules were asked.
    pub asked: Vec<Asked>,
    /// What phases and mixes are called, by their keys.
    words: BTreeMap<Arc<str>, String>,
}

impl DayPlan {
    /// What a phase or a mix is called.
    pub fn words<'a>(&'a self, key: &'a str) -> &'a str {
        self.words.get(key).map_or(key, String::as_str)
    }
}

/// When a step is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// The first day.
    pub first: Date,
    /// The last day.
    pub last: Date,
    /// By how much it can be late without making the job longer, in minutes of working time.
    pub float: u64,
    /// Whether it cannot be late at all.
    pub critical: bool,
}

/// A day on which work goes on.
#[derive(Debug, Clone)]
pub struct Day {
    /// The date.
    pub date: Date,
    /// What it is called: its date, or `day 3` where the plan states no first day.
    pub label: String,
    /// What is worked on.
    pub work: Vec<Work>,
    /// The most people at once.
    pub people: u32,
    /// Its weather.
    pub weather: Weather,
    /// The question about it in [`DayPlan::asked`], where the pack has a rule for it.
    pub asked: Option<usize>,
}

/// Work on a step on one day, without a break.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    /// The number of the step.
    pub step: usize,
    /// From the start of the day's work, in minutes.
    pub from: u32,
    /// To, in minutes.
    pub to: u32,
    /// People.
    pub people: u32,
    /// The share of the step that is done.
    pub share: f64,
}

/// What a job has to be planned with.
pub(crate) struct Given<'a> {
    pub(crate) measured: &'a Measured,
    pub(crate) faces: &'a [Taken],
    pub(crate) edges: &'a [Taken],
    pub(crate) whole: Option<&'a Taken>,
}

/// Plans the days, beginning with the steps of faces that are not given. `None` where the pack has no rule `workday`, where there is no work, and after
/// what keeps the work from being planned was said. Beside the plan what the days themselves take.
pub(crate) fn plan(
    of: &Given<'_>,
    passed: Steps,
    rules: &mut Rules<'_>,
) -> Option<(DayPlan, Vec<Taken>)> {
    let mut questions = Questions::default();
    let site = Site::ask(of, &mut questions, rules)?;
    match planned(of, passed, &site, questions, rules) {
        Ok(plan) => plan,
        Err(error) => {
            let help = "check the sizes and counts of the faces";
            rules.say(Diagnostic::new(Code::NoValue, error.to_string(), help));
            None
        }
    }
}

fn planned(
    of: &Given<'_>,
    mut steps: Steps,
    site: &Site,
    mut questions: Questions,
    rules: &mut Rules<'_>,
) -> Result<Option<(DayPlan, Vec<Taken>)>, QuantityError> {
    let job = &of.measured.job;
    let pack = rules.pack;
    let phases = Phases::of(pack.tables());
    steps.add_faces(of.measured, of.faces, 0, &phases)?;
    steps.add_edges(&of.measured.job, of.edges, &phases)?;
    steps.add_whole(of.whole, &phases)?;
    let steps = steps.in_order(&phases);
    if steps.is_empty() {
        return Ok(None);
    }
    let answers = WeatherAnswers::of(job, &mut questions, rules);
    if answers.never_coats() && steps.iter().any(|step| !step.mixed.is_empty()) {
        rules.say(too_cold(of));
    }
    // What is kept warm cures as if it were warm.
    let cold = if answers.never_coats() {
        1.0
    } else {
        phases.cold(job)?
    };
    let links = links::links(&steps, job, &phases, cold)?;
    let dated = match calendar::put_on_dates(job, site, &steps, &links, &answers) {
        Ok(dated) => dated,
        Err(said) => {
            rules.say(*said);
            return Ok(None);
        }
    };
    let mut days = dated.days;
    let cards = cards::cards(&days, &steps, job, &answers, &mut questions, rules)?;
    let daily = day::ask(&mut days, &steps, site, job, &mut questions, rules)?;
    let plan = DayPlan {
        is_dated: job.calendar.start.is_some(),
        crew: site.crew,
        productive: site.productive,
        steps,
        links,
        planned: dated.planned,
        days,
        cards,
        asked: questions.all,
        words: words(pack.tables()),
    };
    Ok(Some((plan, daily)))
}

/// The words of phases and of what is mixed.
fn words(tables: &Tables) -> BTreeMap<Arc<str>, String> {
    let rows = |table: &str, described: &'static str| -> Vec<(Arc<str>, String)> {
        let keys = tables.keys(table, &[]).unwrap_or_default().into_iter();
        let words = keys.filter_map(|key| {
            let text = tables.text(described, &[key, "description"])?;
            Some((key.into(), text.to_owned()))
        });
        words.collect()
    };
    let mixes = rows(MIXES, MATERIALS);
    rows(PHASES, PHASES).into_iter().chain(mixes).collect()
}

fn too_cold(of: &Given<'_>) -> Diagnostic {
    let job = &of.measured.job;
    let message = "rule `weather` of the pack places no coat in the weather of the job: the days are planned as if the work were kept warm";
    let help =
        "price the enclosure and the heat as an allowance, or correct the weather in the job block";
    let place = job.weather.air.map_or(job.span, |air| air.span);
    Diagnostic::new(Code::TooCold, message, help).at(place, "")
}

/// What the rule `workday` says of the site.
pub(super) struct Site {
    crew: u32,
    /// People in the crew, with where that comes from.
    people: Known,
    /// The time of a day in which work goes on.
    productive: Quantity,
    travel: Option<Known>,
}

/// More people than any crew has.
const MOST_PEOPLE: f64 = 1000.0;
/// Seconds in a day.
const DAY: f64 = 24.0 * 3600.0;

impl Site {
    fn ask(of: &Given<'_>, questions: &mut Questions, rules: &mut Rules<'_>) -> Option<Self> {
        let job = &of.measured.job;
        let stated = |figure: Option<crate::job::Figure>| {
            figure.map(|figure| Known {
                value: job.value(figure),
                source: Some(From::Plan(figure.node)),
            })
        };
        let travel = stated(job.calendar.travel);
        let parts = [
            ("crew", Part::Known(stated(job.crew))),
            ("on_site", Part::Known(stated(job.calendar.hours))),
            ("travel", Part::Known(travel)),
        ];
        let name = "a day of work".to_owned();
        let asked = questions.ask(rules, WORKDAY_HOOK, name, ("site", &parts))?;
        let people = questions.answer(rules, asked, "people", Dim::NONE);
        let productive = questions.answer(rules, asked, "productive", Dim::TIME);
        let (Some(people), Some(productive)) = (people, productive) else {
            let message = "rule `workday` must give `people`, a number, and `productive`, the time of a day in which work goes on";
            let help = "write `give(\"people\", …)` and `give(\"productive\", …)` in the rule";
            rules.say(Diagnostic::new(Code::RuleFailed, message, help).at(job.span, ""));
            return None;
        };
        let fits = 0.0 < productive.value.value && productive.value.value <= DAY;
        if !fits || !(1.0..MOST_PEOPLE).contains(&people.value.value) {
            rules.say(calendar::unplanned(
                job,
                &"a day of the crew has no time to work in, or has nobody to work",
            ));
            return None;
        }
        Some(Self {
            // Half a person cannot be sent.
            crew: people.value.value.floor() as u32,
            people,
            productive: productive.value,
            travel,
        })
    }
}

#[cfg(test)]
mod tests;
