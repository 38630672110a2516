//! `parge rules test` and `parge rules doc`, and the example of a company pack.

use parge_cli::Exit;
use parge_tests::Folder;

/// The example, and the demo beside it.
fn example() -> Folder {
    Folder::with_example("heron-yard").unwrap()
}

/// The example with these tests in the place of its own.
fn with_tests(toml: &str) -> Folder {
    let folder = example();
    std::fs::remove_dir_all(folder.path("our-rules/tests")).unwrap();
    folder.write("our-rules/tests/a.toml", toml).unwrap();
    folder
}

#[test]
fn the_company_pack_of_the_examples_holds_what_its_tests_say() {
    let folder = example();
    let said = folder.parge("rules test our-rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said);
}

#[test]
fn the_demo_is_estimated_with_the_company_pack() {
    let folder = Folder::with_demo().unwrap();
    let pack = parge_tests::repository().join("examples/heron-yard/our-rules");
    folder.take(&pack, "our-rules/").unwrap();
    let said = folder.parge("rules diff vertical-concrete our-rules --plan job.parge");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(said.out.contains("Scaffold, face area"), "{said}");
}

const FAILS: &str = r#"[[case]]
name = "figures that are others"
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block { face front rect 10ft x 10ft drystone }
'''
cautions = ["silica", "hidden-services"]
no_cautions = ["old-coatings"]
[case.needs]
finish-mix = "13.89 bag"
metal-lath = "1.0 sheet"
release = "1.51 L"
[case.waste]
finish-mix = "1.04 bag"
[case.hours]
place = "9 h"

[[case]]
name = "right ones"
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block { face front rect 10ft x 10ft drystone }
'''
[case.needs]
finish-mix = "13 bag"

[[case]]
name = "another charge"
[case.bid]
total = "1000 USD"
[case.charges]
"Minimum charge" = "300.00 USD"
Travel = "1 USD"
"#;

#[test]
fn what_came_out_otherwise_stands_beside_what_is_wanted() {
    let said = with_tests(FAILS).parge("rules test our-rules");
    assert_eq!(said.exit, Exit::CheckFailed, "{said}");
    insta::assert_snapshot!(said);
}

const WRONG: &str = r#"[[case]]
name = "a plan with a fault"
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block {
  face front rect 10ft x 10fd drystone
}
'''
cautions = ["silica"]

[[case]]
name = "names that the pack does not have"
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block { face front rect 10ft x 10ft drystone }
'''
cautions = ["silika"]
[case.needs]
finsh-mix = "13.89 bag"
release = "3 ft2"
[case.hours]
plaice = "1 h"

[[case]]
name = "a bid with a fault"
[case.bid]
totl = "1000 USD"
hours = "10 ft"
[case.charges]
"Minimum charge" = "300.00 USD"

[[case]]
name = "a job and a file of its own"
plan = '''
include "finishes.parge"
job "Mine" { rules "vertical-concrete" }
'''
cautions = ["silica"]

[[case]]
name = "two currencies"
[case.bid]
total = "1000 USD"
[case.charges]
"Minimum charge" = "300.00 EUR"

[[case]]
name = "another currency than that of the table"
[case.bid]
total = "1000 EUR"
[case.charges]
"Minimum charge" = "300.00 EUR"

[[case]]
name = "right"
[case.bid]
total = "1900 USD"
[case.charges]
"Minimum charge" = "50.00 USD"
"#;

/// Places are lines of the file that holds the case, in its plan as well.
#[test]
fn faults_of_cases_are_told_at_their_place() {
    let said = with_tests(WRONG).parge("rules test our-rules");
    assert_eq!(said.exit, Exit::Problems, "{said}");
    insta::assert_snapshot!(said);
}

#[test]
fn a_rule_that_stops_fails_its_case() {
    let folder = example();
    folder
        .edit("our-rules/scripts/price.rhai", "\"minimum\"", "\"least\"")
        .unwrap();
    let said = folder.parge("rules test our-rules");
    assert_eq!(said.exit, Exit::Problems, "{said}");
    assert!(
        said.err.contains("our-rules/scripts/price.rhai:9:"),
        "{said}"
    );
    assert!(said.out.ends_with("6 cases, 3 failed\n"), "{said}");
}

/// What the packs of the program expect of themselves, by the command that a company runs.
#[test]
fn the_packs_of_the_program_hold_what_their_tests_say() {
    let folder = Folder::new().unwrap();
    for name in parge_standard_packs::names() {
        let said = folder.parge(&format!("rules test {name}"));
        assert_eq!(said.exit, Exit::Fine, "{name}\n{said}");
        assert!(said.out.starts_with("ok "), "{name}\n{said}");
    }
}

const PACKS: &str = r#"[[case]]
name = "a measuring pack of the program"
measure = "half-openings"
warns = []
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block { face front rect 10ft x 10ft drystone { opening door rect 3ft x 7ft } }
structure "Gate" on block { face front rect 5ft x 10ft drystone }
'''
[case.areas]
"Wall.front" = "89.5 ft2"
"Gate.front" = "50.0 ft2"

[[case]]
name = "a measuring pack by its path from the pack"
measure = "../all-in"
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block { face front rect 10ft x 10ft drystone { opening door rect 3ft x 7ft } }
'''
[case.areas]
front = "100.0 ft2"

[[case]]
name = "a coat that is too thin for mats"
warns = ["thinner than `stamp`"]
plan = '''
finish drystone { technique stamp  thickness 1/2in }
structure "Wall" on block { face front rect 10ft x 10ft drystone }
'''
[case.areas]
front = "99.0 ft2"

[[case]]
name = "warnings otherwise than wanted"
warns = ["thicker than"]
plan = '''
finish drystone { technique stamp  thickness 1/2in }
structure "Wall" on block { face front rect 10ft x 10ft drystone }
'''
"#;

const ALL_IN: &str = "fn opening(opening) {
    give(\"deducted\", opening.area * 0);
    give(\"reveal\", opening.reveal_area * 0);
}
";

#[test]
fn cases_name_a_measuring_pack_and_the_warnings_that_are_said() {
    let folder = with_tests(PACKS);
    folder
        .write(
            "all-in/pack.toml",
            "name = \"all-in\"\nversion = \"1.0.0\"\nsummary = \"nothing deducted\"\nrules = [\"opening\"]\n",
        )
        .unwrap();
    folder.write("all-in/scripts/a.rhai", ALL_IN).unwrap();
    let said = folder.parge("rules test our-rules");
    assert_eq!(said.exit, Exit::CheckFailed, "{said}");
    insta::assert_snapshot!(said);
}

const PACKS_WRONG: &str = r#"[[case]]
name = "rules beside rules"
rules = "vertical-concrete"
plan = '''
'''
warns = []

[[case]]
name = "a pack that does not measure"
measure = "portland-plaster"
plan = '''
'''
warns = []

[[case]]
name = "no such pack"
measure = "half-opening"
plan = '''
'''
warns = []

[[case]]
name = "no such face"
plan = '''
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block { face front rect 10ft x 10ft drystone }
structure "Gate" on block { face front rect 5ft x 10ft drystone }
'''
[case.areas]
frond = "1 ft2"
front = "1 ft2"
"Gate.front" = "1 ft"
"#;

#[test]
fn packs_and_faces_that_a_case_cannot_have_are_told() {
    let said = with_tests(PACKS_WRONG).parge("rules test our-rules");
    assert_eq!(said.exit, Exit::Problems, "{said}");
    let folder = Folder::new().unwrap();
    assert_eq!(folder.parge("rules export .").exit, Exit::Fine);
    folder
        .write(
            "half-openings/tests/openings.toml",
            "[[case]]\nname = \"no rules\"\nplan = ''\nwarns = []\n\n[[case]]\nname = \"measured twice\"\nrules = \"vertical-concrete\"\nmeasure = \"net\"\nplan = ''\nwarns = []\n",
        )
        .unwrap();
    let measuring = folder.parge("rules test ./half-openings");
    assert_eq!(measuring.exit, Exit::Problems, "{measuring}");
    insta::assert_snapshot!(format!("{said}\n\n{measuring}"));
}

#[test]
fn a_pack_without_tests_has_passed_nothing() {
    let folder = example();
    std::fs::remove_dir_all(folder.path("our-rules/tests")).unwrap();
    let mut told = Vec::new();
    for empty in [None, Some("# no case yet\n")] {
        if let Some(text) = empty {
            folder.write("our-rules/tests/a.toml", text).unwrap();
        }
        let said = folder.parge("rules test our-rules");
        assert_eq!(said.exit, Exit::Problems, "{said}");
        told.push(said.to_string());
    }
    assert_eq!(told[0], told[1]);
    insta::assert_snapshot!(told[0]);
}

#[test]
fn files_that_are_no_tests_are_refused() {
    let folder = example();
    let mut told = Vec::new();
    folder.write("our-rules/tests/notes.txt", "x").unwrap();
    told.push(folder.parge("rules test our-rules").to_string());
    // No estimate fails for a test.
    assert_eq!(folder.parge("check job.parge").exit, Exit::Fine);
    std::fs::remove_file(folder.path("our-rules/tests/notes.txt")).unwrap();
    folder.write("our-rules/tests/b.toml", "[[case]\n").unwrap();
    told.push(folder.parge("rules test our-rules").to_string());
    told.push(folder.parge("rules test nothing").to_string());
    insta::assert_snapshot!(told.join("\n\n"));
}

#[cfg(unix)]
#[test]
fn links_out_of_the_tests_are_refused() {
    let folder = example();
    std::fs::rename(folder.path("our-rules/tests"), folder.path("elsewhere")).unwrap();
    std::os::unix::fs::symlink(folder.path("elsewhere"), folder.path("our-rules/tests")).unwrap();
    let said = folder.parge("rules test our-rules");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert!(
        said.err.contains("our-rules/tests is no plain folder"),
        "{said}"
    );
}

/// The page without what the pack under it says: that is as long as its tables.
#[test]
fn a_page_of_the_company_pack() {
    let folder = example();
    let said = folder.parge("rules doc our-rules");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let parts = said.out.split("\n### ").enumerate();
    let own = parts.filter(|(at, part)| {
        *at == 0 || part.contains("heron-yard-rules") || part.starts_with("`is_sealed")
    });
    let own: Vec<String> = own
        .map(|(_, part)| {
            let lines = part.lines().filter(|line| {
                !line.starts_with("| ") || !line.contains("common practice | vertical-concrete:")
            });
            lines.collect::<Vec<_>>().join("\n")
        })
        .collect();
    insta::assert_snapshot!(own.join("\n### "));
    assert_eq!(folder.parge("rules doc our-rules").out, said.out);
}

#[test]
fn a_page_is_written_over_and_nothing_else_is() {
    let folder = example();
    for _ in 0..2 {
        let said = folder.parge("rules doc our-rules -o rules.md");
        assert_eq!(said.exit, Exit::Fine, "{said}");
        assert_eq!(said.out, "wrote rules.md\n");
    }
    let page = folder.read("rules.md").unwrap();
    let printed = folder.parge("rules doc our-rules").out;
    assert!(page.starts_with(&printed) && page.len() > printed.len());
    // A page of before that nobody worked in makes room for that of now.
    folder
        .edit("our-rules/tables/waste.csv", "stamp,8,", "stamp,9,")
        .unwrap();
    let said = folder.parge("rules doc our-rules -o rules.md");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert!(folder.read("rules.md").unwrap().contains("| 9 | % |"));
    let said = folder.parge("rules doc our-rules -o our-rules/README.md");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert!(
        folder
            .read("our-rules/README.md")
            .unwrap()
            .starts_with("# Heron")
    );
}

/// What somebody wrote into a page is not lost.
#[test]
fn a_page_that_somebody_worked_in_is_replaced_only_when_told_to() {
    let folder = example();
    let write = "rules doc our-rules -o rules.md";
    assert_eq!(folder.parge(write).exit, Exit::Fine);
    let page = folder.read("rules.md").unwrap();
    for edited in [
        page.replacen("## Rules", "## Rules, looked through in May", 1),
        format!("{page}\nLooked through in May.\n"),
        page.replace('\n', "\r\n"),
        page.lines().take(20).collect::<Vec<_>>().join("\n"),
    ] {
        assert_ne!(edited, page);
        folder.write("rules.md", &edited).unwrap();
        let said = folder.parge(write);
        assert_eq!(said.exit, Exit::Failed, "{said}");
        assert!(
            said.err.contains("E0603") && said.err.contains("--force"),
            "{said}"
        );
        assert_eq!(folder.read("rules.md").unwrap(), edited);
    }
    let said = folder.parge(&format!("{write} --force"));
    assert_eq!(said.exit, Exit::Fine, "{said}");
    assert_eq!(folder.read("rules.md").unwrap(), page);
    // What the page is made of is not written over, not even when told to.
    let before = folder.read("our-rules/tables/waste.csv").unwrap();
    let said = folder.parge("rules doc our-rules -o our-rules/tables/waste.csv --force");
    assert_eq!(said.exit, Exit::Failed, "{said}");
    assert_eq!(folder.read("our-rules/tables/waste.csv").unwrap(), before);
    // As it is already, it is fine.
    assert_eq!(folder.parge(write).exit, Exit::Fine);
}
