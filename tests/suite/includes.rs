//! Plans in several files: what they include, and what they may not.

use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;

const PLAN: &str = r#"parge 1
job "Bays" {
  rules "vertical-concrete"
  prices "prices.csv"
  bid { burden 30%  overhead 10%  profit markup 20%  tax 0% on materials }
}
include "company/templates.parge"
include "company/finishes.parge"
structure "North" from bay(12ft, 8ft)
structure "South" from bay(10ft, 8ft) { face step rect 4ft x 1ft 6in ashlar }
"#;

const TEMPLATES: &str = r#"parge 1
include "finishes.parge"
template bay(width, high) on block {
  finish ashlar
  face front rect width x high { opening door rect 3ft x 7ft }
}
"#;

const FINISHES: &str = r#"parge 1
finish ashlar { technique stamp  thickness 1in }
exclude "Work behind the wall"
"#;

fn folder() -> Folder {
    let folder = Folder::with_demo().unwrap();
    std::fs::create_dir_all(folder.path("company")).unwrap();
    folder.write("bays.parge", PLAN).unwrap();
    folder.write("company/templates.parge", TEMPLATES).unwrap();
    folder.write("company/finishes.parge", FINISHES).unwrap();
    folder
}

/// 12 x 8 and 10 x 8 less a door of 3 x 7 each, and a step of 4 x 1.5: 75 + 59 + 6 = 140 ft2. The
/// finishes are included twice and count once.
#[test]
fn templates_and_finishes_may_stand_in_files_of_their_own() {
    let folder = folder();
    let said = folder.parge("estimate bays.parge --json -");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let json: Value = serde_json::from_str(&said.out).unwrap();
    let areas = json["faces"].as_array().unwrap().iter();
    let areas: f64 = areas
        .map(|face| face["net_area"]["value"].as_f64().unwrap())
        .sum();
    assert!((areas - 140.0).abs() < 1e-6, "{areas}");
    assert_eq!(
        json["content"]["exclusions"],
        serde_json::json!(["Work behind the wall"])
    );
}

/// What an included file says wrong is shown in that file.
#[test]
fn mistakes_are_shown_where_they_stand() {
    let folder = folder();
    folder
        .edit("company/finishes.parge", "stamp", "stmap")
        .unwrap();
    folder
        .edit("company/templates.parge", "width x high", "widht x high")
        .unwrap();
    folder
        .edit(
            "company/templates.parge",
            "parge 1",
            "parge 1\njob \"Other\" { crew 2 }",
        )
        .unwrap();
    insta::assert_snapshot!(folder.parge("check bays.parge"));
}

#[test]
fn a_plan_reads_nothing_outside_its_folder() {
    let folder = folder();
    for path in [
        "../bays.parge",
        "/etc/hosts",
        "company/../../x.parge",
        "company\\\\x.parge",
        ".",
    ] {
        folder
            .write("bays.parge", PLAN.replace("company/templates.parge", path))
            .unwrap();
        let said = folder.parge("check bays.parge --format concise");
        assert_eq!(said.exit, Exit::Problems, "{path}: {said}");
        let told = said
            .out
            .lines()
            .filter(|line| line.contains("error"))
            .count();
        assert!(said.out.contains("E0604"), "{path}: {said}");
        // The template that is not there is told once, by the include that failed.
        assert_eq!(told, 1, "{path}: {said}");
    }
    folder
        .write("bays.parge", PLAN.replace("templates", "gone"))
        .unwrap();
    insta::assert_snapshot!(folder.parge("check bays.parge"));
}

#[cfg(unix)]
#[test]
fn no_link_leads_out_of_the_folder() {
    let folder = folder();
    let outside = Folder::with_demo().unwrap();
    outside.write("secret.parge", FINISHES).unwrap();
    std::fs::remove_file(folder.path("company/finishes.parge")).unwrap();
    std::os::unix::fs::symlink(
        outside.path("secret.parge"),
        folder.path("company/finishes.parge"),
    )
    .unwrap();
    let said = folder.parge("check bays.parge --format concise");
    assert!(said.out.contains("E0604"), "{said}");
    std::fs::create_dir(folder.path("inner")).unwrap();
    std::fs::remove_file(folder.path("company/finishes.parge")).unwrap();
    folder.write("inner/finishes.parge", FINISHES).unwrap();
    std::os::unix::fs::symlink(
        folder.path("inner/finishes.parge"),
        folder.path("company/finishes.parge"),
    )
    .unwrap();
    let said = folder.parge("check bays.parge --format concise");
    assert_eq!(
        said.exit,
        Exit::Fine,
        "a link within the folder is fine: {said}"
    );
}

#[test]
fn a_circle_of_files_is_shown_whole() {
    let folder = folder();
    folder
        .write(
            "company/finishes.parge",
            format!("{FINISHES}include \"templates.parge\"\n"),
        )
        .unwrap();
    insta::assert_snapshot!(folder.parge("check bays.parge"));
}

/// An estimate may replace no file that it was made from.
#[test]
fn an_output_never_replaces_an_included_file() {
    let folder = folder();
    let said = folder.parge("estimate bays.parge --json company/finishes.parge --force");
    assert_ne!(said.exit, Exit::Fine, "{said}");
    assert_eq!(folder.read("company/finishes.parge").unwrap(), FINISHES);
}
