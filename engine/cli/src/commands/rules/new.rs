//! `parge rules new`: a company pack that extends another and changes nothing yet.

use super::{make_folder, source_words};
use crate::args::NewPackArgs;
use crate::files::write_all_whole;
use crate::origin::{Origin, plain};
use crate::session::Session;
use crate::{Exit, World, packs};
use parge_base::{Code, Diagnostic};
use parge_rules::{Cell, Pack, PackFiles, Row, Table};
use std::io;
use std::path::{Component, Path, PathBuf};

const README: &str = include_str!("../../../template/pack/README.md");
const MANIFEST: &str = include_str!("../../../template/pack/pack.toml");
const SCRIPT: &str = include_str!("../../../template/pack/ours.rhai");

pub(crate) fn run(args: &NewPackArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let here = Origin::Disk(world.folder.clone());
    if let Some(base) = session.pack_of(&args.extends, &here, None) {
        match write(args, &base, world) {
            Ok(written) => {
                for path in written {
                    writeln!(world.out, "wrote {}", args.folder.join(path).display())?;
                }
                let folder = args.folder.display();
                writeln!(world.out, "now: parge rules check {folder}")?;
            }
            Err(diagnostic) => session.diagnostics.push(diagnostic),
        }
    }
    session.report(world)
}

/// Writes the pack; hands back the paths in it.
fn write(args: &NewPackArgs, base: &Pack, world: &World<'_>) -> Result<Vec<String>, Diagnostic> {
    let target = plain(&world.folder.join(&args.folder));
    if target.exists() {
        let message = format!("{} is there already", args.folder.display());
        let help = "name a folder that is not there yet";
        return Err(Diagnostic::new(Code::AlreadyThere, message, help));
    }
    let texts = texts(&target, base, &extends(&target, &args.extends, world)?);
    let paths: Vec<PathBuf> = texts.iter().map(|(path, _)| target.join(path)).collect();
    for path in &paths {
        make_folder(path.parent().unwrap_or(&target))?;
    }
    let files = paths.iter().zip(&texts);
    let files: Vec<(&Path, &[u8])> = files
        .map(|(path, (_, text))| (path.as_path(), text.as_bytes()))
        .collect();
    write_all_whole(&files)?;
    Ok(texts.into_iter().map(|(path, _)| path).collect())
}

/// The files by their paths in the pack.
fn texts(target: &Path, base: &Pack, extends: &str) -> Vec<(String, String)> {
    let sample = sample(base);
    let table = sample.map_or("waste", |(table, _)| table.name.as_str());
    let engine = env!("CARGO_PKG_VERSION");
    let engine = engine.rsplit_once('.').map_or(engine, |(first, _)| first);
    let fill = |text: &str| {
        text.replace("{name}", &name(target))
            .replace("{base}", &base.manifest.name)
            .replace("{extends}", extends)
            .replace("{table}", table)
            .replace("{engine}", engine)
    };
    let mut texts = vec![
        (PackFiles::MANIFEST.to_owned(), fill(MANIFEST)),
        ("README.md".to_owned(), fill(README)),
        ("scripts/ours.rhai".to_owned(), fill(SCRIPT)),
    ];
    if let Some((table, row)) = sample {
        let text = sample_table(table, row, &base.manifest.name);
        texts.push((format!("tables/{}.csv", table.name), text));
    }
    texts
}

/// A row to show how one is replaced: a waste, or else the first number that there is.
fn sample(base: &Pack) -> Option<(&Table, &Row)> {
    let waste = base.tables().get("waste");
    let tables = waste.into_iter().chain(base.tables().iter());
    let is_number = |row: &&Row| matches!(row.cell, Cell::Factor(_));
    tables
        .filter_map(|table| Some((table, table.rows.iter().find(is_number)?)))
        .next()
}

/// The row as the base has it, so that the pack counts as its base until it is edited.
fn sample_table(table: &Table, row: &Row, base: &str) -> String {
    let header = table.key_columns.iter().map(String::as_str);
    let header: Vec<String> = header
        .chain(["value", "unit", "source", "note"])
        .map(field)
        .collect();
    let note = format!("as in {base}: write your own value here, and `company` as its source");
    let source = source_words(row);
    let cells = row.keys.iter().map(String::as_str);
    let cells: Vec<String> = cells
        .chain([&*row.value, &*row.unit, &*source, &*note])
        .map(field)
        .collect();
    format!("{}\n{}\n", header.join(","), cells.join(","))
}

/// A field of a table, in quotes where it needs them.
fn field(text: &str) -> String {
    match text.contains([',', '"']) {
        true => format!("\"{}\"", text.replace('"', "\"\"")),
        false => text.to_owned(),
    }
}

/// A name for the pack, after its folder.
fn name(target: &Path) -> String {
    let folder = target.file_name().unwrap_or_default().to_string_lossy();
    let fits = |letter: char| letter.is_alphanumeric() || matches!(letter, '-' | '_');
    folder
        .chars()
        .map(|letter| if fits(letter) { letter } else { '-' })
        .collect()
}

/// What the manifest says to extend: a name of the program, or the way from the new folder to
/// the one that was named from here.
fn extends(target: &Path, word: &str, world: &World<'_>) -> Result<String, Diagnostic> {
    if packs::is_of_the_program(word) {
        return Ok(word.to_owned());
    }
    let base = plain(&world.folder.join(word));
    let way = way(target, &base);
    let is_writable = |way: &String| !way.contains(['"', '\\']) && !way.contains(char::is_control);
    way.filter(is_writable).ok_or_else(|| {
        let message = format!("no path leads from the new folder to `{word}`");
        let help = "put both packs on one disk, in folders with plain names";
        Diagnostic::new(Code::CannotWrite, message, help)
    })
}

/// The path from one folder to another, with `/` between folders.
fn way(from: &Path, to: &Path) -> Option<String> {
    let (mut from, mut to) = (from.components().peekable(), to.components().peekable());
    while from.peek().is_some() && from.peek() == to.peek() {
        from.next();
        to.next();
    }
    let mut parts: Vec<String> = from.map(|_| "..".to_owned()).collect();
    for part in to {
        match part {
            Component::Normal(name) => parts.push(name.to_str()?.to_owned()),
            _ => return None,
        }
    }
    // A word alone would be a name of the program.
    if parts.first().is_none_or(|first| first != "..") {
        parts.insert(0, ".".to_owned());
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests;
