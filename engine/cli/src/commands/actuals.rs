//! `parge actuals`: what a job used beside what was estimated, and the form to record it with.
//!
//! Warnings of the estimate are not told: `parge check` tells them.

mod form;
mod tables;

use crate::args::ActualsArgs;
use crate::outputs::{self, Output};
use crate::past_job::{PastJob, record_beside};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic, Severity};
use parge_calc::actuals::{Comparison, compare};
use parge_sheets::{actuals_json, actuals_workbook, is_actuals_json, is_untouched};
use std::io;
use std::path::{Path, PathBuf};

pub(crate) fn run(args: &ActualsArgs, world: &mut World<'_>) -> io::Result<Exit> {
    match args.form {
        true => form::run(args, world),
        false => beside(args, world),
    }
}

/// Shows a record beside its estimate.
fn beside(args: &ActualsArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let record = match &args.record {
        Some(record) => Ok(record.clone()),
        None => record_beside(&args.plan, world),
    };
    let Some(record) = session.or_say(record) else {
        return session.report(world);
    };
    let past = session.past_job(&args.plan, &record, args.changed, world);
    session.diagnostics.retain(is_to_be_told);
    let Some(past) = past else {
        return session.report(world);
    };
    let compared = compare(&past.job.estimate, &past.actuals, &past.held);
    let Some(comparison) = session.keep(compared) else {
        return session.report(world);
    };
    let of = Compared {
        past: &past,
        record: &record,
        comparison: &comparison,
    };
    match write(args, &of, &session, world) {
        Ok(json) if args.json.as_deref() == Some(Path::new("-")) => writeln!(world.out, "{json}")?,
        Ok(_) => tables::show(&comparison, &past.job.estimate, world)?,
        Err(diagnostic) => session.diagnostics.push(diagnostic),
    }
    session.report(world)
}

/// Whether it is of the record, or leaves no figures.
fn is_to_be_told(said: &Diagnostic) -> bool {
    let of_record = matches!(said.code, Code::ComparedThoughChanged | Code::MatchesNoLine);
    of_record || said.severity() == Severity::Error
}

/// A record beside its estimate.
struct Compared<'c> {
    past: &'c PastJob,
    record: &'c Path,
    comparison: &'c Comparison,
}

/// Writes what was asked for; hands back the JSON for whoever prints it.
fn write(
    args: &ActualsArgs,
    of: &Compared<'_>,
    session: &Session,
    world: &World<'_>,
) -> Result<String, Diagnostic> {
    let job = &of.past.job;
    let json = match &args.json {
        Some(_) => {
            let record = of.record.display().to_string();
            let print = &job.fingerprint;
            actuals_json(of.comparison, &record, print, &session.sources)
        }
        None => String::new(),
    };
    let mut files = Vec::new();
    if let Some(path) = &args.output {
        let path = outputs::workbook_path(path, &world.folder)?;
        let sources = &session.sources;
        let made = actuals_workbook(&job.estimate, of.comparison, sources, &job.said);
        let bytes = made.map_err(|error| {
            let message = format!("the workbook cannot be made: {error}");
            let help = "divide the job into several plans";
            Diagnostic::new(Code::CannotWrite, message, help)
        })?;
        files.push(Output { path, bytes });
    }
    if let Some(path) = args.json.as_ref().filter(|path| *path != Path::new("-")) {
        files.push(Output {
            path: world.folder.join(path),
            bytes: json.clone().into_bytes(),
        });
    }
    let read: Vec<PathBuf> = session.files.clone();
    let own = |bytes: &[u8]| is_untouched(bytes) || is_actuals_json(bytes);
    outputs::write(&files, &read, own, args.force)?;
    Ok(json)
}
