//! A job gone through part by part: what a portfolio of a hundred thousand faces needs no bigger
//! machine for.
//!
//! A structure knows nothing of its neighbours, unless an expression says so. So a long plan is read,
//! measured and taken off some structures at a time. What the job rests on as a whole is added up on
//! the way ([`Passed`]), and whoever wants to see the faces goes through the parts once more
//! ([`Faces::each`]). The figures are those of the whole plan taken at once, to the bit.
//!
//! Where the plan has a mistake, an alternate or an expression that ties a structure to another, there
//! is no way by parts: `None`, and the plan is to be taken as a whole, which tells every mistake.

mod in_order;
mod said;
mod survey;

pub use survey::{Survey, survey};

use crate::contract::Packs;
use crate::days::Phases;
use crate::job::{Edge, Figure, Job};
use crate::measure::{Measured, measure};
use crate::resolve::resolve_with;
use crate::slips::slips;
use crate::takeoff::classes::Classes;
use crate::takeoff::{Known, Part, Passed, Rules, Takeoff, Wall, edges, finished};
use in_order::in_order;
use parge_base::forecast::Forecast;
use parge_base::{Diagnostic, Sources, Span, Tape, diagnostic};
use parge_rules::with_stack;
use said::Said;

/// What parts rest on.
#[derive(Debug, Clone, Copy)]
pub struct Given<'g> {
    /// What the plan says, but for its faces.
    pub survey: &'g Survey,
    /// The texts of the plan.
    pub sources: &'g Sources,
    /// Its packs.
    pub packs: Packs<'g>,
    /// The weather of days, where the plan names a file with it.
    pub forecast: Option<&'g Forecast>,
    /// Where to point for what is missing from the plan as a whole.
    pub end: Span,
}

/// The parts of a job whose rules have run.
#[derive(Debug)]
pub struct Parts {
    /// Of each part the number of the run that held for each of its faces.
    held: Vec<Vec<u32>>,
}

/// The parts of a job, to be gone through.
#[derive(Debug, Clone, Copy)]
pub struct Faces<'g> {
    /// What they rest on.
    pub of: Given<'g>,
    /// The parts.
    pub parts: &'g Parts,
    /// The take-off of the job.
    pub takeoff: &'g Takeoff,
}

/// Takes a job off part by part: all but its faces, which stay in sums only. `None` where there is no
/// way by parts.
pub fn taken_off(of: Given<'_>) -> Option<(Takeoff, Parts, Vec<Diagnostic>)> {
    with_stack(|| {
        let mut going = Going::begin(of)?;
        let ready = |number| Ready::of(of, number);
        let take = |ready: Option<Ready>| ready.and_then(|ready| going.take(ready)).ok_or(());
        in_order(of.survey.parts(), ready, take).ok()?;
        going.end()
    })
}

impl Faces<'_> {
    /// Goes through the parts of the job in their order: `make` is shown each with its faces and their
    /// layouts alone, on all cores, and `take` is given what it made of it, until that fails. A few
    /// parts are held at a time. `None` where they are not what they were when the rules ran.
    pub fn each<T: Send, E>(
        &self,
        make: impl Fn(&Takeoff) -> T + Sync,
        mut take: impl FnMut(T) -> Result<(), E>,
    ) -> Option<Result<(), E>> {
        let of = self.of;
        let known = Known::of(of.packs.rules, &self.takeoff.runs);
        let again = |number| {
            let held = self.parts.held.get(number)?;
            let read = Read::of(of, number)?;
            let part = read.part.taken_off_again(&known, held, of.packs.rules)?;
            Some(make(&part))
        };
        let take = |made: Option<T>| match made {
            Some(made) => take(made).map_err(Some),
            None => Err(None),
        };
        match in_order(of.survey.parts(), again, take) {
            Ok(()) => Some(Ok(())),
            Err(error) => error.map(Err),
        }
    }
}

/// A part that is read and measured.
struct Read {
    part: Part,
    /// The number of its first structure in the job.
    first: usize,
    said: Vec<Diagnostic>,
}

impl Read {
    /// Reads, resolves and measures a part; `None` where it has a mistake or does not stand alone.
    fn of(of: Given<'_>, number: usize) -> Option<Self> {
        Self::with(of, number, |_| Vec::new())
    }

    /// The same with what else is to be said of what was measured.
    fn with(
        of: Given<'_>,
        number: usize,
        also: impl Fn(&Measured) -> Vec<Diagnostic> + Sync,
    ) -> Option<Self> {
        let (plan, first) = of.survey.part(number, of.sources)?;
        with_stack(|| {
            let (job, mut said) = resolve_with(&plan, of.packs, of.forecast, of.end);
            let job = job.filter(|job| job.tied.is_empty())?;
            let (measured, mut more) = measure(job, of.packs);
            said.append(&mut more);
            said.append(&mut also(&measured));
            let (part, mut more) = Part::of(measured, of.packs.rules);
            said.append(&mut more);
            (!diagnostic::any_error(&said)).then_some(Self { part, first, said })
        })
    }
}

/// A part before its rules run.
struct Ready {
    read: Read,
    classes: Classes,
}

impl Ready {
    fn of(of: Given<'_>, number: usize) -> Option<Self> {
        let read = Read::with(of, number, |measured| slips(measured, of.sources))?;
        let classes = read.part.classes();
        Some(Self { read, classes })
    }
}

/// A job on its way through its parts.
struct Going<'g> {
    /// Without the faces.
    job: Job,
    rules: Rules<'g>,
    phases: Phases<'g>,
    passed: Passed,
    held: Vec<Vec<u32>>,
    said: Said,
}

impl<'g> Going<'g> {
    fn begin(of: Given<'g>) -> Option<Self> {
        let (job, said) = resolve_with(of.survey.without_faces(), of.packs, of.forecast, of.end);
        let pack = of.packs.rules;
        Some(Self {
            job: job.filter(|_| !diagnostic::any_error(&said))?,
            rules: Rules::new(pack),
            phases: Phases::of(pack.tables()),
            passed: Passed::default(),
            held: Vec::new(),
            said: Said::new(of.survey, said),
        })
    }

    fn take(&mut self, ready: Ready) -> Option<()> {
        let Read { part, first, said } = ready.read;
        self.said.add(said)?;
        let part = part.taken_off(ready.classes, &mut self.rules);
        let held = part.faces.iter().map(|taken| u32::try_from(taken.run));
        self.held.push(held.collect::<Result<_, _>>().ok()?);
        let wrong = self.passed.add(&part, first, &self.phases);
        // Linear work is taken off at the end, behind all faces: sums go in that order.
        let own = part.measured.job;
        let edges = own.edges.into_iter();
        let tape = &mut self.job.tape;
        let edges = edges.map(|edge| onto(tape, edge, first, &own.tape));
        self.job.edges.extend(edges);
        (!diagnostic::any_error(&wrong)).then_some(())
    }

    fn end(mut self) -> Option<(Takeoff, Parts, Vec<Diagnostic>)> {
        let edges = edges(&self.job, &mut self.rules);
        let measured = Measured {
            job: self.job,
            faces: Vec::new(),
        };
        let wall = Wall {
            layouts: Vec::new(),
            faces: Vec::new(),
            edges,
        };
        let (takeoff, said) = finished(measured, wall, self.passed, self.rules);
        let parts = Parts { held: self.held };
        let mut all = self.said.all();
        all.extend(said);
        (!diagnostic::any_error(&all)).then_some((takeoff, parts, all))
    }
}

/// Linear work with its figures taken over onto the tape of the whole job, as they came out.
fn onto(tape: &mut Tape, edge: Edge, first: usize, from: &Tape) -> Edge {
    let mut taken = |node| {
        let place = from.node(node).and_then(|node| node.place);
        tape.literal(from.value(node), place)
    };
    let mut figure = |Figure { node, span }| Figure {
        node: taken(node),
        span,
    };
    Edge {
        structure: first + edge.structure,
        length: figure(edge.length),
        working_height: edge.working_height.map(&mut figure),
        stated_count: None,
        ..edge
    }
}

#[cfg(test)]
mod tests;
