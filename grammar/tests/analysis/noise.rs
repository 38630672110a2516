//! Any offset in any text.

use super::{SAMPLE, WHOLE, analysis};
use growth::grows_in_proportion;
use parge_grammar::analysis::{PackWords, Position};
use proptest::prelude::*;

#[path = "../../src/tests/growth.rs"]
mod growth;

/// Asks everything at an offset. What is told lies in the text.
fn ask(text: &str, offset: usize) {
    let analysis = analysis(text);
    let position = analysis.position(offset);
    assert!(analysis.offset(position) <= text.len());
    for symbol in super::rename::all(&analysis.symbols()) {
        assert!(text.get(symbol.span.clone()).is_some());
        assert!(
            symbol.span.start <= symbol.name_span.start && symbol.name_span.end <= symbol.span.end
        );
    }
    if let Some(name) = analysis.definition(offset) {
        assert!(text.get(name.clone()).is_some());
        assert_eq!(analysis.definition(name.start), Some(name.clone()));
        let places = analysis.references(offset, true);
        assert!(places.is_sorted_by_key(|place| place.start));
        assert!(places.contains(&name));
        assert!(places.iter().all(|place| text.get(place.clone()).is_some()));
        let _ = analysis.rename(offset, "heron");
    }
    if let Some(hover) = analysis.hover(offset) {
        assert!(text.get(hover.range).is_some());
        assert!(!hover.markdown.is_empty());
    }
    for proposal in analysis.completions(offset, &PackWords::default()) {
        let place = proposal.replaces;
        assert!(text.get(place.clone()).is_some());
        assert!(place.start <= offset);
        assert!(!proposal.insert.is_empty());
    }
}

const PIECES: &[&str] = &[
    "parge 1",
    "job",
    "\"Heron\"",
    "{",
    "}",
    "(",
    ")",
    "let",
    "a",
    "=",
    "3ft",
    "12' 6-3/4\"",
    ",",
    "structure",
    "template",
    "from",
    "finish",
    "face",
    "opening",
    "rect",
    "x",
    "polygon",
    "on",
    "count",
    "reveal",
    "alternate",
    "omit",
    "edge",
    "conditions",
    "weather",
    "bid",
    ".",
    "area",
    "min(",
    "\n",
    "\r\n",
    "# note",
    "\"",
    "\\",
    "é",
    "𝕏",
    "measured",
    "stations",
    "+",
    "-",
    "×",
];

proptest! {
    #![proptest_config(super::cases(100))]

    #[test]
    fn in_any_letters(text in any::<String>(), offset in 0_usize..200) {
        ask(&text, offset);
    }

    #[test]
    fn in_pieces_of_plans(
        pieces in proptest::collection::vec(proptest::sample::select(PIECES), 0..40),
        offset in 0_usize..200,
    ) {
        ask(&pieces.join(" "), offset);
        ask(&pieces.concat(), offset);
    }

    #[test]
    fn in_plans_that_are_cut_off(cut in 0_usize..3000, offset in 0_usize..3000) {
        for plan in [SAMPLE, WHOLE] {
            let mut cut = cut.min(plan.len());
            while !plan.is_char_boundary(cut) {
                cut -= 1;
            }
            ask(&plan[..cut], offset);
            ask(&plan[..cut], cut);
            ask(&plan[cut..], offset);
        }
    }

    #[test]
    fn at_any_line_and_column(text in any::<String>(), line in any::<u32>(), column in any::<u32>()) {
        let analysis = analysis(&text);
        let offset = analysis.offset(Position { line: line % 5, column: column % 50 });
        prop_assert!(text.is_char_boundary(offset));
        analysis.offset(Position { line, column });
    }
}

#[test]
fn at_the_last_of_all_offsets() {
    ask("", usize::MAX);
    ask(SAMPLE, usize::MAX);
}

#[test]
fn in_brackets_without_end() {
    ask(&format!("let a = {}", "(".repeat(20_000)), 500);
    ask(&"structure a { ".repeat(2_000), 500);
    ask(&format!("let a = {}", "a.".repeat(20_000)), 500);
}

/// Every keystroke asks for all of it.
#[test]
fn a_long_plan_is_read_in_time() {
    grows_in_proportion("structures", 2_000, |structures| {
        let mut text = "parge 1\nfinish bark { technique carve }\nlet high = 3ft\n".to_owned();
        for number in 0..structures {
            let face =
                format!("face f{number} rect 2ft x high bark {{ opening o rect 1ft x 1ft }}");
            text.push_str(&format!("structure s{number} on block {{\n  {face}\n}}\n"));
        }
        let analysis = analysis(&text);
        let places = analysis.references(text.find("high").unwrap_or(0), false);
        assert_eq!(places.len(), structures);
        assert_eq!(analysis.symbols().len(), structures + 2);
        let completions = analysis.completions(text.len(), &PackWords::default());
        assert!(!completions.is_empty());
    });
}
