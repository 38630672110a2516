//! Tests of the whole crate, and what they share.

mod bodies;
mod corpus;
pub(crate) mod growth;
mod mistakes;
mod mistakes_in_bid_content;
mod mistakes_in_blocks;
mod mistakes_in_templates;
mod mistakes_in_values;
mod noise;
mod quick;
mod shapes;
mod standards;
mod statements;
mod values;

use crate::ast::{Expr, ExprKind, Plan, Statement};
use crate::{Parsed, parse};
use parge_base::{Quantity, Sources};

/// The sample of the design, as it stands there.
const SAMPLE: &str = include_str!("tests/sample.parge");

fn read(text: &str) -> Parsed {
    parse(Sources::new().add("plan", ""), text)
}

/// All mistakes of a text, one a line: `E0106 at `place`: message | help`.
fn told(text: &str) -> String {
    let lines = read(text).diagnostics.into_iter().map(|diagnostic| {
        let place = diagnostic
            .span()
            .and_then(|span| text.get(span.range()))
            .unwrap_or("?");
        let place = place
            .replace('\n', "⏎")
            .replace(['\u{200B}', '\u{202E}'], "unseen");
        let (code, message) = (diagnostic.code.id(), diagnostic.message);
        format!("{code} at `{place}`: {message} | {}", diagnostic.help)
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// The mistakes of one statement, behind a version line.
fn told_of(statement: &str) -> String {
    told(&format!("parge 1\n{statement}"))
}

/// The mistakes of several statements, each behind a version line of its own.
fn told_of_all(statements: &[&str]) -> String {
    statements
        .iter()
        .map(|statement| told_of(statement))
        .collect::<Vec<_>>()
        .join("\n")
}

/// The plan of a text without mistakes.
fn good(text: &str) -> Plan {
    let parsed = read(text);
    assert!(parsed.diagnostics.is_empty(), "{}", told(text));
    parsed.plan
}

/// The expression that a text says.
fn expr(text: &str) -> Expr {
    let plan = good(&format!("parge 1\nlet a = {text}"));
    match plan.statements.as_slice() {
        [Statement::Let(found)] => found.value.clone(),
        other => panic!("{other:?}"),
    }
}

/// The quantity that a literal says.
fn quantity(text: &str) -> Quantity {
    match expr(text).node {
        ExprKind::Literal(quantity) => quantity,
        other => panic!("{text}: {other:?}"),
    }
}
