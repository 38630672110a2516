//! The outline tree.

use super::{WHOLE, analysis};
use parge_grammar::analysis::Symbol;
use std::fmt::Write;

/// The sample of the design.
const DESIGN: &str = include_str!("../editors/sample.parge");

fn told(text: &str) -> String {
    let mut told = String::new();
    write_all(text, &analysis(text).symbols(), 0, &mut told);
    told
}

fn write_all(text: &str, symbols: &[Symbol], depth: usize, told: &mut String) {
    for symbol in symbols {
        let span = text.get(symbol.span.clone()).expect("a span of the text");
        let name = text.get(symbol.name_span.clone()).expect("a name");
        let (first, last) = (span.split('\n').next(), span.split('\n').next_back());
        let shown = if first == last {
            span.to_owned()
        } else {
            format!("{} … {}", first.unwrap_or(""), last.unwrap_or("").trim())
        };
        let gap = " ".repeat(2 * depth);
        writeln!(told, "{gap}{:?} {name}: {shown}", symbol.kind).expect("a string");
        write_all(text, &symbol.children, depth + 1, told);
    }
}

#[test]
fn of_the_sample() {
    insta::assert_snapshot!(told(DESIGN));
}

#[test]
fn of_the_whole_language() {
    insta::assert_snapshot!(told(WHOLE));
}

#[test]
fn of_a_half_written_plan() {
    let text = "let a =\nfinish\nfinish bark {\nstructure \"A\" on {\n  face\n  face f rect {\n    \
                opening o\n  face g";
    insta::assert_snapshot!(told(text), @r#"
    Let a: let a =
    Finish bark: finish bark {
    Structure "A": structure "A" on { … face g
      Face f: face f rect { … face g
        Opening o: opening o
    "#);
}

#[test]
fn names_are_told_without_quotes() {
    let symbols = analysis("structure \"The \\\"old\\\" wall\" { }").symbols();
    assert_eq!(symbols[0].name, "The \"old\" wall");
}
