//! `parge rules`: the packs in the program and those of a company.

mod check;
mod diff;
mod doc;
mod new;
mod show;
mod test;

use crate::args::{ExportArgs, RulesCommand};
use crate::files::write_whole;
use crate::origin::Origin;
use crate::session::Session;
use crate::{Exit, World};
use parge_base::trace::FactorSource;
use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use parge_rules::{Function, Pack, Row, TakenRow};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

pub(crate) fn run(command: &RulesCommand, world: &mut World<'_>) -> io::Result<Exit> {
    match command {
        RulesCommand::List => list(world),
        RulesCommand::Show(args) => show::run(args, world),
        RulesCommand::Check(args) => check::run(args, world),
        RulesCommand::New(args) => new::run(args, world),
        RulesCommand::Diff(args) => diff::run(args, world),
        RulesCommand::Test(args) => test::run(args, world),
        RulesCommand::Doc(args) => doc::run(args, world),
        RulesCommand::Export(args) => export(args, world),
    }
}

/// A pack by the word that a command has for it: a name of the program, a path from the current
/// folder, or `REV:FOLDER` of a repository.
fn load(word: &str, session: &mut Session, world: &World<'_>) -> Option<Pack> {
    let (word, origin) = located(word, session, world)?;
    session.pack_of(&word, &origin, None)
}

/// Where a pack is looked for, and the word for it there.
fn located(word: &str, session: &mut Session, world: &World<'_>) -> Option<(String, Origin)> {
    match Origin::of_word(Path::new(word), &world.folder) {
        Ok((origin @ Origin::Revision(_), folder)) => {
            // A name alone would mean a pack of the program.
            let path = Path::new(".").join(folder);
            Some((path.display().to_string(), origin))
        }
        Ok(_) => Some((word.to_owned(), Origin::Disk(world.folder.clone()))),
        Err(diagnostic) => {
            session.diagnostics.push(diagnostic);
            None
        }
    }
}

/// The files that a pack is read from, with those of the packs under it: no output may take their
/// place.
fn files_of(pack: &Pack, sources: &Sources, world: &World<'_>) -> Vec<PathBuf> {
    let files = pack.layers().iter().flat_map(|layer| layer.files());
    let path = |file: &FileId| world.folder.join(sources.name(*file));
    files.map(path).collect()
}

/// A pack by its name and version, with the packs that it rests on.
fn label(pack: &Pack) -> String {
    format!("{} {}", pack.manifest.name, pack.version())
}

/// A place as editors find it: `our-rules/tables/waste.csv:2`.
fn place(span: Span, sources: &Sources) -> String {
    let line = sources.place(span.file, span.start).line;
    format!("{}:{line}", sources.name(span.file))
}

/// The name of the pack that a place lies in.
fn from(pack: &Pack, span: Span) -> String {
    let layer = pack.layer_of(span);
    layer.map_or(String::new(), |layer| layer.manifest.name.clone())
}

/// What a row says: `0.45 ft3/bag (company)`.
fn value_words(row: &Row) -> String {
    let unit = match row.unit.as_str() {
        "text" | "1" => String::new(),
        unit => format!(" {unit}"),
    };
    format!("{}{unit} ({})", row.value, source_words(row))
}

/// A row that is taken away, as tables show it up to where its place stands.
fn taken_cells(taken: &TakenRow, sources: &Sources) -> Vec<String> {
    let line = sources.place(taken.span.file, taken.span.start).line;
    let mut cells = taken.was.keys.clone();
    cells.extend(["none".to_owned(), "none".to_owned()]);
    cells.push(said_by(&taken.source));
    cells.push(format!("taken away by {}:{line}", taken.by));
    cells
}

/// Who says so, as tables write it.
fn source_words(row: &Row) -> String {
    said_by(row.source())
}

fn said_by(source: &FactorSource) -> String {
    match source {
        FactorSource::CommonPractice => "common practice".to_owned(),
        other => other.to_string(),
    }
}

/// A function with what it is given: `waste(face, item)`.
fn function_head(function: &Function) -> String {
    format!("{}({})", function.name, function.parameters.join(", "))
}

fn list(world: &mut World<'_>) -> io::Result<Exit> {
    for name in parge_standard_packs::names() {
        writeln!(world.out, "{name}")?;
    }
    Ok(Exit::Fine)
}

fn export(args: &ExportArgs, world: &mut World<'_>) -> io::Result<Exit> {
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
