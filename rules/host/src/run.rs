//! One run of a pack's hooks for one subject, and what came of it.

use crate::bounds::MAX_TIME;
use crate::clock::Watch;
use crate::context::Handle;
use crate::engine;
use crate::errors;
use crate::pack::Pack;
use crate::stack::with_stack;
use crate::stopped::Cost;
use crate::subject::Subject;
use crate::waste::Asked;
use parge_base::{Diagnostic, NodeId, Span, Tape};
use rhai::{CallFnOptions, Dynamic, FuncArgs, Scope};
use std::sync::{Arc, PoisonError};
use std::time::Duration;

/// So much of an item.
#[derive(Debug, Clone)]
pub struct NeedLine {
    /// The item, as materials and price books name it.
    pub item: Arc<str>,
    /// How much, before waste.
    pub amount: NodeId,
    /// The share that is wasted.
    pub waste: NodeId,
    /// The line of the script.
    pub place: Option<Span>,
}

/// So much labour.
#[derive(Debug, Clone)]
pub struct HoursLine {
    /// The phase of the work.
    pub phase: Arc<str>,
    /// The time of one person.
    pub time: NodeId,
    /// The line of the script.
    pub place: Option<Span>,
}

/// A figure that a rule gives back under a name.
#[derive(Debug, Clone)]
pub struct GivenLine {
    /// The name that the program asks for it by.
    pub name: Arc<str>,
    /// The figure.
    pub value: NodeId,
    /// The line of the script.
    pub place: Option<Span>,
}

/// So many of a tool, for one reason.
#[derive(Debug, Clone)]
pub struct ToolLine {
    /// The tool.
    pub tool: Arc<str>,
    /// Why it is taken, in words.
    pub reason: Arc<str>,
    /// How many, a plain number; not yet whole.
    pub count: NodeId,
    /// The line of the script.
    pub place: Option<Span>,
}

/// A caution that a rule says.
#[derive(Debug, Clone)]
pub struct CautionLine {
    /// Its key.
    pub key: Arc<str>,
    /// The figure that its text holds.
    pub figure: Option<NodeId>,
    /// The line of the script.
    pub place: Option<Span>,
}

/// A warning that a rule says.
#[derive(Debug, Clone)]
pub struct Said {
    /// Its text.
    pub text: Arc<str>,
    /// The line of the script.
    pub place: Option<Span>,
}

/// What a script has left behind so far.
#[derive(Debug, Default)]
pub(crate) struct Record {
    pub(crate) tape: Tape,
    pub(crate) needs: Vec<Asked>,
    pub(crate) hours: Vec<HoursLine>,
    pub(crate) given: Vec<GivenLine>,
    pub(crate) charges: Vec<GivenLine>,
    pub(crate) tools: Vec<ToolLine>,
    pub(crate) cautions: Vec<CautionLine>,
    pub(crate) warnings: Vec<Said>,
    /// Rows looked through for the keys of tables.
    pub(crate) looked_through: usize,
}

/// What the hooks said of one subject. All nodes are of [`Run::tape`].
#[derive(Debug)]
pub struct Run {
    /// How every figure was made.
    pub tape: Tape,
    /// Materials.
    pub needs: Vec<NeedLine>,
    /// Labour.
    pub hours: Vec<HoursLine>,
    /// Figures given back.
    pub given: Vec<GivenLine>,
    /// Amounts added to a price, each with what it is for.
    pub charges: Vec<GivenLine>,
    /// Tools and equipment.
    pub tools: Vec<ToolLine>,
    /// Cautions.
    pub cautions: Vec<CautionLine>,
    /// Warnings in words.
    pub warnings: Vec<Said>,
    /// What went wrong, at most one a hook; then the lines of that hook may be incomplete.
    pub errors: Vec<Diagnostic>,
}

impl Run {
    /// The nodes of the figures that its lines say: all that must be kept of a replay of its tape.
    pub fn line_nodes(&self) -> Vec<NodeId> {
        let needs = self.needs.iter().flat_map(|line| [line.amount, line.waste]);
        let hours = self.hours.iter().map(|line| line.time);
        let cautions = self.cautions.iter().filter_map(|line| line.figure);
        let tools = self.tools.iter().map(|line| line.count);
        let given = self.given.iter().map(|line| line.value);
        let said = needs.chain(hours).chain(cautions);
        said.chain(tools).chain(given).collect()
    }

    /// What the same hooks would say of another subject of the same class, without running them.
    /// `None` where they may say something else of it, and where one of them failed.
    pub fn again(&self, subject: &Subject) -> Option<Self> {
        if !self.errors.is_empty() {
            return None;
        }
        let tape = self.tape.again(&subject.placed_inputs()).ok()?;
        Some(Self {
            tape,
            needs: self.needs.clone(),
            hours: self.hours.clone(),
            given: self.given.clone(),
            charges: self.charges.clone(),
            tools: self.tools.clone(),
            cautions: self.cautions.clone(),
            warnings: self.warnings.clone(),
            errors: Vec::new(),
        })
    }

    /// The figure given back under a name; the last one where it is given more than once.
    pub fn given(&self, name: &str) -> Option<&GivenLine> {
        self.given.iter().rev().find(|line| *line.name == *name)
    }
}

impl Pack {
    /// Runs the hooks that the pack has, in the order given, for one subject.
    ///
    /// Its stack has room for all the calls that the bounds allow, whatever thread the program is
    /// on; whoever runs many puts them all into one [`with_stack`].
    pub fn run(&self, hooks: &[&str], subject: &Subject) -> Run {
        self.run_within(hooks, subject, MAX_TIME)
    }

    /// The same, with a limit of one's own to the time that all hooks together may take.
    pub(crate) fn run_within(&self, hooks: &[&str], subject: &Subject, limit: Duration) -> Run {
        with_stack(|| self.run_here(hooks, subject, limit))
    }

    fn run_here(&self, hooks: &[&str], subject: &Subject, limit: Duration) -> Run {
        let watch = Watch::start(limit);
        let mut record = Record::default();
        let seen = subject.enter(&mut record.tape, &subject.kind);
        let handle = Handle::new(Arc::clone(&self.context), record);
        let mut errors = Vec::new();
        for hook in hooks.iter().filter_map(|hook| self.hook(hook)) {
            if let Some(said) = self.given_up() {
                errors.push(said);
                break;
            }
            errors.extend(self.call(&handle, hook, (seen.clone(),), &watch).err());
        }
        let needs = self.with_wastes(&seen, &handle, &watch, &mut errors);
        let Record {
            tape,
            needs: _,
            hours,
            given,
            charges,
            tools,
            cautions,
            warnings,
            looked_through: _,
        } = handle.finish();
        Run {
            tape,
            needs,
            hours,
            given,
            charges,
            tools,
            cautions,
            warnings,
            errors,
        }
    }

    /// Calls a hook, and says what stopped it.
    pub(crate) fn call(
        &self,
        handle: &Handle,
        (hook, span): (&str, Span),
        arguments: impl FuncArgs,
        watch: &Watch,
    ) -> Result<Dynamic, Diagnostic> {
        let options = CallFnOptions::new()
            .eval_ast(false)
            .with_tag(handle.clone());
        let result = engine::shared().call_fn_with_options::<Dynamic>(
            options,
            &mut Scope::new(),
            &self.program,
            hook,
            arguments,
        );
        result.map_err(|error| {
            let said = errors::running(&error, (hook, span), &self.context.lines);
            let cost = Cost {
                out_of_time: errors::out_of_time(&error).is_some(),
                steps: watch.steps(),
                looked_through: handle.record().looked_through,
            };
            self.note_stopped(&said, cost);
            said
        })
    }

    /// What was said last of a hook that was stopped, once running on would only take time: with
    /// an error there are no figures anyway.
    pub(crate) fn given_up(&self) -> Option<Diagnostic> {
        let stopped = self.context.stopped.lock();
        let stopped = stopped.unwrap_or_else(PoisonError::into_inner);
        stopped.given_up().cloned()
    }

    fn note_stopped(&self, said: &Diagnostic, cost: Cost) {
        let stopped = self.context.stopped.lock();
        let mut stopped = stopped.unwrap_or_else(PoisonError::into_inner);
        stopped.note(said, cost);
    }
}

#[cfg(test)]
mod tests;
