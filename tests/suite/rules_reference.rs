//! The reference of the rules holds: its commands run, and what it puts into a pack is right.
//!
//! It is one story of one pack: the blocks are taken in their order. One behind whose language a
//! file is named is that file; commands run where they stand.

use parge_calc::contract::HOOKS;
use parge_cli::Exit;
use parge_tests::{Folder, repository};
use serde_json::Value;

const REFERENCE: &str = include_str!("../../rules/REFERENCE.md");

/// What follows the marks of a block, and its text.
fn blocks() -> Vec<(&'static str, String)> {
    let mut blocks: Vec<(&str, String)> = Vec::new();
    let mut inside = false;
    for line in REFERENCE.lines() {
        match line.strip_prefix("```") {
            Some(info) => {
                inside = !inside;
                if inside {
                    blocks.push((info, String::new()));
                }
            }
            None if inside => {
                let (_, text) = blocks.last_mut().unwrap();
                *text += &format!("{line}\n");
            }
            None => {}
        }
    }
    blocks
}

fn runs(folder: &Folder, command: &str) -> String {
    let arguments = command.strip_prefix("parge ").unwrap();
    let said = folder.parge(arguments);
    assert_eq!(said.exit, Exit::Fine, "{command}\n{said}");
    said.out
}

#[test]
fn its_story_runs_from_the_first_number_to_the_last_rule() {
    let folder = Folder::new().unwrap();
    folder
        .take(&repository().join("examples"), "examples/")
        .unwrap();
    let (mut files, mut commands) = (0, 0);
    for (info, text) in blocks() {
        match info.split_once(' ') {
            None => {
                assert_eq!(info, "sh", "a block is a command or names its file");
                for command in text.lines() {
                    runs(&folder, command);
                    commands += 1;
                }
            }
            Some((language, file)) => {
                assert!(file.ends_with(&format!(".{language}")), "{info}");
                folder.write(file, text).unwrap();
                files += 1;
            }
        }
    }
    assert!(files >= 15 && commands >= 12, "{files} {commands}");
    let said = runs(&folder, "parge rules test yard-rules");
    assert!(said.ends_with("2 cases, 0 failed\n"), "{said}");
    measures_as_told(&folder);
    // All that was told is in force at the end, and what it changes is seen.
    assert!(runs(&folder, "parge rules test our-rules").ends_with("5 cases, 0 failed\n"));
    let said = changed(&folder);
    for changed in [
        "waste: finish-mix, stamp",
        "mixes: finish-mix, yield",
        "labour: place, surface",
        "conditions: high, above",
        "site: access, tight, labour",
        "conditions: curve, trowel_labour taken_away",
        "techniques: comb, description",
        "charges: minimum",
        "price(bid)",
        "scaffold_face(face)",
    ] {
        let is_told = |line: &String| line.starts_with(changed);
        assert!(said.iter().any(is_told), "{changed}: {said:?}");
    }
}

/// What the pack of the story has otherwise than its base: rows with what happened to them, then
/// functions.
fn changed(folder: &Folder) -> Vec<String> {
    let json = runs(
        folder,
        "parge rules diff vertical-concrete our-rules --json -",
    );
    let json: Value = serde_json::from_str(&json).unwrap();
    let words = |list: &Value| {
        let words = list.as_array().unwrap().iter();
        let words: Vec<&str> = words.map(|word| word.as_str().unwrap()).collect();
        words.join(", ")
    };
    let word = |value: &Value| value.as_str().unwrap().to_owned();
    let rows = json["rows"].as_array().unwrap().iter().map(|row| {
        let keys = words(&row["keys"]);
        format!("{}: {keys} {}", word(&row["table"]), word(&row["kind"]))
    });
    let functions = json["functions"].as_array().unwrap().iter();
    let functions =
        functions.map(|one| format!("{}({})", word(&one["name"]), words(&one["parameters"])));
    rows.chain(functions).collect()
}

/// A door of 21 ft2 is deducted and a vent of 2 ft2 is not; a return of 6 in counts as a foot wide:
/// 200 - 21 + 8 ft2, of which the rules of the yard take 2 layers of cover.
fn measures_as_told(folder: &Folder) {
    let plan = r#"parge 1
job "Yard" {
  units us
  measure "./yard-measuring"
  rules "./yard-rules"
}
finish drystone { technique stamp  thickness 3/4in }
structure "Wall" on block {
  face front rect 25ft x 8ft drystone {
    opening door rect 3ft x 7ft
    opening vent rect 2ft x 1ft
  }
  face return rect 6in x 8ft drystone
}
"#;
    folder.write("yard.parge", plan).unwrap();
    let said = runs(folder, "parge takeoff yard.parge");
    let cover = said.lines().find(|line| line.contains("Curing cover"));
    assert!(cover.is_some_and(|line| line.contains("374.0")), "{said}");
}

/// A hook that is added is told here too, with an example in one of the two packs that the story
/// checks and tests.
#[test]
fn it_names_every_hook_with_what_it_is_given() {
    for hook in HOOKS {
        let words = format!("| `{}` |", hook.head());
        assert!(REFERENCE.contains(&words), "{words}");
        let head = format!("fn {} {{", hook.head());
        let is_example =
            |(info, text): &(&str, String)| info.starts_with("rhai yard-") && text.contains(&head);
        assert!(blocks().iter().any(is_example), "{head}");
    }
}
