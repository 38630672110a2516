//! From syntax to a job: names looked up, expressions evaluated, words checked against the pack.

mod calendar;
mod conditions;
mod content;
mod crew;
mod eval;
mod face;
mod finish;
mod graph;
mod kinds;
mod lacking;
mod measures;
mod order;
mod reckoned;
mod settings;
mod shape;
mod site;
mod validity;
mod values;
mod weather;
mod whole;

use crate::contract::Packs;
use crate::job::{Finish, Job, Measuring};
use parge_base::forecast::Forecast;
use parge_base::{Code, Diagnostic, Span, Tape, diagnostic};
use parge_grammar::ast::{self, JobSetting, Name, Plan, Statement};
use site::Scope;
use values::Values;
use whole::Whole;

/// The files that a plan asks for.
#[derive(Debug, Default)]
pub struct Wants<'p> {
    /// The rule pack, by name or path.
    pub rules: Option<&'p Name>,
    /// The measuring rule: `net`, or a pack by name or path.
    pub measuring: Option<&'p Name>,
    /// The price book, by path.
    pub prices: Option<&'p Name>,
    /// The weather of days, by path.
    pub forecast: Option<&'p Name>,
}

/// The files that a plan asks for, to be loaded before it is resolved.
pub fn wants(plan: &Plan) -> Wants<'_> {
    let mut wants = Wants::default();
    for setting in jobs(plan).flat_map(|job| &job.settings) {
        match &setting.node {
            JobSetting::Rules(name) => wants.rules = Some(name),
            JobSetting::Measure(name) => wants.measuring = Some(name),
            JobSetting::Prices(name) => wants.prices = Some(name),
            JobSetting::Forecast(name) => wants.forecast = Some(name),
            _ => {}
        }
    }
    wants
}

/// Resolves a plan. `None` when there is nothing that could be measured; faces with a fault are
/// left out, each after its faults were reported. `end` is where to point for what is missing
/// from the plan as a whole.
pub fn resolve(plan: &Plan, packs: Packs<'_>, end: Span) -> (Option<Job>, Vec<Diagnostic>) {
    resolve_with(plan, packs, None, end)
}

/// The same with the weather of days that the plan's `forecast` names.
pub fn resolve_with(
    plan: &Plan,
    packs: Packs<'_>,
    forecast: Option<&Forecast>,
    end: Span,
) -> (Option<Job>, Vec<Diagnostic>) {
    resolve_onto(Tape::new(), plan, packs, forecast, end)
}

/// The same onto a tape that has figures already: those stay where they are.
pub(crate) fn resolve_onto(
    tape: Tape,
    plan: &Plan,
    packs: Packs<'_>,
    forecast: Option<&Forecast>,
    end: Span,
) -> (Option<Job>, Vec<Diagnostic>) {
    let mut values = Values::new(plan, packs, tape);
    let job = one_job(plan, end, &mut values.diagnostics);
    values.look_at_conditions(job);
    values.look_at_order();
    values.evaluate();
    values.here = Scope::default();
    let settings = job
        .map(|job| values.settings(&job.settings))
        .unwrap_or_default();
    let forecast = forecast.map(|forecast| values.forecast(forecast));
    let mut general = settings.weather;
    let mut weather_on = weather::joined(settings.weather_on, forecast.unwrap_or_default());
    general.reckon(&mut values.tape);
    for weather in weather_on.values_mut() {
        *weather = weather.or(general);
        weather.reckon(&mut values.tape);
    }
    let finishes: Vec<Option<Finish>> = finish::of(plan)
        .map(|finish| values.finish(finish))
        .collect();
    let edges = values.edges();
    let content = values.content();
    say_nothing_to_build(plan, end, &mut values.diagnostics);
    values.tell_lacking();
    values.warn_unused();

    let names = values.names();
    let Values {
        tape,
        mut diagnostics,
        slots,
        structures,
        rule,
        origins,
        tied,
        ..
    } = values;
    diagnostics.append(&mut rule.warnings());
    diagnostic::tidy(&mut diagnostics);
    let resolved = job.map(|job| {
        let whole = Whole::new(finishes);
        let (faces, measured) = whole.faces(slots);
        Job {
            name: job.name.node.clone(),
            span: job.name.span,
            client: settings.client,
            site: settings.site,
            date: settings.date,
            valid_until: settings.valid_until,
            units: settings.units,
            measuring: measuring(packs),
            crew: settings.crew,
            crew_classes: settings.crew_classes,
            calendar: settings.calendar,
            weather: general,
            weather_on,
            bid: settings.bid,
            bid_places: settings.bid_places,
            edges: whole.edges(edges),
            content: whole.content(content),
            finishes: whole.finishes,
            structures,
            faces,
            measured,
            origins,
            tied,
            names,
            tape,
        }
    });
    (resolved, diagnostics)
}

/// How openings are deducted.
fn measuring(packs: Packs<'_>) -> Measuring {
    match packs.measuring {
        None => Measuring::Net,
        Some(pack) => Measuring::Pack {
            name: pack.manifest.name.clone(),
            version: pack.manifest.version.clone(),
            summary: pack.manifest.summary.clone(),
        },
    }
}

fn say_nothing_to_build(plan: &Plan, end: Span, diagnostics: &mut Vec<Diagnostic>) {
    let any_face = plan.statements.iter().any(|statement| match statement {
        Statement::Structure(structure) => {
            structure.from.is_some() || !structure.body.faces.is_empty()
        }
        _ => false,
    });
    if !any_face && plan.damaged.is_empty() {
        let help = "add a structure with a face: `structure \"Wall\" on block { face front rect 20ft x 6ft drystone }`";
        let diagnostic = Diagnostic::new(Code::NothingToBuild, "the plan has no face", help);
        diagnostics.push(diagnostic.at(end, ""));
    }
}

fn jobs(plan: &Plan) -> impl Iterator<Item = &ast::Job> {
    plan.statements
        .iter()
        .filter_map(|statement| match statement {
            Statement::Job(job) => Some(job),
            _ => None,
        })
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

#[cfg(test)]
mod tests;
