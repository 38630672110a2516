//! `parge days`: which work is done on which day, and what is mixed for it.

use crate::args::DaysArgs;
use crate::commands::explain::wrapped;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::{grouped, number, table, visible};
use crate::{Exit, World};
use parge_base::diagnostic::any_error;
use parge_base::number::round_to;
use parge_base::{Code, Diagnostic, Span};
use parge_calc::days::DayPlan;
use parge_calc::takeoff::Takeoff;
use parge_sheets::shown_days::{CardShown, GivenShown};
use parge_sheets::{day_files, shown_days};
use std::io;
use std::path::Path;

pub(crate) fn run(args: &DaysArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let loaded = session.load(&args.plan, world);
    let takeoff = loaded.and_then(|loaded| {
        session.files.push(world.folder.join(&args.plan));
        session.guard_prices(&loaded);
        session.take_off(&loaded)
    });
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
            None => {
                let said = no_plan(&takeoff, args.output.as_deref(), &session.diagnostics);
                session.diagnostics.extend(said);
            }
        }
    }
    session.report(world)
}

/// Why there is nothing to show, where nothing else says so, and that no file is written.
fn no_plan(takeoff: &Takeoff, output: Option<&Path>, said: &[Diagnostic]) -> Vec<Diagnostic> {
    let mut all = Vec::new();
    if !said.iter().any(|said| said.code == Code::NotPlanned) {
        let span: Span = takeoff.measured.job.span;
        let message = format!(
            "pack `{}` gives no days of work for this plan",
            takeoff.pack.name
        );
        let help = "name a pack with a rule `workday`, such as `vertical-concrete`, and state a structure with work on it";
        all.push(Diagnostic::new(Code::NotPlanned, message, help).at(span, ""));
    }
    if let Some(path) = output {
        let message = format!("{} is not written: there is no day plan", path.display());
        let help = "mend what is said of the days of work, and run the command again";
        all.push(Diagnostic::new(Code::CannotWrite, message, help));
    }
    all
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
    let names = [
        "day",
        "structure",
        "work",
        ">people",
        ">hours",
        "sets the end",
    ];
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
    let cards: Vec<CardShown> = shown_days::cards(takeoff, plan).collect();
    if cards.is_empty() {
        return Ok(());
    }
    let differs = |given: &GivenShown<'_>| !cards.iter().all(|card| card.given.contains(given));
    let rows = cards.iter().map(|card| {
        vec![
            card.day.label.clone(),
            card.mix.to_owned(),
            card.finish.to_owned(),
            match card.card.bags {
                0.0 => shown_days::OPEN_BAG.to_owned(),
                bags => number(bags, 0),
            },
            number(card.batches, 0),
            card.largest(),
            card.card.people.to_string(),
            given(card.given.iter().filter(|given| differs(given))),
        ]
    });
    let mut rows: Vec<Vec<String>> = rows.collect();
    let mut names = vec![
        "day", "mix", "finish", ">bags", ">batches", "largest", ">people", "besides",
    ];
    if rows
        .iter()
        .all(|row| row.last().is_none_or(String::is_empty))
    {
        names.pop();
        for row in &mut rows {
            row.pop();
        }
    }
    writeln!(world.out, "batches")?;
    writeln!(world.out, "{}", table(&names, rows, world.width))?;
    let first = cards.first().map_or(&[][..], |card| &card.given);
    let of_all = given(first.iter().filter(|given| !differs(given)));
    if !of_all.is_empty() {
        let line = format!("every batch: {of_all}");
        writeln!(world.out, "{}", lines(&line, world.width))?;
    }
    writeln!(world.out, "{}", lines(shown_days::DATA_SHEET, world.width))
}

/// A text in lines no longer than the terminal is wide.
fn lines(text: &str, width: u16) -> String {
    wrapped(text, usize::from(width)).join("\n")
}

/// Figures in a line: `water low 4.75 qt/bag; rest 3 min`.
fn given<'a>(given: impl Iterator<Item = &'a GivenShown<'a>>) -> String {
    let shown = given.map(|given| {
        let value = grouped(&round_to(given.value, 2).to_string());
        let text = format!("{} {value} {}", given.words(), given.unit);
        text.trim().to_owned()
    });
    let shown: Vec<String> = shown.collect();
    visible(&shown.join("; "))
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
            let message = format!(
                "{} is not written: the plan states no first day, so the days of work have no dates",
                path.display()
            );
            let help = "add the first day on site to the job block, such as `start 2026-06-01`";
            Diagnostic::new(Code::CannotWrite, message, help).at(takeoff.measured.job.span, "")
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
