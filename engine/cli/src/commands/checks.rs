//! `parge checks`: published values beside what the program computes.

use crate::origin::Origin;
use crate::table::table;
use crate::{Exit, World, packs};
use parge_base::Sources;
use parge_calc::checks::{Check, all, measuring};
use parge_calc::contract::HOOKS;
use std::io;

pub(crate) fn run(world: &mut World<'_>) -> io::Result<Exit> {
    let files = parge_standard_packs::find("vertical-concrete").unwrap_or_default();
    let Ok(pack) = parge_rules::load(&[files], HOOKS, &mut Sources::new()) else {
        writeln!(
            world.err,
            "the rule pack in the program cannot be loaded: please report this"
        )?;
        return Ok(Exit::Failed);
    };
    let origin = Origin::Disk(world.folder.clone());
    let found = |name: &str| {
        let mut sources = Sources::new();
        let layers = packs::find(name, &origin, &mut sources).ok()?;
        parge_rules::load(&layers, HOOKS, &mut sources).ok()
    };
    let mut checks = measuring(&pack, &found);
    checks.extend(all(&pack));
    let row = |check: &Check| {
        vec![
            check.id.to_owned(),
            check.what.to_owned(),
            check.expected.to_string(),
            check
                .computed
                .map_or("none".to_owned(), |value| format!("{value:.6}")),
            if check.passes() { "ok" } else { "FAILED" }.to_owned(),
            format!("{} ({})", check.source, check.how_sure),
        ]
    };
    let rows = checks.iter().map(row).collect();
    let names = ["check", "what", ">published", ">computed", "", "source"];
    writeln!(world.out, "{}", table(&names, rows, world.width))?;
    let failed = checks.iter().filter(|check| !check.passes()).count();
    writeln!(world.out, "{} checks, {failed} failed", checks.len())?;
    Ok(if failed == 0 {
        Exit::Fine
    } else {
        Exit::CheckFailed
    })
}
