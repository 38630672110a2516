//! Packs that load, packs that do not, and scripts written to break out.

use super::*;
use crate::run::Run;
use crate::subject::{Subject, Value};
use parge_base::{Dim, Quantity, Sources};
use std::time::Duration;

mod layers;

const HOOKS: [Hook; 2] = [
    Hook {
        name: "coats",
        parameters: &["face"],
    },
    Hook {
        name: "labour",
        parameters: &["face"],
    },
];
const TABLE: &str = "item,value,unit,source,note\nyield,0.5,ft3/bag,company,\nwaste,10,%,common practice,\nlimit,1,in,ASTM C926,\nmix,quick,text,company,\n";

fn files(script: &str) -> PackFiles {
    let texts = [
        (
            "pack.toml",
            "name = \"p\"\nversion = \"1\"\nsummary = \"s\"\nrules = [\"coats\"]\n",
        ),
        (
            "scripts/a.rhai",
            "// only a helper\nprivate fn double(x) { x * 2 }\n",
        ),
        ("scripts/rules.rhai", script),
        ("tables/mixes.csv", TABLE),
    ];
    let texts = texts
        .into_iter()
        .map(|(path, text)| (path.to_owned(), text.to_owned()))
        .collect();
    PackFiles {
        folder: "p".into(),
        texts,
    }
}

fn said(wrong: &[Diagnostic], sources: &Sources) -> String {
    let line = |d: &Diagnostic| {
        let at = d.span().map_or(String::new(), |span| {
            let place = sources.place(span.file, span.start);
            format!(
                " at {}:{}:{} `{}`",
                sources.name(span.file),
                place.line,
                place.column,
                sources.slice(span)
            )
        });
        format!("{}{at}: {} | {}", d.code.id(), d.message, d.help)
    };
    wrong.iter().map(line).collect::<Vec<_>>().join("\n")
}

fn load_said(files: &PackFiles) -> String {
    let mut sources = Sources::new();
    match load(std::slice::from_ref(files), &HOOKS, &mut sources) {
        Ok(_) => String::new(),
        Err(wrong) => said(&wrong, &sources),
    }
}

fn face(thickness: f64) -> Subject<'static> {
    let value = |value: f64, dim: Dim| Value::Quantity(Quantity { value, dim }, None);
    let colour = |name: &'static str, share: f64| Subject {
        kind: "colour".into(),
        values: vec![
            ("name".into(), Value::Text(name.into())),
            ("share".into(), value(share, Dim::NONE)),
        ],
    };
    Subject {
        kind: "face".into(),
        values: vec![
            ("substrate".into(), Value::Text("block".into())),
            ("area".into(), value(10.0, Dim::AREA)),
            ("thickness".into(), value(thickness, Dim::LENGTH)),
            ("radius".into(), Value::Absent),
            (
                "colours".into(),
                Value::List(vec![colour("red", 0.6), colour("blue", 0.4)]),
            ),
        ],
    }
}

fn run(body: &str) -> (Run, String) {
    let mut sources = Sources::new();
    let pack = match load(
        &[files(&format!("fn coats(face) {{ {body} }}"))],
        &HOOKS,
        &mut sources,
    ) {
        Ok(pack) => pack,
        Err(wrong) => panic!("{}", said(&wrong, &sources)),
    };
    let run = pack.run(&["coats"], &face(0.02));
    let text = said(&run.errors, &sources);
    (run, text)
}

/// What is said of a rule that must be stopped.
fn stopped(body: &str) -> String {
    run(body).1
}

#[test]
fn a_rule_needs_materials_through_helpers_and_tables() {
    let (run, said) = run(
        "let v = double(face.area) * face.thickness;\nneed(\"mix\", v / factor(\"mixes\", \"yield\"), factor(\"mixes\", \"waste\"));",
    );
    assert_eq!(said, "");
    let [need] = run.needs.as_slice() else {
        panic!("one need")
    };
    let bags = run.tape.value(need.amount).value;
    assert!((bags - 10.0 * 2.0 * 0.02 / 0.5 / 0.028316846592).abs() < 1e-9);
    assert_eq!(run.tape.factors().count(), 2);
    let names: Vec<&str> = (0..4)
        .filter_map(|slot| run.tape.input_name(slot))
        .collect();
    assert_eq!(
        names,
        [
            "face.area",
            "face.thickness",
            "face.colours[1].share",
            "face.colours[2].share"
        ]
    );
}

#[test]
fn lists_texts_and_absent_values_can_be_asked_for() {
    let body = "let sum = quantity(0, \"1\");\nfor c in face.colours { if c.name == \"red\" { sum += c.share; } }\n\
                if !face.has(\"radius\") { need(\"mix\", sum, factor(\"mixes\", \"waste\")); }\n\
                if has(\"mixes\", \"mix\") && text(\"mixes\", \"mix\") == \"quick\" { caution(\"quick\"); }\n\
                if keys(\"mixes\").len() == 4 { warn(\"four\"); }";
    let (run, said) = run(body);
    assert_eq!(said, "");
    assert_eq!(run.tape.value(run.needs[0].amount), Quantity::plain(0.6));
    assert_eq!(
        (&*run.cautions[0].key, &*run.warnings[0].text),
        ("quick", "four")
    );
}

#[test]
fn plain_numbers_divide_as_an_estimator_means() {
    let (run, said) = run("need(\"mix\", quantity(7 / 2, \"bag\"), factor(\"mixes\", \"waste\"));");
    assert_eq!(said, "");
    assert_eq!(run.tape.value(run.needs[0].amount).value, 3.5);
}

#[test]
fn comparisons_are_guards() {
    let (run, _) = run("if face.thickness > factor(\"mixes\", \"limit\") { warn(\"thick\"); }");
    assert_eq!(run.tape.guards().len(), 1);
    assert!(!run.tape.guards()[0].held);
}

#[test]
fn faults_of_rules_are_told_at_their_line_in_plain_words() {
    insta::assert_snapshot!(
        [
            "need(\"mix\", face.area + face.thickness, factor(\"mixes\", \"waste\"));",
            "need(\"mix\", face.area, 5);",
            "need(\"mix\", face.area, face.area);",
            "need(\"mix\", face.area - face.area * 2, factor(\"mixes\", \"waste\"));",
            "hours(\"place\", face.area);",
            "let a = face.aera;",
            "let a = face.radius;",
            "let a = factor(\"mixs\", \"yield\");",
            "let a = factor(\"mixes\", \"yeild\");",
            "let a = factor(\"mixes\", \"mix\");",
            "let a = text(\"mixes\", \"yield\");",
            "let a = has(\"mixes\", \"a\", \"b\");",
            "let a = quantity(1, \"bga\");",
            "let a = face.area / 0;",
            "let a = 1 / 0;",
            "if face.area == \"10\" { }",
            "if face.area > 5 { }",
            "let a = \"area: \" + face.area;",
            "let a = face.area.to_string();",
            "let a = ceil(face.thickness);",
            "let a = whole_up(face.thickness);",
            "throw \"no rule for this\";",
            "if face.area { warn(\"x\"); }",
            "let a = keys(\"mixes\")[face.area];",
        ]
        .map(|body| format!("{body}\n    {}\n", stopped(body)))
        .join("\n")
    );
}

#[test]
fn hostile_rules_are_stopped() {
    insta::assert_snapshot!(
        [
            "loop { }",
            "while true { let a = 1; }",
            "coats(face);",
            "let s = \"x\"; loop { s += s; }",
            "let a = []; loop { a += [1]; }",
            "let a = face.area; for i in 0..1000000 { a = a + a; }",
            "for i in 0..1000000 { warn(\"x\"); }",
        ]
        .map(|body| format!("{body}\n    {}\n", stopped(body)))
        .join("\n")
    );
}

/// No file, module, clock, randomness or evaluation of text: the words are not even known.
#[test]
fn the_outside_cannot_be_reached() {
    for body in [
        "import \"/etc/passwd\" as p;",
        "eval(\"1\");",
        "export face;",
        "let f = Fn(\"coats\"); f.call(face);",
        "timestamp();",
        "sleep(1);",
        "rand();",
        "open_file(\"x\");",
        "exit();",
    ] {
        let mut sources = Sources::new();
        let fault = match load(
            &[files(&format!("fn coats(face) {{ {body} }}"))],
            &HOOKS,
            &mut sources,
        ) {
            // What is counted is tested here, however busy the machine is.
            Ok(pack) => {
                let run = pack.run_within(&["coats"], &face(0.02), Duration::MAX);
                said(&run.errors, &sources)
            }
            Err(wrong) => said(&wrong, &sources),
        };
        assert!(
            fault.starts_with("E04"),
            "`{body}` was let through: {fault}"
        );
    }
}

#[test]
fn packs_that_cannot_be_loaded() {
    let change = |path: &str, text: &str| {
        let mut files = files("fn coats(face) { }");
        files.texts.insert(path.to_owned(), text.to_owned());
        format!("{path} {text:?}\n{}\n", load_said(&files))
    };
    insta::assert_snapshot!(
        [
            change("pack.toml", "name = \"p\"\n"),
            change("pack.toml", "name = p"),
            change("pack.toml", "name = \"p\"\nversion = \"1\"\nsummary = \"s\"\nrules = []\nitems = [\"Big Bag\"]\n"),
            change("scripts/b.rhai", "fn coats(face { }"),
            change("scripts/b.rhai", "fn caots(face) { }\nfn labour(face, job) { }"),
            change("scripts/b.rhai", "fn labour(face) { nothing_known + 1 }"),
            change("scripts/b.rhai", "private fn double(x) { x }"),
            change("scripts/b.rhai", "private fn said(x) { `area ${x}` }"),
            change("scripts/b.rhai", "private fn two(x) { x }\ntwo(1);"),
            change("scripts/b.rhai", "private fn two(x) { let t = \"éé漢字ééééé\"; t == ; }"),
            change("scripts/b.rhai", "private fn two(x) { switch x { 1 => 2, _ => 3 } }"),
            change("pack.toml", "# 漢字\nname = \"p\"\nversion = \"1\"\nsummary = \"s\"\nrules = []\nitems = [\"\\u0062b!!\"]\n"),
            change("tables/t.csv", "item,value,unit,source\na,1,in,Smith, 1990\nb,-1,in,company\n"),
            change("tables/t.csv", "item,value,unit\na,1,in\n"),
            change("tables/t.csv", "value,unit,source\n1,in,company\n"),
            change("tables/t.csv", "item,value,unit,source\na,x,in,company\nb,1,inn,company\nc,1,in,\n,1,in,company\nd,1,in,company\nd,2,in,company\n"),
            change("tables/t.csv", ""),
        ]
        .join("\n")
    );
    let mut files = files("fn coats(face) { }");
    files.texts.remove("pack.toml");
    assert!(load_said(&files).starts_with("E0402: `p` has no pack.toml"));
}

#[test]
fn optimising_a_script_changes_nothing() {
    let body = "let a = face.area * 2 * 3; if 1 < 2 { a = a / 4; } need(\"mix\", a, factor(\"mixes\", \"waste\"));";
    let (run, _) = run(body);
    let amount = run.tape.value(run.needs[0].amount).value;
    assert_eq!(amount.to_bits(), (10.0f64 * 2.0 * 3.0 / 4.0).to_bits());
}
