//! A plan estimated part by part is written as it is when it is held as a whole, to the byte.

use super::*;
use parge_sheets::{write_json, write_json_in_parts};
use std::fs;
use std::path::PathBuf;

/// Runs something in a world without a terminal.
fn in_a_world<T>(run: impl FnOnce(&World<'_>) -> T) -> T {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    run(&World {
        out: &mut out,
        err: &mut err,
        input: None,
        folder: PathBuf::new(),
        width: 100,
        colour: false,
        watched: false,
    })
}

/// The JSON of a plan held as a whole, and in parts of so many bytes where it falls into parts.
fn both(plan: &Path, bytes: usize) -> (Option<String>, Option<String>) {
    let mut session = Session::default();
    let loaded = in_a_world(|world| session.load(plan, world));
    let whole = loaded.and_then(|loaded| session.estimated(&loaded));
    let whole = whole.map(|made| {
        diagnostic::tidy(&mut session.diagnostics);
        let (sources, said) = (&session.sources, &session.diagnostics);
        let mut text = Vec::new();
        write_json(&made.estimate, &made.fingerprint, sources, said, &mut text).unwrap();
        String::from_utf8(text).unwrap()
    });
    let mut session = Session::default();
    let parts = in_a_world(|world| session.in_parts(plan, world, bytes));
    let parts = parts.map(|made| {
        diagnostic::tidy(&mut session.diagnostics);
        let mut text = Vec::new();
        let Estimated {
            estimate,
            fingerprint,
            ..
        } = &made.estimated;
        let faces = made.faces(&session);
        write_json_in_parts(
            estimate,
            faces,
            fingerprint,
            &session.diagnostics,
            &mut text,
        )
        .unwrap();
        String::from_utf8(text).unwrap()
    });
    (whole, parts)
}

/// The plans of the examples.
fn examples() -> Vec<PathBuf> {
    let mut folders = vec![PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples"
    ))];
    let mut plans = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            match path.extension() {
                _ if path.is_dir() => folders.push(path),
                Some(ending) if ending == "parge" => plans.push(path),
                _ => {}
            }
        }
    }
    plans
}

#[test]
fn the_examples_are_written_the_same_in_parts() {
    let mut by_parts = 0;
    for plan in examples() {
        let (whole, parts) = both(&plan, 300);
        let text = fs::read_to_string(&plan).unwrap();
        match parts {
            Some(parts) => {
                by_parts += 1;
                assert!(whole == Some(parts), "{}", plan.display());
            }
            None => assert!(
                whole.is_none() || text.contains("alternate") || text.contains("\"."),
                "{} has no way by parts",
                plan.display()
            ),
        }
    }
    assert!(by_parts > 5, "{by_parts}");
}

#[test]
fn a_short_plan_and_one_with_a_mistake_are_held_as_a_whole() {
    let folder = tempfile::tempdir().unwrap();
    let plan = folder.path().join("job.parge");
    let example = examples()
        .into_iter()
        .find(|plan| both(plan, 300).1.is_some());
    let example = example.unwrap();
    let text = fs::read_to_string(&example).unwrap();
    fs::write(&plan, text.replacen("face ", "fase ", 1)).unwrap();
    assert_eq!(both(&plan, 300), (None, None));
    assert!(in_a_world(|world| InParts::of(&example, world).is_none()));
}
