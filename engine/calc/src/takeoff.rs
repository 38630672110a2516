//! The take-off: what the rules of the pack need for every face and for the job.
//!
//! A rule runs once for a *class* of faces: those that look the same to it but for their
//! measured sizes. For the others its tape is replayed; where a comparison of sizes turns out
//! differently, the rule runs afresh and founds another class.

pub(crate) mod subjects;

use crate::contract::{CAUTIONS, EDGE_HOOKS, FACE_HOOKS, JOB_HOOKS, MATERIALS, PHASES};
use crate::job::Job;
use crate::layout::{Layout, Layouts};
use crate::measure::Measured;
use parge_base::trace::Replay;
use parge_base::{
    Code, Diagnostic, Factor, NodeId, Quantity, QuantityError, Span, diagnostic, suggest,
};
use parge_rules::{ClassKey, Pack, Run, Subject};
use std::collections::{BTreeMap, BTreeSet, HashMap};
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

/// What one subject, a face or the job, takes.
#[derive(Debug, Clone)]
pub struct Taken {
    /// The number of the run in [`Takeoff::runs`] whose tape made these figures.
    pub run: usize,
    /// Materials, in the order of the run's lines.
    pub needs: Vec<Need>,
    /// Labour, in the order of the run's lines.
    pub hours: Vec<Hours>,
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

/// A caution that the job gives reason for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Its key in the pack.
    pub key: String,
    /// Its text.
    pub text: String,
    /// On how many faces it rests; none for one about the job as a whole.
    pub faces: usize,
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
    /// The cautions, in the order of the pack's table.
    pub cautions: Vec<Caution>,
}

impl Takeoff {
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
    let (mut sheets, mut said) = Layouts::of(pack);
    rules.diagnostics.append(&mut said);
    let (faces, layouts): (Vec<Taken>, Vec<Vec<Layout>>) = measured
        .faces
        .iter()
        .filter_map(|measured| {
            let face = job.faces.get(measured.face)?;
            let finish = job.finishes.get(face.finish)?;
            let layouts = sheets.face(job, face, measured);
            let subject = face_subject(job, face, finish, measured, &layouts);
            let place = Place {
                span: face.span,
                name: &face.name,
                structure: job.structure_name(face.structure),
            };
            let count = f64::from(face.count);
            let taken = rules.take(FACE_HOOKS, &subject, count, Some(&place));
            Some((taken, layouts))
        })
        .unzip();
    let edges = edges(job, &mut rules);
    let on_the_wall = faces.iter().chain(&edges);
    let whole = match job_subject(&measured, on_the_wall) {
        Ok(subject) => Some(rules.take(JOB_HOOKS, &subject, 1.0, None)),
        Err(error) => {
            let help = "check the sizes and counts of the faces";
            rules
                .diagnostics
                .push(Diagnostic::new(Code::NoValue, error.to_string(), help));
            None
        }
    };
    rules.warn_of_unused_weather(whole.as_ref(), &measured.job);
    rules.finish_warnings();
    let cautions = rules.cautions();
    let Rules {
        runs,
        mut diagnostics,
        ..
    } = rules;
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
            cautions,
        },
        diagnostics,
    )
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
    let all = job.edges.iter().map(|edge| {
        let place = Place {
            span: edge.span,
            name: &edge.kind,
            structure: job.structure_name(edge.structure),
        };
        let count = f64::from(edge.count);
        rules.take(EDGE_HOOKS, &edge_subject(job, edge), count, Some(&place))
    });
    all.collect()
}

/// A face or an edge that rules run for.
struct Place<'a> {
    span: Span,
    name: &'a str,
    structure: &'a str,
}

/// A warning's text and the line of the script that says it.
type Warning = (Arc<str>, Option<Span>);

/// The first face that a warning is said of, and the number of all of them.
type SaidOf = (Option<Span>, usize);

/// Runs that one kind of face may need. A rule that parts equal faces into more classes than
/// this by their sizes compares without end; following it would take all time and memory.
const MAX_RUNS: usize = 64;

struct Rules<'p> {
    pack: &'p Pack,
    runs: Vec<Run>,
    classes: HashMap<ClassKey, Vec<usize>>,
    diagnostics: Vec<Diagnostic>,
    /// Faces by the caution's key.
    cautions: BTreeMap<Arc<str>, usize>,
    warnings: BTreeMap<Warning, SaidOf>,
    known: BTreeSet<(&'static str, Arc<str>)>,
}

impl<'p> Rules<'p> {
    fn new(pack: &'p Pack) -> Self {
        Self {
            pack,
            runs: Vec::new(),
            classes: HashMap::new(),
            diagnostics: Vec::new(),
            cautions: BTreeMap::new(),
            warnings: BTreeMap::new(),
            known: BTreeSet::new(),
        }
    }

    fn take(
        &mut self,
        hooks: &[&str],
        subject: &Subject,
        count: f64,
        of: Option<&Place<'_>>,
    ) -> Taken {
        let inputs = subject.inputs();
        let key = subject.class_key();
        let known = self.classes.get(&key).cloned().unwrap_or_default();
        let replayed = known.into_iter().find_map(|run| {
            let replay = self.runs.get(run)?.tape.replay(&inputs).ok()?;
            Some((run, replay))
        });
        let (run, replay) = match replayed {
            Some((run, replay)) => (run, Some(replay)),
            None => (self.run(hooks, subject, key, of), None),
        };
        let place = of.map(|of| of.span);
        self.note(run, place);
        self.taken(run, replay.as_ref(), count, place)
    }

    /// Runs the hooks afresh. A run with an error is no class: nothing is replayed from it.
    fn run(
        &mut self,
        hooks: &[&str],
        subject: &Subject,
        key: ClassKey,
        of: Option<&Place<'_>>,
    ) -> usize {
        if self
            .classes
            .get(&key)
            .is_some_and(|runs| runs.len() >= MAX_RUNS)
        {
            return self.refuse_more_runs();
        }
        let number = self.runs.len();
        let mut run = self.pack.run(hooks, subject);
        if run.errors.is_empty() {
            self.classes.entry(key).or_default().push(number);
        }
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
                    }) => error.at(*span, format!("for this, `{name}` of `{structure}`")),
                    None => error,
                });
            }
        }
        self.check_names(&run);
        self.runs.push(run);
        number
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

    /// Items, phases and cautions that a rule names must stand in the pack's tables: the sheets
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
            .map(|said| (CAUTIONS, &said.text, said.place));
        for (table, name, place) in needs.chain(hours).chain(cautions) {
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

    fn note(&mut self, run: usize, face: Option<Span>) {
        let Some(run) = self.runs.get(run) else {
            return;
        };
        let keys: BTreeSet<&Arc<str>> = run.cautions.iter().map(|said| &said.text).collect();
        for key in keys {
            *self.cautions.entry(Arc::clone(key)).or_default() += usize::from(face.is_some());
        }
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
        replay: Option<&Replay>,
        count: f64,
        place: Option<Span>,
    ) -> Taken {
        let mut taken = Taken {
            run: number,
            needs: Vec::new(),
            hours: Vec::new(),
        };
        let Some(run) = self.runs.get(number) else {
            return taken;
        };
        let count = Quantity::plain(count);
        let value =
            |node: NodeId| replay.map_or_else(|| run.tape.value(node), |replay| replay.value(node));
        let mut too_large = false;
        for line in &run.needs {
            let amount = value(line.amount).times(count);
            let waste = amount.and_then(|amount| amount.times(value(line.waste)));
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
            match value(line.time).times(count) {
                Ok(time) => taken.hours.push(Hours {
                    phase: Arc::clone(&line.phase),
                    time,
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
        let Some(run) = whole.and_then(|whole| self.runs.get(whole.run)) else {
            return;
        };
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
        let unused = |name: &str| !run.tape.uses_input(&format!("job.{name}"));
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

    fn cautions(&self) -> Vec<Caution> {
        let tables = self.pack.tables();
        let order = tables.keys(CAUTIONS, &[]).unwrap_or_default();
        order
            .into_iter()
            .filter_map(|key| {
                let faces = self.cautions.get(key)?;
                let text = tables.text(CAUTIONS, &[key])?.to_owned();
                Some(Caution {
                    key: key.to_owned(),
                    text,
                    faces: *faces,
                })
            })
            .collect()
    }
}

#[cfg(test)]
mod tests;
