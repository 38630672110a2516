//! `parge explain`: how a figure came about.

mod tree;

use crate::args::{ExplainArgs, ExplainFormat};
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::visible;
use crate::{Exit, World};
use parge_base::Diagnostic;
use parge_base::prices::PriceBook;
use parge_calc::explain::{Explanation, Listing, Outline, Unfound, explain, listing};
use parge_calc::price::Estimate;
use std::io;
use tree::Tree;
pub(crate) use tree::wrapped;

pub(crate) fn run(args: &ExplainArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let made = session
        .load(&args.plan, world)
        .and_then(|loaded| session.estimate_with_prices(&loaded));
    let Some((estimate, book)) = made else {
        return session.report(world);
    };
    let told = match &args.figure {
        None => {
            list(&listing(&estimate), world)?;
            Exit::Fine
        }
        Some(figure) => tell(args, figure, (&estimate, &book), &mut session, world)?,
    };
    let reported = session.report(world)?;
    Ok(if told == Exit::Fine { reported } else { told })
}

/// Explains one figure, or says why it is not explained.
fn tell(
    args: &ExplainArgs,
    figure: &str,
    (estimate, book): (&Estimate, &PriceBook),
    session: &mut Session,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    let explanation = match explain(estimate, book, &session.sources, figure) {
        Ok(explanation) => explanation,
        Err(unfound) => return refuse(&unfound, estimate, world),
    };
    let text = write(args, &explanation, estimate, session, world);
    match &args.output {
        None => write!(world.out, "{text}")?,
        Some(_) => {
            if let Err(diagnostic) = put(args, text, session, world) {
                session.diagnostics.push(diagnostic);
            }
        }
    }
    Ok(Exit::Fine)
}

fn write(
    args: &ExplainArgs,
    explanation: &Explanation,
    estimate: &Estimate,
    session: &Session,
    world: &World<'_>,
) -> String {
    let outline = Outline::of(explanation);
    let job = &estimate.takeoff.measured.job;
    match args.format {
        ExplainFormat::Text => {
            let tree = Tree {
                outline: &outline,
                sources: &session.sources,
                system: job.units,
                width: usize::from(world.width),
                all: args.all,
            };
            tree.text(args.depth)
        }
        ExplainFormat::Json => parge_sheets::explanation_json(&outline, job, &session.sources),
        ExplainFormat::Html => parge_sheets::explanation_html(&outline, job, &session.sources),
    }
}

fn put(
    args: &ExplainArgs,
    text: String,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let Some(path) = &args.output else {
        return Ok(());
    };
    let output = Output {
        path: world.folder.join(path),
        bytes: text.into_bytes(),
    };
    let mut read = session.files.clone();
    read.push(world.folder.join(&args.plan));
    outputs::write(&[output], &read, parge_sheets::is_explanation, args.force)
}

/// Says why there is no explanation. A name that is none is wrong use; a figure without a price
/// is a gap in the user's files.
fn refuse(unfound: &Unfound, estimate: &Estimate, world: &mut World<'_>) -> io::Result<Exit> {
    let (message, help, exit) = match unfound {
        Unfound::Unknown { name, nearest } => {
            let message = format!("the job has no figure `{}`", visible(name));
            match nearest {
                Some(near) => {
                    let help = format!("did you mean `{}`?", visible(near));
                    (message, help, Exit::Usage)
                }
                None => {
                    writeln!(
                        world.err,
                        "error: {message}\n\nhelp: these can be explained\n"
                    )?;
                    write!(world.err, "{}", listed(&listing(estimate), world.width))?;
                    return Ok(Exit::Usage);
                }
            }
        }
        Unfound::Ambiguous { name, longer } => {
            let names: Vec<String> = longer.iter().map(|name| format!("`{name}`")).collect();
            let message = format!("several figures are called `{}`", visible(name));
            let help = format!("write which one: {}", visible(&names.join(", ")));
            (message, help, Exit::Usage)
        }
        Unfound::NoPrice { name } => {
            let message = format!("`{}` has no price, so it has no value", visible(name));
            let help = "what it needs can be explained; write the missing price into the price book for more";
            (message, help.to_owned(), Exit::Problems)
        }
        Unfound::NoValue { name } => {
            let message = format!("`{}` cannot be followed to its beginning", visible(name));
            let help = "this is a fault of the program; please report it with the plan";
            (message, help.to_owned(), Exit::Failed)
        }
    };
    writeln!(world.err, "error: {message}\n\nhelp: {help}\n")?;
    Ok(exit)
}

fn list(names: &Listing, world: &mut World<'_>) -> io::Result<()> {
    write!(world.out, "{}", listed(names, world.width))
}

/// The names of figures, kind by kind.
fn listed(names: &Listing, width: u16) -> String {
    let first =
        |names: &[String], fallback: &str| joined(names.get(..1).unwrap_or(&[fallback.to_owned()]));
    let face = first(&names.faces, "face");
    let takes = format!(
        "{}; {face}.{} for a material, {face}.hours.{} for a phase",
        names.measures.join(", "),
        first(&names.materials, "item"),
        first(&names.phases, "phase"),
    );
    let kinds = [
        ("price", joined(&names.price)),
        ("materials", joined(&names.materials)),
        ("of a material", joined(&names.parts)),
        ("hours", joined(&names.phases)),
        ("names", joined(&names.names)),
        ("weather", joined(&names.weather)),
        ("batches", joined(&names.batches)),
        ("faces", joined(&names.faces)),
        ("of a face", takes),
    ];
    let mut text = String::new();
    for (kind, of_it) in kinds.iter().filter(|(_, of_it)| !of_it.is_empty()) {
        let lines = wrapped(&visible(of_it), usize::from(width).saturating_sub(KIND + 2));
        for (at, line) in lines.iter().enumerate() {
            let kind = if at == 0 { kind } else { "" };
            text += &format!(
                "{kind:<KIND$}{}\n",
                line.trim_start().replace(HARD_BLANK, " ")
            );
        }
    }
    text
}

/// The width of the column of kinds.
const KIND: usize = 16;

/// A blank in a name, where no line is broken.
const HARD_BLANK: char = '\u{a0}';

/// Names in a line that is broken between them only.
fn joined(names: &[String]) -> String {
    let names: Vec<String> = names
        .iter()
        .map(|name| name.replace(' ', "\u{a0}"))
        .collect();
    names.join(", ")
}
