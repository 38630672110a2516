//! What is written is whole or absent, and nobody's work is written over.

use parge_cli::Exit;
use parge_tests::Folder;

#[test]
fn an_output_of_the_program_is_written_anew() {
    let folder = Folder::with_demo().unwrap();
    for _ in 0..2 {
        let said = folder.parge("estimate job.parge -o out.xlsx --json out.json");
        assert_eq!(said.exit, Exit::Fine, "{said}");
    }
    assert_eq!(
        folder.names().unwrap(),
        ["job.parge", "out.json", "out.xlsx", "prices.csv"]
    );
}

#[test]
fn a_workbook_that_was_worked_in_is_replaced_only_when_told_to() {
    let folder = Folder::with_demo().unwrap();
    let mut edited = rust_xlsxwriter::Workbook::new();
    edited.add_worksheet();
    edited.save(folder.path("out.xlsx")).unwrap();
    let before = std::fs::read(folder.path("out.xlsx")).unwrap();
    let said = folder.parge("estimate job.parge -o out.xlsx");
    assert_eq!(said.exit, Exit::Failed);
    insta::assert_snapshot!(said.err);
    assert!(std::fs::read(folder.path("out.xlsx")).unwrap() == before);
    let said = folder.parge("estimate job.parge -o out.xlsx --force");
    assert_eq!(said.exit, Exit::Fine, "{said}");
}

/// A slip of the fingers must not cost the plan or the price book.
#[test]
fn plan_and_prices_are_never_an_output() {
    let folder = Folder::with_demo().unwrap();
    let prices = folder.read("prices.csv").unwrap();
    let said = folder.parge("estimate job.parge --json prices.csv");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert_eq!(folder.read("prices.csv").unwrap(), prices);
}

#[test]
fn with_one_output_refused_none_is_written() {
    let folder = Folder::with_demo().unwrap();
    folder.write("out.json", "{}").unwrap();
    let said = folder.parge("estimate job.parge -o out.xlsx --json out.json");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert_eq!(
        folder.names().unwrap(),
        ["job.parge", "out.json", "prices.csv"]
    );
}

#[test]
fn a_folder_that_is_not_there_is_said() {
    let folder = Folder::with_demo().unwrap();
    let said = folder.parge("estimate job.parge -o nowhere/out.xlsx");
    assert_eq!(said.exit, Exit::Failed);
    assert!(said.err.contains("E0602"), "{said}");
    assert_eq!(folder.names().unwrap(), ["job.parge", "prices.csv"]);
}

/// Forced or not: what the estimate is read from is no target, and one file is not two outputs.
#[test]
fn targets_that_cannot_be_meant_are_refused() {
    let folder = Folder::with_demo().unwrap();
    let before = (
        folder.read("job.parge").unwrap(),
        folder.read("prices.csv").unwrap(),
    );
    std::fs::copy(folder.path("job.parge"), folder.path("job.xlsx")).unwrap();
    for command in [
        "estimate job.xlsx -o job.xlsx --force",
        "estimate job.parge --json prices.csv --force",
        "estimate job.parge --json ./job.parge --force",
        "estimate job.parge -o out.xlsx --json out.xlsx",
        "estimate job.parge -o out.pdf",
    ] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Failed, "{command}: {said}");
        assert!(said.err.contains("E0602"), "{command}: {said}");
    }
    assert_eq!(
        (
            folder.read("job.parge").unwrap(),
            folder.read("prices.csv").unwrap()
        ),
        before
    );
    assert_eq!(
        folder.names().unwrap(),
        ["job.parge", "job.xlsx", "prices.csv"]
    );
}
