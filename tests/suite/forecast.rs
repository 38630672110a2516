//! The weather of days comes from the file that a plan names, on the disk and in a revision.

use parge_cli::Exit;
use parge_tests::Folder;

const DAYS: &str = "date,air (F),humidity (%),wind,mix\n2026-06-03,97,18,18mph,88F\n";

/// The demo with work that begins on a day, and the weather of days.
fn folder(days: &str) -> Folder {
    let folder = Folder::with_demo().unwrap();
    let plan = folder.read("job.parge").unwrap();
    let at = plan.find("  rules ").unwrap();
    let (before, behind) = plan.split_at(at);
    let own = "  forecast \"weather.csv\"\n  weather 2026-06-04 { wind 20mph }\n";
    folder
        .write("job.parge", format!("{before}{own}{behind}"))
        .unwrap();
    folder.write("weather.csv", days).unwrap();
    folder
}

#[test]
fn a_plan_with_days_of_work_and_a_forecast_is_right() {
    let said = folder(DAYS).parge("check job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert_eq!(said.err, "", "{said}");
}

#[test]
fn a_forecast_in_doubt_is_told_at_its_row() {
    let said = folder(&DAYS.replace("18mph", "18")).parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(
        said.err.contains("error[E0607]") && said.err.contains("weather.csv:2"),
        "{said}"
    );
}

#[test]
fn an_impossible_reading_is_told_at_its_row() {
    let said = folder(&DAYS.replace(",18,", ",180,")).parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    assert!(
        said.err.contains("error[E0210]") && said.err.contains("weather.csv:2"),
        "{said}"
    );
}

#[test]
fn a_forecast_that_is_not_there_is_told_at_the_plan() {
    let folder = folder(DAYS);
    std::fs::remove_file(folder.path("weather.csv")).unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Failed);
    assert!(
        said.err.contains("error[E0601]") && said.err.contains("job.parge:"),
        "{said}"
    );
}
