//! `parge rules show`: what is in force in a pack, and which of its packs says so.

use super::{from, function_head, label, load, place, source_words, taken_cells, value_words};
use crate::args::ShowArgs;
use crate::session::Session;
use crate::table::{table, visible};
use crate::{Exit, World};
use parge_base::{Sources, suggest};
use parge_rules::{Function, Layer, Pack, Row, Table, TakenRow};
use std::io;

pub(crate) fn run(args: &ShowArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let Some(pack) = load(&args.pack, &mut session, world) else {
        return session.report(world);
    };
    match &args.what {
        Some(word) => one(word, &pack, &session.sources, world),
        None => all(&pack, &session.sources, world),
    }
}

/// The chain of packs, the functions, and the tables.
fn all(pack: &Pack, sources: &Sources, world: &mut World<'_>) -> io::Result<Exit> {
    for (at, layer) in pack.layers().iter().rev().enumerate() {
        let lead = if at == 0 { "" } else { "extends " };
        writeln!(world.out, "{lead}{}", visible(&layer_words(layer)))?;
    }
    for (heading, is_rule) in [("rule", true), ("helper", false)] {
        let all = pack.functions().iter();
        let functions: Vec<&Function> = all.filter(|one| one.is_rule == is_rule).collect();
        if !functions.is_empty() {
            let shown = functions_table(heading, &functions, sources, world.width);
            writeln!(world.out, "\n{shown}")?;
        }
    }
    writeln!(world.out, "\n{}", tables(pack, world.width))?;
    Ok(Exit::Fine)
}

/// A pack of the chain by what its manifest says, and its folder where that has another name.
fn layer_words(layer: &Layer) -> String {
    let manifest = &layer.manifest;
    let folder = match layer.folder == manifest.name {
        true => String::new(),
        false => format!(", in {}", layer.folder),
    };
    let engine = manifest.engine.as_ref();
    let engine = engine.map_or(String::new(), |engine| {
        format!(", for parge {engine} or newer")
    });
    format!(
        "{} {}: {}{folder}{engine}",
        manifest.name, manifest.version, manifest.summary
    )
}

fn functions_table(
    heading: &str,
    functions: &[&Function],
    sources: &Sources,
    width: u16,
) -> String {
    let mut names = vec![heading, "place"];
    if functions.iter().any(|one| one.replaces.is_some()) {
        names.push("instead of");
    }
    let row = |function: &&Function| {
        let old = function.replaces.as_deref();
        let mut cells = vec![
            function_head(function),
            place(function.place, sources),
            old.map_or(String::new(), |old| place(old.place, sources)),
        ];
        cells.truncate(names.len());
        cells
    };
    table(&names, functions.iter().map(row).collect(), width)
}

/// Each table with its rows by the pack that they come from.
fn tables(pack: &Pack, width: u16) -> String {
    let layers: Vec<&Layer> = pack.layers().iter().rev().collect();
    let headings: Vec<String> = layers
        .iter()
        .map(|layer| format!(">of {}", layer.manifest.name))
        .collect();
    let mut names = vec!["table", "looked up by", ">rows"];
    let several = layers.len() > 1;
    if several {
        names.extend(headings.iter().map(String::as_str));
        names.push(">replaced");
    }
    let some_taken = pack.tables().iter().any(|one| !one.taken.is_empty());
    if some_taken {
        names.push(">taken away");
    }
    let row = |one: &Table| {
        let count = |fits: &dyn Fn(&Row) -> bool| {
            let count = one.rows.iter().filter(|row| fits(row)).count();
            count.to_string()
        };
        let mut cells = vec![
            one.name.clone(),
            one.key_columns.join(", "),
            one.rows.len().to_string(),
        ];
        if several {
            cells.extend(layers.iter().map(|layer| {
                count(&|row| {
                    pack.layer_of(row.span)
                        .is_some_and(|of| std::ptr::eq(of, *layer))
                })
            }));
            cells.push(count(&|row| row.replaces.is_some()));
        }
        if some_taken {
            cells.push(one.taken.len().to_string());
        }
        cells
    };
    let rows = pack.tables().iter().map(row).collect();
    table(&names, rows, width)
}

/// The table and the functions of a name; some names are both.
fn one(word: &str, pack: &Pack, sources: &Sources, world: &mut World<'_>) -> io::Result<Exit> {
    let shown = pack.tables().get(word);
    let functions: Vec<&Function> = pack
        .functions()
        .iter()
        .filter(|function| function.name == word)
        .collect();
    if shown.is_none() && functions.is_empty() {
        return unknown(word, pack, world);
    }
    if let Some(shown) = shown {
        writeln!(
            world.out,
            "table {word} of {}\n{}",
            visible(&label(pack)),
            rows(shown, pack, sources, world.width)
        )?;
    }
    for (at, function) in functions.into_iter().enumerate() {
        if at > 0 || shown.is_some() {
            writeln!(world.out)?;
        }
        text(function, pack, sources, world)?;
    }
    Ok(Exit::Fine)
}

fn rows(shown: &Table, pack: &Pack, sources: &Sources, width: u16) -> String {
    let has_text = shown.rows.iter().any(|row| row.unit == "text");
    let mut names: Vec<&str> = shown.key_columns.iter().map(String::as_str).collect();
    names.extend([if has_text { "value" } else { ">value" }, "unit", "source"]);
    names.push("from");
    if !shown.taken.is_empty() || shown.rows.iter().any(|row| row.replaces.is_some()) {
        names.push("instead of");
    }
    let row = |row: &Row| {
        let mut cells = row.keys.clone();
        let old = row.replaces.as_deref();
        let line = sources.place(row.span.file, row.span.start).line;
        cells.extend([
            row.value.clone(),
            row.unit.clone(),
            source_words(row),
            format!("{}:{line}", from(pack, row.span)),
            old.map_or(String::new(), value_words),
        ]);
        cells.truncate(names.len());
        cells
    };
    let taken = |taken: &TakenRow| {
        let mut cells = taken_cells(taken, sources);
        cells.push(value_words(&taken.was));
        cells
    };
    let rows = shown.rows.iter().map(row);
    let rows = rows.chain(shown.taken.iter().map(taken)).collect();
    table(&names, rows, width)
}

fn text(
    function: &Function,
    pack: &Pack,
    sources: &Sources,
    world: &mut World<'_>,
) -> io::Result<()> {
    let kind = if function.is_rule { "rule" } else { "helper" };
    let head = format!(
        "{kind} {}, from {}: {}",
        function_head(function),
        from(pack, function.place),
        place(function.place, sources)
    );
    writeln!(world.out, "{}", visible(&head))?;
    if let Some(old) = function.replaces.as_deref() {
        let line = format!(
            "instead of the one of {}: {}",
            from(pack, old.place),
            place(old.place, sources)
        );
        writeln!(world.out, "{}", visible(&line))?;
    }
    writeln!(world.out)?;
    for line in function.text.lines() {
        writeln!(world.out, "{}", visible(&line.replace('\t', "    ")))?;
    }
    Ok(())
}

fn unknown(word: &str, pack: &Pack, world: &mut World<'_>) -> io::Result<Exit> {
    let tables = pack.tables().iter().map(|table| table.name.as_str());
    let functions = pack.functions().iter().map(|one| one.name.as_str());
    let help = match suggest::nearest(word, tables.chain(functions)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`parge rules show PACK` lists them all".to_owned(),
    };
    writeln!(
        world.err,
        "error: the pack has no table, rule or helper `{}`\n\nhelp: {help}",
        visible(word)
    )?;
    Ok(Exit::Usage)
}
