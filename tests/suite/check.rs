//! `parge check`: every form in which problems are told, and no slip seen where there is none.

use super::documents::{DOCUMENTS, blocks};
use parge_cli::Exit;
use parge_tests::{Folder, repository};
use serde_json::Value;

/// A plan in a folder of its own with a fault, and one in its price book.
fn with_faults() -> Folder {
    let folder = Folder::with_demo().unwrap();
    let plan = folder.read("job.parge").unwrap();
    let book = folder.read("prices.csv").unwrap();
    let plan = plan.replace("on gypsum", "on gypsm");
    let book = book.replacen(",24.80,", ",24.80 each,", 1);
    folder.write("jobs/marsh_é/job.parge", plan).unwrap();
    folder.write("jobs/marsh_é/prices.csv", book).unwrap();
    folder
}

const FAULTY: &str = "check jobs/marsh_é/job.parge job.parge gone.parge --format";

#[test]
fn one_line_a_problem() {
    let said = with_faults().parge(&format!("{FAULTY} concise"));
    assert_eq!(said.err, "");
    insta::assert_snapshot!(said);
}

#[test]
fn problems_of_all_plans_as_json() {
    let said = with_faults().parge(&format!("{FAULTY} json"));
    assert_eq!((said.exit, said.err.as_str()), (Exit::Failed, ""));
    let json: Value = serde_json::from_str(&said.out).unwrap();
    let diagnostics = json["diagnostics"].as_array().unwrap();
    let codes: Vec<&str> = diagnostics
        .iter()
        .map(|d| d["code"].as_str().unwrap())
        .collect();
    assert_eq!(codes, ["E0212", "E0502", "E0601"]);
}

#[test]
fn problems_of_all_plans_for_code_review() {
    let folder = with_faults();
    let said = folder.parge(&format!("{FAULTY} sarif"));
    assert_eq!((said.exit, said.err.as_str()), (Exit::Failed, ""));
    let log: Value = serde_json::from_str(&said.out).unwrap();
    let results = log["runs"][0]["results"].as_array().unwrap();
    let of = |result: &Value| {
        let place = &result["locations"][0]["physicalLocation"];
        let text = |value: &Value| value.as_str().unwrap().to_owned();
        (
            text(&result["ruleId"]),
            text(&place["artifactLocation"]["uri"]),
        )
    };
    let found: Vec<(String, String)> = results.iter().map(of).collect();
    let found: Vec<(&str, &str)> = found.iter().map(|(code, uri)| (&**code, &**uri)).collect();
    let wanted = [
        ("E0212", "jobs/marsh_%C3%A9/job.parge"),
        ("E0502", "jobs/marsh_%C3%A9/prices.csv"),
        ("E0601", "gone.parge"),
    ];
    assert_eq!(found, wanted);
    // A plan that is named by its whole path is found all the same.
    let path = folder.path("jobs/marsh_é/job.parge");
    let said = folder.parge(&format!("check {} --format sarif", path.display()));
    let log: Value = serde_json::from_str(&said.out).unwrap();
    let results = log["runs"][0]["results"].as_array().unwrap();
    assert_eq!(
        results
            .iter()
            .map(of)
            .map(|(_, uri)| uri)
            .collect::<Vec<_>>(),
        [wanted[0].1, wanted[1].1]
    );
}

#[test]
fn a_plan_without_fault_has_an_empty_log() {
    let said = Folder::with_demo()
        .unwrap()
        .parge("check job.parge --format sarif");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let log: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(log["runs"][0]["results"], Value::Array(Vec::new()));
}

const SLIPS: [&str; 2] = ["W0304", "W0305"];

#[test]
fn no_slip_is_seen_in_the_examples_and_documents() {
    let folder = Folder::with_demo().unwrap();
    let template = repository().join("engine/cli/template");
    let mut plans = vec![folder.read("job.parge").unwrap()];
    plans.push(std::fs::read_to_string(template.join("job.parge")).unwrap());
    plans.extend(
        DOCUMENTS
            .iter()
            .flat_map(|document| blocks(document, "parge")),
    );
    assert!(plans.len() >= 4, "only {} plans were found", plans.len());
    for plan in plans {
        folder.write("job.parge", &plan).unwrap();
        let said = folder.parge("check job.parge --format concise");
        let slip = SLIPS.iter().find(|code| said.out.contains(**code));
        assert_eq!(slip, None, "{plan}\n{said}");
    }
}

/// The demo with metres for feet in one wall, inches for feet in another, and an opening that
/// was given the size of its face.
#[test]
fn planted_slips_are_seen() {
    let folder = Folder::with_demo().unwrap();
    let court = "\nstructure \"Court\" on block {\n  finish drystone\n  face north  rect 12ft x 8ft\n  \
                 face east   rect 14ft x 8ft\n  face south  rect 12m x 8ft\n  face west   rect 14ft x 8in\n  \
                 face gate   rect 11ft x 7ft 6in {\n    opening way  rect 11ft x 7ft 6in\n  }\n}\n";
    let plan = folder.read("job.parge").unwrap();
    folder.write("job.parge", plan + court).unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}

#[test]
fn a_job_without_a_date_is_told_when_prices_end() {
    let folder = Folder::with_demo().unwrap();
    folder.edit("job.parge", "  date 2026-05-11\n", "").unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
    // What `parge new` writes has neither dates nor a date.
    let _ = folder.parge("new wall");
    let said = folder.parge("check wall/job.parge");
    assert!(!said.err.contains("W0509"), "{said}");
}
