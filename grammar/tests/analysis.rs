//! What an editor is told about a plan.

// Helpers of tests fail as tests do.
#![allow(clippy::expect_used)]

#[path = "analysis/completion.rs"]
mod completion;
#[path = "analysis/explained.rs"]
mod explained;
#[path = "analysis/generated.rs"]
mod generated;
#[path = "analysis/hover.rs"]
mod hover;
#[path = "analysis/names.rs"]
mod names;
#[path = "analysis/noise.rs"]
mod noise;
#[path = "analysis/places.rs"]
mod places;
#[path = "analysis/rename.rs"]
mod rename;
#[path = "analysis/symbols.rs"]
mod symbols;
#[path = "analysis/tree.rs"]
mod tree;
#[path = "analysis/whole_language.rs"]
mod whole_language;

use parge_base::Sources;
use parge_grammar::analysis::Analysis;
use proptest::prelude::ProptestConfig;

/// The sample of the design, reduced to what the parser reads.
const SAMPLE: &str = include_str!("../src/tests/sample.parge");

/// A plan with everything that the language has.
const WHOLE: &str = include_str!("analysis/whole.parge");

fn analysis(text: &str) -> Analysis {
    Analysis::new(Sources::new().add("plan", ""), text)
}

/// A text with a `|` where something is asked, without it, and the offset.
fn marked(text: &str) -> (Analysis, usize) {
    let offset = text.find('|').expect("a mark");
    (analysis(&text.replacen('|', "", 1)), offset)
}

/// The offset of a piece of text that is there once, counted by its beginning.
fn at(text: &str, piece: &str) -> usize {
    assert_eq!(text.matches(piece).count(), 1, "{piece}");
    text.find(piece).expect("the piece")
}

/// A number of made-up texts. What failed is told, and not written to a file.
fn cases(number: u32) -> ProptestConfig {
    ProptestConfig {
        cases: number,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}
