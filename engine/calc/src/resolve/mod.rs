//! From syntax to a job: names looked up, expressions evaluated, words checked against the pack.

mod face;
mod finish;
mod settings;
mod shape;
mod values;

use crate::job::{Finish, Job};
use face::{FinishNumbers, Known};
use parge_base::{Code, Diagnostic, Span, diagnostic};
use parge_grammar::ast::{self, JobSetting, Name, Plan, Statement};
use parge_rules::Tables;
use std::collections::{BTreeMap, BTreeSet};
use values::{Values, twice};

/// The files that a plan asks for.
#[derive(Debug, Default)]
pub struct Wants<'p> {
    /// The rule pack, by name or path.
    pub rules: Option<&'p Name>,
    /// The price book, by path.
    pub prices: Option<&'p Name>,
}

/// The files that a plan asks for, to be loaded before it is resolved.
pub fn wants(plan: &Plan) -> Wants<'_> {
    let mut wants = Wants::default();
    for setting in jobs(plan).flat_map(|job| &job.settings) {
        match &setting.node {
            JobSetting::Rules(name) => wants.rules = Some(name),
            JobSetting::Prices(name) => wants.prices = Some(name),
            _ => {}
        }
    }
    wants
}

/// Resolves a plan. `None` when there is nothing that could be measured; faces with a fault are
/// left out, each after its faults were reported. `end` is where to point for what is missing
/// from the plan as a whole.
pub fn resolve(plan: &Plan, tables: &Tables, end: Span) -> (Option<Job>, Vec<Diagnostic>) {
    let mut values = Values::new(plan);
    let job = one_job(plan, end, &mut values.diagnostics);
    let settings = job
        .map(|job| values.settings(&job.settings))
        .unwrap_or_default();
    let (finishes, numbers) = finishes(plan, tables, &mut values);

    let mut known = Known {
        tables,
        finishes: &numbers,
        used: BTreeSet::new(),
    };
    let mut structures: Vec<String> = Vec::new();
    let mut faces = Vec::new();
    let mut first: BTreeMap<&str, Span> = BTreeMap::new();
    for structure in plan.statements.iter().filter_map(as_structure) {
        if let Some(first) = first.insert(&structure.name.node, structure.name.span) {
            values
                .diagnostics
                .push(twice("structure", &structure.name, first));
        }
        if structure.faces.is_empty() && plan.damaged.is_empty() {
            let message = format!("structure `{}` has no face", structure.name.node);
            let help = "add its faces, or remove it: rules may count every structure";
            let diagnostic = Diagnostic::new(Code::EmptyStructure, message, help);
            values
                .diagnostics
                .push(diagnostic.at(structure.name.span, ""));
        }
        faces.extend(values.structure(structures.len(), structure, &mut known));
        structures.push(structure.name.node.clone());
    }
    let any_face = plan
        .statements
        .iter()
        .filter_map(as_structure)
        .any(|structure| !structure.faces.is_empty());
    if !any_face && plan.damaged.is_empty() {
        let help = "add a structure with a face: `structure \"Wall\" on block { face front rect 20ft x 6ft drystone }`";
        let diagnostic = Diagnostic::new(Code::NothingToBuild, "the plan has no face", help);
        values.diagnostics.push(diagnostic.at(end, ""));
    }
    warn_unused_finishes(plan, &known.used, &mut values.diagnostics);
    values.warn_unused();

    let names = values.names();
    let Values {
        tape,
        mut diagnostics,
        ..
    } = values;
    diagnostic::tidy(&mut diagnostics);
    let resolved = job.map(|job| Job {
        name: job.name.node.clone(),
        span: job.name.span,
        client: settings.client,
        site: settings.site,
        date: settings.date,
        units: settings.units,
        measuring: settings.measuring,
        crew: settings.crew,
        weather: settings.weather,
        bid: settings.bid,
        finishes,
        structures,
        faces,
        names,
        tape,
    });
    (resolved, diagnostics)
}

fn jobs(plan: &Plan) -> impl Iterator<Item = &ast::Job> {
    plan.statements
        .iter()
        .filter_map(|statement| match statement {
            Statement::Job(job) => Some(job),
            _ => None,
        })
}

fn as_structure(statement: &Statement) -> Option<&ast::Structure> {
    match statement {
        Statement::Structure(structure) => Some(structure),
        _ => None,
    }
}

/// What to say of a plan without a job block; nothing where a mistake hides the block.
pub fn no_job(plan: &Plan, end: Span) -> Option<Diagnostic> {
    let help = "begin with `job \"Name of the job\" { rules \"vertical-concrete\"  prices \"prices.csv\" }`";
    let hidden = plan.damages_a("job") || plan.statements.is_empty() || jobs(plan).next().is_some();
    let say =
        || Diagnostic::new(Code::MissingSetting, "the plan has no job block", help).at(end, "");
    (!hidden).then(say)
}

fn one_job<'p>(
    plan: &'p Plan,
    end: Span,
    diagnostics: &mut Vec<Diagnostic>,
) -> Option<&'p ast::Job> {
    let mut jobs = jobs(plan);
    let Some(first) = jobs.next() else {
        diagnostics.extend(no_job(plan, end));
        return None;
    };
    for second in jobs {
        diagnostics.push(
            Diagnostic::new(
                Code::SettingTwice,
                "a plan holds one job",
                "put the second job into a plan of its own",
            )
            .at(second.name.span, "again here")
            .at(first.name.span, "first here"),
        );
    }
    Some(first)
}

/// The finishes that are whole, and the numbers of all by name.
fn finishes<'p>(
    plan: &'p Plan,
    tables: &Tables,
    values: &mut Values<'p>,
) -> (Vec<Finish>, FinishNumbers<'p>) {
    let mut finishes = Vec::new();
    let mut numbers = FinishNumbers::new();
    let mut first: BTreeMap<&str, Span> = BTreeMap::new();
    for statement in &plan.statements {
        let Statement::Finish(finish) = statement else {
            continue;
        };
        if let Some(first) = first.insert(&finish.name.node, finish.name.span) {
            values
                .diagnostics
                .push(twice("finish", &finish.name, first));
        }
        let whole = values.finish(finish, tables);
        numbers.insert(&finish.name.node, whole.is_some().then_some(finishes.len()));
        finishes.extend(whole);
    }
    (finishes, numbers)
}

fn warn_unused_finishes(plan: &Plan, used: &BTreeSet<&str>, diagnostics: &mut Vec<Diagnostic>) {
    if !plan.damaged.is_empty() {
        return;
    }
    for statement in &plan.statements {
        if let Statement::Finish(finish) = statement
            && !used.contains(finish.name.node.as_str())
        {
            let message = format!("finish `{}` is not used by any face", finish.name.node);
            let help = "give it to a face, or remove it";
            diagnostics
                .push(Diagnostic::new(Code::UnusedFinish, message, help).at(finish.name.span, ""));
        }
    }
}

#[cfg(test)]
mod tests;
