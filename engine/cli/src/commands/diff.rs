//! `parge diff`: what changed in meaning between two plans, on the terminal, as JSON and as a
//! change order.
//!
//! Warnings of the two plans are not told: `parge check` tells them, and most would be told
//! twice. Errors are: without figures there is nothing to compare, and with a price missing the
//! amounts leave something out.

pub(super) mod tables;

use crate::args::DiffArgs;
use crate::origin::Origin;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic, Severity};
use parge_calc::change::{Both, Changes, compare};
use parge_calc::price::Estimate;
use parge_sheets::{change_json, change_order, is_change_json, is_untouched};
use std::io;
use std::path::{Path, PathBuf};

pub(crate) fn run(args: &DiffArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut old = Side::read(&args.old, world);
    let mut new = Side::read(&args.new, world);
    if let (Some(was), Some(is)) = (&old.estimate, &new.estimate) {
        let changes = compare(was, is);
        let plans = Both {
            old: old.plan.as_str(),
            new: new.plan.as_str(),
        };
        let read: Vec<PathBuf> = old.read_from().chain(new.read_from()).cloned().collect();
        match write(args, &changes, plans, is, &read, world) {
            Ok(json) if args.json.as_deref() == Some(Path::new("-")) => {
                writeln!(world.out, "{json}")?
            }
            Ok(_) => tables::show(&changes, plans, world)?,
            Err(diagnostic) => new.session.diagnostics.push(diagnostic),
        }
        for side in [&mut old, &mut new] {
            let said = &mut side.session.diagnostics;
            said.retain(|said| said.severity() == Severity::Error);
        }
    }
    let exits = [old.session.report(world)?, new.session.report(world)?];
    // A problem in what the user wrote can be mended first, whatever else went wrong.
    match exits {
        [Exit::Problems, _] | [_, Exit::Problems] => Ok(Exit::Problems),
        [Exit::Fine, exit] | [exit, _] => Ok(exit),
    }
}

/// One of the two plans with its estimate, where there is one.
struct Side {
    /// As the command names it.
    plan: String,
    session: Session,
    estimate: Option<Estimate>,
}

impl Side {
    fn read(word: &Path, world: &World<'_>) -> Self {
        let mut session = Session::default();
        let plan = word.display().to_string();
        let estimate = match Origin::of_word(word, &world.folder) {
            Ok((origin, name)) => {
                session.files.extend(origin.on_disk(&name));
                let loaded = session.load_from(origin, &name, &plan);
                loaded.and_then(|loaded| session.estimate(&loaded))
            }
            Err(diagnostic) => {
                session.diagnostics.push(diagnostic);
                None
            }
        };
        Self {
            plan,
            session,
            estimate,
        }
    }

    fn read_from(&self) -> impl Iterator<Item = &PathBuf> {
        self.session.files.iter()
    }
}

/// Writes what was asked for; hands back the JSON for whoever prints it.
fn write(
    args: &DiffArgs,
    changes: &Changes,
    plans: Both<&str>,
    new: &Estimate,
    read: &[PathBuf],
    world: &World<'_>,
) -> Result<String, Diagnostic> {
    let json = match &args.json {
        Some(_) => change_json(changes, plans),
        None => String::new(),
    };
    let mut files = Vec::new();
    if let Some(path) = &args.output {
        let path = outputs::workbook_path(path, &world.folder)?;
        let bytes = change_order(changes, plans, new).map_err(|error| {
            let message = format!("the change order cannot be made: {error}");
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
    let own = |bytes: &[u8]| is_untouched(bytes) || is_change_json(bytes);
    outputs::write(&files, read, own, args.force)?;
    Ok(json)
}
