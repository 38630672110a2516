//! What changed between two plans: on files, and across revisions of a repository.

use calamine::{Reader, Xlsx, open_workbook};
use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;
use std::process::Command;

/// The demo, and a copy of its plan with a wider face, another count, and another colour.
fn with_revision() -> Folder {
    let folder = Folder::with_demo().unwrap();
    std::fs::copy(folder.path("job.parge"), folder.path("new.parge")).unwrap();
    folder
        .edit(
            "new.parge",
            "face back rect 14ft",
            "face back rect 15ft 6in",
        )
        .unwrap();
    folder
        .edit("new.parge", "trunk_h count 2", "trunk_h count 3")
        .unwrap();
    folder
        .edit(
            "new.parge",
            "granite 60%, moss 40%",
            "granite 50%, moss 50%",
        )
        .unwrap();
    folder
}

fn git(folder: &Folder, arguments: &[&str]) {
    let identity = [
        "-c",
        "user.name=Estimator",
        "-c",
        "user.email=e@example.com",
    ];
    let mut command = Command::new("git");
    let command = command.current_dir(folder.path(".")).args(identity);
    assert!(command.args(arguments).status().unwrap().success());
}

#[test]
fn sizes_quantities_and_money_before_and_after() {
    insta::assert_snapshot!(with_revision().parge("diff job.parge new.parge"));
}

/// Meaning is compared, not text: another layout, another way to write a length.
#[test]
fn a_plan_laid_out_anew_has_no_difference() {
    let folder = with_revision();
    std::fs::copy(folder.path("job.parge"), folder.path("new.parge")).unwrap();
    folder.edit("new.parge", "2ft 8in", "32in").unwrap();
    folder
        .edit("new.parge", "face back rect", "face back rect")
        .unwrap();
    let said = folder.parge("fmt new.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let said = folder.parge("diff job.parge new.parge");
    assert_eq!(said.exit, Exit::Fine);
    assert!(said.out.ends_with("no difference\n"), "{said}");
}

#[test]
fn the_json_keeps_its_schema() {
    let said = with_revision().parge("diff job.parge new.parge --json -");
    let json: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(json["different"], true);
    let schema: Value = serde_json::from_str(parge_sheets::CHANGE_SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> = validator
        .iter_errors(&json)
        .map(|error| error.to_string())
        .collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The change order shows the totals that the two estimates have.
#[test]
fn the_change_order_holds_the_totals() {
    let folder = with_revision();
    let said = folder.parge("diff job.parge new.parge -o order.xlsx --json order.json");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let json: Value = serde_json::from_str(&folder.read("order.json").unwrap()).unwrap();
    let mut book: Xlsx<_> = open_workbook(folder.path("order.xlsx")).unwrap();
    let cells = book.worksheet_range("Change order").unwrap();
    let texts: Vec<String> = cells
        .used_cells()
        .map(|(_, _, cell)| cell.to_string())
        .collect();
    for side in ["old", "new"] {
        let total: f64 = json["total"][side].as_str().unwrap().parse().unwrap();
        assert!(texts.contains(&total.to_string()), "{total} in {texts:?}");
    }
}

/// The old plan comes out of the repository with the price book of its time.
#[test]
fn a_revision_is_compared_with_the_plan_on_the_disk() {
    let folder = Folder::with_demo().unwrap();
    git(&folder, &["init", "-q", "."]);
    git(&folder, &["add", "job.parge", "prices.csv"]);
    git(&folder, &["commit", "-qm", "first bid"]);
    folder
        .edit("prices.csv", "bag,bag,24.80", "bag,bag,26.00")
        .unwrap();
    folder
        .edit("job.parge", "profit margin 18%", "profit margin 20%")
        .unwrap();
    let said = folder.parge("diff HEAD:job.parge job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);

    for (word, why) in [
        ("nowhere:job.parge", "no revision"),
        ("HEAD:other.parge", "is not in revision"),
    ] {
        let said = folder.parge(&format!("diff {word} job.parge"));
        assert_eq!(said.exit, Exit::Failed, "{said}");
        assert!(said.err.contains(why), "{said}");
    }
}
