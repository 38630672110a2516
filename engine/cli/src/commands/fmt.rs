//! `parge fmt`: plans in the one layout there is.

use crate::args::FmtArgs;
use crate::files::{read_text, write_whole};
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic};
use std::path::Path;
use std::{fs, io};

pub(crate) fn run(args: &FmtArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let mut would_change = false;
    for plan in &args.plans {
        let Some(laid_out) = laid_out(plan, &mut session, world) else {
            continue;
        };
        if args.check {
            would_change = true;
            writeln!(world.out, "would change {}", plan.display())?;
            continue;
        }
        match replace(&world.folder.join(plan), plan, &laid_out) {
            Ok(()) => writeln!(world.out, "formatted {}", plan.display())?,
            Err(diagnostic) => session.diagnostics.push(diagnostic),
        }
    }
    match session.report(world)? {
        Exit::Fine if would_change => Ok(Exit::CheckFailed),
        exit => Ok(exit),
    }
}

/// A plan laid out, if that is not what it is already.
fn laid_out(plan: &Path, session: &mut Session, world: &World<'_>) -> Option<String> {
    let name = plan.display().to_string();
    let read = read_text(&world.folder.join(plan), &name, &mut session.sources);
    let file = match read {
        Ok(file) => file,
        Err(diagnostic) => {
            session.diagnostics.push(diagnostic);
            return None;
        }
    };
    let text = session.sources.text(file);
    match parge_grammar::fmt::format(file, text) {
        Ok(laid_out) => (laid_out != text).then_some(laid_out),
        Err(mut found) => {
            session.diagnostics.append(&mut found);
            None
        }
    }
}

/// Replaces a plan in place. A link goes on pointing to it, and who may read it stays the same.
fn replace(path: &Path, shown: &Path, text: &str) -> Result<(), Diagnostic> {
    let cannot = |error: &io::Error| {
        let message = format!("{} cannot be written: {error}", shown.display());
        Diagnostic::new(Code::CannotWrite, message, "check the file and its folder")
    };
    let path = fs::canonicalize(path).map_err(|error| cannot(&error))?;
    let metadata = fs::metadata(&path).map_err(|error| cannot(&error))?;
    let permissions = metadata.permissions();
    if permissions.readonly() {
        return Err(Diagnostic::new(
            Code::CannotWrite,
            format!("{} cannot be written: it is read-only", shown.display()),
            "permit writing to it, or leave it out",
        ));
    }
    write_whole(&path, text.as_bytes())?;
    fs::set_permissions(&path, permissions).map_err(|error| cannot(&error))
}
