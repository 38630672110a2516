//! Published values beside computed ones. The values and their sources stand in
//! `engine/calc/src/checks`.

use parge_calc::checks::{Check, all, difference, grouped, measuring, plain, unused};
use parge_calc::contract::HOOKS;
use parge_cli::Exit;
use parge_rules::{Pack, PackFiles};
use parge_tests::{Folder, repository};
use std::fmt::Write;
use std::fs;

/// Every check passes; the table shows each with its source.
#[test]
fn all_published_values_are_reproduced() {
    let said = Folder::new().unwrap().parge("checks");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}

/// The name of the pack that a pack rests on.
fn under(files: &PackFiles) -> Option<String> {
    let manifest = files.texts.get(PackFiles::MANIFEST)?;
    parge_rules::extends(manifest).map(|(base, _)| base)
}

/// A pack of the program with the packs that it rests on.
fn pack(name: &str) -> Option<Pack> {
    let mut layers = vec![parge_standard_packs::find(name)?];
    while let Some(base) = layers.last().and_then(under) {
        layers.push(parge_standard_packs::find(&base)?);
    }
    layers.reverse();
    parge_rules::load(&layers, HOOKS, &mut parge_base::Sources::new()).ok()
}

fn page() -> String {
    let mut checks = measuring(&pack("vertical-concrete").unwrap(), &pack);
    checks.extend(all(&parge_standard_packs::find));
    let mut page = String::from(
        "# Published values and what comes out\n\n\
         Every published value that Parge is held to, as `parge checks` computes it. This page is\n\
         written by a test (see DEVELOPERS.md, Testing): do not edit it. *Within* is the rounding of\n\
         the source; a value that is stated and not reckoned must be met. Values that are a fact of\n\
         the packs are read from the pack's own table or text, so that the check fails when the pack\n\
         changes.\n",
    );
    for group in grouped(checks) {
        write!(
            page,
            "\n## {}: {}\n\n\
             | check | what | source | how sure | published | computed | difference | within | |\n\
             | --- | --- | --- | --- | ---: | ---: | ---: | ---: | --- |\n",
            group.letter, group.title
        )
        .unwrap();
        group.checks.iter().for_each(|check| page += &line(check));
    }
    page += "\n## Published, and not used by the program\n\n\
             | check | what | source | how sure | why not |\n| --- | --- | --- | --- | --- |\n";
    for one in unused() {
        let cells = [one.id, one.what, one.source, one.how_sure, one.why];
        writeln!(page, "| {} |", cells.join(" | ")).unwrap();
    }
    page
}

fn line(check: &Check) -> String {
    let cells = [
        check.id.to_owned(),
        check.what.to_owned(),
        check.source.to_owned(),
        check.how_sure.to_owned(),
        plain(check.expected),
        check.computed.map_or("none".to_owned(), plain),
        difference(check),
        plain(check.tolerance),
        if check.passes() { "ok" } else { "FAILED" }.to_owned(),
    ];
    format!(
        "| {} |\n",
        cells.map(|cell| cell.replace('|', "\\|")).join(" | ")
    )
}

/// The page of all checks is the one that the program gives; `UPDATE_CHECKS=1` writes it anew.
#[test]
fn the_page_of_checks_is_up_to_date() {
    let path = repository().join("tests/CHECKS.md");
    let page = page();
    assert!(
        !page.contains("FAILED"),
        "a check fails: see `parge checks`"
    );
    if std::env::var_os("UPDATE_CHECKS").is_some() {
        fs::write(&path, &page).unwrap();
    }
    let stands = fs::read_to_string(&path).unwrap_or_default();
    for (number, (stands, is)) in stands.lines().zip(page.lines()).enumerate() {
        assert_eq!(
            stands,
            is,
            "line {} of tests/CHECKS.md; UPDATE_CHECKS=1 writes it anew",
            number + 1
        );
    }
    assert_eq!(stands, page, "UPDATE_CHECKS=1 writes tests/CHECKS.md anew");
}
