//! Every word of the language is explained.

use super::analysis;
use parge_grammar::analysis::{Home, words_of_the_language};
use std::collections::BTreeSet;

const GRAMMAR: &str = include_str!("../../src/plan.pest");

/// The words of the `kw_` rules, and of the lists of words, in the grammar.
pub(crate) fn words() -> BTreeSet<String> {
    let is_list = |rule: &str| {
        let rule = rule.trim_end();
        rule.starts_with("kw_") || ["weather_word", "profit_kind", "edge_word"].contains(&rule)
    };
    let rules = GRAMMAR.lines().filter_map(|line| line.split_once('='));
    let rules = rules.filter(|(rule, _)| is_list(rule));
    let quoted = rules.flat_map(|(_, body)| body.split('"').skip(1).step_by(2));
    quoted.map(str::to_owned).collect()
}

#[test]
fn the_grammar_is_read() {
    let words = words();
    assert!(words.len() > 60, "{words:?}");
    for word in ["parge", "rect", "colors", "humidity", "margin", "sides"] {
        assert!(words.contains(word), "{word}");
    }
}

#[test]
fn every_word_of_the_grammar_is_explained() {
    let known: BTreeSet<&str> = words_of_the_language().map(|word| word.word).collect();
    for word in words() {
        assert!(
            known.contains(word.as_str()),
            "`{word}` is explained nowhere"
        );
    }
}

#[test]
fn explanations_are_short_and_show_the_word() {
    let mut seen = BTreeSet::new();
    for word in words_of_the_language() {
        assert!(
            seen.insert((word.word, word.home)),
            "{word:?} is there twice"
        );
        assert!(word.form.contains(word.word), "{word:?}");
        assert!(
            !word.meaning.ends_with('.') && !word.meaning.contains('\n'),
            "{word:?}"
        );
        assert!(
            !word.meaning.is_empty() && word.meaning.len() < 160,
            "{word:?}"
        );
    }
    for home in [Home::Function, Home::Property, Home::Shape] {
        assert!(seen.iter().any(|(_, other)| *other == home));
    }
}

/// A word that the parser takes as a name is one to the analysis as well.
#[test]
fn names_may_be_words_of_the_language() {
    let mut taken = 0;
    for word in words_of_the_language() {
        let analysis = analysis(&format!("parge 1\nlet {} = 1\n", word.word));
        let names: Vec<_> = analysis
            .symbols()
            .into_iter()
            .map(|symbol| symbol.name)
            .collect();
        if analysis.diagnostics().is_empty() {
            assert_eq!(names, [word.word]);
            taken += 1;
        }
    }
    assert!(taken > 30);
}
