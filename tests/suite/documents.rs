//! Every command in the documents runs, and every plan in them is read without a fault.

use parge_cli::Exit;
use parge_tests::{Folder, repository};
use std::fs;

pub(super) const DOCUMENTS: [&str; 6] = [
    "README.md",
    "DEVELOPERS.md",
    "grammar/REFERENCE.md",
    "rules/packs/vertical-concrete/README.md",
    "rules/packs/portland-plaster/README.md",
    "rules/REFERENCE.md",
];

/// Commands of other programs, as the documents write them. Those of cargo are run by whoever
/// runs this test, or by continuous integration.
const OTHERS: [&str; 10] = [
    "git clone",
    "cargo test --workspace",
    "cargo test -p",
    "cargo build --release",
    "cargo install --path engine/cli",
    "cargo fmt",
    "cargo clippy",
    "bash .ci/run",
    "cargo install cargo-fuzz",
    "cargo +nightly fuzz",
];

/// The texts of fenced blocks of a language.
pub(super) fn blocks(document: &str, language: &str) -> Vec<String> {
    let text = fs::read_to_string(repository().join(document)).unwrap();
    let mut blocks = Vec::new();
    let mut open: Option<String> = None;
    for line in text.lines() {
        match &mut open {
            Some(block) if line.trim_start() == "```" => {
                blocks.push(std::mem::take(block));
                open = None;
            }
            Some(block) => *block += &format!("{line}\n"),
            None if line.trim_start() == format!("```{language}") => open = Some(String::new()),
            None => {}
        }
    }
    blocks
}

/// A folder that looks like a fresh clone to the commands: the examples are there.
fn clone() -> Folder {
    let folder = Folder::new().unwrap();
    folder
        .take(&repository().join("examples"), "examples/")
        .unwrap();
    folder
}

#[test]
fn every_command_runs() {
    let mut count = 0;
    // The commands of the reference of the rules work on files that it writes itself:
    // `rules_reference.rs` runs them in its order.
    let other = |document: &&str| *document != "rules/REFERENCE.md";
    for document in DOCUMENTS.into_iter().filter(other) {
        let folder = clone();
        for line in blocks(document, "sh")
            .iter()
            .flat_map(|block| block.lines())
        {
            let line = line.split(" # ").next().unwrap_or(line).trim();
            let arguments = line
                .strip_prefix("cargo run --release -- ")
                .or_else(|| line.strip_prefix("parge "));
            match arguments {
                Some(arguments) => {
                    let said = folder.parge(arguments);
                    assert_eq!(said.exit, Exit::Fine, "{document}: {line}\n{said}");
                    count += 1;
                }
                None => assert!(
                    line.is_empty()
                        || line.starts_with('#')
                        || OTHERS.iter().any(|other| line.starts_with(other)),
                    "{document}: `{line}` is no command that the tests know"
                ),
            }
        }
    }
    assert!(count >= 6, "only {count} commands were found");
}

#[test]
fn every_plan_is_read_without_a_fault() {
    let mut count = 0;
    for document in DOCUMENTS {
        for plan in blocks(document, "parge") {
            let folder = Folder::with_demo().unwrap();
            folder.write("job.parge", &plan).unwrap();
            let said = folder.parge("takeoff job.parge");
            assert_eq!(said.exit, Exit::Fine, "{document}:\n{plan}\n{said}");
            count += 1;
        }
    }
    assert!(count >= 2, "only {count} plans were found");
}
