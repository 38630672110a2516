//! Many jobs in one run: a folder of plans, and one list of what they come to.

use calamine::{Data, Reader, Xlsx, open_workbook};
use parge_cli::Exit;
use parge_sheets::{JOBS_SCHEMA, is_untouched};
use parge_tests::{Folder, Said, repository};
use serde_json::Value;
use std::fs;

/// Jobs in two currencies, one that lacks a price, one with a fault, one that cannot be read, and
/// files that are no jobs.
fn portfolio() -> Folder {
    let folder = Folder::new().unwrap();
    for example in ["alder-marsh", "tern-quay"] {
        let from = repository().join("examples").join(example);
        folder.take(&from, &format!("jobs/{example}/")).unwrap();
    }
    for old in ["revision.parge", "client.csv", "price-list.csv"] {
        let _ = fs::remove_file(folder.path(&format!("jobs/alder-marsh/{old}")));
    }
    let plan = folder.read("jobs/alder-marsh/job.parge").unwrap();
    let prices = folder.read("jobs/alder-marsh/prices.csv").unwrap();
    let in_euros = plan.replace("USD", "EUR");
    folder.write("jobs/euro/job.parge", in_euros).unwrap();
    let euros = prices.replace("USD", "EUR");
    folder.write("jobs/euro/prices.csv", euros).unwrap();
    folder.write("jobs/north/open.parge", &plan).unwrap();
    let lines = prices.lines().filter(|line| !line.starts_with("sealer"));
    let open: String = lines.map(|line| format!("{line}\n")).collect();
    folder.write("jobs/north/prices.csv", open).unwrap();
    let bad = plan.replacen("finish drystone", "finish drystoe", 1);
    folder.write("jobs/north/bad.parge", bad).unwrap();
    folder
        .write("jobs/north/torn.parge", b"parge 1\n\xff")
        .unwrap();
    let lonely = "parge 1\n\nfinish lonely { technique stamp  thickness 1in }\n";
    folder.write("jobs/lonely.parge", lonely).unwrap();
    let lost = "parge 1\n\njbo \"Lost\" { rules \"vertical-concrete\" }\n";
    folder.write("jobs/lost.parge", lost).unwrap();
    folder.write("jobs/.old/job.parge", &plan).unwrap();
    folder.write("jobs/notes.txt", "no plan").unwrap();
    folder
}

fn json(said: &Said) -> Value {
    serde_json::from_str(&said.out).unwrap()
}

#[test]
fn every_job_of_a_folder_is_estimated() {
    let folder = portfolio();
    let said = folder.parge("estimate jobs -o jobs.xlsx --csv jobs.csv --json jobs.json");
    assert_eq!(said.exit, Exit::Problems, "{said}");
    insta::assert_snapshot!(said);
    insta::assert_snapshot!("many_csv", folder.read("jobs.csv").unwrap());
    assert_eq!(
        folder.names().unwrap(),
        ["jobs", "jobs.csv", "jobs.json", "jobs.xlsx"]
    );
    let bytes = fs::read(folder.path("jobs.xlsx")).unwrap();
    assert!(is_untouched(&bytes));
    // What was written is the program's own, and is written anew.
    let again = folder.parge("estimate jobs -o jobs.xlsx --csv jobs.csv --json jobs.json");
    assert_eq!(again.to_string(), said.to_string());
    assert!(fs::read(folder.path("jobs.xlsx")).unwrap() == bytes);
}

/// The list says of each job what its own estimate says.
#[test]
fn a_row_is_what_the_job_alone_comes_to() {
    let folder = portfolio();
    let jobs = json(&folder.parge("estimate jobs --json -"));
    let schema: Value = serde_json::from_str(JOBS_SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let errors: Vec<String> = validator
        .iter_errors(&jobs)
        .map(|e| e.to_string())
        .collect();
    assert_eq!(errors, [""; 0]);
    let mut seen = 0;
    for row in jobs["jobs"].as_array().unwrap() {
        let plan = row["plan"].as_str().unwrap();
        let alone = folder.parge(&format!("estimate jobs/{plan} --json -"));
        if row["status"] == "failed" {
            assert!(
                alone.out.is_empty() && alone.exit != Exit::Fine,
                "{plan}: {alone}"
            );
            let code = row["first_error"]["code"].as_str().unwrap();
            assert!(alone.err.contains(code), "{plan}: {alone}");
            continue;
        }
        let alone = json(&alone);
        assert_eq!(row["total"], alone["price"]["total"], "{plan}");
        assert_eq!(row["materials"], alone["price"]["materials"], "{plan}");
        assert_eq!(row["labour"], alone["price"]["labour"], "{plan}");
        assert_eq!(row["currency"], alone["currency"], "{plan}");
        assert_eq!(row["status"], alone["status"], "{plan}");
        assert_eq!(row["client"], alone["job"]["client"], "{plan}");
        let faces = alone["faces"].as_array().unwrap();
        let count: u64 = faces
            .iter()
            .map(|face| face["count"].as_u64().unwrap())
            .sum();
        assert_eq!(row["faces"], count, "{plan}");
        let area = faces
            .iter()
            .map(|face| face["net_area"]["value"].as_f64().unwrap());
        let difference = row["net_area"]["value"].as_f64().unwrap() - area.sum::<f64>();
        assert!(difference.abs() < 1e-6, "{plan}");
        seen += 1;
    }
    assert_eq!(seen, 4);
}

/// A currency has a total of its own, in the JSON as in the workbook.
#[test]
fn currencies_are_never_added() {
    let folder = portfolio();
    let jobs = json(&folder.parge("estimate jobs -o jobs.xlsx --json -"));
    let cents = |value: &Value| -> i64 {
        let text = value.as_str().unwrap();
        text.replace('.', "").parse().unwrap()
    };
    let mut book: Xlsx<_> = open_workbook(folder.path("jobs.xlsx")).unwrap();
    let sheet = book.worksheet_range("Totals").unwrap();
    let totals = jobs["totals"].as_array().unwrap();
    assert_eq!(totals.len(), 2);
    for total in totals {
        let rows = jobs["jobs"].as_array().unwrap().iter();
        let of_it = rows.filter(|row| row["currency"] == total["currency"]);
        let sum: i64 = of_it.map(|row| cents(&row["total"])).sum();
        assert_eq!(cents(&total["total"]), sum, "{total}");
        let code = total["currency"].as_str().unwrap();
        let mut lines = sheet.rows();
        let line = lines.find(|line| line[0] == Data::String(code.to_owned()));
        let Some(Data::Float(shown)) = line.and_then(<[Data]>::last) else {
            panic!("no total in {code}");
        };
        assert_eq!((shown * 100.0).round() as i64, sum, "{code}");
    }
}

#[test]
fn the_workbook_of_each_job_is_written_by_its_path() {
    let folder = portfolio();
    let said = folder.parge("estimate jobs --workbooks out");
    assert!(said.out.contains("FAILED"), "{said}");
    let there = |name: &str| folder.path(name).is_file();
    for plan in ["alder-marsh/job", "tern-quay/job", "euro/job", "north/open"] {
        let bytes = fs::read(folder.path(&format!("out/{plan}.xlsx"))).unwrap();
        assert!(is_untouched(&bytes), "{plan}");
    }
    assert!(!there("out/north/bad.xlsx") && !there("out/lonely.xlsx"));
    // Beside the plans, where an edited one is kept, and only its own job says so.
    folder.write("jobs/euro/job.xlsx", "ours").unwrap();
    let said = folder.parge("estimate jobs --workbooks jobs");
    assert_eq!(said.exit, Exit::Failed);
    assert!(said.out.contains("E0603"), "{said}");
    assert_eq!(folder.read("jobs/euro/job.xlsx").unwrap(), "ours");
    assert!(there("jobs/tern-quay/job.xlsx"));
    let alone = folder.parge("estimate jobs/euro/job.parge --workbooks out");
    assert_eq!(alone.exit, Exit::Usage, "{alone}");
}

/// What cannot be meant is refused before any job is looked at.
#[test]
fn targets_that_cannot_be_meant_are_refused() {
    let folder = portfolio();
    let plan = folder.read("jobs/lonely.parge").unwrap();
    let prices = folder.read("jobs/euro/prices.csv").unwrap();
    for options in [
        "-o jobs.pdf",
        "-o out/euro/job.xlsx --workbooks out",
        "--csv jobs/euro/prices.csv --force",
        "--json jobs/lonely.parge --force",
        "-o nowhere/jobs.xlsx",
    ] {
        let said = folder.parge(&format!("estimate jobs {options}"));
        assert_eq!(said.exit, Exit::Failed, "{options}: {said}");
        assert!(said.err.contains("E0602"), "{options}: {said}");
    }
    assert_eq!(folder.read("jobs/lonely.parge").unwrap(), plan);
    assert_eq!(folder.read("jobs/euro/prices.csv").unwrap(), prices);
    assert_eq!(folder.names().unwrap(), ["jobs"]);
}

#[test]
fn a_folder_without_jobs_is_said() {
    let folder = Folder::new().unwrap();
    folder.write("empty/notes.txt", "").unwrap();
    let said = folder.parge("estimate empty -o jobs.xlsx");
    assert_eq!(said.exit, Exit::Failed);
    insta::assert_snapshot!(said);
    assert_eq!(folder.names().unwrap(), ["empty"]);
}

/// A folder of sound jobs is fine, and a link that leads back is not followed.
#[test]
fn a_folder_of_sound_jobs_is_fine() {
    let folder = Folder::new().unwrap();
    let from = repository().join("examples/tern-quay");
    folder.take(&from, "jobs/quay/").unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink("..", folder.path("jobs/quay/back")).unwrap();
    let said = folder.parge("estimate jobs");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}

/// The bar is drawn for whoever watches, and is gone at the end.
#[test]
fn progress_is_drawn_only_where_somebody_watches() {
    let folder = portfolio();
    let said = folder.parge_watched(&["estimate", "jobs"]);
    assert!(said.err.contains(" of 9 plans"), "{said}");
    let unseen = folder.parge("estimate jobs");
    assert!(!unseen.err.contains(" plans"), "{unseen}");
    assert_eq!(said.out, unseen.out);
    let (bar, rest) = said.err.rsplit_once("\r\u{1b}[2K").unwrap();
    assert!(bar.contains('['), "{bar}");
    assert_eq!(rest, unseen.err);
}
