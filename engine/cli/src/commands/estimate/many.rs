//! `parge estimate FOLDER`: every job of a folder, on all cores, in one list. Jobs do not know of
//! each other: what one comes to does not depend on the others, nor on the number of cores.

mod folder;
mod job;
mod progress;
mod show;
mod targets;

use crate::args::EstimateArgs;
use crate::session::Session;
use crate::{Exit, World};
use folder::{PlanFile, plans};
use job::{Looked, Way, look};
use parge_base::{Code, Diagnostic};
use parge_sheets::jobs::{Jobs, Part};
use progress::Progress;
use std::collections::BTreeSet;
use std::io;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::thread;
use targets::Targets;

pub(crate) fn run(args: &EstimateArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let root = world.folder.join(&args.plan);
    let (files, said) = plans(&root, &args.plan);
    session.diagnostics.extend(said);
    let way = Way {
        workbooks: args
            .workbooks
            .as_ref()
            .map(|folder| world.folder.join(folder)),
        force: args.force,
    };
    let targets = match Targets::of(args, world, &files, &way) {
        Ok(targets) => targets,
        Err(diagnostic) => {
            session.diagnostics.push(diagnostic);
            return session.report(world);
        }
    };
    let mut progress = Progress::new(world.watched, files.len());
    let looked = look_at_all(&files, &way, || progress.step(world.err))?;
    progress.end(world.err)?;
    let read = read_from(&files, &looked);
    let (jobs, worst) = sorted_out(&files, looked);
    if jobs.rows.is_empty() {
        session.diagnostics.push(no_jobs(args));
        return session.report(world);
    }
    let written = targets.write(&jobs, &read, args.force);
    match targets.terminal {
        true => writeln!(world.out, "{}", parge_sheets::jobs_json(&jobs))?,
        false => show::show(&jobs, &args.plan, world)?,
    }
    session.diagnostics.extend(written.err());
    let exit = session.report(world)?;
    Ok(worse(exit, worst))
}

/// As deep as the program's first thread, on which a single plan is estimated.
const STACK: usize = 8 << 20;

/// Looks at all plans, each on the next core that is free. What they come to is in their order.
fn look_at_all(
    files: &[PlanFile],
    way: &Way,
    mut done: impl FnMut() -> io::Result<()>,
) -> io::Result<Vec<Looked>> {
    // Threads of their own, and not those that share the work within a job: one of those that
    // waits for a part of its job would begin another job meanwhile, and another in that.
    let threads = rayon::current_num_threads().min(files.len());
    let next = AtomicUsize::new(0);
    let (send, receive) = mpsc::channel();
    let mut all = thread::scope(|scope| {
        for _ in 0..threads {
            let (next, send) = (&next, send.clone());
            let work = move || {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    let Some(file) = files.get(number) else {
                        return;
                    };
                    if send.send((number, look(file, way))).is_err() {
                        return;
                    }
                }
            };
            thread::Builder::new()
                .stack_size(STACK)
                .spawn_scoped(scope, work)?;
        }
        drop(send);
        let mut all = Vec::with_capacity(files.len());
        for looked in receive {
            all.push(looked);
            done()?;
        }
        io::Result::Ok(all)
    })?;
    all.sort_by_key(|(number, _)| *number);
    Ok(all.into_iter().map(|(_, looked)| looked).collect())
}

/// All files that figures are read from, which no output may replace.
fn read_from(files: &[PlanFile], looked: &[Looked]) -> Vec<PathBuf> {
    let plans = files.iter().map(|file| file.path.clone());
    let beside = looked.iter().flat_map(|looked| looked.read.clone());
    let all: BTreeSet<PathBuf> = plans.chain(beside).collect();
    all.into_iter().collect()
}

/// The jobs and the parts, and how the worst of the jobs ended.
fn sorted_out(files: &[PlanFile], looked: Vec<Looked>) -> (Jobs, Exit) {
    let of_jobs = looked.iter().filter(|looked| looked.is_job);
    let read = of_jobs.flat_map(|looked| &looked.read);
    let included: BTreeSet<PathBuf> = read.filter_map(|path| path.canonicalize().ok()).collect();
    let mut jobs = Jobs::default();
    let mut worst = Exit::Fine;
    for (file, looked) in files.iter().zip(looked) {
        let is_included = || {
            file.path
                .canonicalize()
                .is_ok_and(|path| included.contains(&path))
        };
        // Errors of a part are told by the jobs that include it. A file with errors that no job
        // includes may be a job whose job block cannot be read: it is not passed over.
        if looked.is_job || (looked.row.errors > 0 && !is_included()) {
            worst = worse(worst, looked.exit);
            jobs.rows.push(looked.row);
        } else {
            jobs.parts.push(Part {
                file: looked.row.plan,
                included: is_included(),
            });
        }
    }
    (jobs, worst)
}

fn worse(a: Exit, b: Exit) -> Exit {
    if (a as u8) < (b as u8) { b } else { a }
}

fn no_jobs(args: &EstimateArgs) -> Diagnostic {
    let message = format!("{} holds no plan with a job block", args.plan.display());
    let help = "name a folder with plans (*.parge) in it or below; `parge new wall` makes one to begin with";
    Diagnostic::new(Code::CannotRead, message, help)
}
