//! `parge import`: messy sheets, each with one fault planted in it.

use parge_cli::Exit;
use parge_tests::{Folder, repository};

/// A folder with the messy sheets.
fn folder() -> Folder {
    let folder = Folder::new().unwrap();
    let sheets = repository().join("tests/importers/sheets");
    folder.take(&sheets, "").unwrap();
    folder
}

/// A report says what its schema says, all of it and nothing else.
fn keeps_to_its_schema(report: &serde_json::Value) {
    let schema = repository().join("importers/schema/report.schema.json");
    let schema = std::fs::read_to_string(schema).unwrap();
    let schema: serde_json::Value = serde_json::from_str(&schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> = validator
        .iter_errors(report)
        .map(|error| error.to_string())
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The sheets, how each is imported, and what of its fault must be said.
const SHEETS: [(&str, &str, &str); 14] = [
    (
        "rooms-doubled-subtotal.xlsx",
        "--profile room-schedule",
        "Rooms!E14 totals 825 ft2, and all rows of the table make 412.5 ft2: it counts rows and their subtotals",
    ),
    (
        "rooms-doubled-subtotal.ods",
        "--profile room-schedule",
        "it counts rows and their subtotals",
    ),
    (
        "rooms-hidden-row.xlsx",
        "--profile room-schedule",
        "Rooms!F6 totals 687 ft2, and all rows of the table make 552 ft2: it counts rows that are not taken over",
    ),
    (
        "elevations-unit-slip.xlsx",
        "--profile elevation-schedule",
        "Elevations!F8 states 80ft2, and its sizes make 960",
    ),
    (
        "elevations-dates.xlsx",
        "--profile elevation-schedule",
        "Niches!E4 holds the day 2026-04-03, taken as a fraction",
    ),
    (
        "bill-text-number.xlsx",
        "--profile area-bill --answer height=8ft",
        "it passes over numbers that are text",
    ),
    (
        "bill-formulas.xlsx",
        "--profile area-bill --answer height=3m",
        "Bill!D4 states 30m2, and its sizes make 25.8",
    ),
    (
        "metric-blocks.xlsx",
        "--profile metric-blocks",
        "Schedule!E11 totals 25.26 m2, and all rows of the table make 62.79 m2: it counts blocks once that their headings say",
    ),
    (
        "metric-blocks.xls",
        "--profile metric-blocks",
        "Schedule!E11 totals 25.26 m2",
    ),
    (
        "metric-pages.xlsx",
        "--profile metric-blocks",
        "it counts what was carried forward twice, and rows that are not taken over",
    ),
    (
        "panels.xlsb",
        "--answer hidden=leave_out --answer struck=leave_out",
        "Panels!E8 totals 62.775 m2, and all rows of the table make 41.175 m2: it counts rows that are not taken over",
    ),
    (
        "panels.ods",
        "--answer hidden=leave_out --answer struck=leave_out --answer length=m",
        "Panels!E8 totals 62.775 m2, and all rows of the table make 41.175 m2: it counts rows that are not taken over",
    ),
    (
        "side-by-side.xlsx",
        "--on block",
        "row 4 of sheet `Walls` is not taken over: Walls!B4, length: the cell shows `#REF!`",
    ),
    (
        "struck-and-sizes.xlsx",
        "--answer struck=leave_out",
        "row 6 of sheet `Panels` is not taken over: it is struck through",
    ),
];

#[test]
fn each_planted_fault_is_told_and_the_sums_balance() {
    let folder = folder();
    let mut told = String::new();
    for (sheet, how, wanted) in SHEETS {
        let name = sheet.replace('.', "-");
        let said = folder.parge(&format!(
            "import {sheet} {how} -o {name}.parge --report {name}.xlsx --report {name}.json"
        ));
        assert!(said.err.contains(wanted), "{sheet}: {said}");
        assert!(!said.out.contains("DO NOT AGREE"), "{sheet}: {said}");
        let plan = folder.read(&format!("{name}.parge")).unwrap();
        let report = folder.read(&format!("{name}.json")).unwrap();
        let report: serde_json::Value = serde_json::from_str(&report).unwrap();
        keeps_to_its_schema(&report);
        for sum in report["sums"].as_array().unwrap() {
            assert_eq!(sum["agrees"], true, "{sheet}: {sum}");
        }
        if sheet.ends_with(".xlsx") {
            told += &format!("==== {sheet} {how}\n{said}\n---- {name}.parge\n{plan}\n");
        }
    }
    insta::assert_snapshot!(told);
}

/// Hidden rows and rows that are struck through are asked about in every format that shows them, and
/// one that does not is told.
#[test]
fn what_is_hidden_or_struck_through_is_never_passed_over() {
    let folder = folder();
    for sheet in ["panels.xlsb", "panels.ods"] {
        let said = folder.parge(&format!("import {sheet} -o plan.parge"));
        assert!(
            said.err.contains("row 5 is hidden: does it count?"),
            "{said}"
        );
        assert!(
            said.err.contains("row 6 is struck through: does it count?"),
            "{said}"
        );
        let how = "--answer hidden=leave_out --answer struck=leave_out --answer length=m";
        let said = folder.parge(&format!("import {sheet} {how}"));
        assert!(
            said.out.contains("Panels, row 7: Panels!B7, length: "),
            "{said}"
        );
        assert!(said.err.contains("#REF!"), "{said}");
    }
    let said = folder.parge("import metric-blocks.xls --profile metric-blocks --report r.txt");
    let told = "what is hidden or struck through in an xls file is not seen: all of it counts";
    let report = folder.read("r.txt").unwrap();
    assert!(
        said.err.contains(told) && report.contains(told),
        "{said}\n{report}"
    );
}

/// A total that agrees only with an odd reading is a doubt, which the report has in each of its forms.
#[test]
fn a_total_that_agrees_only_otherwise_is_said() {
    let folder = Folder::new().unwrap();
    let sheet = "Wall,L (ft),H (ft),SF\nNorth,10,8,80\nless door,2,7,14\nTotal,,,94\n";
    folder.write("walls.csv", sheet).unwrap();
    let how = "import walls.csv -o walls.parge --report r.json --report r.txt --report r.xlsx";
    let said = folder.parge(how);
    // A doubt is no fault of the sheet.
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let reading = "all rows of the table, their openings added to them";
    assert!(
        said.err.contains("warning[W0707]: walls!D4 totals 94 ft2"),
        "{said}"
    );
    assert!(
        said.out.contains(&format!("AGREES ONLY with {reading}")),
        "{said}"
    );
    let report = folder.read("r.json").unwrap();
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    keeps_to_its_schema(&report);
    assert_eq!(report["totals"][0]["agrees"], false);
    assert_eq!(report["totals"][0]["only"], reading);
    assert_eq!(report["remarks"][0]["weight"], "doubt");
    assert!(folder.read("r.txt").unwrap().contains(reading));
}

/// What no sheet says is left open, and the plan is told what to fill in.
#[test]
fn a_plan_without_a_profile_says_what_to_fill_in() {
    let folder = Folder::new().unwrap();
    let sheet = "Wall,Length (ft),Height (ft),Finish\nNorth,12,8,Carved stone\nSouth,10,8,\n\
                 East,9,8,\nWest,9,8,Carved stone\n";
    folder.write("walls.csv", sheet).unwrap();
    std::fs::copy(
        repository().join("examples/alder-marsh/prices.csv"),
        folder.path("prices.csv"),
    )
    .unwrap();
    let said = folder.parge("import walls.csv -o walls.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let plan = folder.read("walls.parge").unwrap();
    let checked = folder.parge("check walls.parge");
    insta::assert_snapshot!(format!(
        "{said}\n---- walls.parge\n{plan}\n---- check\n{checked}"
    ));
}

/// Without answers nothing is guessed: the question is told, and nothing is written.
#[test]
fn what_can_be_read_in_two_ways_is_asked() {
    let folder = folder();
    let said = folder.parge("import rooms-hidden-row.xlsx -o plan.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(!folder.path("plan.parge").exists());
    insta::assert_snapshot!(said);
}

#[test]
fn questions_are_asked_at_a_terminal_and_kept_as_a_profile() {
    let folder = folder();
    let arguments = [
        "import",
        "rooms-hidden-row.xlsx",
        "-o",
        "plan.parge",
        "--learn",
        "client.toml",
    ];
    let said = folder.parge_typing(&arguments, "perhaps\n2\n");
    assert!(
        said.err.contains("write one of: include, leave_out"),
        "{said}"
    );
    assert!(said.out.contains("wrote client.toml"), "{said}");
    let again = folder.parge("import rooms-hidden-row.xlsx --profile client.toml");
    assert!(again.out.contains("3 face"), "{again}");
    insta::assert_snapshot!(folder.read("client.toml").unwrap());
}

/// What the program writes it reads: the sizes of the faces of a workbook.
#[test]
fn a_workbook_of_the_program_is_imported_with_the_same_quantities() {
    let folder = Folder::new().unwrap();
    let plan = "parge 1\njob \"Trip\" {\n  rules \"vertical-concrete\"\n  prices \"prices.csv\"\n  units us\n  crew 2\n\
                bid { burden 30%  overhead 10%  profit markup 25%  tax 0% on materials }\n}\n\
                finish rock { technique carve  thickness 1 1/2in }\n\
                structure \"Hall\" on block { finish rock\n face north rect 12.5ft x 8ft count 2\n face east rect 9ft x 7.25ft\n}\n\
                structure \"Porch\" on brick { face west rect 10ft x 6ft rock }\n";
    let demo = repository().join("examples/alder-marsh/prices.csv");
    std::fs::copy(demo, folder.path("prices.csv")).unwrap();
    folder.write("trip.parge", plan).unwrap();
    let said = folder.parge("estimate trip.parge -o trip.xlsx");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    // What only the workbook reckons with is no size of a face.
    let ignored = ["K", "L", "M", "O", "P"].map(|of| format!(" --answer column.Faces!{of}=ignore"));
    let ignored = ignored.concat();
    let command = format!("import trip.xlsx --sheet Faces -o back.parge{ignored}");
    let said = folder.parge(&command);
    assert!(
        said.out
            .contains("area of all faces: sheet 325.25 ft2, plan 325.25 ft2, measured 325.25 ft2"),
        "{said}"
    );
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let back = folder.read("back.parge").unwrap();
    for line in [
        "structure \"Hall\"",
        "face north rect 12.5ft x 8ft rock on block count 2",
        "face west rect 10ft x 6ft rock on brick",
    ] {
        assert!(
            back.replace('"', "").contains(&line.replace('"', "")),
            "{line}\n{back}"
        );
    }
}

/// A revised sheet over a plan that was edited: the edits stay, the changes come.
#[test]
fn a_revised_sheet_keeps_what_was_edited() {
    let folder = Folder::new().unwrap();
    let first = "Wall,Length (ft),Height (ft)\nNorth,12,8\nSouth,10,8\n";
    folder.write("walls.csv", first).unwrap();
    let said = folder.parge("import walls.csv -o plan.parge --on block --finish rock");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    folder
        .edit("plan.parge", "rect 12ft x 8ft", "rect 12ft x 8ft bark")
        .unwrap();
    let revised = "Wall,Length (ft),Height (ft)\nNorth,13,8\nSouth,10,8\nEast,9,8\n";
    folder.write("walls.csv", revised).unwrap();
    let refused = folder.parge("import walls.csv -o plan.parge");
    assert!(refused.err.contains("error[E0603]"), "{refused}");
    let said = folder.parge("import walls.csv -o plan.parge --update --on block --finish rock");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(
        said.out
            .contains("changed: walls, North: rect 12ft x 8ft is now rect 13ft x 8ft"),
        "{said}"
    );
    let plan = folder.read("plan.parge").unwrap();
    assert!(plan.contains("rect 13ft x 8ft bark from"), "{plan}");
    assert!(plan.contains("face \"East\" rect 9ft x 8ft"), "{plan}");
    // The same sheet once more changes nothing.
    let said = folder.parge("import walls.csv -o plan.parge --update --on block --finish rock");
    assert!(!said.out.contains("changed:"), "{said}");
    assert_eq!(folder.read("plan.parge").unwrap(), plan);
}

/// A face that the estimator deleted stays deleted and is told; where the client changed it, somebody
/// has to choose.
#[test]
fn a_deleted_face_is_told_and_a_changed_one_is_a_conflict() {
    let folder = Folder::new().unwrap();
    let first = "Wall,Length (ft),Height (ft)\nNorth,12,8\nSouth,10,8\n";
    folder.write("walls.csv", first).unwrap();
    let how = "import walls.csv -o plan.parge --on block --finish rock";
    assert_eq!(folder.parge(how).exit, Exit::Fine);
    let south = "  face \"South\" rect 10ft x 8ft from \"walls!A3\"\n";
    folder.edit("plan.parge", south, "").unwrap();
    let said = folder.parge(&format!("{how} --update --report report.json"));
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(
        said.out
            .contains("deleted in the plan, and still in the sheet: walls, South, rect 10ft x 8ft"),
        "{said}"
    );
    let report = folder.read("report.json").unwrap();
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    keeps_to_its_schema(&report);
    assert_eq!(
        report["update"]["deleted"][0],
        "walls, South, rect 10ft x 8ft"
    );
    folder
        .write("walls.csv", first.replace("South,10", "South,11"))
        .unwrap();
    let before = folder.read("plan.parge").unwrap();
    let said = folder.parge(&format!("{how} --update"));
    assert_eq!(said.exit, Exit::Problems, "{said}");
    assert!(said.err.contains("walls, South: the last import wrote `rect 10ft x 8ft`, the plan says nothing, and the sheet says `rect 11ft x 8ft` now"), "{said}");
    assert_eq!(folder.read("plan.parge").unwrap(), before);
}

#[test]
fn an_explanation_names_the_cell_of_the_client() {
    let folder = Folder::with_demo().unwrap();
    let plan = folder.read("job.parge").unwrap();
    let plan = format!(
        "{plan}\nstructure \"Imported\" on block {{\n  face extra rect 12ft x 8ft drystone from \"Rooms!A7\"\n}}\n"
    );
    folder.write("job.parge", plan).unwrap();
    let said = folder.parge("explain job.parge Imported.extra.area");
    assert!(
        said.out
            .contains("from cell Rooms!A7 of the client's sheet"),
        "{said}"
    );
}

#[test]
fn a_price_list_becomes_a_price_book() {
    let folder = Folder::new().unwrap();
    let list = "Spring prices,,,\nCode,Product,Unit,Price\nfinish-mix,Finish mix,bag,24.80\nprimer,Primer,gal,ask\n";
    folder.write("list.csv", list).unwrap();
    let asked = folder.parge("import list.csv --prices -o prices.csv");
    assert!(!folder.path("prices.csv").exists(), "{asked}");
    let answers = "--answer currency=USD --answer pack=one";
    let said = folder.parge(&format!(
        "import list.csv --prices -o prices.csv {answers} --report list.xlsx --report list.json --learn yard.toml"
    ));
    assert_eq!(said.exit, Exit::Problems);
    let book = folder.read("prices.csv").unwrap();
    assert!(
        book.contains("finish-mix,Finish mix,1,bag,,24.80,USD,"),
        "{book}"
    );
    let report = folder.read("list.json").unwrap();
    keeps_to_its_schema(&serde_json::from_str(&report).unwrap());
    let profile = folder.read("yard.toml").unwrap();
    // The next list is read without a question.
    let again = folder.parge("import list.csv --prices --profile yard.toml");
    assert!(again.out.contains("1 offer"), "{again}");
    insta::assert_snapshot!(format!(
        "{asked}\n{said}\n---- prices.csv\n{book}\n---- yard.toml\n{profile}"
    ));
}

/// What is wrong between two offers is told at the client's cells, not at lines of the book that
/// would have been made of them.
#[test]
fn an_item_that_is_priced_twice_is_told_at_the_cells_of_the_list() {
    let folder = Folder::new().unwrap();
    let list = "Spring list,,,,\nCode,Product,Pack,Unit,Price (USD)\nmesh,Mesh,50,ft2,21.50\n\
                sealer,\"Sealer,\nclear\",5,gal,140\nmesh,Mesh,50,ft2,22.50\n";
    folder.write("list.csv", list).unwrap();
    let said = folder.parge("import list.csv --prices -o prices.csv");
    assert!(!folder.path("prices.csv").exists());
    insta::assert_snapshot!(said);
}

#[test]
fn a_price_list_is_asked_about_at_a_terminal() {
    let folder = Folder::new().unwrap();
    folder
        .write("list.csv", "Item,Unit,Price\nsealer,gal,41.50\n")
        .unwrap();
    let arguments = ["import", "list.csv", "--prices", "-o", "prices.csv"];
    let said = folder.parge_typing(&arguments, "1\neuro\neur\n");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(
        said.err.contains("write the three letters of a currency"),
        "{said}"
    );
    let book = folder.read("prices.csv").unwrap();
    assert!(book.contains("sealer,,1,gal,,41.50,EUR,"), "{book}");
}

/// The demo's price book, taken for a list of prices, is the same book.
#[test]
fn a_price_book_is_a_price_list() {
    let folder = Folder::with_demo().unwrap();
    let said = folder.parge("import prices.csv --prices -o again.csv");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    folder.edit("job.parge", "prices.csv", "again.csv").unwrap();
    let again = folder.parge("estimate job.parge --json -");
    folder.edit("job.parge", "again.csv", "prices.csv").unwrap();
    let first = folder.parge("estimate job.parge --json -");
    let total = |text: &str| {
        let json: serde_json::Value = serde_json::from_str(text).unwrap();
        json["price"].clone()
    };
    assert_eq!(total(&again.out), total(&first.out));
}

/// Nothing is written for a file that cannot be read.
#[test]
fn a_file_that_is_cut_off_leaves_nothing() {
    let folder = folder();
    let bytes = std::fs::read(folder.path("side-by-side.xlsx")).unwrap();
    folder.write("cut.xlsx", &bytes[..bytes.len() / 2]).unwrap();
    let before = folder.names().unwrap();
    let said = folder.parge("import cut.xlsx -o plan.parge --report r.json");
    assert_eq!(said.exit, Exit::Problems);
    assert!(said.err.contains("error[E0701]"), "{said}");
    assert_eq!(folder.names().unwrap(), before);
}

#[test]
fn a_workbook_with_a_password_is_refused() {
    let folder = Folder::new().unwrap();
    let locked = repository().join("tests/importers/locked.xlsx");
    std::fs::copy(locked, folder.path("locked.xlsx")).unwrap();
    let said = folder.parge("import locked.xlsx -o plan.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(
        said.err
            .contains("error[E0701]: locked.xlsx: the workbook is protected by a password"),
        "{said}"
    );
    assert!(!folder.path("plan.parge").exists());
}
