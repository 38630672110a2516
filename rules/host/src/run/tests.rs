//! One run for all faces of a class: a tape that is played for another face says what the script
//! says of that face, to the last bit, or declines.

use crate::pack::Pack;
use crate::run::Run;
use crate::subject::Subject;
use crate::testing::{face, files, loaded, outcome, rule};
use parge_base::Quantity;
use parge_base::trace::Replay;
use parge_base::trace::columns::Columns;
use proptest::prelude::*;

/// All that a run says, the figures as bits, for its own face or for one that it is played for.
fn answer(run: &Run, value: impl Fn(parge_base::NodeId) -> Quantity) -> String {
    let shown = |node| {
        let quantity = value(node);
        format!("{:x} {:?}", quantity.value.to_bits(), quantity.dim)
    };
    let needs = run
        .needs
        .iter()
        .map(|line| format!("{} {} {}", line.item, shown(line.amount), shown(line.waste)));
    let hours = run
        .hours
        .iter()
        .map(|line| format!("{} {}", line.phase, shown(line.time)));
    let cautions = run.cautions.iter().map(|line| {
        let figure = line.figure.map_or(String::new(), shown);
        format!("{} {figure}", line.key)
    });
    let tools = run
        .tools
        .iter()
        .map(|line| format!("{} {} {}", line.tool, line.reason, shown(line.count)));
    let warnings = run.warnings.iter().map(|said| said.text.to_string());
    needs
        .chain(hours)
        .chain(cautions)
        .chain(tools)
        .chain(warnings)
        .collect::<Vec<_>>()
        .join("\n")
}

/// Plays the tape of every face for all of them, over columns and one by one; says how often that
/// went.
fn compare(pack: &Pack, faces: &[Subject]) -> Result<usize, String> {
    let runs: Vec<Run> = faces
        .iter()
        .map(|face| pack.run(&["coats"], face))
        .collect();
    let inputs: Vec<Vec<Quantity>> = faces.iter().map(Subject::inputs).collect();
    let mut columns = Columns::of_kinds(inputs.first().map_or(&[][..], Vec::as_slice));
    let rows: Vec<usize> = inputs.iter().filter_map(|row| columns.push(row)).collect();
    assert_eq!(rows.len(), faces.len(), "faces of one class");
    let mut played = 0;
    for run in runs.iter().filter(|run| run.errors.is_empty()) {
        let together = run.tape.replay_columns(&columns, &rows, &run.line_nodes());
        let together = together.map_err(|error| format!("{error:?}"))?;
        let mut held = together.rows().iter().enumerate().peekable();
        for (row, direct) in runs.iter().enumerate() {
            let alone = run.tape.replay(&inputs[row]).ok();
            let Some((position, _)) = held.next_if(|(_, held)| **held == row) else {
                // Only a figure of another kind holds for one face and not for a column.
                let same = |replay: &Replay| {
                    let mut nodes = run.tape.nodes();
                    nodes.all(|(id, node)| replay.value(id).dim == node.value.dim)
                };
                if alone.is_some_and(|alone| same(&alone)) {
                    return Err(format!("face {row} is not played over columns"));
                }
                continue;
            };
            played += 1;
            let alone = alone.ok_or("played over columns, but not alone")?;
            if let Some(error) = direct.errors.first() {
                return Err(format!("played, but run: {}", error.message));
            }
            let kept = |node| together.value(position, node).unwrap();
            let (got, one) = (answer(run, kept), answer(run, |node| alone.value(node)));
            let wanted = answer(direct, |node| direct.tape.value(node));
            if got != wanted || one != wanted {
                return Err(format!(
                    "over columns:\n{got}\nalone:\n{one}\nrun:\n{wanted}"
                ));
            }
            let again = run.again(&faces[row]).ok_or("played, but not made again")?;
            if format!("{again:?}") != format!("{direct:?}") {
                return Err(format!("made again:\n{again:#?}\nrun:\n{direct:#?}"));
            }
        }
    }
    Ok(played)
}

fn pack(body: &str) -> Pack {
    match loaded(&files(&rule(body))) {
        Ok((pack, _)) => pack,
        Err(text) => panic!("{body}: {text}"),
    }
}

/// Faces around the limits that the scripts below compare with.
fn many_faces() -> Vec<Subject<'static>> {
    let areas = [
        0.5,
        1.0,
        2.0,
        3.0,
        4.999,
        5.0,
        5.000_000_000_000_01,
        6.0,
        10.0,
        10.1,
        50.0,
    ];
    let all = areas.into_iter().flat_map(|area| {
        [(0.01, [0.5, 0.5]), (0.03, [0.2, 0.8]), (0.02, [0.8, 0.2])]
            .into_iter()
            .map(move |(thickness, shares)| face(area, thickness, shares))
    });
    all.collect()
}

const M2: &str = "let m2 = quantity(1, \"m2\"); let w = factor(\"mixes\", \"waste\");";

/// Scripts written to carry a figure past the tape: each is recorded as a guard, so that it goes
/// right.
#[test]
fn comparisons_in_any_guise_are_guards() {
    for body in [
        "if face.area > 5 * m2 { need(\"a\", face.area, w); } else { need(\"b\", face.area * 2, w); }",
        "let big = face.area > 5 * m2; let n = 1; if big { n = 2; } need(\"a\", face.area * n, w);",
        "let kept = [face.area > 5 * m2, face.area < 2 * m2]; if kept[0] || kept[1] { warn(\"x\"); }",
        "if kept(face) == true { warn(\"x\"); } else { return; } warn(\"y\");",
        "let n = 0; while face.coats > n { n += 1; } need(\"a\", m2 * n, w);",
        "let n = 0; for i in 0..60 { if face.coats > i { n += 1; } } warn(\"n\" + n.to_string());",
        "let n = 0; loop { if face.area <= n * m2 { break; } n += 1; } warn([\"0\", \"1\", \"2\", \"3\", \"4\", \"5\", \"6\"][min(n, 6)]);",
        "for c in face.colours { if c.share > 0.5 { warn(c.name); return; } }",
        "let a = [face.area / m2, 5.0]; if a[0] >= a[1] { caution(\"big\"); }",
        "need(\"a\", min(face.area, 5 * m2) + max(face.area, 3 * m2), w);",
        "need(\"a\", whole_up(face.area / m2) * m2 + round(face.area / m2 / 3) * m2, w);",
        "if whole_up(face.area / m2) == 5 { warn(\"five\"); } if round(face.coats / 2) != 2 { warn(\"not two\"); }",
        "if min(face.area, 5 * m2) == 5 * m2 { warn(\"capped\"); }",
        "let key = if face.area > 5 * m2 { \"yield\" } else { \"limit\" }; need(\"a\", factor(\"mixes\", key), w);",
        "let x = if face.area > 5 * m2 { 2 } else { 1 }; warn(`x` + x.to_string()); need(\"a\", (face.area / m2) ** x, w);",
        "need(\"a\", (face.area / m2) ** (face.colours[0].share), w);",
        "need(\"a\", face.area, face.coats / 100);",
        "need(\"a\", face.area - 5 * m2, w);",
        "need(\"a\", sqrt(face.area - 2 * m2), w);",
        "hours(\"p\", quantity(1, \"h\") / (face.area / m2 - 5));",
        "hours(\"p\", quantity(1, \"h\") ** face.coats);",
        "need(\"a\", face.area ** face.coats, w);",
        "need(\"a\", abs(-face.area + 5 * m2), w); let s = -face.area; s -= m2; s *= 2; need(\"b\", -s, w);",
        "let i = if face.area > 5 * m2 { 0 } else { 1 }; need(\"a\", face.area * face.colours[i].share, w);",
        "let s = \"\"; if face.area > 5 * m2 { s += \"b\"; } if s == \"b\" { warn(\"in\"); } warn(s + \"!\");",
        "let a = []; if face.area > 5 * m2 { a += face.area; } warn(\"n\" + a.len().to_string()); for x in a { need(\"a\", x, w); }",
        "warn([face.area].to_string()); warn([face.area, face.thickness].to_debug()); warn(face.to_string());",
    ] {
        let helper = "\nprivate fn kept(face) { face.area > quantity(5, \"m2\") }";
        let (pack, _) = loaded(&files(&format!(
            "{}{helper}",
            rule(&format!("{M2} {body}"))
        )))
        .unwrap();
        match compare(&pack, &many_faces()) {
            Ok(played) => assert!(played > 1, "{body}: nothing was played"),
            Err(text) => panic!("{body}\n{text}"),
        }
    }
}

/// The others are refused, in words.
#[test]
fn what_could_hide_a_figure_is_refused() {
    let told = [
        "warn(`${face.area}`);",
        "let s = \"a\" + face.area;",
        "let s = face.area.to_string();",
        "let s = face.area.to_debug();",
        "let n = face.coats.to_int();",
        "let n = floor(face.coats);",
        "let n = parse_float(face.coats);",
        "let x = [1, 2, 3][face.coats];",
        "let x = \"abc\"[face.coats];",
        "let x = keys(\"mixes\")[face.coats];",
        "let x = factor(\"mixes\", face.coats);",
        "for i in 0..face.coats { warn(\"x\"); }",
        "for i in range(0, face.coats) { warn(\"x\"); }",
        "for i in range(0, 10, face.coats) { warn(\"x\"); }",
        "for i in face.coats { warn(\"x\"); }",
        "let x = face.coats % 2;",
        "let x = face.coats & 1;",
        "let x = face.coats | 1;",
        "let x = face.coats ^ 1;",
        "let x = 1 << face.coats;",
        "let x = 8 >> face.coats;",
        "if face.coats in 0..5 { warn(\"x\"); }",
        "if face.coats in [1, 2, 3] { warn(\"x\"); }",
        "if face.coats in \"abc\" { warn(\"x\"); }",
        "if face.coats == 0..5 { warn(\"x\"); }",
        "if [face.area] == [face.area] { warn(\"x\"); }",
        "if [face.area] != [quantity(5, \"m2\")] { warn(\"x\"); }",
        "if [face.area] == face.area { warn(\"x\"); }",
        "if face.area < [1] { warn(\"x\"); }",
        "if face == face.area { warn(\"x\"); }",
        "if face == face { warn(\"x\"); }",
        "if face.area == () { warn(\"x\"); }",
        "if face.area == true { warn(\"x\"); }",
        "if face.area == 'x' { warn(\"x\"); }",
        "if face.area == \"5\" { warn(\"x\"); }",
        "if face.area { warn(\"x\"); }",
        "if !face.area { warn(\"x\"); }",
        "if \"a\" in \"abc\" && face.coats in \"abc\" { warn(\"x\"); }",
        "if face.area || face.coats > 1 { warn(\"x\"); }",
        "while face.area { warn(\"x\"); }",
        "[face.area].sort();",
        "[face.area].contains(face.area);",
        "[face.area].index_of(face.area);",
        "[face.area].len(face.area);",
        "if face.coats < 1e308 * 10.0 { warn(\"x\"); }",
        "let x = face.coats * (1e308 * 10.0);",
        "throw face.area;",
        "quantity(face.coats, \"m2\");",
        "to_hex(face.coats);",
        "bits(face.coats);",
        "chars(face.coats);",
        "let x = face.area as m2;",
    ]
    .map(|body| {
        let (_, text) = outcome(&files(&rule(body)));
        assert!(!text.is_empty(), "`{body}` was let through");
        format!("{body}\n    {text}")
    });
    insta::assert_snapshot!(told.join("\n"));
}

/// A figure in a script that is made up.
fn figure() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        Just("face.area".to_owned()),
        Just("face.coats".to_owned()),
        Just("face.thickness".to_owned()),
        Just("face.colours[0].share".to_owned()),
        Just("x".to_owned()),
        Just("y".to_owned()),
        Just("factor(\"mixes\", \"limit\")".to_owned()),
        (0i32..12).prop_map(|n| n.to_string()),
        (0i32..12).prop_map(|n| format!("quantity({n}, \"m2\")")),
    ];
    leaf.prop_recursive(3, 12, 2, |inner| {
        let pair = (inner.clone(), inner.clone());
        prop_oneof![
            (
                pair.clone(),
                prop_oneof![Just("+"), Just("-"), Just("*"), Just("/"), Just("**")]
            )
                .prop_map(|((a, b), sign)| format!("({a} {sign} {b})")),
            (pair, prop_oneof![Just("min"), Just("max")])
                .prop_map(|((a, b), name)| format!("{name}({a}, {b})")),
            (
                inner,
                prop_oneof![
                    Just("abs"),
                    Just("sqrt"),
                    Just("round"),
                    Just("whole_up"),
                    Just("-")
                ]
            )
                .prop_map(|(a, name)| format!("{name}({a})")),
        ]
    })
}

/// Figures that agree in kind more often than by chance, so that scripts get far.
fn plain() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        Just("(face.area / m2)".to_owned()),
        Just("face.coats".to_owned()),
        Just("(face.colours[1].share * 10)".to_owned()),
        Just("x".to_owned()),
        Just("y".to_owned()),
        (0i32..12).prop_map(|n| n.to_string()),
    ];
    part.prop_recursive(3, 10, 2, |inner| {
        let pair = (inner.clone(), inner.clone());
        prop_oneof![
            (
                pair.clone(),
                prop_oneof![Just("+"), Just("-"), Just("*"), Just("/")]
            )
                .prop_map(|((a, b), sign)| format!("({a} {sign} {b})")),
            (pair, prop_oneof![Just("min"), Just("max")])
                .prop_map(|((a, b), name)| format!("{name}({a} * one, {b})")),
            (
                inner,
                prop_oneof![Just("abs"), Just("round"), Just("whole_up")]
            )
                .prop_map(|(a, name)| format!("{name}({a} * one)")),
        ]
    })
}

fn comparison() -> impl Strategy<Value = String> {
    let sign = prop_oneof![
        Just("<"),
        Just("<="),
        Just(">"),
        Just(">="),
        Just("=="),
        Just("!=")
    ];
    (plain(), sign, plain()).prop_map(|(a, sign, b)| format!("{a} {sign} {b}"))
}

/// Statements that are made up: branches in branches, loops with measured turns, early returns,
/// words and lists that depend on comparisons.
fn statements() -> impl Strategy<Value = String> {
    let simple = prop_oneof![
        3 => plain().prop_map(|a| format!("x = {a} * one;")),
        2 => plain().prop_map(|a| format!("y = {a} * one;")),
        3 => plain().prop_map(|a| format!("need(\"a\", abs({a} * one), w);")),
        1 => figure().prop_map(|a| format!("need(\"f\", {a} * one, w);")),
        1 => plain().prop_map(|a| format!("need(\"w\", face.area, min(abs({a} * one), 1) );")),
        1 => comparison().prop_map(|c| format!("let kept = {c}; words += if kept {{ \"k\" }} else {{ \"n\" }};")),
        1 => comparison().prop_map(|c| format!("list += {c};")),
        1 => Just("warn(words + list.len().to_string());".to_owned()),
        1 => plain().prop_map(|a| format!("tool(\"t\", words, abs({a} * one));")),
        1 => plain().prop_map(|a| format!("caution(\"c\", {a} * one);")),
        1 => Just("if list.len() > 0 && list[0] { caution(\"first\"); }".to_owned()),
        1 => comparison().prop_map(|c| format!("if {c} {{ return; }}")),
        1 => plain().prop_map(|a| format!("let n = 0; while n < 5 && {a} > n {{ n += 1; }} warn(n.to_string());")),
        1 => Just("need(\"t\", factor(\"mixes\", if x > y { \"yield\" } else { \"limit\" }), w);".to_owned()),
        1 => Just("for c in face.colours { if c.share * 10 > x { warn(c.name); } }".to_owned()),
    ];
    let block = simple.prop_recursive(3, 16, 3, |inner| {
        let lines = prop::collection::vec(inner, 1..4).prop_map(|lines| lines.join(" "));
        prop_oneof![
            lines.clone(),
            (comparison(), lines.clone(), lines.clone())
                .prop_map(|(c, a, b)| format!("if {c} {{ {a} }} else {{ {b} }}")),
            lines.prop_map(|a| format!("for i in 0..3 {{ if x <= i {{ break; }} {a} }}")),
        ]
    });
    prop::collection::vec(block, 1..5).prop_map(|lines| lines.join("\n"))
}

fn any_face() -> impl Strategy<Value = Subject<'static>> {
    let area = prop_oneof![(1u32..20).prop_map(f64::from), 0.1..20.0f64];
    let share = prop_oneof![Just(0.5), 0.0..1.0f64];
    (area, 0.005..0.1f64, share)
        .prop_map(|(area, thickness, share)| face(area, thickness, [share, 1.0 - share]))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(250))]

    #[test]
    fn a_made_up_script_replays_as_it_runs(
        body in statements(),
        faces in prop::collection::vec(any_face(), 2..7),
    ) {
        let start = "let one = face.area / face.area; let x = one; let y = face.coats * one; let words = \"\"; let list = [];";
        let pack = pack(&format!("{M2} {start}\n{body}"));
        if let Err(text) = compare(&pack, &faces) {
            prop_assert!(false, "{}", text);
        }
    }
}
