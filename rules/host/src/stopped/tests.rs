use super::*;
use crate::pack::Pack;
use crate::testing::{face, files, loaded, said};
use std::sync::PoisonError;
use std::time::Duration;

fn counted(pack: &Pack) -> usize {
    let stopped = pack.context.stopped.lock();
    stopped.unwrap_or_else(PoisonError::into_inner).count
}

/// Runs both hooks for many faces; says how many hooks were counted as stopped or long to fail.
fn after_many_faces(body: &str) -> (usize, String) {
    let script = format!("fn coats(face) {{ {body} }}\nfn labour(face) {{ {body} }}");
    let mut files = files(&script);
    let manifest = files.texts.get_mut("pack.toml").unwrap();
    *manifest = manifest.replace("[\"coats\"]", "[\"coats\", \"labour\"]");
    let rows: String = (0..5_000)
        .map(|at| format!("x,k{at},1,1,company\n"))
        .collect();
    let table = format!("of,key,value,unit,source\n{rows}");
    files.texts.insert("tables/t.csv".into(), table);
    let (pack, sources) = loaded(&files).unwrap();
    let mut last = String::new();
    for area in 1..400 {
        let run = pack.run_within(
            &["coats", "labour"],
            &face(f64::from(area), 0.02, [0.6, 0.4]),
            Duration::MAX,
        );
        last = said(&run.errors, &sources);
    }
    (counted(&pack), last)
}

/// Two hooks that each go to their bound on every one of hundreds of faces: so many of them run,
/// and no more.
#[test]
fn hooks_at_their_bound_run_a_counted_number_of_times() {
    for body in [
        "let t = true; while t { }",
        "loop { face.area + face.area; }",
        "loop { warn(\"x\"); }",
        "loop { keys(\"t\", \"none\"); }",
        "let s = \"x\"; loop { s += s; }",
        "coats(face);",
    ] {
        let (count, last) = after_many_faces(body);
        assert_eq!(count, MAX_STOPPED, "{body}");
        assert!(last.starts_with("E0407"), "{body}: {last}");
    }
}

/// One that stops by itself just before it comes to its bound costs as much.
#[test]
fn hooks_that_take_long_to_fail_count_too() {
    for body in [
        "let n = 0; while n < 8000 { n += 1; } throw \"enough\";",
        "let n = 0; while n < 60 { n += 1; keys(\"t\", \"none\"); } throw \"enough\";",
    ] {
        let (count, last) = after_many_faces(body);
        assert_eq!(count, MAX_STOPPED, "{body}");
        assert!(last.contains("enough"), "{last}");
    }
}

/// An honest slip is told of every face, each with its own words.
#[test]
fn hooks_that_fail_at_once_do_not_count() {
    let (count, last) = after_many_faces("factor(\"t\", \"x\", \"missing\");");
    assert_eq!(count, 0);
    assert_eq!(
        last.lines().count(),
        2,
        "both hooks ran for the last face: {last}"
    );
}
