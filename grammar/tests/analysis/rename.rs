//! Other names for things.

use super::{SAMPLE, WHOLE, analysis, at};
use parge_grammar::analysis::{Analysis, Edit, Refusal, Symbol};

pub(crate) fn applied(text: &str, edits: &[Edit]) -> String {
    let mut text = text.to_owned();
    for edit in edits.iter().rev() {
        text.replace_range(edit.range.clone(), &edit.text);
    }
    text
}

pub(crate) fn all(symbols: &[Symbol]) -> Vec<Symbol> {
    let inner = symbols.iter().flat_map(|symbol| all(&symbol.children));
    symbols.iter().cloned().chain(inner).collect()
}

/// Renames everything that a plan defines, one at a time. Each place that named it names it again.
pub(crate) fn rename_each(text: &str, name: &str) {
    let before = analysis(text);
    for symbol in all(&before.symbols()) {
        let offset = symbol.name_span.start;
        let edits = before.rename(offset, name).expect("a name that is free");
        let after = Analysis::new(
            parge_base::Sources::new().add("", ""),
            applied(text, &edits),
        );
        assert_eq!(
            after.diagnostics().len(),
            before.diagnostics().len(),
            "{}",
            after.text()
        );
        let defined = all(&after.symbols())
            .into_iter()
            .find(|symbol| symbol.name == name);
        let defined = defined.expect("the new name").name_span;
        let places = after.references(defined.start, true);
        assert_eq!(places.len(), edits.len());
        for place in places {
            assert_eq!(after.definition(place.start), Some(defined.clone()));
            let written = after.text()[place].trim_matches('"');
            assert_eq!(written, name);
        }
    }
}

#[test]
fn everything_in_the_sample_can_get_another_name() {
    rename_each(SAMPLE, "heron");
}

#[test]
fn everything_in_the_whole_language_can_get_another_name() {
    rename_each(WHOLE, "heron");
}

#[test]
fn names_are_put_in_quotes_where_they_must() {
    let text = "parge 1\nfinish bark { technique carve  thickness 1in }\n\
                structure A { face f rect 1ft x 1ft bark }\n";
    let named = |name| {
        applied(
            text,
            &analysis(text)
                .rename(at(text, "bark }\n"), name)
                .expect("a name"),
        )
    };
    assert!(named("tree bark").contains("x 1ft \"tree bark\" }"));
    assert!(named("count").contains("x 1ft \"count\" }"));
    assert!(named("a \"b\"").contains("x 1ft \"a \\\"b\\\"\" }"));
    for name in ["tree bark", "count", "a \"b\""] {
        assert!(analysis(&named(name)).diagnostics().is_empty(), "{name}");
    }
}

#[test]
fn names_that_would_change_the_plan_are_refused() {
    let offset = |piece: &str| at(WHOLE, piece) + piece.trim_end_matches(" {").len();
    let analysis = analysis(WHOLE);
    let renamed = |piece, name| analysis.rename(offset(piece), name).unwrap_err();
    assert_eq!(renamed("let width", "rail"), Refusal::Taken);
    assert_eq!(renamed("let width", "two words"), Refusal::NoName);
    assert_eq!(renamed("let width", "on"), Refusal::NoName);
    assert_eq!(renamed("let width", "a = 1 #"), Refusal::NoName);
    assert_eq!(renamed("finish drystone {", " "), Refusal::NoName);
    assert_eq!(renamed("finish drystone {", "a\nb"), Refusal::NoName);
    assert_eq!(renamed("technique stamp", "other"), Refusal::NothingThere);
    // `bow` is the only one of its name, which leads `bow.width` there.
    assert_eq!(renamed("face bow", "street"), Refusal::Taken);
    assert_eq!(renamed("structure \"North", "bow"), Refusal::Taken);
}
