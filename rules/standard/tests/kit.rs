//! The kit of both packs: common practice, no source.

// An integration test is test code from its first line.
#![allow(clippy::unwrap_used)]

mod common;

use common::{close, edited, files_of, job, load_from, pack, whole};
use parge_calc::contract::{KIT, MATERIALS, PHASES, SITE, SUBSTRATES, TECHNIQUES};

/// A reason that no job can give would never be taken, and a slip in a word must not pass.
#[test]
fn every_reason_is_a_word_of_the_pack() {
    for name in ["vertical-concrete", "portland-plaster"] {
        let pack = load_from(&files_of(name));
        let tables = pack.tables();
        for kind in tables.keys("kit_for", &[]).unwrap() {
            for word in tables.keys("kit_for", &[kind]).unwrap() {
                let known = match kind {
                    "any" => vec!["job"],
                    "height" => vec!["over-reach"],
                    "technique" => tables.keys(TECHNIQUES, &[]).unwrap(),
                    "substrate" => tables.keys(SUBSTRATES, &[]).unwrap(),
                    "phase" => tables.keys(PHASES, &[]).unwrap(),
                    "item" => tables.keys(MATERIALS, &[]).unwrap(),
                    condition => tables.keys(SITE, &[condition]).unwrap(),
                };
                assert!(known.contains(&word), "{name}: {kind} {word}");
            }
        }
        // What is not hired is one's own, and each tool has a name.
        for tool in tables.keys(KIT, &[]).unwrap() {
            assert!(tables.text(KIT, &[tool, "description"]).is_some(), "{tool}");
            let from = tables.text(KIT, &[tool, "from"]).unwrap();
            assert!(["own", "hire"].contains(&from), "{tool}");
        }
    }
}

#[test]
fn tools_come_with_what_the_job_contains() {
    let pack = pack();
    let stamped = job().names("techniques", &["stamp"]).ask(&pack);
    close(stamped.tools("stamp-mats", "technique stamp"), 1.0);
    close(stamped.tools("mixer", "any job"), 1.0);
    let carved = job().names("techniques", &["carve"]).ask(&pack);
    close(carved.tools("stamp-mats", "technique stamp"), 0.0);
    // A crew of three with one who mixes: two place, and each has a set.
    close(carved.tools("carving-tools", "technique carve"), 2.0);
    close(carved.tools("respirator", "any job"), 3.0);
    close(carved.tools("measuring-pail", "any job"), 2.0);
    close(carved.tools("snips", "phase lath"), 0.0);
    let lathed = job().names("phases", &["lath"]);
    close(lathed.ask(&pack).tools("snips", "phase lath"), 2.0);
    let indoors = job().conditions(&[("place", "indoors")]).ask(&pack);
    close(indoors.tools("dust-wall", "place indoors"), 1.0);
}

#[test]
fn one_person_alone_still_places() {
    let alone = job().set("crew", 1.0, "1").ask(&pack());
    close(alone.tools("trowel", "any job"), 1.0);
    // The setting of two people holds where the plan names no crew.
    close(
        job().absent("crew").ask(&pack()).tools("gloves", "any job"),
        2.0,
    );
}

/// From the ground one reaches 6 1/2 ft.
#[test]
fn platforms_come_with_the_height() {
    let at = |inches: f64| {
        let job = job().set("working_height", inches, "in");
        job.ask(&pack()).tools("platform", "height over-reach")
    };
    close(at(78.0), 0.0);
    close(at(79.0), 2.0);
}

#[test]
fn what_a_tool_is_counted_by_is_read() {
    let edited = edited(
        "tables/kit.csv",
        "respirator,per,person",
        "respirator,per,job",
    );
    close(job().ask(&edited).tools("respirator", "any job"), 1.0);
    let slip = common::edited(
        "tables/kit.csv",
        "respirator,per,person",
        "respirator,per,man",
    );
    let run = slip.run(&["kit"], &job().0);
    assert!(
        run.errors
            .iter()
            .any(|error| error.message.contains("`man`"))
    );
}

#[test]
fn a_job_that_contains_everything_takes_every_tool() {
    for name in ["vertical-concrete", "portland-plaster"] {
        let pack = load_from(&files_of(name));
        let taken = whole(&pack).ask(&pack);
        for tool in pack.tables().keys(KIT, &[]).unwrap() {
            let found = taken.0.tools.iter().any(|line| &*line.tool == tool);
            assert!(found, "{name}: {tool}");
        }
    }
}
