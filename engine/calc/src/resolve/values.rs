//! The values of a plan while it is resolved: what is known of its names, and where the
//! expression being looked at is written.

use super::finish::FinishNumbers;
use super::graph::Thing;
use super::lacking::Lack;
pub(super) use super::site::Scope;
use super::site::Site;
use crate::contract::Packs;
use crate::job::{Face, Figure, Structure};
use crate::measure::MeasuredFace;
use crate::measure::rule::MeasuringRule;
use parge_base::{Code, Diagnostic, NodeId, Span, Tape};
use parge_grammar::ast::{Let, Name, Plan, Statement};
use parge_rules::Tables;
use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::rc::Rc;

/// A `let` with its value, once it is known.
pub(super) struct NamedValue<'p> {
    pub(super) item: &'p Let,
    pub(super) node: Option<NodeId>,
}

/// A face of the plan as far as it is resolved.
#[derive(Default)]
pub(super) struct Slot {
    /// The face, and behind it its reveals that have a finish of their own; empty after a fault.
    pub(super) faces: Vec<Face>,
    /// Their measures, once an expression asked for them; empty after a fault.
    pub(super) measured: Option<Vec<MeasuredFace>>,
}

/// The values of a plan while it is resolved.
pub(super) struct Values<'p> {
    pub(super) tape: Tape,
    pub(super) diagnostics: Vec<Diagnostic>,
    pub(super) plan: &'p Plan,
    pub(super) tables: &'p Tables,
    /// The packs that the job names.
    pub(super) packs: Packs<'p>,
    pub(super) site: Rc<Site<'p>>,
    pub(super) finishes: FinishNumbers<'p>,
    /// The measuring rule at work.
    pub(super) rule: MeasuringRule<'p>,
    /// The structures with their conditions.
    pub(super) structures: Vec<Structure>,
    /// The `let` statements, each name once.
    pub(super) lets: Vec<NamedValue<'p>>,
    /// The numbers of the `let` statements by name.
    pub(super) let_numbers: BTreeMap<&'p str, usize>,
    /// The values of the template's parameters, for each structure.
    pub(super) arguments: Vec<Vec<Option<NodeId>>>,
    /// One for each face of the site.
    pub(super) slots: Vec<Slot>,
    /// What is evaluated, or cannot be.
    pub(super) done: HashSet<Thing>,
    /// Where the expression being evaluated is written.
    pub(super) here: Scope,
    /// The `let` names that an expression uses, or was most likely meant to use.
    pub(super) used: BTreeSet<&'p str>,
    /// The places of the template parameters that an expression uses.
    pub(super) used_parameters: BTreeSet<Span>,
    /// The finishes that the plan asks for, or was most likely meant to ask for.
    pub(super) used_finishes: BTreeSet<&'p str>,
    /// Finishes that nothing defines, as far as they were told.
    pub(super) undefined: BTreeSet<&'p str>,
    /// What faces lack, by structure.
    pub(super) lacking: BTreeMap<(usize, Lack), Vec<&'p Name>>,
    /// The cells of clients' sheets that faces and openings come from, by their statements.
    pub(super) origins: BTreeMap<Span, String>,
    /// The structures that an expression ties to what stands outside of them.
    pub(super) tied: BTreeSet<usize>,
}

impl<'p> Values<'p> {
    /// Nothing is evaluated yet; what will be comes onto this tape.
    pub(super) fn new(plan: &'p Plan, packs: Packs<'p>, tape: Tape) -> Self {
        let mut diagnostics = Vec::new();
        let site = Site::new(plan, &mut diagnostics);
        let finishes = super::finish::numbers(plan, &mut diagnostics);
        let (lets, let_numbers) = lets(plan, &mut diagnostics);
        let values = |standing: &super::site::Standing<'_>| vec![None; standing.values.len()];
        Self {
            tape,
            diagnostics,
            plan,
            tables: packs.rules.tables(),
            packs,
            finishes,
            rule: MeasuringRule::new(packs),
            structures: Vec::new(),
            lets,
            let_numbers,
            arguments: site.standings.iter().map(values).collect(),
            slots: site.faces.iter().map(|_| Slot::default()).collect(),
            site: Rc::new(site),
            done: HashSet::new(),
            here: Scope::default(),
            undefined: BTreeSet::new(),
            lacking: BTreeMap::new(),
            origins: BTreeMap::new(),
            tied: BTreeSet::new(),
            used: BTreeSet::new(),
            used_parameters: BTreeSet::new(),
            used_finishes: super::finish::mentioned(plan),
        }
    }

    /// The number of a template's parameter, in a scope where it has a value.
    pub(super) fn parameter(&self, name: &str, scope: Scope) -> Option<(usize, usize)> {
        let number = scope.standing.filter(|_| scope.in_template)?;
        let parameters = &self.site.standings.get(number)?.template?.parameters;
        let at = parameters.iter().position(|known| known.node == name)?;
        Some((number, at))
    }

    /// The parameters that have a value here, with their places.
    pub(super) fn parameters_here(&self) -> BTreeMap<&'p str, Span> {
        let around = self.here.standing.filter(|_| self.here.in_template);
        let standing = around.and_then(|number| self.site.standings.get(number));
        let template = standing.and_then(|standing| standing.template);
        let parameters = template
            .into_iter()
            .flat_map(|template| &template.parameters);
        parameters
            .map(|name| (name.node.as_str(), name.span))
            .collect()
    }

    /// Notes that an expression uses a parameter.
    pub(super) fn use_parameter(&mut self, (standing, parameter): (usize, usize)) {
        let standing = self.site.standings.get(standing);
        let template = standing.and_then(|standing| standing.template);
        let used = template.and_then(|template| template.parameters.get(parameter));
        self.used_parameters.extend(used.map(|name| name.span));
    }

    /// The names that have a value.
    pub(super) fn names(&self) -> Vec<(String, Figure)> {
        let named = self.let_numbers.iter().filter_map(|(name, number)| {
            let value = self.lets.get(*number)?;
            let span = value.item.value.span;
            Some((
                (*name).to_owned(),
                Figure {
                    node: value.node?,
                    span,
                },
            ))
        });
        named.collect()
    }

    /// Whether what is missing about a name was told with a mistake in its statement.
    pub(super) fn told(&self, name: &str) -> bool {
        self.plan.damages(name)
    }

    /// Warns about every `let`, parameter and finish that nothing asked for, when all of the plan
    /// could be read.
    pub(super) fn warn_unused(&mut self) {
        if !self.plan.damaged.is_empty() {
            return;
        }
        let templates = self
            .site
            .standings
            .iter()
            .filter_map(|standing| standing.template);
        for parameter in templates.flat_map(|template| &template.parameters) {
            if !self.used_parameters.contains(&parameter.span) {
                let message = format!(
                    "the template does not use its parameter `{}`",
                    parameter.node
                );
                let help = "use it in the template, or remove it there and in every `from`";
                self.diagnostics
                    .push(Diagnostic::new(Code::UnusedName, message, help).at(parameter.span, ""));
            }
        }
        for statement in &self.plan.statements {
            let diagnostic = match statement {
                Statement::Let(item) if !self.used.contains(item.name.node.as_str()) => {
                    let message = format!("`{}` is defined but not used", item.name.node);
                    let help = "remove the line, or use the name where its number is written out";
                    Diagnostic::new(Code::UnusedName, message, help).at(item.name.span, "")
                }
                Statement::Finish(finish)
                    if !self.used_finishes.contains(finish.name.node.as_str()) =>
                {
                    let message = format!("finish `{}` is not used by any face", finish.name.node);
                    let help = "give it to a face, or remove it";
                    Diagnostic::new(Code::UnusedFinish, message, help).at(finish.name.span, "")
                }
                _ => continue,
            };
            self.diagnostics.push(diagnostic);
        }
    }
}

fn lets<'p>(
    plan: &'p Plan,
    diagnostics: &mut Vec<Diagnostic>,
) -> (Vec<NamedValue<'p>>, BTreeMap<&'p str, usize>) {
    let mut lets: Vec<NamedValue<'p>> = Vec::new();
    let mut numbers: BTreeMap<&str, usize> = BTreeMap::new();
    for statement in &plan.statements {
        let Statement::Let(item) = statement else {
            continue;
        };
        let known = numbers.get(item.name.node.as_str());
        if let Some(first) = known.and_then(|first| lets.get(*first)) {
            diagnostics.push(twice("name", &item.name, first.item.name.span));
        } else {
            numbers.insert(&item.name.node, lets.len());
            lets.push(NamedValue { item, node: None });
        }
    }
    (lets, numbers)
}

/// The diagnostic for a name that is defined again.
pub(super) fn twice(kind: &str, name: &Name, first: Span) -> Diagnostic {
    let message = format!("{kind} `{}` is defined twice", name.node);
    Diagnostic::new(
        Code::DefinedTwice,
        message,
        "give one of the two another name, or remove it",
    )
    .at(name.span, "again here")
    .at(first, "first here")
}
