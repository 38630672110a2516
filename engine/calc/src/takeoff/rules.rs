//! The rules of a pack at work: who they run for, what they answer, and what they say on the way.

use super::cautions::{self, Heard};
use super::classes::{Classes, KnownRuns, MAX_RUNS};
use super::{Hours, Need, Placed, Taken};
use crate::contract::{CAUTIONS, KIT, MATERIALS, MIXES, PHASES};
use crate::job::Job;
use parge_base::{Code, Diagnostic, NodeId, Quantity, QuantityError, Span, suggest};
use parge_rules::{Pack, Run, Subject};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What a rule asks for where it makes use of a reading of the weather, by itself or in what is
/// reckoned from it.
fn asks_for(reading: &str) -> impl Iterator<Item = String> {
    const FIGURES: [(&str, &[&str]); 6] = [
        ("air", &["air"]),
        ("humidity", &["humidity"]),
        ("wind", &["wind"]),
        ("mix", &["mix"]),
        ("evaporation", &["air", "humidity", "wind", "mix"]),
        ("dew_point", &["air", "humidity"]),
    ];
    let of = FIGURES
        .iter()
        .filter(move |(_, rests_on)| rests_on.contains(&reading));
    of.flat_map(|(figure, _)| ["job", "weather", "day"].map(|of| format!("{of}.{figure}")))
}

/// A face or an edge that rules run for.
pub(super) struct Place<'a> {
    pub(super) span: Span,
    pub(super) name: &'a str,
    pub(super) structure: &'a str,
    /// How many there are of it.
    pub(super) count: f64,
}

/// A figure of the subject that a run was made for.
fn own_value(run: &Run, node: NodeId) -> Option<Quantity> {
    Some(run.tape.value(node))
}

/// A warning's text and the line of the script that says it.
type Warning = (Arc<str>, Option<Span>);

/// The first face that a warning is said of, and the number of all of them.
type SaidOf = (Option<Span>, usize);

/// The rules of a pack, what they were run for and what they said.
pub(crate) struct Rules<'p> {
    pub(crate) pack: &'p Pack,
    pub(crate) runs: Vec<Run>,
    /// Those that others of a class may be given.
    classes: KnownRuns,
    pub(super) diagnostics: Vec<Diagnostic>,
    /// What is to be said, by the caution's key.
    pub(super) heard: BTreeMap<Arc<str>, Heard>,
    warnings: BTreeMap<Warning, SaidOf>,
    /// The mixes of the pack.
    mixes: BTreeSet<&'p str>,
    known: BTreeSet<(&'static str, Arc<str>)>,
}

impl<'p> Rules<'p> {
    pub(crate) fn new(pack: &'p Pack) -> Self {
        Self {
            pack,
            runs: Vec::new(),
            classes: KnownRuns::new(),
            diagnostics: Vec::new(),
            heard: BTreeMap::new(),
            warnings: BTreeMap::new(),
            mixes: mixes(pack),
            known: BTreeSet::new(),
        }
    }

    /// Takes all of one kind, in their order. `subject` makes what the rules see of one; it is
    /// asked again for those that the rules run for.
    pub(super) fn take_all<'a>(
        &mut self,
        hooks: &[&str],
        places: impl ExactSizeIterator<Item = Place<'a>>,
        subject: impl Fn(usize) -> Option<Subject<'a>>,
    ) -> Vec<Taken> {
        let classes = Classes::of((0..places.len()).map_while(&subject));
        self.take_classed(hooks, classes, places, subject)
    }

    /// The same for those that were put into their classes before.
    pub(super) fn take_classed<'a>(
        &mut self,
        hooks: &[&str],
        mut classes: Classes,
        places: impl ExactSizeIterator<Item = Place<'a>>,
        subject: impl Fn(usize) -> Option<Subject<'a>>,
    ) -> Vec<Taken> {
        classes.recall(&self.classes, &self.runs);
        let all = places.enumerate().filter_map(|(at, place)| {
            if let Some(answer) = classes.answer(at) {
                let value = |_: &Run, node| classes.value(answer, node);
                self.note(answer.run, value, Some(place.span));
                return Some(self.taken(answer.run, value, place.count, Some(place.span)));
            }
            if classes.is_full(at) {
                return Some(Taken::nothing(self.refuse_more_runs()));
            }
            let (number, fine) = self.run(hooks, &subject(at)?, Some(&place));
            if let Some(run) = self.runs.get(number).filter(|_| fine) {
                classes.found(at, number, run, &mut self.classes);
            }
            self.note(number, own_value, Some(place.span));
            Some(self.taken(number, own_value, place.count, Some(place.span)))
        });
        all.collect()
    }

    /// Takes the job as a whole.
    pub(super) fn take(&mut self, hooks: &[&str], subject: &Subject) -> Taken {
        let (number, _) = self.run(hooks, subject, None);
        self.note(number, own_value, None);
        self.taken(number, own_value, 1.0, None)
    }

    /// Runs the hooks afresh; says the number of the run, and whether it had no error.
    fn run(&mut self, hooks: &[&str], subject: &Subject, of: Option<&Place<'_>>) -> (usize, bool) {
        let number = self.runs.len();
        let mut run = self.pack.run(hooks, subject);
        let fine = run.errors.is_empty();
        for error in std::mem::take(&mut run.errors) {
            let told = self
                .diagnostics
                .iter()
                .any(|d| d.message == error.message && d.span() == error.span());
            if !told {
                self.diagnostics.push(match of {
                    Some(Place {
                        span,
                        name,
                        structure,
                        ..
                    }) => error.at(*span, format!("for this, `{name}` of `{structure}`")),
                    None => error,
                });
            }
        }
        self.check_names(&run);
        self.runs.push(run);
        (number, fine)
    }

    /// Asks one rule about something that there is one of; the number of the run. `None` where the
    /// pack does not have the rule, or it failed, which was said. `about` stands before what the
    /// rule warns of.
    pub(crate) fn ask(&mut self, hook: &str, subject: &Subject, about: &str) -> Option<usize> {
        if !self.pack.has_hook(hook) {
            return None;
        }
        let (number, fine) = self.run(&[hook], subject, None);
        if let Some(run) = self.runs.get_mut(number) {
            for said in &mut run.warnings {
                said.text = format!("{about}: {}", said.text).into();
            }
        }
        self.note(number, own_value, None);
        fine.then_some(number)
    }

    /// Asks the same about another of the class by what an earlier run says; the number of a run of
    /// its own. `None` where the rule must run for it: what it warns of names what it was asked about.
    pub(crate) fn ask_again(&mut self, run: usize, subject: &Subject) -> Option<usize> {
        let known = self.runs.get(run).filter(|run| run.warnings.is_empty());
        let answer = known?.again(subject)?;
        let number = self.runs.len();
        self.runs.push(answer);
        self.note(number, own_value, None);
        Some(number)
    }

    /// What a run that was asked for takes.
    pub(crate) fn taken_of_one(&mut self, run: usize) -> Taken {
        self.taken(run, own_value, 1.0, None)
    }

    /// What was to be said so far, but for warnings of the rules and cautions.
    pub(crate) fn take_said(&mut self) -> Vec<Diagnostic> {
        std::mem::take(&mut self.diagnostics)
    }

    /// Keeps something that is to be said.
    pub(crate) fn say(&mut self, said: Diagnostic) {
        self.diagnostics.push(said);
    }

    /// Says once that there are too many classes; the error keeps every figure from being shown.
    fn refuse_more_runs(&mut self) -> usize {
        if !self
            .diagnostics
            .iter()
            .any(|said| said.code == Code::RuleLimit)
        {
            let message = format!(
                "the rules part faces of one kind into more than {MAX_RUNS} classes by their sizes"
            );
            let help =
                "compare sizes with few limits only, not with a series of them; or divide the job";
            self.diagnostics
                .push(Diagnostic::new(Code::RuleLimit, message, help));
        }
        usize::MAX
    }

    /// Items, phases, tools and cautions that a rule names must stand in the pack's tables: the sheets
    /// take their words from there.
    fn check_names(&mut self, run: &Run) {
        let needs = run
            .needs
            .iter()
            .map(|line| (MATERIALS, &line.item, line.place));
        let hours = run
            .hours
            .iter()
            .map(|line| (PHASES, &line.phase, line.place));
        let cautions = run
            .cautions
            .iter()
            .map(|line| (CAUTIONS, &line.key, line.place));
        let tools = run.tools.iter().map(|line| (KIT, &line.tool, line.place));
        for (table, name, place) in needs.chain(hours).chain(cautions).chain(tools) {
            if !self.known.insert((table, Arc::clone(name))) {
                continue;
            }
            let tables = self.pack.tables();
            if !tables.has_key(table, crate::pool::general_item(name)) {
                let known = tables.keys(table, &[]).unwrap_or_default();
                let message = format!("table `{table}` of the rule pack has no row for `{name}`");
                let help = suggest::help_for(name, known);
                let diagnostic = Diagnostic::new(Code::RuleFailed, message, help);
                self.diagnostics.push(match place {
                    Some(span) => diagnostic.at(span, "named here"),
                    None => diagnostic,
                });
            }
        }
    }

    fn note(
        &mut self,
        run: usize,
        value: impl Fn(&Run, NodeId) -> Option<Quantity>,
        face: Option<Span>,
    ) {
        let Some(run) = self.runs.get(run) else {
            return;
        };
        cautions::note(
            &mut self.heard,
            run,
            |node| value(run, node),
            face.is_some(),
        );
        for said in &run.warnings {
            let entry = self
                .warnings
                .entry((Arc::clone(&said.text), said.place))
                .or_insert((face, 0));
            entry.1 += 1;
        }
    }

    fn taken(
        &mut self,
        number: usize,
        value: impl Fn(&Run, NodeId) -> Option<Quantity>,
        count: f64,
        place: Option<Span>,
    ) -> Taken {
        let Some(run) = self.runs.get(number) else {
            return Taken::nothing(number);
        };
        let (taken, too_large) = taken_of(run, number, &self.mixes, value, count);
        if too_large {
            let help = "check the sizes and the count of this face";
            let diagnostic =
                Diagnostic::new(Code::NoValue, QuantityError::NotFinite.to_string(), help);
            self.diagnostics.push(match place {
                Some(span) => diagnostic.at(span, ""),
                None => diagnostic,
            });
        }
        taken
    }

    /// Weather that no rule asks for changes nothing, and whoever stated it must know.
    pub(super) fn warn_of_unused_weather(&mut self, whole: Option<&Taken>, job: &Job) {
        if whole.is_none() {
            return;
        }
        // Of all days, and of single ones from the plan or a forecast.
        let weathers = std::iter::once(&job.weather).chain(job.weather_on.values());
        let readings = weathers.flat_map(|weather| {
            [
                ("air", weather.air),
                ("humidity", weather.humidity),
                ("wind", weather.wind),
                ("mix", weather.mix),
            ]
        });
        let stated: Vec<_> = readings
            .filter_map(|(name, figure)| Some((name, figure?)))
            .collect();
        let asked = |input: &str| self.runs.iter().any(|run| run.tape.uses_input(input));
        let unused = |name: &str| !asks_for(name).any(|input| asked(&input));
        if let Some((_, first)) = stated.first()
            && stated.iter().all(|(name, _)| unused(name))
        {
            let message = format!(
                "no rule of pack `{}` asks for the weather: it changes nothing",
                self.pack.manifest.name
            );
            let help = "allow for heat, wind and cold by hand, or leave the weather out";
            self.diagnostics
                .push(Diagnostic::new(Code::UnusedSetting, message, help).at(first.span, ""));
        }
    }

    /// One warning for each thing said, however many faces it is said of.
    pub(super) fn finish_warnings(&mut self) {
        for ((text, place), (face, count)) in std::mem::take(&mut self.warnings) {
            let others = match count {
                0 | 1 => String::new(),
                2 => " (and of one more face)".to_owned(),
                more => format!(" (and of {} more faces)", more - 1),
            };
            let help = "check the plan; if it is meant so, nothing needs to be done";
            let mut diagnostic =
                Diagnostic::new(Code::RuleWarning, format!("{text}{others}"), help);
            for (span, label) in [(face, "said of this"), (place, "by this rule")] {
                if let Some(span) = span {
                    diagnostic = diagnostic.at(span, label);
                }
            }
            self.diagnostics.push(diagnostic);
        }
    }
}

/// What a run says of so many of a subject, and whether any of its lines has become too large.
pub(super) fn taken_of(
    run: &Run,
    number: usize,
    mixes: &BTreeSet<&str>,
    value: impl Fn(&Run, NodeId) -> Option<Quantity>,
    count: f64,
) -> (Taken, bool) {
    let mut taken = Taken::nothing(number);
    taken.needs.reserve_exact(run.needs.len());
    taken.hours.reserve_exact(run.hours.len());
    let count = Quantity::plain(count);
    let value = |node| value(run, node).ok_or(QuantityError::NotFinite);
    let mut too_large = false;
    for line in &run.needs {
        let amount = value(line.amount).and_then(|amount| amount.times(count));
        let waste = amount.and_then(|amount| amount.times(value(line.waste)?));
        match amount.and_then(|amount| Ok((amount, waste?))) {
            Ok((amount, waste)) => taken.needs.push(Need {
                item: Arc::clone(&line.item),
                amount,
                waste,
            }),
            Err(_) => too_large = true,
        }
    }
    for line in &run.hours {
        match value(line.time).and_then(|time| time.times(count)) {
            Ok(time) => taken.hours.push(Hours {
                phase: Arc::clone(&line.phase),
                time,
            }),
            Err(_) => too_large = true,
        }
    }
    for line in &run.given {
        if !mixes.contains(&*line.name) {
            continue;
        }
        match value(line.value).and_then(|amount| amount.times(count)) {
            Ok(amount) => taken.placed.push(Placed {
                mix: Arc::clone(&line.name),
                amount,
            }),
            Err(_) => too_large = true,
        }
    }
    (taken, too_large)
}

/// The mixes of a pack.
pub(super) fn mixes(pack: &Pack) -> BTreeSet<&str> {
    let mixes = pack.tables().keys(MIXES, &[]).unwrap_or_default();
    mixes.into_iter().collect()
}
