//! `parge rules diff`: what one pack has otherwise than another, and what that does to a plan.
//!
//! As in `parge diff`, warnings are not told: `parge check` tells them.

mod json;

use super::{files_of, function_head, label, load, place, value_words};
use crate::args::PackDiffArgs;
use crate::commands::diff::tables;
use crate::origin::Origin;
use crate::outputs::{self, Output};
use crate::session::Session;
use crate::table::{table, visible};
use crate::{Exit, World};
use parge_base::{Diagnostic, Severity, Sources};
use parge_calc::change::{Both, Changes};
use parge_calc::price::Estimate;
use parge_rules::{FunctionChange, Pack, PackChanges, Row, RowChange, compare};
use parge_sheets::is_pack_change_json;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

pub(crate) fn run(args: &PackDiffArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let plan = args.plan.as_deref();
    let mut old = Side::read(&args.old, plan, world);
    let mut new = Side::read(&args.new, plan, world);
    let to_terminal = args.json.as_deref() == Some(Path::new("-"));
    let mut refused = None;
    if let (Some(was), Some(is)) = (&old.pack, &new.pack) {
        let packs = Both { old: was, new: is };
        let sources = Both {
            old: &old.session.sources,
            new: &new.session.sources,
        };
        let changes = compare(was, is);
        let estimates = old.estimate.as_ref().zip(new.estimate.as_ref());
        let of_plan = estimates.map(|(was, is)| parge_calc::change::compare(was, is));
        // Without the figures of a plan that was asked for there is no JSON, as without a pack.
        if args.json.is_some() && (plan.is_none() || of_plan.is_some()) {
            let text = json::text(args, &changes, packs, sources, of_plan.as_ref());
            match to_terminal {
                true => writeln!(world.out, "{text}")?,
                false => {
                    refused =
                        write(args, text, old.files(world).chain(new.files(world)), world).err()
                }
            }
        }
        if !to_terminal {
            show(args, &changes, packs, sources, of_plan.as_ref(), world)?;
        }
    }
    new.session.diagnostics.extend(refused);
    new.forget_what_is_said_by(&old);
    for side in [&mut old, &mut new] {
        let errors = |said: &Diagnostic| said.severity() == Severity::Error;
        if side.estimate.is_some() {
            side.session.diagnostics.retain(errors);
        }
    }
    let exits = [old.session.report(world)?, new.session.report(world)?];
    // A problem in what the user wrote can be mended first, whatever else went wrong.
    match exits {
        [Exit::Problems, _] | [_, Exit::Problems] => Ok(Exit::Problems),
        [Exit::Fine, exit] | [exit, _] => Ok(exit),
    }
}

/// Shows what differs in tables.
fn show(
    args: &PackDiffArgs,
    changes: &PackChanges<'_>,
    of: Both<&Arc<Pack>>,
    sources: Both<&Sources>,
    of_plan: Option<&Changes>,
    world: &mut World<'_>,
) -> io::Result<()> {
    let (old, new) = (named(&args.old, of.old), named(&args.new, of.new));
    let head = format!("from {old} to {new}");
    writeln!(world.out, "{}", visible(&head))?;
    packs(changes, sources, world)?;
    let Some(of_plan) = of_plan else {
        return Ok(());
    };
    writeln!(world.out)?;
    let plans = Both {
        old: args.old.as_str(),
        new: args.new.as_str(),
    };
    tables::show(of_plan, plans, world)
}

/// Writes the JSON to its file.
fn write(
    args: &PackDiffArgs,
    text: String,
    read: impl Iterator<Item = PathBuf>,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let file = args.json.iter().map(|path| Output {
        path: world.folder.join(path),
        bytes: text.clone().into_bytes(),
    });
    let files: Vec<Output> = file.collect();
    let read: Vec<PathBuf> = read.collect();
    outputs::write(&files, &read, is_pack_change_json, args.force)
}

/// A pack as the command names it, with its version and what it rests on.
fn named(word: &str, pack: &Pack) -> String {
    match word == pack.manifest.name {
        true => label(pack),
        false => format!("{word} ({})", label(pack)),
    }
}

/// One of the two packs, and the plan's estimate under it.
struct Side {
    session: Session,
    pack: Option<Arc<Pack>>,
    estimate: Option<Estimate>,
}

impl Side {
    fn read(word: &str, plan: Option<&Path>, world: &World<'_>) -> Self {
        let mut session = Session::default();
        let pack = load(word, &mut session, world).map(Arc::new);
        let estimate = pack
            .clone()
            .zip(plan)
            .and_then(|(pack, plan)| estimate(plan, pack, &mut session, world));
        Self {
            session,
            pack,
            estimate,
        }
    }

    /// What it was read from.
    fn files(&self, world: &World<'_>) -> impl Iterator<Item = PathBuf> {
        let pack = self.pack.iter();
        let of_pack = pack.flat_map(|pack| files_of(pack, &self.session.sources, world));
        let files: Vec<PathBuf> = of_pack.collect();
        self.session.files.iter().cloned().chain(files)
    }

    /// What is wrong with the plan under both packs is told once.
    fn forget_what_is_said_by(&mut self, other: &Self) {
        let Session {
            sources,
            diagnostics,
            ..
        } = &mut self.session;
        let same = |a: &Diagnostic, b: &Diagnostic| {
            let at = |one: &Diagnostic, sources: &Sources| {
                let place = one.span().map(|span| place(span, sources));
                place.unwrap_or_default()
            };
            a.message == b.message
                && a.code == b.code
                && at(a, sources) == at(b, &other.session.sources)
        };
        diagnostics.retain(|one| !other.session.diagnostics.iter().any(|said| same(one, said)));
    }
}

fn estimate(
    plan: &Path,
    pack: Arc<Pack>,
    session: &mut Session,
    world: &World<'_>,
) -> Option<Estimate> {
    match Origin::of_word(plan, &world.folder) {
        Ok((origin, name)) => {
            let shown = plan.display().to_string();
            session.files.extend(origin.on_disk(&name));
            let loaded = session.load_with(origin, &name, &shown, pack)?;
            session.estimate(&loaded)
        }
        Err(diagnostic) => {
            session.diagnostics.push(diagnostic);
            None
        }
    }
}

/// Rows of tables, then functions.
fn packs(
    changes: &PackChanges<'_>,
    sources: Both<&Sources>,
    world: &mut World<'_>,
) -> io::Result<()> {
    if changes.is_empty() {
        return writeln!(world.out, "the packs say the same");
    }
    if !changes.rows.is_empty() {
        let rows = changes.rows.iter().map(row).collect();
        let names = ["row of a table", "", "before", "after"];
        writeln!(world.out, "\n{}", table(&names, rows, world.width))?;
    }
    if !changes.functions.is_empty() {
        let functions = changes.functions.iter();
        let rows = functions.map(|change| function(change, sources)).collect();
        let names = ["rule or helper", "", "before", "after"];
        writeln!(world.out, "\n{}", table(&names, rows, world.width))?;
    }
    Ok(())
}

fn row(change: &RowChange<'_>) -> Vec<String> {
    let keys = change.new.or(change.old).map(|row| row.keys.join(", "));
    let words = |row: Option<&Row>| row.map_or(String::new(), value_words);
    let happened = match change.taken {
        Some(taken) => format!("taken away by {}", taken.by),
        None => what_happened(change.old.is_some(), change.new.is_some()),
    };
    vec![
        format!("{}: {}", change.table, keys.unwrap_or_default()),
        happened,
        words(change.old),
        words(change.new),
    ]
}

fn function(change: &FunctionChange<'_>, sources: Both<&Sources>) -> Vec<String> {
    let head = change.new.or(change.old).map(function_head);
    let old = change.old.map(|one| place(one.place, sources.old));
    let new = change.new.map(|one| place(one.place, sources.new));
    vec![
        head.unwrap_or_default(),
        what_happened(old.is_some(), new.is_some()),
        old.unwrap_or_default(),
        new.unwrap_or_default(),
    ]
}

fn what_happened(before: bool, after: bool) -> String {
    let word = match (before, after) {
        (false, _) => "added",
        (true, false) => "removed",
        (true, true) => "replaced",
    };
    word.to_owned()
}
