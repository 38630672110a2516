//! Literals with their values, and the precedence of operators.

use super::{expr, quantity, told_of};
use crate::ast::{BinaryOp, ExprKind};
use parge_base::Dim;
use std::f64::consts::PI;

fn metres(text: &str) -> f64 {
    let quantity = quantity(text);
    assert_eq!(quantity.dim, Dim::LENGTH, "{text}");
    quantity.value
}

fn plain(text: &str) -> f64 {
    let quantity = quantity(text);
    assert_eq!(quantity.dim, Dim::NONE, "{text}");
    quantity.value
}

#[test]
fn lengths_are_read_as_the_trade_writes_them() {
    assert_eq!(metres("22ft"), 22.0 * 0.3048);
    assert_eq!(metres("2.5ft"), 2.5 * 0.3048);
    assert_eq!(metres("3.81m"), 3.81);
    assert_eq!(metres("3810mm"), metres("3 810mm"));
    assert_eq!(metres("1 003 810.5mm"), 1_003_810.5 * 0.001);
    assert_eq!(metres("3/4in"), 0.75 * 0.0254);
    assert_eq!(metres("1/2ft"), 0.5 * 0.3048);
    assert_eq!(metres("2 1/2in"), 2.5 * 0.0254);
    assert_eq!(metres("2-1/2in"), 2.5 * 0.0254);
    assert_eq!(metres("22'"), metres("22ft"));
    assert_eq!(metres("22′"), metres("22ft"));
    assert_eq!(metres("8\""), metres("8in"));
    assert_eq!(metres("8″"), metres("8in"));
}

#[test]
fn compound_lengths_equal_their_smallest_unit_to_the_bit() {
    assert_eq!(metres("12ft 6 3/4in"), metres("150.75in"));
    assert_eq!(metres("12' 6-3/4\""), metres("150.75in"));
    assert_eq!(metres("12' 6 3/4\""), metres("150.75in"));
    assert_eq!(metres("12'-6\""), metres("150in"));
    assert_eq!(metres("12'-6-1/2\""), metres("150.5in"));
    assert_eq!(metres("12′6″"), metres("150in"));
    assert_eq!(metres("22'4\""), metres("268in"));
    assert_eq!(metres("1yd 2ft 3in"), metres("63in"));
    assert_eq!(metres("3m 81cm"), metres("381cm"));
    assert_eq!(metres("0ft 6in"), metres("6in"));
    assert!((metres("4m 2ft") - 4.6096).abs() < 1e-12);
}

#[test]
fn other_kinds_are_read_too() {
    assert_eq!(quantity("12ft2").dim, Dim::AREA);
    assert_eq!(quantity("12ft²").value, quantity("12ft2").value);
    assert_eq!(quantity("40sf").value, quantity("40ft2").value);
    assert_eq!(quantity("2yd3").dim, Dim::VOLUME);
    assert_eq!(quantity("5gal").dim, Dim::VOLUME);
    assert_eq!(quantity("80lb").dim, Dim::MASS);
    assert_eq!(quantity("9mph").dim, Dim::SPEED);
    assert_eq!(quantity("4m/s").value, 4.0);
    assert_eq!(quantity("4m/s").dim, Dim::SPEED);
    assert_eq!(plain("60%"), 0.6);
    assert_eq!(plain("2"), 2.0);
    assert_eq!(plain("1 1/2"), 1.5);
    assert_eq!(plain("1 000"), 1000.0);
    assert_eq!(plain("180deg"), PI);
    assert_eq!(plain("90°"), PI / 2.0);
    assert_eq!(plain("1.5rad"), 1.5);
}

#[test]
fn thermometers_read_below_zero() {
    assert!((quantity("84F").value - 302.0388888888889).abs() < 1e-9);
    assert_eq!(quantity("29C").value, 302.15);
    assert_eq!(quantity("29°C").value, 302.15);
    assert_eq!(quantity("-5C").value, 268.15);
    assert_eq!(quantity("- 5C").value, 268.15);
    assert_eq!(quantity("-5C").dim, Dim::TEMPERATURE);
    let difference = expr("20C -5C").node;
    assert!(
        matches!(difference, ExprKind::Binary(BinaryOp::Subtract, ..)),
        "{difference:?}"
    );
}

#[test]
fn a_fraction_needs_no_blanks_and_a_division_has_them() {
    assert!(matches!(
        expr("1/2").node,
        ExprKind::Binary(BinaryOp::Divide, ..)
    ));
    assert!(matches!(
        expr("1 / 2ft").node,
        ExprKind::Binary(BinaryOp::Divide, ..)
    ));
    assert!(matches!(expr("1/2ft").node, ExprKind::Literal(_)));
    assert!(matches!(
        expr("6 - 3/4in").node,
        ExprKind::Binary(BinaryOp::Subtract, ..)
    ));
}

#[test]
fn digits_are_grouped_in_threes_or_not_at_all() {
    assert!(told_of("let a = 1234 567mm").starts_with("E0111 at `1234 567`"));
    assert!(told_of("let a = 1 0000mm").starts_with("E0106"));
}

/// An expression with all its brackets.
fn bracketed(text: &str) -> String {
    fn show(node: &ExprKind) -> String {
        match node {
            ExprKind::Literal(quantity) => quantity.value.to_string(),
            ExprKind::Name(name) => name.clone(),
            ExprKind::Measure(names, property) => {
                let names: Vec<_> = names.iter().map(|name| name.node.as_str()).collect();
                format!("[{}].{}", names.join("|"), property.node)
            }
            ExprKind::Negate(inner) => format!("-{}", show(&inner.node)),
            ExprKind::Binary(op, left, right) => {
                let sign = match op {
                    BinaryOp::Add => '+',
                    BinaryOp::Subtract => '-',
                    BinaryOp::Multiply => '*',
                    BinaryOp::Divide => '/',
                    BinaryOp::Power => '^',
                };
                format!("({}{sign}{})", show(&left.node), show(&right.node))
            }
            ExprKind::Call(name, parts) => {
                let parts: Vec<_> = parts.iter().map(|part| show(&part.node)).collect();
                format!("{}({})", name.node, parts.join(","))
            }
        }
    }
    show(&expr(text).node)
}

#[test]
fn operators_bind_in_their_order() {
    assert_eq!(bracketed("a + b * c"), "(a+(b*c))");
    assert_eq!(bracketed("a - b - c"), "((a-b)-c)");
    assert_eq!(bracketed("a / b * c"), "((a/b)*c)");
    assert_eq!(bracketed("a ^ b ^ c"), "(a^(b^c))");
    assert_eq!(bracketed("-a ^ 2"), "(-a^2)");
    assert_eq!(bracketed("a * -b"), "(a*-b)");
    assert_eq!(bracketed("2 ^ -1"), "(2^-1)");
    assert_eq!(bracketed("(a + b) * c"), "((a+b)*c)");
    assert_eq!(bracketed("a*b + c*d - e"), "(((a*b)+(c*d))-e)");
    assert_eq!(
        bracketed("min(a, max(b, 2)) + f()"),
        "(min(a,max(b,2))+f())"
    );
    assert_eq!(bracketed("a +\n  b"), "(a+b)");
    assert_eq!(bracketed("min(a, # one\n b)"), "min(a,b)");
}

/// The value of an expression of plain numbers.
fn value(node: &ExprKind) -> f64 {
    match node {
        ExprKind::Literal(quantity) => quantity.value,
        ExprKind::Binary(op, left, right) => {
            let (left, right) = (value(&left.node), value(&right.node));
            match op {
                BinaryOp::Add => left + right,
                BinaryOp::Subtract => left - right,
                BinaryOp::Multiply => left * right,
                BinaryOp::Divide => left / right,
                BinaryOp::Power => left.powf(right),
            }
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_sum_of_ten_thousand_terms_is_shallow_and_right() {
    let mut text = String::from("0");
    let mut sum = 0.0;
    for term in 1..10_000 {
        let minus = term % 3 == 0;
        sum += if minus {
            -f64::from(term)
        } else {
            f64::from(term)
        };
        text += if minus { " - " } else { " + " };
        text += &term.to_string();
    }
    assert_eq!(value(&expr(&text).node), sum);
    let product = vec!["2"; 50].join(" * ") + &" / 2".repeat(49);
    assert_eq!(value(&expr(&product).node), 2.0);
}

#[test]
fn expressions_nested_too_deep_are_told_and_not_walked() {
    let climbs = [vec!["2"; 5000].join("^"), "-".repeat(5000) + "2"];
    for text in climbs {
        assert!(told_of(&format!("let a = {text}")).starts_with("E0109"));
    }
    let nested = "(".repeat(64) + "1" + &")".repeat(64);
    assert_eq!(bracketed(&nested), "1");
    let deep = "(1 + ".repeat(64) + "1" + &")".repeat(64);
    assert!(told_of(&format!("let a = {deep}")).starts_with("E0109"));
    let deeper = "(".repeat(65) + "1" + &")".repeat(65);
    assert!(told_of(&format!("let a = {deeper}")).starts_with("E0109"));
}

#[test]
fn measures_are_read_by_their_names() {
    assert_eq!(bracketed("street.area"), "[street].area");
    assert_eq!(
        bracketed("\"Entry planter\".street.width * 2"),
        "([Entry planter|street].width*2)"
    );
    assert_eq!(
        bracketed("planter.\"face 2\".count"),
        "[planter|face 2].count"
    );
    assert_eq!(
        bracketed("sum(\"Entry planter\".area) - max(a.height,b . top)"),
        "(sum([Entry planter].area)-max([a].height,[b].top))"
    );
    assert_eq!(bracketed("-a.b^2.5"), "(-[a].b^2.5)");
    assert_eq!(bracketed("a2.x"), "[a2].x");
    assert_eq!(bracketed("2.5*a"), "(2.5*a)");
    let place = expr("(\"a b\" . street.area)").span;
    assert_eq!(place.range().len(), "(\"a b\" . street.area)".len());
}

#[test]
fn durations_are_read_too() {
    for (text, seconds) in [("90min", 5400.0), ("2h", 7200.0), ("3d", 259_200.0)] {
        let duration = quantity(text);
        assert_eq!(
            (duration.dim, duration.value),
            (Dim::TIME, seconds),
            "{text}"
        );
    }
}
