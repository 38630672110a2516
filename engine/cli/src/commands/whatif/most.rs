//! `parge whatif --most`: the inputs that move the total most, as a table and as a chart.

use super::Now;
use crate::args::{WhatifArgs, WhatifFormat};
use crate::commands::diff::tables::signed;
use crate::commands::explain::wrapped;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::{grouped, table, visible};
use crate::{Exit, World};
use parge_base::{Code, Diagnostic, Money, Sources};
use parge_calc::price::Status;
use parge_calc::whatif::{Most, Moved, Skipped, Way, Why, most};
use parge_sheets::most_json;
use parge_sheets::tornado::{Tornado, svg};
use rust_decimal::Decimal;
use std::io;
use std::path::Path;

pub(super) fn run(
    args: &WhatifArgs,
    count: usize,
    now: &Now,
    mut session: Session,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    let by = args.by.unwrap_or(Decimal::new(1, 1));
    let found = most(&now.basis, &now.estimate, by, &session.sources);
    match args.format {
        WhatifFormat::Text => show(&found, count, now, &session.sources, world)?,
        WhatifFormat::Json => {
            let json = most_json(&found, &now.estimate, count, &session.sources);
            writeln!(world.out, "{json}")?;
        }
    }
    if let Some(path) = &args.output {
        let chart = chart(&found, count, now);
        let written = write(chart, path, args.force, &session, world);
        session.diagnostics.extend(written.err());
    }
    session.report(world)
}

fn show(
    most: &Most,
    count: usize,
    now: &Now,
    sources: &Sources,
    world: &mut World<'_>,
) -> io::Result<()> {
    let by = percent(most.by);
    let heading = format!(
        "{}: each figure by {by} down and up, and what that does to the total of {}",
        now.estimate.takeoff.measured.job.name,
        money(most.total),
    );
    writeln!(world.out, "{}", visible(&heading))?;
    if now.estimate.status == Status::Incomplete {
        writeln!(
            world.out,
            "INCOMPLETE: lines without a price do not move it"
        )?;
    }
    let rows = most
        .moved
        .iter()
        .take(count)
        .map(|moved| row(moved, sources));
    let (less, more) = (format!(">{by} less"), format!(">{by} more"));
    let names = [
        "what moves the total",
        "now",
        &less,
        &more,
        "who says so, and where",
    ];
    writeln!(world.out, "{}", table(&names, rows.collect(), world.width))?;
    let still = most.moved.iter().filter(|moved| moved.size().is_zero());
    let line = format!(
        "{} moved, {} of them without any difference in the total",
        most.moved.len(),
        still.count()
    );
    writeln!(world.out, "\n{line}")?;
    not_moved(&most.skipped, world)
}

fn row(moved: &Moved, sources: &Sources) -> Vec<String> {
    // The name of a cell says its table, so the folder of the file says nothing more.
    let place = moved.place.map_or(String::new(), |span| {
        let line = sources.place(span.file, span.start).line;
        let path = sources.name(span.file);
        let file = path.rsplit(['/', '\\']).next().unwrap_or(path);
        format!("; {file}:{line}")
    });
    vec![
        moved.name.clone(),
        moved.value.clone(),
        way(&moved.down),
        way(&moved.up),
        format!("{}{place}", moved.source),
    ]
}

fn way(way: &Way) -> String {
    match way {
        Way::Difference(difference) if difference.amount().is_zero() => "0".to_owned(),
        Way::Difference(difference) => signed(grouped(&difference.to_text())),
        Way::Unknown(_) => "no total".to_owned(),
    }
}

/// What was not moved, reason by reason.
fn not_moved(skipped: &[Skipped], world: &mut World<'_>) -> io::Result<()> {
    type Of = fn(&Why) -> bool;
    let kinds: [(&str, Of); 3] = [
        ("whole numbers, mostly counts", |why| *why == Why::Count),
        ("zero", |why| *why == Why::Zero),
        ("degrees of a thermometer", |why| *why == Why::Thermometer),
    ];
    for (kind, of) in kinds {
        let of_kind = skipped.iter().filter(|skipped| of(&skipped.why));
        let names = in_short(of_kind.map(|skipped| skipped.name.as_str()));
        if !names.is_empty() {
            lines(&format!("not moved, {kind}: {}", names.join(", ")), world)?;
        }
    }
    for skipped in skipped {
        if let Why::NoFigures(reason) = &skipped.why {
            lines(&format!("not moved, {}: {reason}", skipped.name), world)?;
        }
    }
    Ok(())
}

/// Names in their order; of a table with many, how many.
fn in_short<'n>(names: impl Iterator<Item = &'n str> + Clone) -> Vec<String> {
    const FEW: usize = 3;
    let mut short: Vec<String> = Vec::new();
    for name in names.clone() {
        let table = table_of(name);
        let alike = names.clone().filter(|other| table_of(other) == table);
        let text = match alike.count() {
            more if more > FEW => format!("{more} of {table}"),
            _ => name.to_owned(),
        };
        if !short.contains(&text) {
            short.push(text);
        }
    }
    short
}

/// The table of a cell by its name.
fn table_of(name: &str) -> &str {
    name.split_once('.').map_or(name, |(table, _)| table)
}

fn lines(text: &str, world: &mut World<'_>) -> io::Result<()> {
    for line in wrapped(&visible(text), usize::from(world.width)) {
        writeln!(world.out, "{line}")?;
    }
    Ok(())
}

fn chart(most: &Most, count: usize, now: &Now) -> String {
    let shown = most.moved.get(..count.min(most.moved.len()));
    svg(&Tornado {
        title: format!(
            "{}: what moves the total most",
            now.estimate.takeoff.measured.job.name
        ),
        by: percent(most.by),
        total: money(most.total),
        moved: shown.unwrap_or_default(),
    })
}

fn money(amount: Money) -> String {
    format!(
        "{} {}",
        grouped(&amount.to_text()),
        amount.currency().code()
    )
}

fn percent(share: Decimal) -> String {
    format!("{}%", (share * Decimal::ONE_HUNDRED).normalize())
}

fn write(
    chart: String,
    path: &Path,
    force: bool,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let ending = path.extension();
    if ending.is_none_or(|ending| !ending.eq_ignore_ascii_case("svg")) {
        let message = format!("{} does not end in .svg", path.display());
        let help = "name the chart as one, such as `-o most.svg`";
        return Err(Diagnostic::new(Code::CannotWrite, message, help));
    }
    let bytes = chart.into_bytes();
    let same = bytes.clone();
    let output = Output {
        path: world.folder.join(path),
        bytes,
    };
    outputs::write(&[output], &session.files, move |there| there == same, force)
}
