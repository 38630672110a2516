//! What would be if: figures replaced for one run, and those that move the total most.

use parge_cli::Exit;
use parge_tests::{Folder, Said};
use serde_json::Value;

fn json(said: &Said) -> Value {
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

fn keeps_to(schema: &str, json: &Value) {
    let schema: Value = serde_json::from_str(schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> = validator
        .iter_errors(json)
        .map(|error| error.to_string())
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

fn what_if(folder: &Folder, plan: &str, sets: &[&str]) -> Said {
    let mut arguments = vec!["whatif", plan];
    for set in sets {
        arguments.extend(["--set", set]);
    }
    folder.parge_with(&arguments)
}

#[test]
fn the_estimate_beside_the_one_with_what_is_set() {
    let folder = Folder::with_demo().unwrap();
    let before = folder.names().unwrap();
    let sets = [
        "waste.stamp=12%",
        "prices.sealer=61",
        "bid.overhead=14%",
        "let.planter_h=3ft",
        "crew=3",
    ];
    insta::assert_snapshot!(what_if(&folder, "job.parge", &sets));
    assert_eq!(folder.names().unwrap(), before);
}

/// Warnings and cautions that come or go are told; an open line leaves the exit code of one.
#[test]
fn what_is_said_comes_and_goes() {
    let folder = Folder::with_demo().unwrap();
    let said = what_if(&folder, "job.parge", &["let.trunk_h=3ft", "let.ridge=9ft"]);
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}

#[test]
fn mistakes_are_told_in_one_run() {
    let folder = Folder::with_demo().unwrap();
    let sets = [
        "waste.finish-mix=12%",
        "waste.finish-mix.stamp=12",
        "price.sealer=61",
        "packs.sealer=5bag",
        "bid.overhead=14x",
        "let.planter_h=3",
    ];
    let said = what_if(&folder, "job.parge", &sets);
    assert_eq!(said.exit, Exit::Usage);
    insta::assert_snapshot!(said);
    let said = what_if(&folder, "job.parge", &["bid.profit=120%"]);
    assert_eq!(said.exit, Exit::Problems, "{said}");
    assert!(said.err.contains("with what is set: a margin"), "{said}");
}

/// The total of an edited copy on the disk is the total with the same figure set.
#[test]
fn an_edited_copy_has_the_same_total() {
    let folder = Folder::with_demo().unwrap();
    let said = folder.parge("rules export packs");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let own = (
        "rules \"vertical-concrete\"",
        "rules \"./packs/vertical-concrete\"",
    );
    folder.edit("job.parge", own.0, own.1).unwrap();
    let pack = |table: &str| format!("packs/vertical-concrete/tables/{table}.csv");
    let edits = [
        (
            "waste.finish-mix.stamp=25%",
            pack("waste"),
            "finish-mix,stamp,10,%",
            "finish-mix,stamp,25,%",
        ),
        (
            "labour.place.volume=1.5 h/ft3",
            pack("labour"),
            "place,volume,1.2,",
            "place,volume,1.5,",
        ),
        (
            "mixes.finish-mix.yield=0.38 ft3/bag",
            pack("mixes"),
            "finish-mix,yield,0.45,",
            "finish-mix,yield,0.38,",
        ),
        (
            "prices.sealer=61",
            "prices.csv".to_owned(),
            "pail,228.00",
            "pail,61.00",
        ),
        (
            "prices.labour=41.25",
            "prices.csv".to_owned(),
            "hour,36.50",
            "hour,41.25",
        ),
        (
            "packs.sealer=1gal",
            "prices.csv".to_owned(),
            "Sealer,5,gal",
            "Sealer,1,gal",
        ),
        (
            "bid.profit=22%",
            "job.parge".to_owned(),
            "margin 18%",
            "margin 22%",
        ),
        (
            "bid.tax=8% on total",
            "job.parge".to_owned(),
            "7.25% on materials",
            "8% on total",
        ),
        (
            "let.trunk_h=11ft",
            "job.parge".to_owned(),
            "trunk_h = 9ft 6in",
            "trunk_h = 11ft",
        ),
        (
            "let.planter_h=trunk_h / 3",
            "job.parge".to_owned(),
            "planter_h = 2ft 8in",
            "planter_h = trunk_h / 3",
        ),
        ("crew=5", "job.parge".to_owned(), "crew 3", "crew 5"),
    ];
    let total_of = |json: &Value| json["total"]["new"].as_str().map(str::to_owned);
    for (set, file, from, to) in edits {
        let said = folder.parge_with(&["whatif", "job.parge", "--set", set, "--format", "json"]);
        let moved = json(&said);
        keeps_to(parge_sheets::WHATIF_SCHEMA, &moved);
        let there = folder.read(&file).unwrap();
        folder.edit(&file, from, to).unwrap();
        let estimate = json(&folder.parge("estimate job.parge --json -"));
        folder.write(&file, there).unwrap();
        let total = estimate["price"]["total"].as_str().map(str::to_owned);
        assert_eq!(total_of(&moved["changes"]), total, "{set}");
        assert_ne!(
            moved["changes"]["total"]["old"], moved["changes"]["total"]["new"],
            "{set}"
        );
        assert_eq!(moved["set"][0]["used"], true, "{set}");
    }
}

/// Each move is what setting the moved figure is.
#[test]
fn what_moves_the_total_most() {
    let folder = Folder::new().unwrap();
    assert_eq!(folder.parge("new wall").exit, Exit::Fine);
    let most = folder.parge("whatif wall/job.parge --most 8 -o most.svg");
    let chart = folder.read("most.svg").unwrap();
    assert!(chart.starts_with("<svg ") && chart.contains("prices.labour"));
    for (name, up) in [("prices.labour", "40.15"), ("bid.burden", "33%")] {
        let mut lines = most.out.lines();
        let line = lines.find(|line| line.contains(name)).unwrap();
        let set = format!("{name}={up}");
        let said = folder.parge_with(&[
            "whatif",
            "wall/job.parge",
            "--set",
            &set,
            "--format",
            "json",
        ]);
        let set = json(&said);
        let difference = set["changes"]["total"]["difference"].as_str().unwrap();
        assert!(
            line.contains(&format!("+{difference}")),
            "{line}: {difference}"
        );
    }
    insta::assert_snapshot!(most);
}

#[test]
fn wrong_use() {
    let folder = Folder::with_demo().unwrap();
    for command in [
        "whatif job.parge",
        "whatif job.parge --by 5%",
        "whatif job.parge --most 3 --by 5",
        "whatif job.parge --most 3 --by 100%",
        "whatif job.parge --most 3 --set crew=4",
        "whatif job.parge --set crew=4 -o most.svg",
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Usage, "{command}: {said}");
    }
}
