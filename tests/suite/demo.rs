//! The demo job, from its plan to terminal, workbook and JSON.

use calamine::{Data, DataType, Reader, Xlsx, open_workbook};
use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;

fn demo() -> Folder {
    Folder::with_demo().unwrap()
}

fn json(folder: &Folder) -> Value {
    serde_json::from_str(&folder.read("demo.json").unwrap()).unwrap()
}

#[test]
fn takeoff_on_the_terminal() {
    insta::assert_snapshot!(demo().parge("takeoff job.parge"));
}

#[test]
fn estimate_on_the_terminal() {
    insta::assert_snapshot!(demo().parge("estimate job.parge"));
}

#[test]
fn the_demo_has_what_it_promises() {
    let folder = demo();
    let said = folder.parge("estimate job.parge --json demo.json");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let json = json(&folder);
    let faces = json["faces"].as_array().unwrap();
    let different = |key: &str| {
        let mut words: Vec<&str> = faces
            .iter()
            .map(|face| face[key].as_str().unwrap())
            .collect();
        words.sort_unstable();
        words.dedup();
        words.len()
    };
    assert!(faces.len() >= 12 && different("structure") >= 3 && different("substrate") >= 4);
    assert!(
        faces
            .iter()
            .any(|face| face["deducted_area"]["value"].as_f64().unwrap() > 0.0)
    );
    assert_eq!(json["status"], "complete");
}

/// The total is the sum of the lines above it, and each sum is the sum of its lines, to the cent.
#[test]
fn the_printed_lines_add_up() {
    let folder = demo();
    let _ = folder.parge("estimate job.parge --json demo.json");
    let json = json(&folder);
    let cents = |value: &Value| {
        let text = value.as_str().unwrap();
        assert_eq!(text.split_once('.').unwrap().1.len(), 2, "{text}");
        text.replace('.', "").parse::<i64>().unwrap()
    };
    let sum = |list: &str| {
        json[list]
            .as_array()
            .unwrap()
            .iter()
            .map(|line| cents(&line["cost"]))
            .sum::<i64>()
    };
    let price = &json["price"];
    assert_eq!(sum("materials"), cents(&price["materials"]));
    assert_eq!(sum("labour"), cents(&price["labour"]));
    let parts = [
        "materials",
        "freight",
        "labour",
        "burden",
        "overhead",
        "contingency",
        "profit",
        "allowances",
        "charges",
        "minimum",
        "rounding",
        "tax",
    ];
    assert_eq!(
        parts.iter().map(|part| cents(&price[*part])).sum::<i64>(),
        cents(&price["total"])
    );
}

#[test]
fn the_json_keeps_its_schema() {
    let folder = demo();
    let _ = folder.parge("estimate job.parge --json demo.json");
    let schema: Value = serde_json::from_str(parge_sheets::SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> = validator
        .iter_errors(&json(&folder))
        .map(|error| error.to_string())
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    folder
        .edit("prices.csv", "sheet,12.60,USD", "sheet,,USD")
        .unwrap();
    let _ = folder.parge("estimate job.parge --json demo.json");
    let incomplete = json(&folder);
    assert_eq!(incomplete["status"], "incomplete");
    assert!(
        validator.is_valid(&incomplete),
        "an incomplete estimate keeps it too"
    );
    let mut broken = json(&folder);
    broken["price"]["total"] = serde_json::json!(49834.24);
    assert!(!validator.is_valid(&broken), "money is never a number");
}

#[test]
fn json_on_the_terminal_is_json_alone() {
    let said = demo().parge("estimate job.parge --json -");
    let value: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(value["job"]["name"], "Alder Marsh nature centre");
}

/// The sheets are there, no cell is an error, and the total that the workbook shows without
/// being recalculated is the total of the estimate.
#[test]
fn the_workbook_shows_the_estimate() {
    let folder = demo();
    let _ = folder.parge("estimate job.parge -o demo.xlsx --json demo.json");
    let mut book: Xlsx<_> = open_workbook(folder.path("demo.xlsx")).unwrap();
    let names = book.sheet_names();
    assert_eq!(
        names,
        [
            "Summary",
            "Bid",
            "Checks",
            "Charts",
            "Faces",
            "Edges",
            "Layout",
            "Materials",
            "Purchases",
            "Labour",
            "Alternate 1",
            "Alternate 2",
            "Days",
            "Batches",
            "Kit",
            "Sizes",
            "Factors",
            "Classes",
            "Workings",
            "Cautions"
        ]
    );
    let mut formulas = 0;
    for name in &names {
        let cells = book.worksheet_range(name).unwrap();
        assert!(
            !cells
                .cells()
                .any(|(_, _, cell)| matches!(cell, Data::Error(_))),
            "{name}"
        );
        formulas += book.worksheet_formula(name).unwrap().used_cells().count();
    }
    assert!(formulas > 50, "only {formulas} formulas");
    let summary = book.worksheet_range("Summary").unwrap();
    let total = summary
        .rows()
        .find(|row| row[0].as_string().as_deref() == Some("Total"))
        .unwrap();
    let shown = total
        .iter()
        .filter_map(DataType::as_f64)
        .next_back()
        .unwrap();
    let wanted: f64 = json(&folder)["price"]["total"]
        .as_str()
        .unwrap()
        .parse()
        .unwrap();
    assert!((shown - wanted).abs() < 0.005, "{shown} is not {wanted}");
}

#[test]
fn two_runs_write_the_same_bytes() {
    let folder = demo();
    let _ = folder.parge("estimate job.parge -o one.xlsx --json one.json");
    let _ = folder.parge("estimate job.parge -o two.xlsx --json two.json");
    for (one, two) in [("one.xlsx", "two.xlsx"), ("one.json", "two.json")] {
        assert!(
            std::fs::read(folder.path(one)).unwrap() == std::fs::read(folder.path(two)).unwrap(),
            "{one}"
        );
    }
}

/// A job worked by hand, with the standard pack. One wall of block, 10 by 10 ft, stamped 1 in,
/// no relief, no colour, no sealer:
///
/// - finish mix: 100 ft² × 1/12 ft / 0.45 ft³ a bag = 18.5185 bags; 10 % waste: 20.37, so 21;
/// - scratch mix: 100 × (3/8)/12 / 0.45 = 6.9444 bags; 10 %: 7.639, so 8;
/// - cleaner 100/150 = 0.6667 gal, 10 %: 0.733, one pail of 5;
/// - primer on the block 0.6667 and on the scratch coat 0.6667 gal, 10 %: 1.467, one pail;
/// - release 100/250 = 0.4 gal, one pail.
#[test]
fn a_wall_worked_by_hand() {
    let folder = demo();
    folder
        .write(
            "wall.parge",
            "parge 1\njob \"Wall\" { rules \"vertical-concrete\"  prices \"prices.csv\"  crew 1\n\
             bid { burden 0%  overhead 0%  profit markup 0%  tax 0% on total } }\n\
             finish plain { technique stamp  thickness 1in }\n\
             structure \"Wall\" on block { face wall rect 10ft x 10ft plain }\n",
        )
        .unwrap();
    let said = folder.parge("estimate wall.parge --json demo.json");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let json = json(&folder);
    let line = |item: &str| {
        json["materials"]
            .as_array()
            .unwrap()
            .iter()
            .find(|line| line["item"] == item)
            .unwrap()
            .clone()
    };
    for (item, need, packs, cost) in [
        ("finish-mix", 18.518518519, 21.0, "520.80"),
        ("scratch-mix", 6.944444444, 8.0, "131.20"),
        ("masonry-cleaner", 0.666666667, 1.0, "68.50"),
        ("bonding-primer", 1.333333333, 1.0, "142.00"),
        ("release", 0.4, 1.0, "96.00"),
    ] {
        let line = line(item);
        let shown = line["need"]["value"].as_f64().unwrap();
        assert!((shown - need).abs() < 1e-8, "{item}: {shown}");
        assert_eq!(line["packs"], packs, "{item}");
        assert_eq!(line["cost"], cost, "{item}");
    }
}
