//! A job of another trade from plan to price: portland cement plaster, by its own pack.

use parge_cli::Exit;
use parge_tests::{Folder, repository};
use serde_json::Value;

fn job() -> Folder {
    let folder = Folder::new().unwrap();
    let files = repository().join("tests/suite/plaster");
    folder.take(&files, "").unwrap();
    folder
}

fn estimate(folder: &Folder) -> Value {
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

fn line<'j>(json: &'j Value, list: &str, key: &str, word: &str) -> &'j Value {
    let lines = json[list].as_array().unwrap();
    lines.iter().find(|line| line[key] == word).unwrap()
}

#[test]
fn plaster_is_estimated_on_the_terminal() {
    insta::assert_snapshot!(job().parge("estimate job.parge"));
}

/// Packs and cost of some lines, worked by hand.
#[test]
fn lines_of_plaster_by_hand() {
    let json = estimate(&job());
    assert_eq!(json["status"], "complete");
    let bought = |item: &str| {
        let line = line(&json, "materials", "item", item);
        (
            line["packs"].as_f64().unwrap(),
            line["cost"].as_str().unwrap().to_owned(),
        )
    };
    // Lath, 9 ft = 108 in high: 5 courses, the last 108 - 4 x 26.5 = 2 in, 13 strips out of a
    // sheet. Street 240 + 4 in long: 3 + 3 + 2 + 3 sheets and one for 3 strips, and reveals of
    // 14 x 1/3 ft2 x 1.07 / 17.4826 = 0.29. End 144 + 4 in: 2 + 2 + 1 + 2 sheets and one.
    // 20.29 x 1.03 = 20.89, three bundles of ten. Store 96 + 4 in, whose joints must be staggered:
    // 2 + 1 + 1 + 1 + 1 = 6, x 1.03 = 6.18.
    assert_eq!(bought("self-furring-lath"), (3.0, "384.00".into()));
    assert_eq!(bought("metal-lath"), (7.0, "84.00".into()));
    // Paper: (108 - 2) / 34 = 3.1, so 4 courses: 80 / 143.5 and 14 / 3 x 1.03 / 406.583 of reveals,
    // 48 / 143.5, each twice, and 32 / 143.5: 2.031 x 1.03 = 2.09 rolls.
    assert_eq!(bought("building-paper"), (3.0, "117.00".into()));
    // 64 / 200 x 1.1 = 0.35 gal.
    assert_eq!(bought("bonding-agent"), (1.0, "44.00".into()));
    // Only the yard wall is in the heat: 150 x 1.1 = 165 ft2.
    assert_eq!(bought("curing-cover"), (1.0, "118.00".into()));
    // 14, 9, 16, 40 and 2 x 5 ft, each x 1.1: two lengths, one, two, five, two.
    assert_eq!(bought("casing-bead"), (2.0, "10.00".into()));
    assert_eq!(bought("control-joint"), (1.0, "14.00".into()));
    assert_eq!(bought("drip-bead"), (2.0, "18.00".into()));
    assert_eq!(bought("weep-screed"), (5.0, "40.00".into()));
    assert_eq!(bought("corner-bead"), (2.0, "12.00".into()));
    // Sand in ft3: lath 352.667 x (0.482 + 0.375)/12 = 25.186; block 150 x 0.375/12 = 4.6875;
    // the uneven bank 64 x 0.5/12 = 2.6667; 32.541 x 1.07 x 1.1 = 38.30 ft3 = 1.42 yd3.
    assert_eq!(bought("sand"), (2.0, "96.00".into()));
    let need = line(&json, "materials", "item", "sand")["need"]["value"]
        .as_f64()
        .unwrap();
    assert!((need - 32.5406 * 1.07).abs() < 2e-3, "{need}");
}

#[test]
fn cautions_of_plaster_are_said() {
    let json = estimate(&job());
    let keys: Vec<&str> = json["cautions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|caution| caution["key"].as_str().unwrap())
        .collect();
    // Air of 38 F, a street face of 180 ft2, a bank of 3/4 in in all, and a wall in the heat.
    for key in [
        "coat-waits",
        "cold-weather",
        "control-joints",
        "solid-base",
        "hot-weather",
        "silica",
    ] {
        assert!(keys.contains(&key), "{key} is not in {keys:?}");
    }
    assert!(!keys.contains(&"fall-protection"));
}

/// C9: with the scratch coat on day 0 the brown coat is on day 2 and the finish coat on day 9 (IBC
/// 2018 Table 2512.6 used one after the other; derived). 1 June 2026 is a Monday.
#[test]
fn coats_wait_for_each_other() {
    let folder = job();
    let plan = "parge 1\njob \"Porch\" { rules \"portland-plaster\"  crew 2  start 2026-06-01 }\n\
                finish sand { technique float  thickness 1/8in }\n\
                structure \"Porch\" on wood { face street rect 5ft x 4ft sand }\n";
    folder.write("job.parge", plan).unwrap();
    let begins = |coat: &str| {
        let lines = folder.read("days.csv").unwrap();
        let line = lines
            .lines()
            .find(|line| line.contains(coat))
            .map(str::to_owned);
        line.unwrap()[..10].to_owned()
    };
    let said = folder.parge("days job.parge -o days.csv");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let days = ["scratch coat", "brown coat", "finish coat"].map(begins);
    assert_eq!(days, ["2026-06-01", "2026-06-03", "2026-06-10"]);
}

/// The words of a trade are its pack's: those of another are refused, and the help lists these.
#[test]
fn words_of_another_trade_are_refused() {
    let folder = job();
    folder
        .edit("job.parge", "technique float", "technique carve")
        .unwrap();
    folder.edit("job.parge", "on concrete", "on foam").unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    insta::assert_snapshot!(said);
}

/// The same walls by the other pack: one plan, two trades.
#[test]
fn a_plan_goes_by_the_pack_that_it_names() {
    let folder = job();
    let demo = Folder::with_demo().unwrap().read("prices.csv").unwrap();
    folder.write("prices.csv", demo).unwrap();
    folder
        .write(
            "job.parge",
            "parge 1\njob \"Wall\" { rules \"vertical-concrete\"  prices \"prices.csv\"  crew 2\n\
             bid { burden 0%  overhead 0%  profit markup 0%  tax 0% on total } }\n\
             finish plain { technique texture  thickness 1/4in }\n\
             structure \"Wall\" on block { face yard rect 30ft x 5ft plain }\n",
        )
        .unwrap();
    let concrete = estimate(&folder);
    assert!(
        concrete["materials"]
            .as_array()
            .unwrap()
            .iter()
            .any(|line| line["item"] == "finish-mix")
    );
    folder
        .edit("job.parge", "vertical-concrete", "portland-plaster")
        .unwrap();
    folder
        .edit("job.parge", "technique texture", "technique float")
        .unwrap();
    let prices = repository().join("tests/suite/plaster/prices.csv");
    folder
        .write("prices.csv", std::fs::read(prices).unwrap())
        .unwrap();
    let plaster = estimate(&folder);
    assert!(
        plaster["materials"]
            .as_array()
            .unwrap()
            .iter()
            .any(|line| line["item"] == "portland-cement")
    );
}
