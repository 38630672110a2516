//! Made-up plans: the sketch and the tree find the same names in each.

use super::analysis;
use super::tree::compare;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

/// Names that are words of the language elsewhere are among them. `sides` is not: behind
/// `triangle` the parser tries both.
fn name() -> impl Strategy<Value = String> {
    const NAMES: &[&str] = &[
        "a",
        "high",
        "relief",
        "mix",
        "top",
        "area",
        "é2",
        "\"on # {\"",
        "\"a \\\" b\"",
    ];
    select(NAMES).prop_map(str::to_owned)
}

fn bare() -> impl Strategy<Value = String> {
    select(&["a", "high", "relief", "mix", "top", "area", "é2"][..]).prop_map(str::to_owned)
}

fn number() -> impl Strategy<Value = String> {
    const NUMBERS: &[&str] = &[
        "2",
        "2.5",
        "3 810mm",
        "1/2ft",
        "12' 6-3/4\"",
        "12ft 6 3/4in",
        "60%",
        "84F",
        "90deg",
    ];
    select(NUMBERS).prop_map(str::to_owned)
}

fn expr() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![number(), bare()];
    leaf.prop_recursive(3, 12, 3, |inner| {
        let sign = select(&["+", " - ", " * ", " / ", "^"][..]);
        prop_oneof![
            (inner.clone(), sign, inner.clone())
                .prop_map(|(one, sign, other)| format!("{one}{sign}{other}")),
            inner.clone().prop_map(|inner| format!("({inner})")),
            inner.clone().prop_map(|inner| format!("-{inner}")),
            (bare(), vec(inner, 1..3))
                .prop_map(|(name, list)| format!("{name}({})", list.join(",\n    "))),
        ]
    })
}

fn points() -> impl Strategy<Value = String> {
    let point = (expr(), expr()).prop_map(|(one, other)| format!("({one}, {other})"));
    vec(point, 2..4).prop_map(|points| points.join(" "))
}

fn shape() -> impl Strategy<Value = String> {
    let by = || (expr(), expr()).prop_map(|(one, other)| format!("{one} x {other}"));
    prop_oneof![
        by().prop_map(|by| format!("rect {by}")),
        by().prop_map(|by| format!("triangle {by}")),
        (expr(), expr(), expr()).prop_map(|(a, b, c)| format!("triangle sides {a}, {b}, {c}")),
        (expr(), by()).prop_map(|(bottom, by)| format!("trapezoid {bottom} to {by}")),
        points().prop_map(|points| format!("polygon {points}")),
        expr().prop_map(|size| format!("circle diameter {size}")),
        (by(), expr()).prop_map(|(by, rise)| format!("arch {by} rise {rise}")),
        (expr(), by()).prop_map(|(size, by)| format!("cylinder diameter {size} sweep {by}")),
        (expr(), by()).prop_map(|(foot, by)| format!("frustum {foot} to {by}")),
        (expr(), by()).prop_map(|(radius, by)| format!("arc radius {radius} sweep {by}")),
        (expr(), expr()).prop_map(|(outer, inner)| format!("ring {outer} to {inner}")),
        by().prop_map(|by| format!("dome diameter {by}")),
        points().prop_map(|points| format!("stations stepped {points}")),
        (expr(), expr(), expr(), name()).prop_map(|(area, around, high, _)| format!(
            "measured {area} around {around} high {high} \"why\""
        )),
    ]
}

fn face() -> impl Strategy<Value = String> {
    let detail = prop_oneof![
        expr().prop_map(|count| format!("count {count}")),
        expr().prop_map(|at| format!("at {at}")),
        name().prop_map(|on| format!("on {on}")),
        name(),
    ];
    let opening_detail = prop_oneof![
        expr().prop_map(|depth| format!("reveal {depth} on top, sides")),
        expr().prop_map(|count| format!("count {count}")),
    ];
    let opening =
        (name(), shape(), vec(opening_detail, 0..3)).prop_map(|(name, shape, details)| {
            format!("    opening {name} {shape} {}\n", details.join(" "))
        });
    (name(), shape(), vec(detail, 0..3), vec(opening, 0..3)).prop_map(
        |(name, shape, details, openings)| {
            let block = if openings.is_empty() {
                String::new()
            } else {
                format!("{{\n{}  }}", openings.concat())
            };
            format!("  face {name} {shape} {} {block}\n", details.join(" "))
        },
    )
}

fn statement() -> impl Strategy<Value = String> {
    let colour = (name(), expr()).prop_map(|(name, share)| format!("{name} {share}"));
    let member = prop_oneof![
        expr().prop_map(|value| format!("thickness {value}")),
        name().prop_map(|name| format!("technique {name}")),
        vec(colour, 1..3).prop_map(|colours| format!("colours {}", colours.join(", "))),
        (name(), expr()).prop_map(|(name, coats)| format!("sealer {name}, {coats} coats")),
    ];
    prop_oneof![
        (bare(), expr()).prop_map(|(name, value)| format!("let {name} = {value}\n")),
        (name(), vec(member, 0..4)).prop_map(|(name, list)| format!("finish {name} {{ {} }}\n", list.join("  "))),
        (name(), name(), name(), vec(face(), 0..4)).prop_map(|(name, on, finish, faces)| format!(
            "structure {name} on {on} {{ # here\n  finish {finish}\n{}}}\n",
            faces.concat()
        )),
        (expr(), expr(), name()).prop_map(|(crew, share, on)| format!(
            "job \"A\" {{ crew {crew}  weather {{ air {share} }}\n  bid {{ tax {share} on {on}  profit margin {crew} }}\n}}\n"
        )),
    ]
}

/// Measures, and what stands in templates and alternates.
fn rest() -> impl Strategy<Value = String> {
    let path = (
        name(),
        prop::option::of(name()),
        select(&["area", "count"][..]),
    )
        .prop_map(|(one, other, measure)| match other {
            Some(other) => format!("{one}.{other}.{measure}"),
            None => format!("{one}.{measure}"),
        });
    let path = path.boxed();
    let edge = (name(), expr(), expr())
        .prop_map(|(kind, length, count)| format!("  edge {kind} {length} count {count}\n"));
    let setting = prop_oneof![
        expr().prop_map(|height| format!("  height {height}\n")),
        expr().prop_map(|at| format!("  at {at}\n")),
        name().prop_map(|word| format!("  conditions {{ access {word} }}\n")),
        name().prop_map(|finish| format!("  finish {finish}\n")),
        edge,
        face(),
    ];
    let body = vec(setting, 0..5).prop_map(|members| members.concat());
    let body = body.boxed();
    prop_oneof![
        (bare(), path.clone(), expr()).prop_map(|(name, path, other)| format!("let {name} = sum({path}, {other}) * {path}\n")),
        (name(), bare(), bare(), body.clone())
            .prop_map(|(name, one, other, body)| format!("template {name}({one}, {other}) on a {{\n{body}}}\n")),
        (name(), name(), expr(), body.clone())
            .prop_map(|(name, from, value, body)| format!("structure {name} from {from}({value}) on a {{\n{body}}}\n")),
        (name(), name(), path).prop_map(|(name, from, path)| format!("structure {name} from {from}({path}, 2)\n")),
        (name(), name(), name()).prop_map(|(one, finish, other)| format!(
            "alternate \"b\" {{ structure {one} {{ finish {finish} }}  omit {other} }}\nallowance \"a\" 850 USD\n"
        )),
    ]
}

proptest! {
    #![proptest_config(super::cases(200))]

    #[test]
    fn the_sketch_and_the_tree_agree(statements in vec(prop_oneof![statement(), rest()], 1..6)) {
        let analysis = analysis(&format!("parge 1\n{}", statements.concat()));
        // What the parser refuses (`3 - -2`, odd numbers) it does not compare.
        if analysis.diagnostics().is_empty() {
            compare(&analysis);
        }
    }
}

/// Most of what is made up can be read, so that much is compared.
#[test]
fn most_plans_are_good() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let mut plan = || {
        let made = statement().new_tree(&mut runner).expect("a statement");
        analysis(&format!("parge 1\n{}", made.current()))
    };
    let plans: Vec<_> = std::iter::repeat_with(&mut plan).take(200).collect();
    let good = plans
        .iter()
        .filter(|plan| plan.diagnostics().is_empty())
        .count();
    let told = plans
        .iter()
        .flat_map(|plan| plan.diagnostics())
        .map(|found| found.message.clone());
    assert!(
        good > 120,
        "{good}: {:#?}",
        told.take(20).collect::<Vec<_>>()
    );
}
