//! Every plan in the repository.

use super::check;
use crate::fmt::format;
use crate::parse;
use parge_base::Sources;
use std::fs;
use std::path::{Path, PathBuf};

/// The files below a folder that end in one of these ways, without what is built or hidden.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    entries.sort();
    for path in entries {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if path.is_dir() {
            if !name.starts_with('.') && name != "target" {
                files(&path, found);
            }
        } else if name.ends_with(".parge") || name.ends_with(".md") {
            found.push(path);
        }
    }
}

/// The fenced blocks of a document.
fn blocks(document: &str) -> Vec<String> {
    let parts = document.split("\n```").skip(1).step_by(2);
    let text = |part: &str| {
        part.split_once('\n')
            .map(|(_, text)| text.to_owned() + "\n")
    };
    parts.filter_map(text).collect()
}

#[test]
fn every_plan_of_the_repository_is_laid_out_and_says_the_same() {
    let mut paths = Vec::new();
    files(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join(".."),
        &mut paths,
    );
    let mut count = 0;
    for path in paths {
        let text = fs::read_to_string(&path).unwrap();
        let plans = if path.extension().is_some_and(|kind| kind == "md") {
            blocks(&text)
        } else {
            vec![text]
        };
        for plan in plans {
            let file = Sources::new().add("plan", "");
            if parse(file, &plan).diagnostics.is_empty() {
                match format(file, &plan) {
                    Ok(laid_out) => check(&plan, &laid_out),
                    Err(found) => panic!("{}: {found:?}\n{plan}", path.display()),
                }
                count += 1;
            }
        }
    }
    assert!(count >= 5, "only {count} plans were found");
}
