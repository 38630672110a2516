//! `parge rules doc`: a reference page of a pack in Markdown: what is in force in it, where it
//! stands and what is said about it there.

use super::{
    files_of, from, function_head, label, load, place, source_words, taken_cells, value_words,
};
use crate::args::DocArgs;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::visible;
use crate::{Exit, World};
use parge_base::{Sources, Span};
use parge_rules::{Function, Pack, Row, Table, TakenRow};
use parge_sheets::{is_sealed_page, sealed_page};
use std::fmt::Write as _;
use std::io;

/// The first line of every page. Its last line has a fingerprint: a page that somebody worked in is
/// not written over.
const MARK: &str = "<!-- Made by `parge rules doc`: a change belongs into the pack, not here. -->";

pub(crate) fn run(args: &DocArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let Some(pack) = load(&args.pack, &mut session, world) else {
        return session.report(world);
    };
    let page = page(&pack, &session.sources);
    let Some(path) = &args.output else {
        write!(world.out, "{page}")?;
        return session.report(world);
    };
    let read = files_of(&pack, &session.sources, world);
    let output = Output {
        path: world.folder.join(path),
        bytes: sealed_page(&page).into_bytes(),
    };
    match outputs::write(&[output], &read, is_sealed_page, args.force) {
        Ok(()) => writeln!(world.out, "wrote {}", path.display())?,
        Err(diagnostic) => session.diagnostics.push(diagnostic),
    }
    session.report(world)
}

fn page(pack: &Pack, sources: &Sources) -> String {
    let mut page = format!("{MARK}\n\n# {}\n", words(&label(pack)));
    let rows = pack.layers().iter().rev().map(|layer| {
        let manifest = &layer.manifest;
        let engine = manifest.engine.as_ref();
        let engine = engine.map_or(String::new(), |engine| format!("{engine} or newer"));
        let cells = [&manifest.name, &manifest.version, &manifest.summary];
        let cells = cells.map(|cell| words(cell));
        cells.into_iter().chain([engine]).collect()
    });
    let names = ["pack", "version", "what it is for", "program"];
    page += &format!("\n{}", table(&names, rows));
    for (heading, is_rule) in [("Rules", true), ("Helpers", false)] {
        let functions = pack.functions().iter();
        let functions: Vec<&Function> = functions.filter(|one| one.is_rule == is_rule).collect();
        if !functions.is_empty() {
            let _ = write!(page, "\n## {heading}\n");
        }
        for one in functions {
            page += &function(one, pack, sources);
        }
    }
    page += "\n## Tables\n";
    for one in pack.tables().iter() {
        page += &rows_of(one, pack, sources);
    }
    page
}

/// A function with its place, what it stands instead of, and the comment over it.
fn function(one: &Function, pack: &Pack, sources: &Sources) -> String {
    let stands = |one: &Function| {
        let at = place(one.place, sources);
        format!("{}: `{at}`", from(pack, one.place))
    };
    let mut text = format!("\n### `{}`\n\n{}", function_head(one), stands(one));
    if let Some(old) = one.replaces.as_deref() {
        let _ = write!(text, "; instead of the one of {}", stands(old));
    }
    text += ".\n";
    let comment = comment(one.place, sources);
    if !comment.is_empty() {
        let _ = write!(text, "\n{}\n", words(&comment));
    }
    text
}

/// The comment over a place, as one paragraph; one at the head of a script is of the first
/// function that follows it.
fn comment(place: Span, sources: &Sources) -> String {
    let text = sources.text(place.file);
    let before = text.get(..place.range().start).unwrap_or("");
    let above = before.rsplit_once('\n').map_or("", |(above, _)| above);
    let mut lines: Vec<&str> = above
        .lines()
        .rev()
        .map(str::trim)
        .skip_while(|line| line.is_empty())
        .map_while(|line| line.strip_prefix("//"))
        .map(|line| line.trim_start_matches('/').trim())
        .collect();
    lines.reverse();
    lines.join(" ").trim().to_owned()
}

fn rows_of(one: &Table, pack: &Pack, sources: &Sources) -> String {
    let with_old = !one.taken.is_empty() || one.rows.iter().any(|row| row.replaces.is_some());
    let with_note = one.rows.iter().any(|row| !row.note.is_empty())
        || one.taken.iter().any(|taken| !taken.note.is_empty());
    let mut names: Vec<&str> = one.key_columns.iter().map(String::as_str).collect();
    names.extend(["value", "unit", "source", "from"]);
    names.extend(with_old.then_some("instead of"));
    names.extend(with_note.then_some("note"));
    let row = |row: &Row| {
        let line = sources.place(row.span.file, row.span.start).line;
        let mut cells = row.keys.clone();
        cells.extend([row.value.clone(), row.unit.clone(), source_words(row)]);
        cells.push(format!("{}:{line}", from(pack, row.span)));
        if with_old {
            let old = row.replaces.as_deref();
            cells.push(old.map_or(String::new(), value_words));
        }
        if with_note {
            cells.push(row.note.clone());
        }
        cells.iter().map(|cell| words(cell)).collect()
    };
    let taken = |taken: &TakenRow| {
        let mut cells = taken_cells(taken, sources);
        cells.push(value_words(&taken.was));
        if with_note {
            cells.push(taken.note.clone());
        }
        cells.iter().map(|cell| words(cell)).collect()
    };
    let rows = one.rows.iter().map(row).chain(one.taken.iter().map(taken));
    let rows = table(&names, rows);
    format!("\n### `{}`\n\n{rows}", one.name)
}

fn table(names: &[&str], rows: impl Iterator<Item = Vec<String>>) -> String {
    let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
    let head = names.iter().map(|name| words(name)).collect();
    let rule = names.iter().map(|_| "---".to_owned()).collect();
    let lines = [head, rule].into_iter().chain(rows);
    lines.map(line).collect()
}

/// A text as Markdown shows it as it is: no cell ends in it and no tag begins in it. What stands
/// in backticks is left to them.
fn words(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut is_code = false;
    for letter in visible(text).chars() {
        match letter {
            '`' => {
                is_code = !is_code;
                out.push(letter);
            }
            '|' => out += "\\|",
            '<' if !is_code => out += "&lt;",
            _ => out.push(letter),
        }
    }
    out
}
