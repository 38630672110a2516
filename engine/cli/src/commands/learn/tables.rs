//! The proposal as tables on the terminal.

use super::{Done, Proposal};
use crate::World;
use crate::args::LearnArgs;
use crate::commands::diff::tables::signed;
use crate::commands::explain::wrapped;
use crate::table::{grouped, table, visible};
use parge_base::Money;
use parge_calc::learn::model::LEVEL;
use parge_calc::learn::{Effect, JobSeen, Lesson, Proposed, Verdict};
use std::collections::BTreeMap;
use std::fmt::Display;
use std::io;
use std::path::PathBuf;

pub(super) fn show(of: &Proposal<'_>, world: &mut World<'_>) -> io::Result<()> {
    jobs(of, world)?;
    moving(of, world)?;
    effects(of, world)?;
    staying(of, world)?;
    silent(of, world)
}

fn jobs(of: &Proposal<'_>, world: &mut World<'_>) -> io::Result<()> {
    let seen = &of.learned.jobs;
    let pack = &of.pack.manifest.name;
    let heading = format!(
        "{} for pack {pack} {}",
        count(seen.len(), "past job"),
        of.pack.version()
    );
    writeln!(world.out, "{}", visible(&heading))?;
    let rows = seen.iter().zip(&of.gathered.versions);
    let rows = rows.map(|(job, version)| {
        let [materials, hours] = job.lines.map(|lines| lines.to_string());
        let [of_materials, of_hours] = job.weights.map(counts_for);
        vec![
            job.name.clone(),
            days(job.days),
            match *version == of.pack.version() {
                true => "this version".to_owned(),
                false => version.clone(),
            },
            materials,
            of_materials,
            hours,
            of_hours,
        ]
    });
    let names = [
        "job",
        "on site",
        "priced with",
        ">lines of materials",
        ">count for",
        ">lines of hours",
        ">count for",
    ];
    writeln!(world.out, "{}", table(&names, rows.collect(), world.width))?;
    let spoiled = |job: &&JobSeen| {
        let mut weights = job.weights.iter().flatten();
        weights.any(|weight| *weight < HARDLY)
    };
    for job in seen.iter().filter(spoiled) {
        let line = format!(
            "{} is far from all the others: look at its record",
            job.name
        );
        lines(&line, world)?;
    }
    Ok(())
}

/// Below this weight a job is pointed out.
const HARDLY: f64 = 0.3;

fn counts_for(weight: Option<f64>) -> String {
    weight.map_or(String::new(), percent)
}

fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

fn count(number: usize, what: &str) -> String {
    match number {
        1 => format!("1 {what}"),
        more => format!("{more} {what}s"),
    }
}

fn days<D: Display + PartialEq>(days: Option<(D, D)>) -> String {
    match days {
        None => "not recorded".to_owned(),
        Some((first, last)) if first == last => first.to_string(),
        Some((first, last)) => format!("{first} to {last}"),
    }
}

/// The rows that are to change.
fn moving(of: &Proposal<'_>, world: &mut World<'_>) -> io::Result<()> {
    let lessons = of.learned.lessons.iter();
    let rows = lessons.flat_map(|lesson| lesson.moving().map(|proposed| row(lesson, proposed)));
    let rows: Vec<Vec<String>> = rows.collect();
    if rows.is_empty() {
        return writeln!(world.out, "\nno row is to change");
    }
    let between = format!(">between, {:.0} of 100", LEVEL * 100.0);
    let names = [
        "row to change",
        ">now",
        ">proposed",
        &between,
        ">jobs",
        ">known",
    ];
    writeln!(world.out, "\n{}", table(&names, rows, world.width))?;
    let known =
        "known: how much of the proposed value the jobs say; the rest is the value before them";
    lines(known, world)
}

fn row(lesson: &Lesson, proposed: &Proposed) -> Vec<String> {
    let unit = proposed.factor.unit.text();
    let [low, high] = proposed.interval;
    let with_unit = |value: f64| match unit {
        "1" => value.to_string(),
        unit => format!("{value} {unit}"),
    };
    vec![
        proposed.cell.to_string(),
        with_unit(proposed.factor.written),
        proposed.value.to_string(),
        format!("{low} to {high}"),
        lesson.jobs().to_string(),
        percent(lesson.shift.weight),
    ]
}

/// What the rows do to the totals of the plans that were named: those of a lesson together, and all.
fn effects(of: &Proposal<'_>, world: &mut World<'_>) -> io::Result<()> {
    let mut rows = Vec::new();
    for (number, lesson) in of.learned.lessons.iter().enumerate() {
        let names: Vec<String> = lesson.moving().map(|cell| cell.cell.to_string()).collect();
        if names.is_empty() {
            continue;
        }
        let by = of.effects.iter().map(|effect| {
            let by = effect.by.get(number).copied().flatten();
            by.map_or(String::new(), difference)
        });
        rows.push(std::iter::once(names.join(", ")).chain(by).collect());
    }
    if of.effects.is_empty() || rows.is_empty() {
        return Ok(());
    }
    let line = |words: &str, amount: &dyn Fn(&Effect) -> String| {
        let amounts = of.effects.iter().map(amount);
        std::iter::once(words.to_owned())
            .chain(amounts)
            .collect::<Vec<String>>()
    };
    rows.push(line("total now", &|effect| money(effect.now)));
    rows.push(line("total with all of these rows", &|effect| {
        money(effect.then)
    }));
    let jobs = of.effects.iter().map(|effect| format!(">{}", effect.job));
    let jobs: Vec<String> = jobs.collect();
    let mut names = vec!["changes the total by"];
    names.extend(jobs.iter().map(String::as_str));
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}

fn difference(by: Money) -> String {
    let text = signed(grouped(&by.to_text()));
    match text.is_empty() {
        true => "0".to_owned(),
        false => text,
    }
}

fn money(amount: Money) -> String {
    let code = amount.currency().code();
    format!("{} {code}", grouped(&amount.to_text()))
}

/// The rows that stay, by what becomes of them.
fn staying(of: &Proposal<'_>, world: &mut World<'_>) -> io::Result<()> {
    const KINDS: [(Verdict, &str); 3] = [
        (Verdict::Stays, "stay, since the jobs bear them out"),
        (
            Verdict::TooLittle,
            "stay, since the jobs say too little about them",
        ),
        (
            Verdict::BelowNothing,
            "stay, though less was used than without any waste: the pack yields or covers more than \
             its table says, so learn that row with `--row`",
        ),
    ];
    for (verdict, words) in KINDS {
        let cells = of.learned.lessons.iter().flat_map(|lesson| &lesson.cells);
        let cells = cells.filter(|cell| cell.verdict == verdict);
        let names: Vec<String> = cells.map(|cell| cell.cell.to_string()).collect();
        if !names.is_empty() {
            writeln!(world.out)?;
            lines(&format!("{words}: {}", names.join(", ")), world)?;
        }
    }
    let together = of
        .learned
        .lessons
        .iter()
        .filter(|lesson| lesson.cells.len() > 1);
    for lesson in together {
        let names: Vec<String> = lesson
            .cells
            .iter()
            .map(|cell| cell.cell.to_string())
            .collect();
        writeln!(world.out)?;
        let text = format!(
            "move together, by one share, since these jobs do not tell them apart: {}",
            names.join(", ")
        );
        lines(&text, world)?;
    }
    Ok(())
}

/// What was recorded and says nothing of a row.
fn silent(of: &Proposal<'_>, world: &mut World<'_>) -> io::Result<()> {
    let mut by_line: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for silent in &of.learned.silent {
        *by_line.entry((silent.why, &silent.words)).or_default() += 1;
    }
    let reasons: Vec<&str> = by_line.keys().map(|(why, _)| *why).collect();
    let mut told: Vec<&str> = Vec::new();
    for why in reasons {
        if told.contains(&why) {
            continue;
        }
        told.push(why);
        let own = by_line.iter().filter(|((of, _), _)| *of == why);
        let names = own.map(|((_, words), jobs)| format!("{words} ({})", count(*jobs, "job")));
        let names: Vec<String> = names.collect();
        writeln!(world.out)?;
        lines(
            &format!(
                "recorded, and not learned from, since {why}: {}",
                names.join(", ")
            ),
            world,
        )?;
    }
    Ok(())
}

/// What was written, or how it would be.
pub(super) fn done(args: &LearnArgs, done: &Done, world: &mut World<'_>) -> io::Result<()> {
    let names = |paths: &[PathBuf]| -> String {
        let names: Vec<String> = paths
            .iter()
            .map(|path| path.display().to_string())
            .collect();
        names.join(", ")
    };
    writeln!(world.out)?;
    if let Some(path) = &args.output {
        writeln!(world.out, "wrote {}", path.display())?;
    }
    if let Some(folder) = &args.plots {
        let charts = count(done.charts.len(), "chart");
        writeln!(world.out, "wrote {charts} into {}", folder.display())?;
    }
    match args.apply {
        true => {
            lines(&format!("wrote {}", names(&done.tables)), world)?;
            lines(
                "now give the pack a new version in its pack.toml, and run its tests",
                world,
            )
        }
        false => lines(
            "nothing in the pack was changed: `--apply` writes these rows into its tables",
            world,
        ),
    }
}

fn lines(text: &str, world: &mut World<'_>) -> io::Result<()> {
    for line in wrapped(&visible(text), usize::from(world.width)) {
        writeln!(world.out, "{line}")?;
    }
    Ok(())
}
