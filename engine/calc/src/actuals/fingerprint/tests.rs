use super::*;
use crate::actuals::tests::{PLAN, book};
use crate::testing::{SCRIPT, pack_files};
use parge_rules::PackFiles;

fn of(plan: &str, files: &PackFiles, price: &str) -> Fingerprint<String> {
    let mut sources = Sources::new();
    let pack = parge_rules::load(
        std::slice::from_ref(files),
        crate::contract::HOOKS,
        &mut sources,
    )
    .unwrap();
    let file = sources.add("plan.parge", plan);
    let plan = parge_grammar::parse(file, plan).plan;
    let book = book(price, &mut sources);
    fingerprint(&plan, None, (&pack, None), &book, &sources)
}

/// Records cite these for years: another fingerprint of the same is a break.
#[test]
fn the_fingerprints_of_a_job() {
    let print = of(PLAN, &pack_files(SCRIPT), "20");
    insta::assert_snapshot!(format!("{} {} {}", print.plan, print.rules, print.prices));
}

#[test]
fn each_tells_its_own_changes_and_nothing_else() {
    let files = pack_files(SCRIPT);
    let was = of(PLAN, &files, "20");
    let laid_out = PLAN.replace("{ date", "{\n  # of a comment\n  date");
    assert_eq!(of(&laid_out, &files, "20"), was);
    assert_eq!(of(PLAN, &files, "20.00"), was);

    let plan = of(&PLAN.replace("10ft", "11ft"), &files, "20");
    assert_ne!(plan.plan, was.plan);
    assert_eq!((&plan.rules, &plan.prices), (&was.rules, &was.prices));

    let prices = of(PLAN, &files, "21");
    assert_ne!(prices.prices, was.prices);
    assert_eq!((&prices.plan, &prices.rules), (&was.plan, &was.rules));

    let mut other = files.clone();
    let table = other.texts.get_mut("tables/rates.csv").unwrap();
    *table = table.replace("place,0.1", "place,0.2");
    let rules = of(PLAN, &other, "20");
    assert_ne!(rules.rules, was.rules);
    assert_eq!((&rules.plan, &rules.prices), (&was.plan, &was.prices));
}

/// A pack that git wrote out with other line ends, or that lies in another folder, is the same.
#[test]
fn line_ends_and_folders_are_no_rules() {
    let files = pack_files(SCRIPT);
    let mut other = PackFiles {
        folder: "elsewhere/small".into(),
        ..files.clone()
    };
    for text in other.texts.values_mut() {
        *text = text.replace('\n', "\r\n");
    }
    assert_eq!(of(PLAN, &other, "20").rules, of(PLAN, &files, "20").rules);
}
