//! Scripts and packs written to break out, to take the program down or to slow it: every bound
//! has one that runs into it.

use super::shared;
use crate::bounds::{MAX_LINES, MAX_RECORDED};
use crate::manifest::PackFiles;
use crate::testing::{face, files, loaded, outcome, rule, said};
use std::collections::BTreeMap;
use std::time::{Duration, Instant};

/// No measure of speed: what takes this long on any machine hangs.
const HANGS: Duration = Duration::from_secs(120);

/// What is said of files, on loading or on running.
fn told(files: &PackFiles) -> String {
    let start = Instant::now();
    let (_, text) = outcome(files);
    assert!(start.elapsed() < HANGS, "{text}");
    text
}

fn told_of(body: &str) -> String {
    told(&files(&rule(body)))
}

fn all(bodies: &[&str]) -> String {
    let lines = bodies
        .iter()
        .map(|body| format!("{body}\n    {}\n", told_of(body)));
    lines.collect::<Vec<_>>().join("\n")
}

/// Loops, recursion, and what grows within them.
#[test]
fn what_never_ends_is_stopped() {
    insta::assert_snapshot!(all(&[
        "let t = true; while t { }",
        "do { } while true;",
        "let a = 1; do { a += 1; } until a == 0;",
        "let n = 9223372036854775807; for i in 0..n { let a = i; }",
        "for i in 0.. { }",
        "for i in range(0.0, 1.0, 1e-300) { }",
        "while face.area > quantity(0, \"ft2\") { }",
        "loop { quantity(1, \"ft2\"); }",
        "loop { face.area.abs(); }",
        "let w = factor(\"mixes\", \"waste\"); loop { need(\"mix\", face.area, w); }",
        "loop { hours(\"place\", quantity(1, \"h\")); }",
        "loop { caution(\"x\"); }",
        "loop { caution(\"x\", face.area); }",
        "loop { tool(\"x\", \"y\", quantity(1, \"1\")); }",
        "loop { warn(\"x\"); }",
        "loop { keys(\"mixes\"); }",
        "let s = \"x\"; loop { s += s; }",
        "let s = \"x\"; loop { s = s + \"x\"; }",
        "let s = \"\"; loop { s += 'x'; }",
        "let a = []; loop { a += [1]; }",
        "let a = [1]; loop { a += a; }",
        "let a = [1]; loop { a[0] = a; }",
        "let a = [1]; loop { let b = [1]; b[0] = a; a = b; }",
        "let a = [[1, 1]]; loop { a[0][0] = a; a[0][1] = a; }",
        "let a = [\"x\"]; loop { a += [a.to_string()]; }",
        "let a = [1]; for i in 0..9 { a += a; } loop { let b = a; }",
    ]));
}

/// A function pointer that kept itself took all memory, maps in maps took the stack when they
/// were dropped, and what was caught went past the tape. None of them is there any more.
#[test]
fn words_that_cannot_be_used_say_what_to_write_instead() {
    insta::assert_snapshot!(all(&[
        "let f = Fn(\"x\"); for i in 0..60 { f = f.curry(f); }",
        "let f = |x| x + 1;",
        "let f = || loop { };",
        "call(\"coats\", face);",
        "let a = #{x: 1}; loop { let b = #{x: 1}; b.x = a; a = b; }",
        "try { loop { } } catch { }",
        "loop { try { let a = 1 / 0; } catch { } }",
        "try { let a = sqrt(face.area - quantity(5, \"m2\")); } catch (e) { warn(e); }",
        "switch 1 { 1 => loop { } }",
        "eval(\"1\");",
        "import \"/etc/passwd\" as p;",
        "export let a = 1;",
        "print(1);",
        "debug(1);",
        "let a = type_of(face.area);",
        "let a = is_def_var(\"face\");",
        "let a = is_def_fn(\"coats\", 1);",
        "let a = this;",
        "let a = global::x;",
        "sleep(1);",
        "timestamp();",
        "rand();",
        "exit();",
        "open_file(\"x\");",
        "env(\"HOME\");",
        "http_get(\"x\");",
        "blob(1000000000);",
        "parse_float(\"1\");",
        "throw face.area;",
    ]));
}

/// Each of 20000 within one another, or one after the other.
#[test]
fn deep_and_long_scripts_are_refused() {
    let many = |text: &str| text.repeat(20_000);
    let nested = [
        format!("let a = face.area{};", " + face.area".repeat(4000)),
        format!("let a = 1{};", " + 1".repeat(10_000)),
        format!("let a = 1{};", " ** 1".repeat(10_000)),
        format!("let a = true{};", " && true".repeat(6000)),
        format!("let a = (){};", " ?? ()".repeat(6000)),
        format!("let a = face{};", ".area".repeat(10_000)),
        format!("let a = face{};", "[0]".repeat(10_000)),
        format!("let a = face.area{};", ".abs()".repeat(10_000)),
        format!("let a = {}1{};", many("("), many(")")),
        format!("let a = {}{};", many("["), many("]")),
        format!("{}{}", many("{"), many("}")),
        format!("let a = {}true;", many("!")),
        format!("let a = {}1;", many("- ")),
        format!("if true {{ }}{}", " else if false { }".repeat(3000)),
        format!("{}{}", "if true { ".repeat(4000), " }".repeat(4000)),
    ];
    for body in nested {
        let text = told_of(&body);
        let start: String = body.chars().take(40).collect();
        assert!(text.contains("more than 48 brackets"), "{start}: {text}");
    }
    assert_eq!(
        told_of(&format!("{}{}", many("/*"), many("*/")))
            .lines()
            .count(),
        1
    );
    assert!(told_of(&format!("warn(\"{}\");", "x".repeat(5000))).contains("4096 letters"));
    assert!(told_of(&format!("let a = [{}];", "1,".repeat(1500))).contains("too long"));
}

/// Calls within calls, each deep in brackets, need more stack than a thread has by itself.
#[test]
fn deep_calls_do_not_overflow_the_stack() {
    let bodies = [
        "coats(face);".to_owned(),
        format!("{}coats(face){};", "(1 + ".repeat(20), ")".repeat(20)),
        format!("let a = {}coats(face){};", "[".repeat(10), "]".repeat(10)),
        format!("{}coats(face);{}", "if true { ".repeat(12), "}".repeat(12)),
    ];
    for body in bodies {
        let text = told_of(&body);
        assert!(text.contains("call each other too deep"), "{text}");
    }
}

#[test]
fn names_and_functions_are_counted() {
    let names: String = (0..500).map(|at| format!("let a{at} = 1;")).collect();
    assert!(told_of(&names).contains("too many values at once"));
    let functions: String = (0..600)
        .map(|at| format!("private fn f{at}() {{ }}\n"))
        .collect();
    let text = told(&files(&format!("{functions}{}", rule(""))));
    assert!(text.contains("more than 500 functions"), "{text}");
}

#[test]
fn what_is_said_is_short() {
    let long = "x".repeat(600);
    for body in [
        format!("warn(\"{long}\");"),
        format!("caution(\"{long}\");"),
        format!("need(\"{long}\", face.area, factor(\"mixes\", \"waste\"));"),
        format!("hours(\"{long}\", quantity(1, \"h\"));"),
    ] {
        assert!(
            told_of(&body).contains("shorter than 500 letters"),
            "{body}"
        );
    }
}

#[test]
fn a_run_holds_no_more_than_its_bounds() {
    let (pack, _) = loaded(&files(&rule("loop { warn(\"x\"); }"))).unwrap();
    let run = pack.run(&["coats"], &face(10.0, 0.02, [0.6, 0.4]));
    assert_eq!(run.warnings.len(), MAX_LINES);
    let body = "while face.area > quantity(0, \"ft2\") { }";
    let (pack, _) = loaded(&files(&rule(body))).unwrap();
    let run = pack.run(&["coats"], &face(10.0, 0.02, [0.6, 0.4]));
    assert!(run.tape.len() + run.tape.guards().len() < MAX_RECORDED + 16);
}

/// A rule that is stopped on every one of ten thousand faces must not take its full time on each.
#[test]
fn a_pack_that_is_stopped_time_and_again_is_given_up() {
    let (pack, sources) = loaded(&files(&rule("let t = true; while t { }"))).unwrap();
    let start = Instant::now();
    let texts = (1..10_000).map(|at| {
        let run = pack.run(&["coats"], &face(f64::from(at), 0.02, [0.6, 0.4]));
        said(&run.errors, &sources)
    });
    let first = told_of("let t = true; while t { }");
    assert!(texts.into_iter().all(|text| text == first));
    assert!(start.elapsed() < HANGS);
}

#[test]
fn files_and_tables_are_bounded() {
    let header = "item,value,unit,source\n";
    let with = |path: &str, text: String| {
        let mut files = files(&rule(""));
        files.texts.insert(path.into(), text);
        told(&files)
    };
    let rows = |count: usize| -> String {
        let rows = (0..count).map(|at| format!("k{at},1,1,company\n"));
        format!("{header}{}", rows.collect::<String>())
    };
    let names: String = (0..60_000).map(|at| format!("c{at},")).collect();
    let mut crowd = files(&rule(""));
    for at in 0..300 {
        crowd
            .texts
            .insert(format!("tables/t{at}.csv"), header.into());
    }
    let mut heavy = files(&rule(""));
    for at in 0..6 {
        heavy
            .texts
            .insert(format!("scripts/s{at}.rhai"), "// x\n".repeat(11_000));
    }
    insta::assert_snapshot!(
        [
            with("scripts/b.rhai", "// x\n".repeat(30_000)),
            with("pack.toml", "# x\n".repeat(30_000)),
            with("tables/t.csv", rows(10_001)),
            with("tables/t.csv", rows(100_000)),
            with(
                "tables/t.csv",
                format!("{header}a,{},text,company\n", "x".repeat(3000))
            ),
            with(
                "tables/t.csv",
                format!("{header}a,{},text,company\n", "x".repeat(30_000))
            ),
            with("tables/t.csv", format!("{names}value,unit,source\n")),
            told(&crowd),
            told(&heavy),
        ]
        .join("\n")
    );
    assert_eq!(with("tables/t.csv", rows(10_000)), "");
}

/// Looking for a near word among ten thousand, and for keys among as many, again and again.
#[test]
fn large_tables_do_not_slow_a_rule_past_its_bound() {
    let rows: String = (0..10_000)
        .map(|at| format!("{},{at},1,1,company\n", "k".repeat(80)))
        .collect();
    for body in [
        "loop { keys(\"t\"); }".to_owned(),
        "let k = keys(\"t\", \"x\"); loop { keys(\"t\", \"x\"); }".to_owned(),
        format!("factor(\"t\", \"{}\", \"x\");", "k".repeat(79)),
        "loop { between(\"t\", \"x\", face.coats); }".to_owned(),
    ] {
        let mut files = files(&rule(&body));
        files.texts.insert(
            "tables/t.csv".into(),
            format!("a,b,value,unit,source\n{rows}"),
        );
        assert!(told(&files).starts_with("E040"), "{body}");
    }
}

/// Every function that a script can reach, by name and number of things given, with how often it
/// is there for different kinds of them. One that an update of the script engine adds shows here:
/// look whether it can hide a figure, grow without bound or reach outside before it is accepted.
#[test]
fn the_functions_within_reach_are_known() {
    let found = shared().collect_fn_metadata(
        None,
        |function| {
            let metadata = function.metadata;
            Some((metadata.name.to_string(), metadata.num_params))
        },
        true,
    );
    let mut counted: BTreeMap<(String, usize), usize> = BTreeMap::new();
    for function in found {
        *counted.entry(function).or_default() += 1;
    }
    let lines = counted
        .into_iter()
        .map(|((name, given), kinds)| format!("{name}/{given} x{kinds}"));
    insta::assert_snapshot!(lines.collect::<Vec<_>>().join("\n"));
}
