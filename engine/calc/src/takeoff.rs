//! The take-off: what the rules of the pack need for every face and for the job.
//!
//! A rule runs once for a *class* of faces: those that look the same to it but for their
//! measured sizes. For the others its tape is replayed, all of them together; for those where a
//! comparison of sizes turns out differently, the rule runs afresh and founds another class.

mod cautions;
pub(crate) mod classes;
mod kit;
mod known;
mod part;
mod passed;
mod rules;
pub(crate) mod subjects;
mod totals;

pub use cautions::{Audience, Caution};
pub use kit::Tool;
pub(crate) use known::Known;
pub(crate) use part::Part;
pub use passed::Passed;
use rules::Place;
pub(crate) use rules::Rules;
pub(crate) use totals::Totals;

use crate::contract::{EDGE_HOOKS, FACE_HOOKS, JOB_HOOKS};
use crate::days::{self, DayPlan};
use crate::job::{Face, Finish, Job};
use crate::layout::{Layout, Layouts};
use crate::measure::{Measured, MeasuredFace};
use parge_base::{Code, Diagnostic, Factor, Quantity, diagnostic};
use parge_rules::{Pack, Run, Subject};
use std::collections::BTreeMap;
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

impl PackLabel {
    fn of(pack: &Pack) -> Self {
        Self {
            name: pack.manifest.name.clone(),
            version: pack.version(),
            folder: pack.folder.clone(),
        }
    }
}

/// A measured job with what it takes.
#[derive(Debug)]
pub struct Takeoff {
    /// The measured job.
    pub measured: Measured,
    /// What is known of faces that are not among them: those of a job that is gone through part by
    /// part.
    pub passed: Passed,
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
    /// A take-off of what stands on the wall and of nothing else.
    pub(crate) fn of_wall(measured: Measured, wall: Wall, pack: &Pack) -> Self {
        Self {
            measured,
            passed: Passed::default(),
            pack: PackLabel::of(pack),
            runs: Vec::new(),
            faces: wall.faces,
            layouts: wall.layouts,
            edges: wall.edges,
            whole: None,
            days: None,
            daily: Vec::new(),
            cautions: Vec::new(),
            kit: Vec::new(),
        }
    }

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
        let passed = self.passed.factors.values();
        let all = measuring.chain(passed).chain(rules).chain(laid);
        let by_name: BTreeMap<&str, &Arc<Factor>> =
            all.map(|factor| (factor.name.as_str(), factor)).collect();
        by_name.into_values().collect()
    }

    /// The layouts of what the faces need, each with the number of its face.
    pub fn used_layouts(&self) -> impl Iterator<Item = (usize, &Layout)> {
        let numbers = 0..self.layouts.len();
        numbers.flat_map(|number| {
            let of_face = self.used_layouts_of(number);
            of_face.map(move |layout| (number, layout))
        })
    }

    /// The layouts of what a measured face needs, by its number.
    pub fn used_layouts_of(&self, number: usize) -> impl Iterator<Item = &Layout> {
        let needs = self.faces.get(number).map(|taken| &taken.needs);
        let layouts = self.layouts.get(number).into_iter().flatten();
        layouts.filter(move |layout| {
            let mut needs = needs.into_iter().flatten();
            needs.any(|need| need.item == layout.sheet.item)
        })
    }
}

/// Runs the rules over every measured face and over the job.
pub fn take_off(measured: Measured, pack: &Pack) -> (Takeoff, Vec<Diagnostic>) {
    let mut rules = Rules::new(pack);
    let wall = on_the_wall(&measured, &mut rules);
    finished(measured, wall, Passed::default(), rules)
}

/// The take-off of what stands on the wall, with all that comes of it.
pub(crate) fn finished(
    measured: Measured,
    wall: Wall,
    mut passed: Passed,
    mut rules: Rules<'_>,
) -> (Takeoff, Vec<Diagnostic>) {
    let pack = rules.pack;
    let of_wall = [&wall.faces[..], &wall.edges];
    let rest = the_rest(&measured, of_wall, &mut passed, &mut rules);
    rules.warn_of_unused_weather(rest.whole.as_ref(), &measured.job);
    rules.finish_warnings();
    let Rules {
        runs,
        mut diagnostics,
        heard,
        ..
    } = rules;
    let (cautions, mut said) = cautions::said(&heard, pack, measured.job.units);
    diagnostics.append(&mut said);
    let run = rest.whole.as_ref().and_then(|whole| runs.get(whole.run));
    let (kit, mut said) = run.map(|run| kit::kit(run, pack)).unwrap_or_default();
    diagnostics.append(&mut said);
    diagnostic::tidy(&mut diagnostics);
    let takeoff = Takeoff {
        runs,
        whole: rest.whole,
        days: rest.days,
        daily: rest.daily,
        cautions,
        kit,
        passed,
        ..Takeoff::of_wall(measured, wall, pack)
    };
    (takeoff, diagnostics)
}

/// What is taken by that which stands on the wall: no face or edge knows of another.
pub(crate) struct Wall {
    /// See [`Takeoff::layouts`].
    pub(crate) layouts: Vec<Vec<Layout>>,
    /// See [`Takeoff::faces`].
    pub(crate) faces: Vec<Taken>,
    /// See [`Takeoff::edges`].
    pub(crate) edges: Vec<Taken>,
}

/// Runs the rules over faces and edges.
pub(crate) fn on_the_wall(measured: &Measured, rules: &mut Rules<'_>) -> Wall {
    let (layouts, mut said) = layouts_of(measured, rules.pack);
    rules.diagnostics.append(&mut said);
    Wall {
        faces: faces(measured, &layouts, rules),
        edges: edges(&measured.job, rules),
        layouts,
    }
}

/// What is taken on account of all that stands on the wall together.
pub(crate) struct Rest {
    /// See [`Takeoff::whole`].
    pub(crate) whole: Option<Taken>,
    /// See [`Takeoff::days`].
    pub(crate) days: Option<DayPlan>,
    /// See [`Takeoff::daily`].
    pub(crate) daily: Vec<Taken>,
}

/// Runs the rules over the job as a whole, and plans its days. Given is what faces and what edges
/// take, and what is known of faces that are not here.
pub(crate) fn the_rest(
    measured: &Measured,
    [faces, edges]: [&[Taken]; 2],
    passed: &mut Passed,
    rules: &mut Rules<'_>,
) -> Rest {
    let whole = match job_subject(measured, &passed.totals, [faces, edges]) {
        Ok(subject) => Some(rules.take(JOB_HOOKS, &subject)),
        Err(error) => {
            let help = "check the sizes and counts of the faces";
            rules.say(Diagnostic::new(Code::NoValue, error.to_string(), help));
            None
        }
    };
    let of = days::Given {
        measured,
        faces,
        edges,
        whole: whole.as_ref(),
    };
    let (days, daily) = days::plan(&of, std::mem::take(&mut passed.steps), rules).unzip();
    Rest {
        whole,
        days,
        daily: daily.unwrap_or_default(),
    }
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
    let faces = SeenFaces::of(measured, layouts);
    rules.take_all(FACE_HOOKS, faces.places(), |at| faces.subject(at))
}

/// Measured faces as rules see them.
struct SeenFaces<'m> {
    job: &'m Job,
    faces: Vec<(&'m MeasuredFace, &'m Face, &'m Finish)>,
    layouts: &'m [Vec<Layout>],
}

impl<'m> SeenFaces<'m> {
    fn of(measured: &'m Measured, layouts: &'m [Vec<Layout>]) -> Self {
        Self {
            job: &measured.job,
            faces: measured_faces(measured).collect(),
            layouts,
        }
    }

    fn subject(&self, at: usize) -> Option<Subject<'m>> {
        let (measured, face, finish) = self.faces.get(at)?;
        let layouts = self.layouts.get(at)?;
        Some(face_subject(self.job, face, finish, measured, layouts))
    }

    fn places(&self) -> impl ExactSizeIterator<Item = Place<'m>> {
        self.faces.iter().map(|(_, face, _)| Place {
            span: face.span,
            name: &face.name,
            structure: self.job.structure_name(face.structure),
            count: f64::from(face.count),
        })
    }
}

/// Runs the rules over the linear work. A pack without a rule for it would leave it out without
/// a word, so that is an error.
pub(crate) fn edges(job: &Job, rules: &mut Rules<'_>) -> Vec<Taken> {
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

#[cfg(test)]
mod tests;
