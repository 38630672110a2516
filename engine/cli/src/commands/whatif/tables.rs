//! What is set and what comes of it, as tables on the terminal.

use crate::World;
use crate::commands::diff::tables::{incomplete, show_all};
use crate::table::{table, visible};
use parge_base::Diagnostic;
use parge_calc::change::Both;
use parge_calc::takeoff::Caution;
use parge_calc::whatif::{Compared, SetLine};
use std::io;

/// All tables; those without a line are left out, but for the price.
pub(super) fn show(compared: &Compared, world: &mut World<'_>) -> io::Result<()> {
    let changes = &compared.changes;
    let job = &changes.sides.new.job;
    writeln!(world.out, "{}", visible(&format!("{job}: what if")))?;
    incomplete("now", &changes.sides.old, world)?;
    incomplete("then", &changes.sides.new, world)?;
    let rows = compared.sets.iter().map(|set| {
        let cells = [&set.name, &set.old, &set.new].map(Clone::clone);
        let mut row = cells.to_vec();
        row.push(note(set).to_owned());
        row
    });
    let names = ["what is set", "now", "then", ""];
    writeln!(
        world.out,
        "\n{}",
        table(&names, rows.collect(), world.width)
    )?;
    show_all(changes, ["now", "then"], world)?;
    come_and_go(compared, world)
}

fn note(set: &SetLine) -> &'static str {
    match (set.same, set.used) {
        (true, _) => "the same",
        (false, false) => "no figure rests on it",
        (false, true) => "",
    }
}

/// Cautions and warnings that only one of the two estimates gives.
fn come_and_go(compared: &Compared, world: &mut World<'_>) -> io::Result<()> {
    let Both {
        old: gone,
        new: come,
    } = &compared.cautions;
    let caution =
        |way: &str, caution: &Caution| vec![format!("caution {way}"), caution.text.clone()];
    let said = |way: &str, said: &Diagnostic| {
        let kind = said.severity().word();
        vec![format!("{kind} {way}"), said.message.clone()]
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    rows.extend(come.iter().map(|line| caution("comes", line)));
    rows.extend(gone.iter().map(|line| caution("goes", line)));
    rows.extend(compared.said.new.iter().map(|line| said("comes", line)));
    rows.extend(compared.said.old.iter().map(|line| said("goes", line)));
    if rows.is_empty() {
        return Ok(());
    }
    let names = ["", "what is said"];
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}
