//! Many jobs on the terminal.

use crate::World;
use crate::render::plural;
use crate::table::{grouped, number, table, visible};
use parge_base::Money;
use parge_sheets::jobs::{Figures, FirstError, JobRow, Jobs, Total};
use parge_sheets::shown::print_unit;
use std::io;
use std::path::Path;

/// Shows the jobs, what they come to, and what is wrong with them. `folder` is what the paths of
/// the plans start from.
pub(super) fn show(jobs: &Jobs, folder: &Path, world: &mut World<'_>) -> io::Result<()> {
    let names = ["/plan", "job", ">faces", ">net area", ">total", "status"];
    let rows = jobs.rows.iter().map(row).collect();
    writeln!(world.out, "{}\n", table(&names, rows, world.width))?;
    totals(jobs, world)?;
    parts(jobs, world)?;
    errors(jobs, folder, world)
}

fn row(row: &JobRow) -> Vec<String> {
    let figures = row.figures.as_ref();
    let written = |of: fn(&Figures) -> String| figures.map_or(String::new(), of);
    let area = |of: &Figures| format!("{} {}", number(of.net_area, 1), print_unit(of.area_unit));
    vec![
        row.plan.clone(),
        row.name.clone(),
        written(|of| grouped(&of.faces.to_string())),
        written(area),
        written(|of| format!("{} {}", money(of.total), of.total.currency().code())),
        status(row),
    ]
}

/// What is not fine is written large, with how much there is to mend or to look at.
fn status(row: &JobRow) -> String {
    let status = match row.status() {
        "complete" => "complete".to_owned(),
        other => other.to_uppercase(),
    };
    let counts = [(row.errors, "error"), (row.warnings, "warning")];
    let counts = counts.into_iter().filter(|(count, _)| *count > 0);
    let counts = counts.map(|(count, word)| plural(count, word));
    let parts: Vec<String> = [status].into_iter().chain(counts).collect();
    parts.join(", ")
}

fn money(amount: Money) -> String {
    grouped(&amount.to_text())
}

/// What the jobs of each currency come to; currencies are not added.
fn totals(jobs: &Jobs, world: &mut World<'_>) -> io::Result<()> {
    let totals = jobs.totals();
    if !totals.is_empty() {
        let names = [">jobs", "all in", ">materials", ">labour", ">total", ""];
        let rows = totals.iter().map(total).collect();
        writeln!(world.out, "{}", table(&names, rows, world.width))?;
    }
    match jobs.failed() {
        0 => writeln!(world.out),
        1 => writeln!(world.out, "1 job FAILED and is in no sum\n"),
        more => writeln!(world.out, "{more} jobs FAILED and are in no sum\n"),
    }
}

fn total(total: &Total) -> Vec<String> {
    let sum = |of: Option<Money>| of.map_or("too large".to_owned(), money);
    vec![
        total.jobs.to_string(),
        total.currency.code().to_owned(),
        sum(total.sums.map(|sums| sums.materials)),
        sum(total.sums.map(|sums| sums.labour)),
        sum(total.sums.map(|sums| sums.total)),
        match total.incomplete {
            0 => String::new(),
            more => format!("{more} INCOMPLETE: lines without a price are in no sum"),
        },
    ]
}

/// The files that are no jobs. One that no job includes may be a job that lost its job block.
fn parts(jobs: &Jobs, world: &mut World<'_>) -> io::Result<()> {
    match jobs.parts.len() {
        0 => return Ok(()),
        1 => writeln!(world.out, "1 file has no job block, so it is no job")?,
        more => writeln!(
            world.out,
            "{more} files have no job block, so they are no jobs"
        )?,
    }
    for part in jobs.parts.iter().filter(|part| !part.included) {
        writeln!(world.out, "{}: no job includes it", visible(&part.file))?;
    }
    writeln!(world.out)
}

/// What is wrong, and how to see the rest of it.
fn errors(jobs: &Jobs, folder: &Path, world: &mut World<'_>) -> io::Result<()> {
    let wrong = jobs.rows.iter().filter_map(|row| {
        let first = row.first.as_ref().map(FirstError::words)?;
        Some(vec![row.plan.clone(), first])
    });
    let wrong: Vec<Vec<String>> = wrong.collect();
    let Some([plan, _]) = wrong.first().map(Vec::as_slice) else {
        return Ok(());
    };
    let plan = folder.join(plan).display().to_string();
    writeln!(
        world.out,
        "{}",
        table(&["/plan", "its first error"], wrong, world.width)
    )?;
    writeln!(
        world.out,
        "`parge check PLAN` tells all of one, such as `parge check {}`",
        visible(&plan)
    )
}
