//! `parge days`: which work is done on which day, and what is mixed for it.

use crate::args::DaysArgs;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::{number, table, visible};
use crate::{Exit, World};
use parge_base::diagnostic::any_error;
use parge_base::{Code, Diagnostic, Span};
use parge_calc::days::DayPlan;
use parge_calc::takeoff::Takeoff;
use parge_sheets::{day_files, shown_days};
use std::io;
use std::path::Path;

pub(crate) fn run(args: &DaysArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let loaded = session.load(&args.plan, world);
    let takeoff = loaded.and_then(|loaded| session.take_off(&loaded));
    if let Some(takeoff) = takeoff.filter(|_| !any_error(&session.diagnostics)) {
        match &takeoff.days {
            Some(plan) => {
                work(&takeoff, plan, world)?;
                cards(&takeoff, plan, world)?;
                if let Some(path) = &args.output {
                    let written = write(&takeoff, plan, path, args.force, &session, world);
                    session.diagnostics.extend(written.err());
                }
            }
            None => session.diagnostics.push(no_plan(&takeoff)),
        }
    }
    session.report(world)
}

fn no_plan(takeoff: &Takeoff) -> Diagnostic {
    let span: Span = takeoff.measured.job.span;
    let message = format!("pack `{}` gives no days of work for this plan", takeoff.pack.name);
    let help = "name a pack with a rule `workday`, such as `vertical-concrete`, and mend what was said of the days";
    Diagnostic::new(Code::NotPlanned, message, help).at(span, "")
}

fn work(takeoff: &Takeoff, plan: &DayPlan, world: &mut World<'_>) -> io::Result<()> {
    let rows = shown_days::work(takeoff, plan).map(|work| {
        vec![
            format!("{} {}", work.weekday, work.day).trim().to_owned(),
            work.structure.to_owned(),
            work.work.clone(),
            work.people.to_string(),
            number(work.hours, 1),
            if work.critical { "yes" } else { "" }.to_owned(),
        ]
    });
    let rows = rows.collect();
    let names = ["day", "structure", "work", ">people", ">hours", "sets the end"];
    let job = &takeoff.measured.job;
    writeln!(
        world.out,
        "{}: {} days of work for a crew of {}",
        visible(&job.name),
        plan.days.len(),
        plan.crew
    )?;
    writeln!(world.out, "{}\n", table(&names, rows, world.width))
}

fn cards(takeoff: &Takeoff, plan: &DayPlan, world: &mut World<'_>) -> io::Result<()> {
    let rows = shown_days::cards(takeoff, plan).map(|card| {
        let given = card.given.iter().map(|given| {
            let name = given.name.replace('_', " ");
            format!("{name} {} {}", number(given.value, 2), given.unit).trim().to_owned()
        });
        let given: Vec<String> = given.collect();
        vec![
            card.day.to_owned(),
            card.mix.to_owned(),
            card.finish.to_owned(),
            number(card.bags, 0),
            number(card.batches, 0),
            number(card.batch, 2),
            card.people.to_string(),
            given.join("; "),
        ]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    if rows.is_empty() {
        return Ok(());
    }
    let names = [
        "day", "mix", "finish", ">bags", ">batches", ">largest", ">people", "for each bag and batch",
    ];
    writeln!(world.out, "batches")?;
    writeln!(world.out, "{}", table(&names, rows, world.width))
}

/// Writes the plan in the form that the ending of the file names.
fn write(
    takeoff: &Takeoff,
    plan: &DayPlan,
    path: &Path,
    force: bool,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let ending = path.extension().and_then(|ending| ending.to_str());
    let ending = ending.unwrap_or("").to_ascii_lowercase();
    let dated = |made: Option<String>| {
        made.ok_or_else(|| {
            let message = "the plan states no first day, so the days of work have no dates";
            let help = "add the first day on site to the job block, such as `start 2026-06-01`";
            Diagnostic::new(Code::NoDate, message, help).at(takeoff.measured.job.span, "")
        })
    };
    let text = match ending.as_str() {
        "ics" => dated(day_files::calendar(takeoff, plan))?,
        "svg" => dated(day_files::drawing(takeoff, plan))?,
        "csv" => day_files::lines(takeoff, plan),
        _ => {
            let message = format!("{} does not end in .ics, .svg or .csv", path.display());
            let help = "name the file as one: a calendar `days.ics`, a chart `days.svg`, or lines `days.csv`";
            return Err(Diagnostic::new(Code::CannotWrite, message, help));
        }
    };
    let bytes = text.into_bytes();
    let same = bytes.clone();
    let output = Output {
        path: world.folder.join(path),
        bytes,
    };
    let is_same = move |there: &[u8]| there == same;
    outputs::write(&[output], &session.files, is_same, force)
}
