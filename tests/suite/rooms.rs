//! The rooms depend on each other one way only, and field libraries stay in their room.

use parge_tests::repository;
use std::collections::BTreeMap;

/// Each crate with what it may depend on, tests of its own aside.
const MAY_USE: [(&str, &str, &[&str]); 9] = [
    ("engine/base", "parge-base", &[]),
    ("grammar", "parge-grammar", &["parge-base"]),
    ("rules/host", "parge-rules", &["parge-base"]),
    ("rules/standard", "parge-standard-packs", &["parge-rules"]),
    (
        "engine/calc",
        "parge-calc",
        &["parge-base", "parge-grammar", "parge-rules"],
    ),
    (
        "engine/sheets",
        "parge-sheets",
        &["parge-base", "parge-calc"],
    ),
    (
        "importers",
        "parge-importers",
        &["parge-base", "parge-grammar", "parge-rules"],
    ),
    (
        "engine/cli",
        "parge-cli",
        &[
            "parge-base",
            "parge-grammar",
            "parge-rules",
            "parge-standard-packs",
            "parge-calc",
            "parge-sheets",
            "parge-importers",
        ],
    ),
    ("tests", "parge-tests", &["parge-cli"]),
];

/// Libraries that only one crate may know.
const ONLY_IN: [(&str, &str); 5] = [
    ("rhai", "parge-rules"),
    ("pest", "parge-grammar"),
    ("rust_xlsxwriter", "parge-sheets"),
    ("minijinja", "parge-sheets"),
    ("clap", "parge-cli"),
];

fn dependencies() -> BTreeMap<&'static str, Vec<String>> {
    let read = |(folder, name, _): &(&str, &'static str, &[&str])| {
        let text = std::fs::read_to_string(repository().join(folder).join("Cargo.toml")).unwrap();
        let manifest: toml::Table = text.parse().unwrap();
        assert_eq!(manifest["package"]["name"].as_str(), Some(*name));
        let names = manifest.get("dependencies").and_then(toml::Value::as_table);
        (
            *name,
            names
                .map(|table| table.keys().cloned().collect())
                .unwrap_or_default(),
        )
    };
    MAY_USE.iter().map(read).collect()
}

#[test]
fn arrows_point_one_way() {
    let dependencies = dependencies();
    for (_, name, allowed) in MAY_USE {
        for used in dependencies[name]
            .iter()
            .filter(|used| used.starts_with("parge-"))
        {
            assert!(
                allowed.contains(&used.as_str()),
                "{name} must not use {used}"
            );
        }
    }
}

#[test]
fn field_libraries_stay_in_their_room() {
    for (name, used) in dependencies() {
        for (library, home) in ONLY_IN {
            let knows = used.iter().any(|used| used == library);
            assert!(!knows || name == home, "{name} must not know {library}");
        }
    }
}

#[test]
fn the_top_level_holds_the_agreed_rooms() {
    const AGREED: [&str; 9] = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "engine",
        "grammar",
        "rules",
        "importers",
        "tests",
    ];
    for entry in std::fs::read_dir(repository()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        // What the README's first command writes there is left out by `.gitignore` as well.
        let is_output = name.ends_with(".xlsx") || name.ends_with(".json");
        let fine = name.starts_with('.')
            || is_output
            || name == "target"
            || name == "examples"
            || AGREED.contains(&name.as_str());
        assert!(fine, "{name} is no agreed room");
    }
}

/// Every code is given by some source file, so that none is dead.
#[test]
fn every_code_is_used() {
    let mut text = String::new();
    for folder in ["engine", "grammar", "rules", "importers"] {
        collect(&repository().join(folder), &mut text);
    }
    for code in parge_base::Code::ALL {
        let name = format!("Code::{code:?}");
        assert!(
            text.contains(&name),
            "{name} ({}) is given by nothing",
            code.id()
        );
    }
}

fn collect(folder: &std::path::Path, text: &mut String) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(&path, text);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            text.push_str(&std::fs::read_to_string(&path).unwrap());
        }
    }
}
