//! What rules are asked of the days, and what they answer.
//!
//! Each question is kept with where its figures come from, so that an explanation can go on from
//! an answer to the plan.

use crate::takeoff::Rules;
use parge_base::{Dim, NodeId, Quantity};
use parge_rules::{ClassKey, Run, Subject, Value};
use std::collections::HashMap;

/// A question to a rule of the pack.
#[derive(Debug, Clone)]
pub struct Asked {
    /// What it is about, in words: `2026-06-03`.
    pub name: String,
    /// What the rule was given.
    pub subject: Subject<'static>,
    /// The number of the run in [`crate::takeoff::Takeoff::runs`].
    pub run: usize,
    /// Where the figures of the subject come from, by their names; the others were counted.
    pub origins: Vec<(&'static str, Source)>,
}

/// Where a figure that a rule is given comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A node of the tape of the job.
    Plan(NodeId),
    /// What another question was answered with, and under which name.
    Answer(usize, &'static str),
}

/// A figure handed to a rule.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    pub(super) value: Quantity,
    pub(super) source: Option<Source>,
}

/// What a subject is made of.
#[derive(Debug, Clone)]
pub(super) enum Part {
    Known(Option<Known>),
    Text(String),
    /// Things of a kind.
    List(&'static str, Vec<Vec<(&'static str, Part)>>),
}

impl Part {
    /// A figure that was counted.
    pub(super) fn counted(value: Quantity) -> Self {
        Self::Known(Some(Known {
            value,
            source: None,
        }))
    }
}

/// Runs of a class that are tried for another of it, at most: where a rule tells every day from
/// every other by its figures, running it takes less than trying all that came before.
const MOST_TRIED: usize = 16;

/// All questions so far.
#[derive(Debug, Default)]
pub(super) struct Questions {
    pub(super) all: Vec<Asked>,
    /// For each class of subjects the runs that may hold for others of it, by their numbers.
    known: HashMap<ClassKey<'static>, Vec<usize>>,
}

impl Questions {
    /// Asks a rule; `None` where the pack does not have it, or it failed, which was said.
    pub(super) fn ask(
        &mut self,
        rules: &mut Rules<'_>,
        hook: &str,
        name: String,
        (kind, parts): (&'static str, &[(&'static str, Part)]),
    ) -> Option<usize> {
        let subject = subject(kind, parts);
        let run = self.run(rules, hook, &name, &subject)?;
        let origins = parts.iter().filter_map(|(name, part)| match part {
            Part::Known(Some(known)) => Some((*name, known.source?)),
            _ => None,
        });
        self.all.push(Asked {
            name,
            subject,
            run,
            origins: origins.collect(),
        });
        Some(self.all.len() - 1)
    }

    /// The number of the run that answers. Days are much alike: the rule runs for the first of its
    /// class, and for others only where that run does not hold for them.
    fn run(
        &mut self,
        rules: &mut Rules<'_>,
        hook: &str,
        name: &str,
        subject: &Subject,
    ) -> Option<usize> {
        // The kind of a subject, which its key has, tells which rule is asked.
        let known = self.known.entry(subject.class_key().into_owned());
        let known = known.or_default();
        if let Some(run) = known.iter().find_map(|run| rules.ask_again(*run, subject)) {
            return Some(run);
        }
        let run = rules.ask(hook, subject, name)?;
        if known.len() < MOST_TRIED {
            known.push(run);
        }
        Some(run)
    }

    /// What a rule gave back under a name, where it has that kind.
    pub(super) fn answer(
        &self,
        rules: &Rules<'_>,
        asked: usize,
        name: &'static str,
        dim: Dim,
    ) -> Option<Known> {
        let run: &Run = rules.runs.get(self.all.get(asked)?.run)?;
        let value = run.tape.value(run.given(name)?.value);
        (value.dim == dim).then_some(Known {
            value,
            source: Some(Source::Answer(asked, name)),
        })
    }
}

fn subject(kind: &'static str, parts: &[(&'static str, Part)]) -> Subject<'static> {
    let values = parts.iter().map(|(name, part)| {
        let value = match part {
            Part::Known(Some(known)) => Value::Quantity(known.value, None),
            Part::Known(None) => Value::Absent,
            Part::Text(word) => Value::Text(word.clone().into()),
            Part::List(kind, things) => {
                Value::List(things.iter().map(|thing| subject(kind, thing)).collect())
            }
        };
        ((*name).into(), value)
    });
    Subject {
        kind: kind.into(),
        values: values.collect(),
    }
}
