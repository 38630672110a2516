use crate::engine;
use crate::testing::{face, files, loaded, rule, said};
use std::time::{Duration, Instant};

const SHORT: Duration = Duration::from_millis(5);
const NO_TIME: Duration = Duration::ZERO;

/// What is said of rules for one face that may take so long.
fn told(body: &str, limit: Duration) -> String {
    let (pack, sources) = loaded(&files(&rule(body))).unwrap();
    let run = pack.run_within(&["coats"], &face(10.0, 0.02, [0.6, 0.4]), limit);
    said(&run.errors, &sources)
}

/// Each would go on for as long as the counts allow; two of them spend their time in functions of
/// the host, between the rows of a large table.
#[test]
fn a_run_that_is_out_of_time_is_stopped_whatever_it_does() {
    let rows: String = (0..10_000)
        .map(|at| format!("x,{at}m,1,1,company\n"))
        .collect();
    for body in [
        "let t = true; while t { }",
        "for i in range(0.0, 1.0, 1e-300) { }",
        "loop { has(\"mixes\", \"yield\"); }",
        "let a = [1]; for i in 0..9 { a += a; } loop { let b = a; }",
        "loop { keys(\"t\", \"none\"); }",
        "loop { between(\"t\", \"x\", face.thickness); }",
    ] {
        let mut files = files(&rule(body));
        let table = format!("of,at,value,unit,source\n{rows}");
        files.texts.insert("tables/t.csv".into(), table);
        let (pack, sources) = loaded(&files).unwrap();
        let run = pack.run_within(&["coats"], &face(10.0, 0.02, [0.6, 0.4]), SHORT);
        let text = said(&run.errors, &sources);
        assert!(
            text.starts_with("E0407 at p/scripts/rules.rhai:1:"),
            "{body}: {text}"
        );
        assert!(
            text.contains("longer than the 0.005 s that they may take"),
            "{body}: {text}"
        );
    }
}

#[test]
fn the_message_names_the_limit_and_that_the_computer_may_be_busy() {
    insta::assert_snapshot!(told("let t = true; while t { }", SHORT));
}

/// A native function looks at the clock by itself, before any step of the script engine.
#[test]
fn functions_of_the_host_look_at_the_clock() {
    let (pack, _) = loaded(&files(&rule(""))).unwrap();
    let run = pack.run_within(&["coats"], &face(10.0, 0.02, [0.6, 0.4]), NO_TIME);
    assert_eq!(
        run.errors.len(),
        1,
        "even an empty rule takes longer than no time"
    );
    let text = told("quantity(1, \"ft\");", NO_TIME);
    assert!(text.contains("longer than the 0 s"), "{text}");
}

/// Out of time once, the pack is given up: no other face is given as much time again.
#[test]
fn a_pack_that_is_out_of_time_is_given_up_at_once() {
    let (pack, sources) = loaded(&files(&rule("let t = true; while t { }"))).unwrap();
    let first = pack.run_within(&["coats"], &face(1.0, 0.02, [0.6, 0.4]), SHORT);
    let start = Instant::now();
    for area in 2..1000 {
        let run = pack.run(&["coats"], &face(f64::from(area), 0.02, [0.6, 0.4]));
        assert_eq!(said(&run.errors, &sources), said(&first.errors, &sources));
    }
    assert!(start.elapsed() < Duration::from_secs(60));
}

/// What is not stopped says the same whatever its limit, and the engine runs on without one.
#[test]
fn a_limit_changes_no_figure() {
    let (pack, _) = loaded(&files(&rule(
        "need(\"mix\", face.area * face.thickness, factor(\"mixes\", \"waste\"));",
    )))
    .unwrap();
    let amount = |limit| {
        let run = pack.run_within(&["coats"], &face(10.0, 0.02, [0.6, 0.4]), limit);
        assert!(run.errors.is_empty());
        run.tape.value(run.needs[0].amount).value.to_bits()
    };
    let an_hour = amount(Duration::from_secs(3600));
    assert_eq!(an_hour, amount(Duration::from_secs(60)));
    assert_eq!(an_hour, amount(Duration::MAX));
    assert!(super::passed().is_none(), "no run is left on this thread");
    assert_eq!(engine::shared().eval_expression::<i64>("1 + 1").unwrap(), 2);
}
