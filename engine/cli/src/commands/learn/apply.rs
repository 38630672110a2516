//! Writes what is proposed into the tables of a company's pack.

use super::Proposal;
use crate::World;
use crate::args::LearnArgs;
use crate::origin::Origin;
use crate::outputs::Output;
use crate::packs;
use crate::session::Session;
use parge_base::{Code, Diagnostic, Sources};
use parge_calc::contract::HOOKS;
use parge_calc::learn::{rows, spread_rows};
use parge_rules::NewRow;
use std::path::Path;

/// A table of the pack with rows in it.
pub(super) struct Edited {
    pub(super) output: Output,
    /// What stood there; nothing where there was no such table.
    pub(super) was: Vec<u8>,
}

/// The tables of the pack itself with the proposed rows, and with how far everything strays. The
/// pack with them is read anew: what does not come to the proposed values is not written.
pub(super) fn tables(
    args: &LearnArgs,
    proposal: &Proposal<'_>,
    session: &mut Session,
    world: &World<'_>,
) -> Result<Vec<Edited>, Vec<Diagnostic>> {
    let mut new = rows(proposal.learned);
    new.extend(spread_rows(proposal.learned));
    let changed = proposal.pack.with_rows(&new, &session.sources);
    let changed = changed.map_err(|wrong| vec![wrong])?;
    let here = Origin::Disk(world.folder.clone());
    let found = packs::find(&args.pack, &here, &mut session.sources);
    let mut layers = found.map_err(|wrong| vec![wrong])?;
    let Some(own) = layers.last_mut() else {
        return Ok(Vec::new());
    };
    let mut edited = Vec::new();
    for (path, text) in changed {
        let was = own.texts.insert(path.clone(), text.clone());
        edited.push(Edited {
            output: Output {
                path: world.folder.join(Path::new(&args.pack)).join(&path),
                bytes: text.into_bytes(),
            },
            was: was.unwrap_or_default().into_bytes(),
        });
    }
    let mut sources = Sources::new();
    let pack = parge_rules::load(&layers, HOOKS, &mut sources);
    let pack = pack.map_err(|wrong| wrong.into_iter().map(unplaced).collect::<Vec<_>>())?;
    match new.iter().find(|row| !stands(row, &pack)) {
        Some(row) => Err(vec![not_as_meant(row)]),
        None => Ok(edited),
    }
}

/// Whether a row says what it is to say.
fn stands(row: &NewRow, pack: &parge_rules::Pack) -> bool {
    let keys: Vec<&str> = row.keys.iter().map(String::as_str).collect();
    let found = pack.tables().find(&row.table, &keys);
    found.is_ok_and(|found| found.value == row.value && found.unit == row.unit)
}

fn not_as_meant(row: &NewRow) -> Diagnostic {
    let message = format!(
        "row `{}` of table `{}` cannot be written so that the pack reads it",
        row.keys.join(", "),
        row.table
    );
    let help = "look at the table in a text editor: its header, and whether the row stands there";
    Diagnostic::new(Code::BadTable, message, help)
}

/// What is wrong with a text that is on no disk has no place to show.
fn unplaced(said: Diagnostic) -> Diagnostic {
    Diagnostic::new(
        said.code,
        format!("with the proposed rows, {}", said.message),
        said.help,
    )
}
