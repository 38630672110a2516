//! Faces that look the same to a rule but for their figures, and which run's tape holds for which.

use parge_base::trace::columns::{Columns, Replayed};
use parge_base::{NodeId, Quantity};
use parge_rules::{ClassKey, Run, Subject};
use std::collections::{BTreeMap, HashMap};

/// Runs that one kind of face may need. A rule that parts equal faces into more classes than
/// this by their sizes compares without end; following it would take all time and memory.
pub(super) const MAX_RUNS: usize = 64;

/// The runs that hold for some subjects of a class, in the order in which they were founded, by
/// their numbers.
pub(super) type KnownRuns = HashMap<ClassKey<'static>, Vec<usize>>;

/// The subjects of one kind, by their classes.
///
/// Whoever takes them goes through them in their order, and has the rules run for each for which
/// [`Self::answer`] has nothing yet. So runs come in the order of the subjects that found them,
/// and each subject is given the first run that holds for it, as if each were tried by itself.
#[derive(Debug, Default)]
pub(crate) struct Classes {
    classes: Vec<Class>,
    /// For each subject its class, and its row there.
    members: Vec<Member>,
    /// What the tapes of runs say, by the number of the run.
    replays: BTreeMap<usize, Replayed>,
}

#[derive(Debug)]
struct Class {
    key: ClassKey<'static>,
    inputs: Columns,
    /// The subject of each row.
    subjects: Vec<usize>,
    /// Rows without a run so far, in their order.
    open: Vec<usize>,
    /// How many runs it has founded.
    runs: usize,
}

#[derive(Debug)]
struct Member {
    class: usize,
    row: Option<usize>,
    answer: Option<Answer>,
}

/// Where the figures of a subject stand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Answer {
    /// The number of the run.
    pub(super) run: usize,
    position: usize,
}

impl Classes {
    /// Puts subjects into their classes. Only their figures are kept.
    pub(super) fn of<'s>(subjects: impl Iterator<Item = Subject<'s>>) -> Self {
        let mut all = Self::default();
        let mut known: HashMap<ClassKey<'_>, usize> = HashMap::new();
        for (number, subject) in subjects.enumerate() {
            let inputs = subject.inputs();
            let class = *known.entry(subject.class_key()).or_insert_with_key(|key| {
                all.classes
                    .push(Class::new(key.clone().into_owned(), &inputs));
                all.classes.len() - 1
            });
            let row = all.classes.get_mut(class);
            let row = row.and_then(|class| class.push(number, &inputs));
            all.members.push(Member {
                class,
                row,
                answer: None,
            });
        }
        all
    }

    /// What an earlier run says of a subject; none where the rules must run for it.
    pub(super) fn answer(&self, subject: usize) -> Option<Answer> {
        self.members.get(subject)?.answer
    }

    /// A figure of an answer, for a node of a line of its run.
    pub(super) fn value(&self, answer: Answer, node: NodeId) -> Option<Quantity> {
        self.replays.get(&answer.run)?.value(answer.position, node)
    }

    /// Whether the class of a subject has all the runs that it may have.
    pub(super) fn is_full(&self, subject: usize) -> bool {
        let class = self.members.get(subject).map(|member| member.class);
        let class = class.and_then(|class| self.classes.get(class));
        class.is_some_and(|class| class.runs >= MAX_RUNS)
    }

    /// Gives the subjects those runs that hold for them of what is known of their classes from
    /// before.
    pub(super) fn recall(&mut self, known: &KnownRuns, runs: &[Run]) {
        for class in 0..self.classes.len() {
            let key = self.classes.get(class).map(|class| &class.key);
            for number in key.and_then(|key| known.get(key)).into_iter().flatten() {
                if let Some(run) = runs.get(*number) {
                    self.try_run(class, *number, run);
                }
            }
        }
    }

    /// Takes a run for a subject as one of its class, and replays its tape for all others that
    /// have none yet; notes it among what is known. A run with an error founds nothing: no tape of
    /// it is replayed.
    pub(super) fn found(
        &mut self,
        subject: usize,
        number: usize,
        run: &Run,
        known: &mut KnownRuns,
    ) {
        let Some(Member {
            class: number_of_class,
            row: Some(founder),
            ..
        }) = self.members.get(subject)
        else {
            return;
        };
        let (number_of_class, founder) = (*number_of_class, *founder);
        let Some(class) = self.classes.get_mut(number_of_class) else {
            return;
        };
        // Those before the founder have been answered, or their rules had an error.
        class.open.retain(|row| *row > founder);
        known.entry(class.key.clone()).or_default().push(number);
        self.try_run(number_of_class, number, run);
    }

    /// Gives a run to all subjects of a class that have none yet and for which it holds.
    fn try_run(&mut self, class: usize, number: usize, run: &Run) {
        let Some(class) = self.classes.get_mut(class) else {
            return;
        };
        class.runs += 1;
        let replayed = run
            .tape
            .replay_columns(&class.inputs, &class.open, &run.line_nodes());
        let Ok(replayed) = replayed else { return };
        for (position, row) in replayed.rows().iter().enumerate() {
            let subject = class.subjects.get(*row);
            if let Some(member) = subject.and_then(|subject| self.members.get_mut(*subject)) {
                member.answer = Some(Answer {
                    run: number,
                    position,
                });
            }
        }
        let mut held = replayed.rows().iter().peekable();
        class.open.retain(|row| held.next_if_eq(&row).is_none());
        self.replays.insert(number, replayed);
    }
}

impl Class {
    fn new(key: ClassKey<'static>, inputs: &[Quantity]) -> Self {
        Self {
            key,
            inputs: Columns::of_kinds(inputs),
            subjects: Vec::new(),
            open: Vec::new(),
            runs: 0,
        }
    }

    fn push(&mut self, subject: usize, inputs: &[Quantity]) -> Option<usize> {
        let row = self.inputs.push(inputs)?;
        self.subjects.push(subject);
        self.open.push(row);
        Some(row)
    }
}

#[cfg(test)]
mod tests;
