//! `parge rules test`: the cases of a pack, each with what came out otherwise than wanted.

use super::{label, load, located};
use crate::args::PackArgs;
use crate::origin::Origin;
use crate::session::Session;
use crate::table::visible;
use crate::{Exit, World, packs};
use parge_base::diagnostic::any_error;
use parge_base::{FileId, Severity, Sources, Spanned};
use parge_calc::expect::{OfPlan, Outcome, of_bid, of_plan};
use parge_rules::{Asked, Case, Pack, cases};
use std::io;
use std::sync::Arc;

/// The lines before a plan's own: a case says only what it is about. Figures are compared in the
/// units of the case, so those of the job do not matter.
const HEAD: [&str; 2] = [
    "parge 1",
    "job \"Test\" { units us  rules \"the pack that is tested\" }",
];

pub(crate) fn run(args: &PackArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let Some(pack) = load(&args.pack, &mut session, world).map(Arc::new) else {
        return session.report(world);
    };
    let Some((word, origin)) = located(&args.pack, &mut session, world) else {
        return session.report(world);
    };
    let files = match packs::tests(&word, &origin) {
        Ok(files) => files,
        Err(diagnostic) => {
            session.diagnostics.push(diagnostic);
            return session.report(world);
        }
    };
    if files.is_empty() {
        let label = visible(&label(&pack));
        writeln!(
            world.out,
            "{label} has no tests: they stand in files tests/*.toml of its folder"
        )?;
        return session.report(world);
    }
    let (mut all, mut failed) = (0, 0);
    for (name, text) in files {
        let file = session.sources.add(name, text);
        let (cases, mut wrong) = cases(&session.sources, file, pack.units());
        session.diagnostics.append(&mut wrong);
        for case in cases {
            all += 1;
            let passes = one(&case, file, &pack, &origin, &mut session, world)?;
            failed += usize::from(!passes);
        }
    }
    let word = if all == 1 { "case" } else { "cases" };
    writeln!(world.out, "{all} {word}, {failed} failed")?;
    // A plan or a file that cannot be read is mended first.
    match session.report(world)? {
        Exit::Fine if failed > 0 => Ok(Exit::CheckFailed),
        exit => Ok(exit),
    }
}

/// Runs a case and tells its line; whether it passes.
fn one(
    case: &Case,
    file: FileId,
    pack: &Arc<Pack>,
    origin: &Origin,
    session: &mut Session,
    world: &mut World<'_>,
) -> io::Result<bool> {
    // What was said of other cases is kept apart: each passes or fails by itself.
    let before = std::mem::take(&mut session.diagnostics);
    let mut outcome = match &case.asked {
        Asked::Bid { bid, charges } => of_bid(case, bid, charges, pack),
        Asked::Plan {
            plan,
            needs,
            waste,
            hours,
        } => {
            let wanted = OfPlan {
                needs,
                waste,
                hours,
            };
            take_off(case, plan, wanted, file, pack, origin, session).unwrap_or_default()
        }
    };
    session.diagnostics.append(&mut outcome.wrong);
    // As in `parge rules diff`, warnings are not told: a case is about figures.
    let is_error = |said: &parge_base::Diagnostic| said.severity() == Severity::Error;
    session.diagnostics.retain(is_error);
    let is_wrong = any_error(&session.diagnostics);
    let said = std::mem::replace(&mut session.diagnostics, before);
    session.diagnostics.extend(said);

    let passes = !is_wrong && outcome.misses.is_empty();
    let word = if passes { "ok    " } else { "FAILED" };
    writeln!(world.out, "{word}  {}", visible(&case.name.node))?;
    // Figures of a plan with a fault would only lead astray.
    for miss in outcome.misses.iter().filter(|_| !is_wrong) {
        let line = format!("{}: wanted {}, got {}", miss.what, miss.wanted, miss.got);
        writeln!(world.out, "          {}", visible(&line))?;
    }
    Ok(passes)
}

/// The outcome of a plan; none where it has a fault, which is told.
fn take_off(
    case: &Case,
    plan: &Spanned<String>,
    wanted: OfPlan<'_>,
    file: FileId,
    pack: &Arc<Pack>,
    origin: &Origin,
    session: &mut Session,
) -> Option<Outcome> {
    let name = session.sources.name(file).to_owned();
    let text = completed(plan, file, &session.sources);
    let loaded = session.load_case(text, origin.clone(), &name, Arc::clone(pack))?;
    let takeoff = session.take_off(&loaded)?;
    let pooled = session.pool(&takeoff, &loaded);
    Some(of_plan(case, wanted, &takeoff, &pooled, pack))
}

/// The plan behind the lines that every plan has, with as many empty ones between them that its
/// lines have the numbers that they have in the file of the case.
fn completed(plan: &Spanned<String>, file: FileId, sources: &Sources) -> String {
    let quoted = sources.slice(plan.span);
    let marks = quoted.len() - quoted.trim_start_matches(['\'', '"']).len();
    // A line end right behind the marks is no part of the text.
    let opening = quoted.get(marks..).unwrap_or("");
    let skipped = usize::from(marks > 1 && opening.starts_with(['\n', '\r']));
    let line = sources.place(file, plan.span.start).line + skipped;
    let empty = line.saturating_sub(HEAD.len() + 1);
    let mut text = HEAD.join("\n") + "\n";
    text.extend(std::iter::repeat_n('\n', empty));
    text + plan.node.as_str()
}
