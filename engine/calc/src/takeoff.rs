//! The take-off: what the rules of the pack need for every face and for the job.
//!
//! A rule runs once for a *class* of faces: those that look the same to it but for their
//! measured sizes. For the others its tape is replayed, all of them together; for those where a
//! comparison of sizes turns out differently, the rule runs afresh and founds another class.

mod cautions;
mod classes;
mod kit;
pub(crate) mod subjects;

pub use cautions::{Audience, Caution};
pub use kit::Tool;

use crate::contract::{CAUTIONS, EDGE_HOOKS, FACE_HOOKS, JOB_HOOKS, KIT, MATERIALS, MIXES, PHASES};
use crate::days::{self, DayPlan};
use crate::job::{Face, Finish, Job};
use crate::layout::{Layout, Layouts};
use crate::measure::{Measured, MeasuredFace};
use cautions::Heard;
use classes::{Classes, MAX_RUNS};
use parge_base::{
    Code, Diagnostic, Factor, NodeId, Quantity, QuantityError, Span, diagnostic, suggest,
};
use parge_rules::{Pack, Run, Subject};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use subjects::{edge_subject, face_subject, job_subject};

/// So much of an item, for all equal faces together.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// The item.
    pub item: Arc<str>,
    /// Without waste.
    pub amount: Quantity,
    /// The waste as an amount, not a share.
    pub waste: Quantity,
}

/// So much labour, for all equal faces together.
#[derive(Debug, Clone, PartialEq)]
pub struct Hours {
    /// The phase.
    pub phase: Arc<str>,
    /// The time of one person.
    pub time: Quantity,
}

/// So much of a mix that is made on the site of several items, for all equal faces together.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// The mix, a row of table `mixes`.
    pub mix: Arc<str>,
    /// With waste, in the unit that its batches are counted in.
    pub amount: Quantity,
}

/// What one subject, a face or the job, takes.
#[derive(Debug, Clone)]
pub struct Taken {
    /// The number of the run in [`Takeoff::runs`] whose tape made these figures.
    pub run: usize,
    /// Materials, in the order of the run's lines.
    pub needs: Vec<Need>,
    /// Labour, in the order of the run's lines.
    pub hours: Vec<Hours>,
    /// Mixes that are no item by themselves, in the order of the run's lines.
    pub placed: Vec<Placed>,
}

impl Taken {
    fn nothing(run: usize) -> Self {
        Self {
            run,
            needs: Vec::new(),
            hours: Vec::new(),
            placed: Vec::new(),
        }
    }
}

/// Which rule pack made a take-off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PackLabel {
    /// Its name.
    pub name: String,
    /// Its version, and the packs that it rests on with theirs.
    pub version: String,
    /// The folder it was read from; its name for a pack of the program.
    pub folder: String,
}

/// A measured job with what it takes.
#[derive(Debug)]
pub struct Takeoff {
    /// The measured job.
    pub measured: Measured,
    /// The rule pack.
    pub pack: PackLabel,
    /// The runs of the rules, one a class of faces, and one for the job.
    pub runs: Vec<Run>,
    /// What each measured face takes, in their order.
    pub faces: Vec<Taken>,
    /// The sheets and rolls laid out on each measured face, in their order, whether its rules
    /// need them or not.
    pub layouts: Vec<Vec<Layout>>,
    /// What the linear work takes, in the order of [`Job::edges`].
    pub edges: Vec<Taken>,
    /// What the job takes as a whole.
    pub whole: Option<Taken>,
    /// When the work is done; none for a pack that has no rules for days, and where the work cannot
    /// be planned.
    pub days: Option<DayPlan>,
    /// What the days of work take by themselves, in the order of [`DayPlan::days`].
    pub daily: Vec<Taken>,
    /// The cautions, in the order of the pack's table.
    pub cautions: Vec<Caution>,
    /// The tools and equipment to take, in the order of the pack's table.
    pub kit: Vec<Tool>,
}

impl Takeoff {
    /// What everything takes: faces, edges, the job as a whole, and the days of work.
    pub fn all_taken(&self) -> impl Iterator<Item = &Taken> {
        let on_the_wall = self.faces.iter().chain(&self.edges);
        on_the_wall.chain(&self.whole).chain(&self.daily)
    }

    /// The factors that the figures rest on, each once, in the order of their names.
    pub fn factors(&self) -> Vec<&Arc<Factor>> {
        let rules = self.runs.iter().flat_map(|run| run.tape.factors());
        let measuring = self.measured.job.tape.factors();
        let sheets: BTreeMap<&str, &Layout> = self
            .used_layouts()
            .map(|(_, layout)| (&*layout.sheet.item, layout))
            .collect();
        let laid = sheets.values().flat_map(|layout| &layout.sheet.factors);
        let all = measuring.chain(rules).chain(laid);
        let by_name: BTreeMap<&str, &Arc<Factor>> =
            all.map(|factor| (factor.name.as_str(), factor)).collect();
        by_name.into_values().collect()
    }

    /// The layouts of what the faces need, each with the number of its face.
    pub fn used_layouts(&self) -> impl Iterator<Item = (usize, &Layout)> {
        let faces = self.layouts.iter().zip(&self.faces).enumerate();
        faces.flat_map(|(number, (layouts, taken))| {
            let used = |layout: &&Layout| {
                let mut needs = taken.needs.iter();
                needs.any(|need| need.item == layout.sheet.item)
            };
            layouts
                .iter()
                .filter(used)
                .map(move |layout| (number, layout))
        })
    }
}

/// Runs the rules over every measured face and over the job.
pub fn take_off(measured: Measured, pack: &Pack) -> (Takeoff, Vec<Diagnostic>) {
    let mut rules = Rules::new(pack);
    let job = &measured.job;
    let (layouts, mut said) = layouts_of(&measured, pack);
    rules.diagnostics.append(&mut said);
    let faces = faces(&measured, &layouts, &mut rules);
    let edges = edges(job, &mut rules);
    let on_the_wall = faces.iter().chain(&edges);
    let whole = match job_subject(&measured, on_the_wall) {
        Ok(subject) => Some(rules.take(JOB_HOOKS, &subject)),
        Err(error) => {
            let help = "check the sizes and counts of the faces";
            rules
                .diagnostics
                .push(Diagnostic::new(Code::NoValue, error.to_string(), help));
            None
        }
    };
    let of = days::Given {
        measured: &measured,
        faces: &faces,
        edges: &edges,
        whole: whole.as_ref(),
    };
    let (days, daily) = days::plan(&of, &mut rules).unzip();
    rules.warn_of_unused_weather(whole.as_ref(), &measured.job);
    rules.finish_warnings();
    let Rules {
        runs,
        mut diagnostics,
        heard,
        ..
    } = rules;
    let (cautions, mut said) = cautions::said(&heard, pack, job.units);
    diagnostics.append(&mut said);
    let run = whole.as_ref().and_then(|whole| runs.get(whole.run));
    let (kit, mut said) = run.map(|run| kit::kit(run, pack)).unwrap_or_default();
    diagnostics.append(&mut said);
    diagnostic::tidy(&mut diagnostics);
    let pack = PackLabel {
        name: pack.manifest.name.clone(),
        version: pack.version(),
        folder: pack.folder.clone(),
    };
    (
        Takeoff {
            measured,
            pack,
            runs,
            faces,
            layouts,
            edges,
            whole,
            days,
            daily: daily.unwrap_or_default(),
            cautions,
            kit,
        },
        diagnostics,
    )
}

/// The measured faces with what the plan says of them.
fn measured_faces(of: &Measured) -> impl Iterator<Item = (&MeasuredFace, &Face, &Finish)> {
    of.faces.iter().filter_map(|measured| {
        let face = of.job.faces.get(measured.face)?;
        Some((measured, face, of.job.finishes.get(face.finish)?))
    })
}

/// What is laid out on the measured faces, in their order.
fn layouts_of(measured: &Measured, pack: &Pack) -> (Vec<Vec<Layout>>, Vec<Diagnostic>) {
    let (mut sheets, said) = Layouts::of(pack);
    let all = measured_faces(measured);
    let layouts =
        all.map(|(face_measured, face, _)| sheets.face(&measured.job, face, face_measured));
    (layouts.collect(), said)
}

/// Runs the rules over the measured faces.
fn faces(measured: &Measured, layouts: &[Vec<Layout>], rules: &mut Rules<'_>) -> Vec<Taken> {
    let job = &measured.job;
    let all: Vec<_> = measured_faces(measured).collect();
    let subject = |at: usize| {
        let (measured, face, finish) = all.get(at)?;
        Some(face_subject(job, face, finish, measured, layouts.get(at)?))
    };
    let places = all.iter().map(|(_, face, _)| Place {
        span: face.span,
        name: &face.name,
        structure: job.structure_name(face.structure),
        count: f64::from(face.count),
    });
    rules.take_all(FACE_HOOKS, places, subject)
}

/// Runs the rules over the linear work. A pack without a rule for it would leave it out without
/// a word, so that is an error.
fn edges(job: &Job, rules: &mut Rules<'_>) -> Vec<Taken> {
    if let (Some(first), false) = (job.edges.first(), rules.pack.has_hook("edges")) {
        let name = &rules.pack.manifest.name;
        let message = format!("pack `{name}` has no rule for linear work, and the plan has some");
        let help = "add a rule `edges(edge)` to the pack, or remove the edges from the plan";
        rules
            .diagnostics
            .push(Diagnostic::new(Code::RuleFailed, message, help).at(first.span, ""));
        return Vec::new();
    }
    let places = job.edges.iter().map(|edge| Place {
        span: edge.span,
        name: &edge.kind,
        structure: job.structure_name(edge.structure),
        count: f64::from(edge.count),
    });
    let subject = |at: usize| Some(edge_subject(job, job.edges.get(at)?));
    rules.take_all(EDGE_HOOKS, places, subject)
}

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
struct Place<'a> {
    span: Span,
    name: &'a str,
    structure: &'a str,
    /// How many there are of it.
    count: f64,
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
    diagnostics: Vec<Diagnostic>,
    /// What is to be said, by the caution's key.
    heard: BTreeMap<Arc<str>, Heard>,
    warnings: BTreeMap<Warning, SaidOf>,
    known: BTreeSet<(&'static str, Arc<str>)>,
}

impl<'p> Rules<'p> {
    fn new(pack: &'p Pack) -> Self {
        Self {
            pack,
            runs: Vec::new(),
            diagnostics: Vec::new(),
            heard: BTreeMap::new(),
            warnings: BTreeMap::new(),
            known: BTreeSet::new(),
        }
    }

    /// Takes all of one kind, in their order. `subject` makes what the rules see of one; it is
    /// asked again for those that the rules run for.
    fn take_all<'a>(
        &mut self,
        hooks: &[&str],
        places: impl ExactSizeIterator<Item = Place<'a>>,
        subject: impl Fn(usize) -> Option<Subject>,
    ) -> Vec<Taken> {
        let mut classes = Classes::of((0..places.len()).map_while(&subject));
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
                classes.found(at, number, run);
            }
            self.note(number, own_value, Some(place.span));
            Some(self.taken(number, own_value, place.count, Some(place.span)))
        });
        all.collect()
    }

    /// Takes the job as a whole.
    fn take(&mut self, hooks: &[&str], subject: &Subject) -> Taken {
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

    /// What a run that was asked for takes.
    pub(crate) fn taken_of_one(&mut self, run: usize) -> Taken {
        self.taken(run, own_value, 1.0, None)
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
            let known = self.pack.tables().keys(table, &[]).unwrap_or_default();
            let general = crate::pool::general_item(name);
            if !known.contains(&general) {
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
        let mut taken = Taken::nothing(number);
        let Some(run) = self.runs.get(number) else {
            return taken;
        };
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
        let mixes = self.pack.tables().keys(MIXES, &[]).unwrap_or_default();
        for line in run.given.iter().filter(|line| mixes.contains(&&*line.name)) {
            match value(line.value).and_then(|amount| amount.times(count)) {
                Ok(amount) => taken.placed.push(Placed {
                    mix: Arc::clone(&line.name),
                    amount,
                }),
                Err(_) => too_large = true,
            }
        }
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
    fn warn_of_unused_weather(&mut self, whole: Option<&Taken>, job: &Job) {
        if whole.is_none() {
            return;
        }
        let weather = [
            ("air", job.weather.air),
            ("humidity", job.weather.humidity),
            ("wind", job.weather.wind),
            ("mix", job.weather.mix),
        ];
        let stated: Vec<_> = weather
            .into_iter()
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
    fn finish_warnings(&mut self) {
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

#[cfg(test)]
mod tests;
