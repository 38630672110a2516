//! What an import is told: a profile, and the answers of flags; and what it has learnt.

use crate::args::ImportArgs;
use crate::files::read_text;
use crate::session::Session;
use parge_base::{Code, Diagnostic, suggest};
use parge_importers::columns::Role;
use parge_importers::faces::Import;
use parge_importers::grid::Book;
use parge_importers::profile::{self, Profile, SHIPPED};
use std::path::Path;

/// The profile with the answers of flags on top; `None` after what is wrong was told.
pub(super) fn profile(args: &ImportArgs, session: &mut Session, folder: &Path) -> Option<Profile> {
    let found = match &args.profile {
        None => Ok(Profile::default()),
        Some(path) => named(path, session, folder),
    };
    let mut profile = found
        .map_err(|error| session.diagnostics.push(error))
        .ok()?;
    if !args.sheets.is_empty() {
        profile.sheets.clone_from(&args.sheets);
    }
    if args.finish.is_some() {
        profile.job.finish.clone_from(&args.finish);
    }
    if args.on.is_some() {
        profile.job.on.clone_from(&args.on);
    }
    let mut fine = true;
    for answer in &args.answers {
        let taken = match answer.split_once('=') {
            Some((key, value)) => profile.answer(key.trim(), value),
            None => Err("KEY=VALUE, such as `hidden=leave_out`".to_owned()),
        };
        if let Err(help) = taken {
            fine = false;
            let message = format!("`{answer}` answers no question");
            let help = format!("write {help}");
            session
                .diagnostics
                .push(Diagnostic::new(Code::SheetQuestion, message, help));
        }
    }
    fine.then_some(profile)
}

/// A profile by its path, or one of the program by its name.
fn named(path: &Path, session: &mut Session, folder: &Path) -> Result<Profile, Diagnostic> {
    let name = path.display().to_string();
    let full = folder.join(path);
    let shipped = SHIPPED.iter().find(|(known, _)| *known == name);
    let file = match shipped.filter(|_| !full.exists()) {
        Some((name, text)) => session.sources.add(format!("profile {name}"), *text),
        None if !full.exists() && path.extension().is_none() => {
            let known = SHIPPED.iter().map(|(known, _)| *known);
            let message = format!("there is no profile `{name}`");
            let help = suggest::help_for(&name, known);
            return Err(Diagnostic::new(Code::BadProfile, message, help));
        }
        None => read_text(&full, &name, &mut session.sources)?,
    };
    profile::read(&session.sources, file)
}

/// The profile with what every column was taken for, so that the next sheet of the client is read
/// alike.
pub(super) fn learnt(profile: &Profile, import: &Import, book: &Book) -> Profile {
    let mut learnt = profile.clone();
    if learnt.name.is_empty() {
        learnt.name.clone_from(&book.name);
        learnt.about = format!("learnt from {}", book.name);
    }
    for table in &import.tables {
        for column in &table.columns {
            let header = column.header.trim().to_lowercase();
            let told = !header.is_empty() && column.role != Role::Note;
            if told && !column.is_inches {
                learnt.columns.insert(header, column.role);
            }
        }
    }
    learnt
}
