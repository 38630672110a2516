//! One structure read, resolved, measured and taken off anew, and put in the place of what it was.

use super::RestsOn;
use super::places::HEAD;
use super::standing::{Standing, errors};
use crate::job::{Edge, Face, Job, Structure};
use crate::measure::{Measured, measure};
use crate::pool::Sums;
use crate::resolve::resolve_onto;
use crate::takeoff::{Wall, on_the_wall};
use parge_base::{Code, Diagnostic, FileId, Span, Tape, diagnostic};
use parge_grammar::ast::{self, BodySetting, Statement};
use std::cmp::Ordering;
use std::mem;
use std::ops::Range;

/// Why a structure was not put in anew.
pub(super) enum Kept {
    /// It has these mistakes.
    Mistakes(Vec<Diagnostic>),
    /// What it says does not rest on itself alone.
    Tied,
}

impl Standing<'_> {
    /// Takes a statement of the text, a structure, as it is written now.
    pub(super) fn again(
        &mut self,
        on: &RestsOn<'_>,
        aside: FileId,
        statement: usize,
        text: &str,
    ) -> Result<(), Kept> {
        let own = self.places.structure(statement);
        let number = *self.structures.get(own).ok_or(Kept::Tied)?;
        if self.takeoff.measured.job.tied.contains(&number) {
            return Err(Kept::Tied);
        }
        let mut structure = read(aside, text)?;
        let order = self.order(number, &mut structure)?;
        let alone = self.alone(on, aside, structure)?;
        let (measured, mut wall) = self.taken_off(on, alone)?;
        self.replace(number, order, measured, &mut wall)?;
        let (sums, said) = Sums::of(self.takeoff.faces.iter().chain(&self.takeoff.edges));
        self.sums = sums;
        fine(said)
    }

    /// The structures that one waits for, where that is as it was; what says so is taken out, since
    /// it speaks of other structures.
    fn order(&self, number: usize, new: &mut ast::Structure) -> Result<Vec<usize>, Kept> {
        let structures = &self.takeoff.measured.job.structures;
        let old = structures.get(number).ok_or(Kept::Tied)?;
        let mut stated = Vec::new();
        new.body.settings.retain(|setting| match &setting.node {
            BodySetting::After(names) => {
                stated.extend(names.iter().cloned());
                false
            }
            _ => true,
        });
        let stated = stated.iter().map(|name| name.node.as_str());
        let before = old
            .after
            .iter()
            .filter_map(|number| structures.get(*number));
        let as_it_was = stated.eq(before.map(|structure| structure.name.as_str()));
        if new.name.node == old.name && as_it_was {
            Ok(old.after.clone())
        } else {
            Err(Kept::Tied)
        }
    }

    /// Resolves a structure as the only one of the plan.
    fn alone(
        &mut self,
        on: &RestsOn<'_>,
        aside: FileId,
        structure: ast::Structure,
    ) -> Result<Job, Kept> {
        let end = Span::new(aside, 0, 0);
        self.around.statements.push(Statement::Structure(structure));
        let tape = mem::take(self.tape());
        let (job, said) = resolve_onto(tape, &self.around, on.packs, on.forecast, end);
        self.around.statements.pop();
        let job = job.ok_or(Kept::Tied)?;
        if job.tied.is_empty() && !diagnostic::any_error(&said) {
            return Ok(job);
        }
        *self.tape() = job.tape;
        Err(match job.tied.is_empty() {
            true => Kept::Mistakes(errors(said)),
            false => Kept::Tied,
        })
    }

    /// Measures and takes off what stands alone. Its tape goes back to where it came from.
    fn taken_off(&mut self, on: &RestsOn<'_>, job: Job) -> Result<(Measured, Wall), Kept> {
        let (mut measured, mut said) = measure(job, on.packs);
        let wall = on_the_wall(&measured, &mut self.rules);
        *self.tape() = mem::take(&mut measured.job.tape);
        said.append(&mut self.rules.take_said());
        // With the faces that are no more, there may be fewer ways in which rules part them.
        if said.iter().any(|said| said.code == Code::RuleLimit) {
            return Err(Kept::Tied);
        }
        fine(said).map(|()| (measured, wall))
    }

    /// Puts a structure in the place of what it was.
    fn replace(
        &mut self,
        number: usize,
        after: Vec<usize>,
        new: Measured,
        wall: &mut Wall,
    ) -> Result<(), Kept> {
        let takeoff = &mut self.takeoff;
        let job = &mut takeoff.measured.job;
        // All stand in the order of their structures.
        let faces = stretch(&job.faces, |face| face.structure.cmp(&number));
        let edges = stretch(&job.edges, |edge| edge.structure.cmp(&number));
        let rows = stretch(&takeoff.measured.faces, |row| match row.face {
            face if face < faces.start => Ordering::Less,
            face if face < faces.end => Ordering::Equal,
            _ => Ordering::Greater,
        });
        // A new name may be one that an expression elsewhere was the only one to mean.
        let names = |faces: &[Face]| {
            faces
                .iter()
                .map(|face| face.name.clone())
                .collect::<Vec<_>>()
        };
        let old = job.faces.get(faces.clone()).unwrap_or_default();
        if !job.tied.is_empty() && names(old) != names(&new.job.faces) {
            return Err(Kept::Tied);
        }
        let first = faces.start;
        let (before, now) = (faces.len(), new.job.faces.len());
        for row in takeoff.measured.faces.iter_mut().skip(rows.end) {
            row.face = row.face + now - before;
        }
        let own = new.faces.into_iter().map(|mut row| {
            row.face += first;
            row
        });
        takeoff.measured.faces.splice(rows.clone(), own);
        takeoff.faces.splice(rows.clone(), wall.faces.drain(..));
        takeoff.layouts.splice(rows, wall.layouts.drain(..));
        takeoff.edges.splice(edges.clone(), wall.edges.drain(..));
        let face = |face: Face| Face {
            structure: number,
            ..face
        };
        let edge = |edge: Edge| Edge {
            structure: number,
            ..edge
        };
        job.faces.splice(faces, new.job.faces.into_iter().map(face));
        job.edges.splice(edges, new.job.edges.into_iter().map(edge));
        let structure = new.job.structures.into_iter().next();
        if let (Some(own), Some(structure)) = (job.structures.get_mut(number), structure) {
            *own = Structure { after, ..structure };
        }
        Ok(())
    }

    fn tape(&mut self) -> &mut Tape {
        &mut self.takeoff.measured.job.tape
    }
}

/// Reads one structure by itself.
fn read(aside: FileId, text: &str) -> Result<ast::Structure, Kept> {
    let text = format!("{HEAD}{text}");
    // What is no longer one statement changes what the others are.
    let [_, only] = parge_grammar::statements(aside, &text)
        .and_then(|statements| <[_; 2]>::try_from(statements).ok())
        .ok_or(Kept::Tied)?;
    if only != (HEAD.len()..text.len()) {
        return Err(Kept::Tied);
    }
    let parsed = parge_grammar::parse(aside, &text);
    fine(parsed.diagnostics)?;
    match <[_; 1]>::try_from(parsed.plan.statements) {
        // That one structure has no face is a mistake only where no other has.
        Ok([Statement::Structure(structure)])
            if structure.from.is_some() || !structure.body.faces.is_empty() =>
        {
            Ok(structure)
        }
        _ => Err(Kept::Tied),
    }
}

fn fine(said: Vec<Diagnostic>) -> Result<(), Kept> {
    match diagnostic::any_error(&said) {
        true => Err(Kept::Mistakes(errors(said))),
        false => Ok(()),
    }
}

/// Where in an ordered list those stand that are looked for; none at their place where there are none.
fn stretch<T>(list: &[T], order: impl Fn(&T) -> Ordering) -> Range<usize> {
    let first = list.partition_point(|item| order(item).is_lt());
    let end = list.partition_point(|item| order(item).is_le());
    first..end
}
