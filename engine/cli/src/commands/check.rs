//! `parge check`: every problem of plans, rules and prices, and nothing written.

use crate::args::{CheckArgs, Format};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Diagnostic, Sources, diagnostic};
use parge_sheets::diagnostics_json;
use parge_sheets::sarif::{Checked, Find, sarif};
use std::io;
use std::path::{Path, PathBuf};

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
    let folder = world.folder.clone();
    let find = |plan: &Checked<'_>, name: &str| located(&folder, plan.plan, name);
    match args.format {
        Format::Text => {}
        Format::Concise => concise(&checked, &sources, &find, world)?,
        Format::Json => {
            let all: Vec<Diagnostic> = found.into_iter().flat_map(|(_, said)| said).collect();
            writeln!(world.out, "{}", diagnostics_json(&all, &sources))?;
        }
        Format::Sarif => {
            writeln!(world.out, "{}", sarif(&checked, &sources, &find))?;
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

/// The path of a file from where the program runs. Price books and packs are shown under the
/// names that plans give them, which start from the plan's folder; those in the program are no
/// files.
fn located(folder: &Path, plan: &str, name: &str) -> PathBuf {
    let beside = Path::new(plan).with_file_name(name);
    let path = if name != plan && folder.join(&beside).is_file() {
        beside
    } else {
        PathBuf::from(name)
    };
    path.strip_prefix(folder)
        .map(Path::to_owned)
        .unwrap_or(path)
}

/// One line a problem, in the form that editors and build servers find their way by.
fn concise(
    checked: &[Checked<'_>],
    sources: &Sources,
    find: &Find<'_>,
    world: &mut World<'_>,
) -> io::Result<()> {
    for plan in checked {
        for diagnostic in plan.diagnostics {
            let at = match diagnostic.span() {
                Some(span) => {
                    let place = sources.place(span.file, span.start);
                    let path = find(plan, sources.name(span.file));
                    format!("{}:{}:{}", path.display(), place.line, place.column)
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
