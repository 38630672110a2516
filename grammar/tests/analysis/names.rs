//! Definitions and references.

use super::{SAMPLE, WHOLE, analysis, at, marked};

/// What the name at the mark leads to, with the line that it stands in.
fn leads_to(text: &str) -> String {
    let (analysis, offset) = marked(text);
    let Some(name) = analysis.definition(offset) else {
        return "nothing".to_owned();
    };
    let text = analysis.text();
    let start = text[..name.start].rfind('\n').map_or(0, |at| at + 1);
    let end = text[start..].find('\n').map_or(text.len(), |at| start + at);
    let line = text[start..end].trim();
    assert!(line.contains(&text[name.clone()]));
    line.to_owned()
}

/// The lines of the whole plan with a mark put before a piece of it.
fn in_whole(piece: &str, inside: &str) -> String {
    let offset = at(WHOLE, piece) + piece.find(inside).expect("inside");
    format!("{}|{}", &WHOLE[..offset], &WHOLE[offset..])
}

#[test]
fn lets_lead_to_their_lines() {
    assert_eq!(leads_to("let a = 1\nlet b = 2 * |a"), "let a = 1");
    assert_eq!(leads_to("let b = 2 * (a|)\nlet a = 1"), "let a = 1");
    assert_eq!(
        leads_to("let high = 1\nlet b = min(2, hi|gh)"),
        "let high = 1"
    );
    assert_eq!(leads_to("let |a = 1"), "let a = 1");
    assert_eq!(leads_to("let b = |a"), "nothing");
    assert_eq!(leads_to("let min = 1\nlet b = |min(2, 3)"), "nothing");
    assert_eq!(leads_to("let a = 1 # |a"), "nothing");
}

#[test]
fn a_parameter_hides_a_let_in_its_template_only() {
    assert_eq!(
        leads_to(&in_whole("front rect width x", "width")),
        "template bay(width, high) on block {"
    );
    assert_eq!(
        leads_to(&in_whole("edge cap width", "width")),
        "template bay(width, high) on block {"
    );
    assert_eq!(
        leads_to(&in_whole("bay(12ft, width)", "width")),
        "let width = 9ft"
    );
    assert_eq!(
        leads_to(&in_whole("back rect width", "width")),
        "let width = 9ft"
    );
    assert_eq!(
        leads_to(&in_whole("height high", "high")),
        "template bay(width, high) on block {"
    );
}

#[test]
fn finishes_are_found_wherever_they_are_named() {
    let bark = "finish \"tree bark\" { technique carve  thickness 1 1/2in  relief 1.15 }";
    assert_eq!(leads_to(&in_whole("x high \"tree bark\"", "\"tree")), bark);
    assert_eq!(
        leads_to(&in_whole("8in finish \"tree bark\"", "bark")),
        bark
    );
    assert_eq!(
        leads_to(&in_whole("{ finish \"tree bark\" }", "tree")),
        bark
    );
    let stone = "finish drystone { technique stamp  thickness 3/4in  sealer matte, 2 coats }";
    assert_eq!(
        leads_to(&in_whole("  finish drystone\n", "drystone")),
        stone
    );
    assert_eq!(
        leads_to(&in_whole("\"boulder\" drystone", "drystone")),
        stone
    );
    assert_eq!(
        leads_to(&in_whole("sides finish drystone", "drystone")),
        stone
    );
    assert_eq!(
        leads_to(&in_whole("\"boulder\" drystone", "\"boulder")),
        "nothing"
    );
}

#[test]
fn structures_and_templates_are_found() {
    let planter = "structure \"Entry planter\" on block {";
    assert_eq!(
        leads_to(&in_whole("structure \"Entry planter\" { fin", "Entry")),
        planter
    );
    assert_eq!(
        leads_to(&in_whole("sum(\"Entry planter\".area", "Entry")),
        planter
    );
    assert_eq!(
        leads_to(&in_whole("omit Grotto", "Grotto")),
        "structure Grotto on steel {"
    );
    assert_eq!(
        leads_to(&in_whole("from bay(12ft", "bay")),
        "template bay(width, high) on block {"
    );
}

#[test]
fn faces_of_measures_are_looked_for_from_the_inside() {
    // The own structure first.
    assert_eq!(
        leads_to(&in_whole("x street.height", "street")),
        "face street rect 22ft 4in x width"
    );
    // There are two of this name, and none of the plan's own.
    assert_eq!(leads_to(&in_whole("= street.area", "street")), "nothing");
    // Only one.
    assert!(leads_to(&in_whole("bow.width", "bow")).starts_with("face bow"));
    assert!(
        leads_to(&in_whole("planter\".street.width", "street")).starts_with("face street rect")
    );
    assert!(leads_to(&in_whole("3ft x front.height", "front")).starts_with("face front"));
    // Through the template.
    assert!(leads_to(&in_whole("\"North\".front.height", "front")).starts_with("face front"));
    // What is measured is no name.
    assert_eq!(leads_to(&in_whole("bow.width", "width")), "nothing");
    // A structure before a face elsewhere.
    let both =
        "structure street { face a rect 1ft x 1ft }\nstructure B { face street rect 1ft x 1ft }\n";
    let asked = format!("{both}let a = |street.area");
    assert_eq!(
        leads_to(&asked),
        "structure street { face a rect 1ft x 1ft }"
    );
}

#[test]
fn references_are_told_in_order() {
    let analysis = analysis(SAMPLE);
    let offset = at(SAMPLE, "let planter_h") + 4;
    let with = analysis.references(offset, true);
    let without = analysis.references(offset, false);
    assert_eq!(with.len(), 4);
    assert_eq!(with[1..], without[..]);
    assert!(
        with.iter()
            .all(|range| &SAMPLE[range.clone()] == "planter_h")
    );
    assert!(with.is_sorted_by_key(|range| range.start));
    // From a use it is the same.
    assert_eq!(analysis.references(without[2].start + 3, true), with);
    assert_eq!(analysis.references(at(SAMPLE, "client"), true), []);
}

#[test]
fn references_know_what_is_hidden() {
    let analysis = analysis(WHOLE);
    let of_let = analysis.references(at(WHOLE, "let width") + 4, true);
    let of_parameter = analysis.references(at(WHOLE, "bay(width, high)") + 4, true);
    assert_eq!((of_let.len(), of_parameter.len()), (7, 3));
    assert!(of_let.iter().all(|range| !of_parameter.contains(range)));
}

#[test]
fn names_are_found_in_lines_with_mistakes() {
    let text = "parge 1\nlet high = 6ft\nfinish bark {\nstructure \"A\" {\n  \
                face f rct 3ft x high bark\n  face g rect 2 2 x high bark count {\n}\n";
    let analysis = analysis(text);
    assert!(!analysis.diagnostics().is_empty());
    assert_eq!(
        analysis.references(at(text, "let high") + 4, false).len(),
        2
    );
    assert_eq!(
        analysis
            .references(at(text, "finish bark") + 8, false)
            .len(),
        2
    );
}
