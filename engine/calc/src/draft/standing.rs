//! The figures of a text, kept so that those of one structure can be taken out and put in anew.

use super::places::Places;
use super::{DraftFace, RestsOn};
use crate::measure::measure;
use crate::pool::{Sums, pool};
use crate::price::{Price, Status, price_by_itself};
use crate::resolve::resolve_with;
use crate::takeoff::{Rules, Takeoff, on_the_wall, the_rest};
use parge_base::{Diagnostic, FileId, Severity, Span, diagnostic};
use parge_grammar::ast::{Name, Plan, Statement};

/// A tape with so many more nodes than it had at first is made anew: each edit leaves those of the
/// structure behind as it was.
const MOST_GROWTH: usize = 1 << 20;

/// The figures of a text.
pub(super) struct Standing<'p> {
    pub(super) places: Places,
    /// For each structure of the text its number in [`crate::job::Job::structures`].
    pub(super) structures: Vec<usize>,
    /// What a structure is read with: all other statements, but for those that speak of structures.
    pub(super) around: Plan,
    pub(super) takeoff: Takeoff,
    pub(super) rules: Rules<'p>,
    pub(super) sums: Sums,
    /// The nodes of the job's tape when the whole text was evaluated.
    at_first: usize,
}

impl<'p> Standing<'p> {
    /// Evaluates a whole text; its mistakes where it has any.
    pub(super) fn of(on: &RestsOn<'p>, file: FileId, text: &str) -> Result<Self, Vec<Diagnostic>> {
        let parsed = parge_grammar::parse(file, text);
        let mut said = parsed.diagnostics;
        let plan = (on.joined)(parsed.plan);
        let end = Span::new(file, text.len(), text.len());
        let (job, mut more) = resolve_with(&plan, on.packs, on.forecast, end);
        said.append(&mut more);
        let Some(job) = job else {
            return Err(errors(said));
        };
        let (measured, mut more) = measure(job, on.packs);
        said.append(&mut more);
        if diagnostic::any_error(&said) {
            return Err(errors(said));
        }
        let mut rules = Rules::new(on.packs.rules);
        let wall = on_the_wall(&measured, &mut rules);
        said.append(&mut rules.take_said());
        let (sums, mut more) = Sums::of(wall.faces.iter().chain(&wall.edges));
        said.append(&mut more);
        let statements = parge_grammar::statements(file, text);
        let Some(statements) = statements.filter(|_| !diagnostic::any_error(&said)) else {
            return Err(errors(said));
        };
        Ok(Self {
            places: Places::new(text, statements),
            structures: own_structures(&plan, file),
            at_first: measured.job.tape.len(),
            takeoff: Takeoff::of_wall(measured, wall, on.packs.rules),
            around: without_structures(plan),
            rules,
            sums,
        })
    }

    /// Whether so much of what was has been left behind that all should be made anew.
    pub(super) fn has_outgrown(&self) -> bool {
        self.nodes() > self.at_first.saturating_mul(2) + MOST_GROWTH
    }

    fn nodes(&self) -> usize {
        self.takeoff.measured.job.tape.len()
    }

    /// Whether any structure was put in anew.
    #[cfg(test)]
    pub(super) fn has_grown(&self) -> bool {
        self.nodes() > self.at_first
    }

    /// The faces in the order of the plan.
    pub(super) fn faces(&self) -> impl Iterator<Item = DraftFace<'_>> {
        let measured = &self.takeoff.measured;
        let faces = measured.faces.iter().zip(&self.takeoff.faces);
        faces.filter_map(|(own, takes)| {
            let face = measured.job.faces.get(own.face)?;
            Some(DraftFace {
                structure: measured.job.structure_name(face.structure),
                name: &face.name,
                count: face.count,
                net: measured.job.tape.value(own.net),
                takes,
            })
        })
    }

    /// The price, by the stages that follow upon the wall.
    pub(super) fn price(&mut self, on: &RestsOn<'p>) -> Option<(Price, Status)> {
        let of_the_wall = self.rules.runs.len();
        let takeoff = &mut self.takeoff;
        let wall = [&takeoff.faces[..], &takeoff.edges];
        let rest = the_rest(
            &takeoff.measured,
            wall,
            &mut takeoff.passed,
            &mut self.rules,
        );
        // Nothing is given the runs of what is asked but once.
        self.rules.runs.truncate(of_the_wall);
        takeoff.whole = rest.whole;
        takeoff.days = rest.days;
        takeoff.daily = rest.daily;
        let (pooled, said) = pool(takeoff, on.packs.rules);
        let wrong = diagnostic::any_error(&said) | diagnostic::any_error(&self.rules.take_said());
        let priced = || price_by_itself(takeoff, pooled, on.book, on.packs.rules);
        (!wrong).then(priced).flatten()
    }
}

/// What is wrong, of all that was said.
pub(super) fn errors(mut said: Vec<Diagnostic>) -> Vec<Diagnostic> {
    diagnostic::tidy(&mut said);
    said.retain(|said| said.severity() == Severity::Error);
    said
}

/// The numbers of the structures that stand in a file itself, and not in one that it includes.
fn own_structures(plan: &Plan, file: FileId) -> Vec<usize> {
    let names = plan.statements.iter().filter_map(structure_name);
    let own = names.enumerate().filter(|(_, name)| name.span.file == file);
    own.map(|(number, _)| number).collect()
}

fn structure_name(statement: &Statement) -> Option<&Name> {
    match statement {
        Statement::Structure(structure) => Some(&structure.name),
        _ => None,
    }
}

fn without_structures(mut plan: Plan) -> Plan {
    plan.statements.retain(|statement| {
        let of_structures = [
            matches!(statement, Statement::Structure(_)),
            matches!(statement, Statement::Alternate(_)),
        ];
        of_structures == [false, false]
    });
    plan
}
