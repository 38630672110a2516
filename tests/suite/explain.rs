//! How figures of the demo came about, as text, JSON and a page.

use parge_cli::Exit;
use parge_tests::{Folder, Said};
use serde_json::Value;

fn demo() -> Folder {
    Folder::with_demo().unwrap()
}

fn explained(figure: &str) -> Said {
    let said = demo().parge_with(&["explain", "job.parge", figure]);
    assert_eq!(said.exit, Exit::Fine, "{said}");
    said
}

#[test]
fn a_face_with_openings_and_reveals() {
    insta::assert_snapshot!(explained("\"Entry planter\".court.area"));
}

#[test]
fn a_material() {
    insta::assert_snapshot!(explained("finish-mix"));
}

#[test]
fn the_hours_of_a_phase() {
    insta::assert_snapshot!(explained("hours.place"));
}

#[test]
fn the_total() {
    insta::assert_snapshot!(explained("total"));
}

#[test]
fn depth_and_all_show_less_and_more() {
    let folder = demo();
    let shallow = folder.parge("explain job.parge finish-mix --depth 2");
    insta::assert_snapshot!(shallow);
    let usual = folder.parge("explain job.parge finish-mix");
    let all = folder.parge("explain job.parge finish-mix --all");
    assert!(usual.out.contains("--all shows them") && !all.out.contains("--all shows them"));
    assert!(all.out.lines().count() > usual.out.lines().count());
}

#[test]
fn figures_are_listed_and_unknown_ones_are_wrong_use() {
    let folder = demo();
    let listed = folder.parge("explain job.parge");
    assert_eq!(listed.exit, Exit::Fine);
    let misspelt = folder.parge("explain job.parge finsh-mix");
    assert_eq!((misspelt.exit, misspelt.out.as_str()), (Exit::Usage, ""));
    let other = folder.parge("explain job.parge nothing.like.that");
    assert_eq!(other.exit, Exit::Usage);
    let texts = [listed, misspelt, other].map(|said| said.to_string());
    insta::assert_snapshot!(texts.join("\n\n"));
}

#[test]
fn a_plan_with_errors_is_not_explained() {
    let folder = demo();
    folder
        .edit("job.parge", "stump cylinder", "stump cylindre")
        .unwrap();
    let said = folder.parge("explain job.parge total");
    assert_eq!((said.exit, said.out.as_str()), (Exit::Problems, ""));
    assert!(said.err.contains("cylindre"), "{said}");
}

#[test]
fn what_has_no_price_says_so() {
    let folder = demo();
    folder
        .edit("prices.csv", "sheet,12.60,USD", "sheet,,USD")
        .unwrap();
    let need = folder.parge("explain job.parge metal-lath.need");
    assert_eq!(need.exit, Exit::Problems, "the estimate is incomplete");
    assert!(need.out.contains("need: "), "{need}");
    let cost = folder.parge("explain job.parge metal-lath");
    assert_eq!((cost.exit, cost.out.as_str()), (Exit::Problems, ""));
    assert!(cost.err.contains("metal-lath` has no price"), "{cost}");
    let total = folder.parge("explain job.parge total --depth 0");
    assert!(total.out.contains("INCOMPLETE"), "{total}");
}

#[test]
fn markup_in_a_name_stays_text() {
    let folder = demo();
    folder
        .edit(
            "job.parge",
            "structure \"Grotto\"",
            "structure \"<script>Grotto</script>\"",
        )
        .unwrap();
    let said = folder.parge("explain job.parge finish-mix --format html -o mix.html");
    assert_eq!((said.exit, said.out.as_str()), (Exit::Fine, ""), "{said}");
    let page = folder.read("mix.html").unwrap();
    assert!(page.contains("&lt;script&gt;Grotto") && !page.contains("<script"));
}

#[test]
fn the_json_keeps_its_schema() {
    let folder = demo();
    let schema: Value = serde_json::from_str(parge_sheets::EXPLANATION_SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    for figure in [
        "total",
        "court.area",
        "finish-mix",
        "hours.place",
        "planter_h",
    ] {
        let said = folder.parge(&format!("explain job.parge {figure} --format json"));
        let value: Value = serde_json::from_str(&said.out).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&value)
            .map(|e| e.to_string())
            .collect();
        assert!(faults.is_empty(), "{figure}: {}", faults.join("\n"));
    }
}

/// The program replaces its own files, never those it reads or somebody worked in.
#[test]
fn files_are_replaced_only_when_they_are_its_own() {
    let folder = demo();
    let run = |rest: &str| {
        folder
            .parge(&format!("explain job.parge place {rest}"))
            .exit
    };
    for file in ["-o p.json --format json", "-o p.html --format html"] {
        assert_eq!((run(file), run(file)), (Exit::Fine, Exit::Fine), "{file}");
    }
    assert_eq!(run("-o place.txt"), Exit::Fine);
    assert_eq!(run("-o place.txt"), Exit::Failed);
    assert_eq!(run("-o place.txt --force"), Exit::Fine);
    assert_ne!(run("-o job.parge --force"), Exit::Fine);
    assert_ne!(run("-o prices.csv --force"), Exit::Fine);
    folder.edit("p.html", "place", "Place").unwrap();
    assert_eq!(run("-o p.html --format html"), Exit::Failed);
}

/// A number that a measuring script writes is the script's, not the plan's.
#[test]
fn numbers_of_measuring_scripts_show_their_script() {
    let folder = demo();
    folder
        .write(
            "most/pack.toml",
            "name = \"most\"\nversion = \"1.0.0\"\nsummary = \"at most 9 ft2 of an opening\"\nrules = [\"opening\"]\n",
        )
        .unwrap();
    folder
        .write(
            "most/scripts/measuring.rhai",
            "fn opening(opening) {\n    give(\"deducted\", min(opening.area, quantity(9, \"ft2\")));\n    \
             give(\"reveal\", opening.reveal_area);\n}\n",
        )
        .unwrap();
    let job = "parge 1\njob \"Wall\" {\n  rules \"vertical-concrete\"\n  measure \"./most\"\n  \
               prices \"prices.csv\"\n  date 2026-05-11\n  \
               bid { burden 0%  overhead 0%  profit markup 0%  tax 0% on materials }\n}\n\
               finish plain { technique stamp  thickness 1in }\n\
               structure \"Wall\" on block {\n  \
               face front rect 10ft x 10ft plain { opening door rect 3ft x 7ft }\n}\n";
    folder.write("job.parge", job).unwrap();
    let said = folder.parge("explain job.parge front.deducted_area --format json");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!(said.out);
}
