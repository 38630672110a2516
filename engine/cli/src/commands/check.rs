//! `parge check`: every problem of plans, rules and prices, and nothing written.

use crate::args::{CheckArgs, Format};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Diagnostic, Sources, diagnostic};
use parge_sheets::{Checked, diagnostics_json, sarif};
use std::io;
use std::path::Path;

pub(crate) fn run(args: &CheckArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let (mut worst, mut sources) = (Exit::Fine, Sources::new());
    let mut found: Vec<(String, Vec<Diagnostic>)> = Vec::new();
    for plan in &args.plans {
        // A session a plan: an error in one must not hold up the next. The texts stay together.
        let mut session = Session {
            sources,
            ..Session::default()
        };
        check(plan, &mut session, world);
        let exit = session.exit();
        if args.format == Format::Text {
            session.report(world)?;
            if exit == Exit::Fine {
                writeln!(world.out, "{}: no errors", plan.display())?;
            }
        }
        if (exit as u8) > (worst as u8) {
            worst = exit;
        }
        sources = session.sources;
        found.push((plan.display().to_string(), session.diagnostics));
    }
    let checked = found
        .iter()
        .map(|(plan, diagnostics)| Checked { plan, diagnostics });
    let checked: Vec<Checked<'_>> = checked.collect();
    match args.format {
        Format::Text => {}
        Format::Concise => concise(&checked, &sources, world)?,
        Format::Json => {
            let all: Vec<Diagnostic> = found.into_iter().flat_map(|(_, said)| said).collect();
            writeln!(world.out, "{}", diagnostics_json(&all, &sources))?;
        }
        Format::Sarif => {
            writeln!(world.out, "{}", sarif(&checked, &sources, &world.folder))?;
        }
    }
    Ok(worst)
}

/// The whole way of a plan to its price, for what is said on it.
fn check(plan: &Path, session: &mut Session, world: &World<'_>) {
    if let Some(loaded) = session.load(plan, world) {
        session.estimate(&loaded);
    }
    diagnostic::tidy(&mut session.diagnostics);
}

/// One line a problem, in the form that editors and build servers find their way by.
fn concise(checked: &[Checked<'_>], sources: &Sources, world: &mut World<'_>) -> io::Result<()> {
    for plan in checked {
        for diagnostic in plan.diagnostics {
            let at = match diagnostic.span() {
                Some(span) => {
                    let place = sources.place(span.file, span.start);
                    let name = sources.name(span.file);
                    format!("{name}:{}:{}", place.line, place.column)
                }
                None => plan.plan.to_owned(),
            };
            let severity = diagnostic.severity().word();
            let code = diagnostic.code.id();
            writeln!(
                world.out,
                "{at}: {severity}[{code}]: {}",
                diagnostic.message
            )?;
        }
    }
    Ok(())
}
