//! `parge rules`: the packs in the program, and writing them out.

use crate::args::ExportArgs;
use crate::files::write_whole;
use crate::session::Session;
use crate::{Exit, World};
use parge_base::{Code, Diagnostic};
use std::fs;
use std::io;
use std::path::Path;

pub(crate) fn list(world: &mut World<'_>) -> io::Result<Exit> {
    for name in parge_standard_packs::names() {
        writeln!(world.out, "{name}")?;
    }
    Ok(Exit::Fine)
}

pub(crate) fn export(args: &ExportArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let folder = world.folder.join(&args.dir);
    for name in parge_standard_packs::names() {
        match write(name, &folder) {
            Ok(()) => writeln!(world.out, "wrote {}", args.dir.join(name).display())?,
            Err(diagnostic) => session.diagnostics.push(diagnostic),
        }
    }
    session.report(world)
}

fn write(name: &str, folder: &Path) -> Result<(), Diagnostic> {
    let target = folder.join(name);
    if target.exists() {
        let message = format!("{} is there already", target.display());
        return Err(Diagnostic::new(
            Code::AlreadyThere,
            message,
            "name another folder, or move the old pack away",
        ));
    }
    let files = parge_standard_packs::find(name).unwrap_or_default();
    for (path, text) in &files.texts {
        let path = target.join(path);
        make_folder(path.parent().unwrap_or(folder))?;
        write_whole(&path, text.as_bytes())?;
    }
    Ok(())
}

/// Makes a folder and those above it.
pub(crate) fn make_folder(path: &Path) -> Result<(), Diagnostic> {
    fs::create_dir_all(path).map_err(|error| {
        let message = format!("{} cannot be made: {error}", path.display());
        Diagnostic::new(
            Code::CannotWrite,
            message,
            "check that the folder above it may be written to",
        )
    })
}
