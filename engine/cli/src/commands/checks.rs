//! `parge checks`: published values beside what the program computes.

use crate::origin::Origin;
use crate::table::table;
use crate::{Exit, World, packs};
use parge_base::Sources;
use parge_calc::checks::{Check, Unused, all, difference, grouped, measuring, plain, unused};
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
    checks.extend(all(&|name| parge_standard_packs::find(name)));
    let names = [
        "check",
        "what",
        ">published",
        ">computed",
        ">off by",
        ">within",
        "",
        "source",
    ];
    for group in grouped(checks.clone()) {
        writeln!(world.out, "{}\n", group.title)?;
        let rows = group.checks.iter().map(row).collect();
        writeln!(world.out, "{}", table(&names, rows, world.width))?;
    }
    writeln!(world.out, "Published, and not used by the program\n")?;
    let rows = unused().iter().map(unused_row).collect();
    let names = ["check", "what", "why not", "source"];
    writeln!(world.out, "{}", table(&names, rows, world.width))?;
    let failed = checks.iter().filter(|check| !check.passes()).count();
    writeln!(world.out, "{} checks, {failed} failed", checks.len())?;
    Ok(if failed == 0 {
        Exit::Fine
    } else {
        Exit::CheckFailed
    })
}

fn row(check: &Check) -> Vec<String> {
    vec![
        check.id.to_owned(),
        check.what.to_owned(),
        plain(check.expected),
        check.computed.map_or("none".to_owned(), plain),
        difference(check),
        plain(check.tolerance),
        if check.passes() { "ok" } else { "FAILED" }.to_owned(),
        format!("{} ({})", check.source, check.how_sure),
    ]
}

fn unused_row(unused: &Unused) -> Vec<String> {
    vec![
        unused.id.to_owned(),
        unused.what.to_owned(),
        unused.why.to_owned(),
        format!("{} ({})", unused.source, unused.how_sure),
    ]
}
