//! What a job used beside what was estimated, and the form to record it with.

use parge_cli::Exit;
use parge_tests::{Folder, Said};
use serde_json::Value;

fn example() -> Folder {
    Folder::with_example("sedge-ferry").unwrap()
}

/// The record of a job for one test, in the place of the example's.
fn with_record(record: &str) -> Folder {
    let folder = example();
    folder.write("actuals.txt", record).unwrap();
    folder
}

fn json(said: &Said) -> Value {
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

fn keeps_to_schema(json: &Value) {
    let schema: Value = serde_json::from_str(parge_sheets::ACTUALS_SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults = validator.iter_errors(json).map(|error| error.to_string());
    let faults: Vec<String> = faults.collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The same numbers with what stands for a blank replaced, as a foreman fills in a form.
fn filled(form: &str) -> String {
    let mut number = 0;
    let line = |line: &str| {
        let is_amount = line.contains("  ___ ");
        number += usize::from(is_amount);
        match is_amount {
            true => line.replacen("___", &format!("{number}"), 1),
            false => line.to_owned(),
        }
    };
    form.lines().map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_record_of_the_example() {
    let folder = example();
    let before = folder.names().unwrap();
    let said = folder.parge("actuals job.parge actuals.txt");
    assert_eq!(said.exit, Exit::Fine);
    insta::assert_snapshot!(said);
    assert_eq!(folder.names().unwrap(), before);
    // The record lies beside the plan.
    assert_eq!(folder.parge("actuals job.parge").out, said.out);
}

#[test]
fn the_json_keeps_to_its_schema() {
    let folder = example();
    let json = json(&folder.parge("actuals job.parge actuals.txt --json -"));
    keeps_to_schema(&json);
    insta::assert_snapshot!(serde_json::to_string_pretty(&json["materials"][0]).unwrap());
    insta::assert_snapshot!(serde_json::to_string_pretty(&json["totals"]["both"]).unwrap());
    let mut broken = json.clone();
    broken["materials"][0]["estimated"]["amount"] = Value::Null;
    let schema: Value = serde_json::from_str(parge_sheets::ACTUALS_SCHEMA).unwrap();
    assert!(!jsonschema::is_valid(&schema, &broken));
}

/// Every amount of money adds up: parts to lines, lines to totals.
#[test]
fn money_adds_up() {
    let folder = example();
    let json = json(&folder.parge("actuals job.parge --json -"));
    let cents = |value: &Value| -> i64 {
        let text = value.as_str().unwrap().replace('.', "");
        text.parse().unwrap()
    };
    for (lines, totals) in [("materials", "materials"), ("labour", "labour")] {
        let (mut estimated, mut actual) = (0, 0);
        for line in json[lines].as_array().unwrap() {
            let money = &line["difference"]["money"];
            if money.is_null() {
                assert!(line["actual"].is_null(), "{line}");
                continue;
            }
            let parts = ["quantity", "usage", "packs", "price"].map(|part| cents(&money[part]));
            let (was, is) = (
                cents(&line["estimated"]["cost"]),
                cents(&line["actual"]["cost"]),
            );
            assert_eq!(parts.iter().sum::<i64>(), is - was, "{line}");
            estimated += was;
            actual += is;
        }
        let totals = &json["totals"][totals];
        assert_eq!(cents(&totals["estimated"]), estimated);
        assert_eq!(cents(&totals["actual"]), actual);
        assert_eq!(cents(&totals["difference"]["whole"]), actual - estimated);
    }
}

#[test]
fn a_blank_form() {
    let folder = example();
    let said = folder.parge("actuals job.parge --form");
    assert_eq!(said.exit, Exit::Fine);
    insta::assert_snapshot!(said);
    let said = folder.parge("actuals job.parge --form -o form.csv");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(folder.read("form.csv").unwrap().replace('\r', ""));
}

/// Nothing on a form says what was estimated.
#[test]
fn a_form_tells_no_figure() {
    let folder = example();
    let form = folder.parge("actuals job.parge --form").out;
    let estimate = json(&folder.parge("estimate job.parge --json -"));
    let mut figures: Vec<String> = Vec::new();
    for line in estimate["materials"].as_array().unwrap() {
        figures.extend(line["cost"].as_str().map(str::to_owned));
    }
    for line in estimate["labour"].as_array().unwrap() {
        figures.push(line["hours"].to_string());
    }
    assert!(figures.len() > 20, "{figures:?}");
    for figure in figures.iter().filter(|figure| figure.contains('.')) {
        assert!(!form.contains(figure.as_str()), "{figure}");
    }
}

/// A blank form of each kind can be read again, and states nothing; with an amount in every place
/// each of its lines finds its line, whatever the kind.
#[test]
fn every_line_of_a_form_is_read() {
    for job in ["sedge-ferry", "alder-marsh", "tern-quay", "heron-yard"] {
        let folder = Folder::with_example(job).unwrap();
        let _ = std::fs::remove_file(folder.path("actuals.txt"));
        let form = folder.parge("actuals job.parge --form").out;
        folder.write("blank.txt", &form).unwrap();
        let said = folder.parge("actuals job.parge blank.txt");
        assert_eq!(said.exit, Exit::Problems);
        assert!(said.err.contains("states nothing that was used"), "{said}");
        folder.write("actuals.txt", filled(&form)).unwrap();
        let by_text = json(&folder.parge("actuals job.parge --json -"));
        assert_eq!(by_text["unmatched"], serde_json::json!([]), "{job}");
        assert_eq!(by_text["unknown"], serde_json::json!([]));
        for line in ["materials", "labour"].map(|key| by_text[key].as_array().unwrap()) {
            assert!(line.iter().all(|line| !line["actual"].is_null()), "{job}");
        }
        keeps_to_schema(&by_text);
    }
}

#[test]
fn forms_as_tables_are_read_as_the_text_is() {
    let folder = example();
    let form = folder.parge("actuals job.parge --form").out;
    folder.write("actuals.txt", filled(&form)).unwrap();
    let mut by_text = json(&folder.parge("actuals job.parge actuals.txt --json -"));
    assert_eq!(
        folder.parge("actuals job.parge --form -o actuals.csv").exit,
        Exit::Fine
    );
    let mut number = 0;
    let row = |row: &str| {
        let mut fields: Vec<String> = row.split(',').map(str::to_owned).collect();
        if ["material", "hours", "area"].contains(&fields[0].trim_start_matches('\u{feff}')) {
            number += 1;
            fields[3] = number.to_string();
        }
        fields.join(",")
    };
    let table = folder.read("actuals.csv").unwrap();
    let table = table.lines().map(row).collect::<Vec<_>>().join("\n");
    folder.write("actuals.csv", table).unwrap();
    let mut by_table = json(&folder.parge("actuals job.parge actuals.csv --json -"));
    for json in [&mut by_text, &mut by_table] {
        forget_places(json);
        json["record"] = Value::Null;
    }
    assert_eq!(by_text, by_table);
}

fn forget_places(json: &mut Value) {
    match json {
        Value::Object(members) => {
            members.remove("place");
            members.values_mut().for_each(forget_places);
        }
        Value::Array(items) => items.iter_mut().for_each(forget_places),
        _ => {}
    }
}

/// A workbook's form is blank, and an amount in it is somebody's work.
#[test]
fn a_form_as_a_workbook() {
    let folder = example();
    let form = "actuals job.parge --form -o form.xlsx";
    assert_eq!(folder.parge(form).exit, Exit::Fine);
    assert_eq!(folder.parge(form).exit, Exit::Fine);
    let said = folder.parge("actuals job.parge form.xlsx");
    assert!(said.err.contains("states nothing that was used"), "{said}");
    // As an office program leaves it: without the mark at its end.
    let mut bytes = std::fs::read(folder.path("form.xlsx")).unwrap();
    bytes.pop();
    folder.write("form.xlsx", &bytes).unwrap();
    assert_eq!(folder.parge(form).exit, Exit::Failed);
    folder.write("form.txt", "finish-mix 104 bags\n").unwrap();
    let said = folder.parge("actuals job.parge --form -o form.txt");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert_eq!(folder.read("form.txt").unwrap(), "finish-mix 104 bags\n");
    assert_eq!(
        folder
            .parge("actuals job.parge --form -o form.txt --force")
            .exit,
        Exit::Fine
    );
}

/// Each is told with its code and what to write instead, and nothing is written.
#[test]
fn bad_records_are_told_and_nothing_is_written() {
    let cases = [
        ("E0206", "finish-mix 104\n"),
        ("E0803", "finish-mix -4 bags\n"),
        ("E0802", "finish-mix 4 bags\nFinish mix 5 bags\n"),
        ("E0802", "hours place 4 h\nhours place \"Seat walls\" 4 h\n"),
        ("E0205", "finish-mix 4 gal\n"),
        ("E0110", "finish-mix 4 bogs\n"),
        ("E0111", "finish-mix 1,250 bags\n"),
        ("E0510", "finish-mix 4 bags at 25 EUR\n"),
        ("E0210", "finish-mix 4 bags\nday 2026-04-14 to 2026-04-13\n"),
        (
            "E0210",
            "finish-mix 4 bags\nday 2026-04-13 to 2026-04-14\ndays 3\n",
        ),
        ("E0801", "finish-mix bags\n"),
        ("E0801", "# nothing\n"),
        ("E0804", "priced plan bcdefghijklm\nfinish-mix 4 bags\n"),
        (
            "E0804",
            "rules vertical-concrete 0.0.1\nfinish-mix 4 bags\n",
        ),
        ("E0807", "job \"Another\"\nfinish-mix 4 bags\n"),
    ];
    for (code, record) in cases {
        let folder = with_record(record);
        let before = folder.names().unwrap();
        let said = folder.parge("actuals job.parge actuals.txt -o out.xlsx --json out.json");
        assert_eq!(said.exit, Exit::Problems, "{record}\n{said}");
        assert!(
            said.err.contains(&format!("error[{code}]")),
            "{record}\n{said}"
        );
        assert!(said.err.contains("= help: "), "{said}");
        assert_eq!(said.out, "", "{record}");
        assert_eq!(folder.names().unwrap(), before);
    }
}

#[test]
fn mistakes_are_told_in_one_run() {
    let folder =
        with_record("finish-mix 104\nscratch-mix -4 bags\nhours place 4\nsealer/matte 2 tubs\n");
    insta::assert_snapshot!(folder.parge("actuals job.parge actuals.txt"));
}

/// What changed is named, and compared only at the user's word.
#[test]
fn what_changed_since_pricing_is_named() {
    let changes: [(&str, &str, &str, &str); 2] = [
        (
            "job.parge",
            "overhead 11%",
            "overhead 12%",
            "the plan is not what it was",
        ),
        (
            "prices.csv",
            "bag,24.80",
            "bag,25.80",
            "the prices are not what they were",
        ),
    ];
    for (file, from, to, said_of) in changes {
        let folder = example();
        folder.edit(file, from, to).unwrap();
        let said = folder.parge("actuals job.parge actuals.txt -o out.xlsx");
        assert_eq!(said.exit, Exit::Problems, "{said}");
        assert!(said.err.contains(said_of), "{said}");
        assert!(!folder.path("out.xlsx").exists());
        let said = folder.parge("actuals job.parge actuals.txt --changed");
        assert_eq!(said.exit, Exit::Fine, "{said}");
        assert!(said.err.contains("warning[W0805]"), "{said}");
        assert!(said.out.contains("CHANGED SINCE PRICED"), "{said}");
        let json = json(&folder.parge("actuals job.parge --changed --json -"));
        assert_eq!(json["changed"].as_array().unwrap().len(), 1);
    }
    // Layout and comments are no change.
    let folder = example();
    folder
        .edit("job.parge", "  crew 3", "\n  # three of us\n\n  crew   3")
        .unwrap();
    assert_eq!(folder.parge("actuals job.parge").exit, Exit::Fine);
}

/// Records can cite what the JSON of an estimate says of itself.
#[test]
fn an_estimate_tells_its_fingerprint() {
    let folder = example();
    let estimate = json(&folder.parge("estimate job.parge --json -"));
    let actuals = json(&folder.parge("actuals job.parge --json -"));
    assert_eq!(estimate["fingerprint"], actuals["fingerprint"]);
    let print = &estimate["fingerprint"];
    let cited =
        ["plan", "rules", "prices"].map(|part| format!("{part} {}", print[part].as_str().unwrap()));
    let record = folder.read("actuals.txt").unwrap();
    let cited = format!("priced {}", cited.join(" "));
    assert!(
        record.contains(&cited),
        "a pack of the program changed: let examples/sedge-ferry/actuals.txt say `{cited}`"
    );
}

#[test]
fn a_record_beside_the_plan_is_the_only_one() {
    let folder = example();
    folder.write("actuals.csv", "what,name\n").unwrap();
    let said = folder.parge("actuals job.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(
        said.err
            .contains("actuals.txt and actuals.csv both lie beside"),
        "{said}"
    );
    std::fs::remove_file(folder.path("actuals.csv")).unwrap();
    std::fs::remove_file(folder.path("actuals.txt")).unwrap();
    let said = folder.parge("actuals job.parge");
    assert_eq!(said.exit, Exit::Failed);
    assert!(
        said.err.contains("no record lies beside job.parge"),
        "{said}"
    );
    let said = folder.parge("actuals job.parge used.doc");
    assert!(
        said.err.contains("ends in none of .txt, .csv and .xlsx"),
        "{said}"
    );
}

/// What is read is never written over, also with `--force`.
#[test]
fn no_output_replaces_what_is_read() {
    let folder = example();
    let before = folder.read("actuals.txt").unwrap();
    let said = folder.parge("actuals job.parge actuals.txt --json actuals.txt --force");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert_eq!(folder.read("actuals.txt").unwrap(), before);
}

/// A line without a price has no cost and counts in no sum.
#[test]
fn a_line_without_a_price_counts_in_no_sum() {
    let folder = with_record("finish-mix 70 bags\nscratch-mix 20 bags\n");
    folder
        .edit("prices.csv", "finish-mix,", "other-mix,")
        .unwrap();
    let said = folder.parge("actuals job.parge --json -");
    assert_eq!(said.exit, Exit::Problems);
    let json: Value = serde_json::from_str(&said.out).unwrap();
    keeps_to_schema(&json);
    assert_eq!(json["totals"]["materials"]["lines_without_price"], 1);
    assert_eq!(json["totals"]["materials"]["lines"], 1);
    let said = folder.parge("actuals job.parge -o out.xlsx");
    assert!(said.out.contains("INCOMPLETE"), "{said}");
}
