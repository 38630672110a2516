//! What is proposed at a place.

use super::{SAMPLE, WHOLE, analysis, marked};
use parge_grammar::analysis::{Completion, CompletionKind, PackWords, ThingKind};

fn pack() -> PackWords {
    let words = |list: &[&str]| list.iter().map(|word| (*word).to_owned()).collect();
    PackWords {
        techniques: words(&["stamp", "carve"]),
        substrates: words(&["block", "wood"]),
        sealers: words(&["matte"]),
        edges: words(&["cap", "drip-edge"]),
        conditions: vec![
            ("access".to_owned(), words(&["tight", "open"])),
            ("place".to_owned(), words(&["indoors"])),
        ],
    }
}

fn proposals(text: &str) -> Vec<Completion> {
    let (analysis, offset) = marked(text);
    analysis.completions(offset, &pack())
}

/// What is put in, in order.
fn inserts(text: &str) -> String {
    let inserts: Vec<_> = proposals(text).into_iter().map(|one| one.insert).collect();
    inserts.join(" ")
}

const SHAPES: &str = "rect triangle trapezoid polygon circle arch cylinder frustum arc ellipse ring \
                      cone dome stations shape measured";
const TOP: &str = "parge job let finish structure template include alternate allowance exclude note \
                   terms";
const FUNCTIONS: &str = "min( max( sum( round( sqrt(";
const PROPERTIES: &str = "area gross_area deducted_area reveal_area perimeter width height top \
                          bottom sides opening_edges count";

#[test]
fn statements_at_the_top() {
    for text in [
        "|",
        "parge 1\n|",
        "parge 1\nstr|",
        "let a = 2ft\n|\nlet b = 3ft",
        "finish a { }\n|",
        "finish a { } |",
    ] {
        assert_eq!(inserts(text), TOP, "{text}");
    }
    // On the line of another statement there is none.
    assert_eq!(inserts("let a = 2ft |"), "");
    assert_eq!(inserts("parge |"), "");
}

#[test]
fn members_of_each_block() {
    let job = "client site date valid_until valid units measure rules prices crew weather bid \
               conditions start workdays hours holidays weather_days travel forecast";
    assert_eq!(inserts("job \"A\" { |"), job);
    assert_eq!(inserts("job \"A\" {\n  crew 3\n  |\n}"), job);
    assert_eq!(inserts("job \"A\" { crew 3 |}"), job);
    assert_eq!(
        inserts("job \"A\" { weather { |} }"),
        "air humidity wind mix"
    );
    assert_eq!(
        inserts("job \"A\" { bid { overhead 3%  |"),
        "burden overhead profit tax contingency class minimum round"
    );
    assert_eq!(inserts("job \"A\" {\n  bid {\n  }\n  |"), job);
    let finish = "technique thickness relief colours colors sealer";
    assert_eq!(inserts("finish bark { |"), finish);
    assert_eq!(inserts("finish bark { technique carve th|"), finish);
    let body = "face finish height at edge conditions after";
    assert_eq!(inserts("structure \"A\" {\n|"), body);
    assert_eq!(
        inserts("structure \"A\" {\n  face f rect 1ft x 2ft\n  |\n}"),
        body
    );
    assert_eq!(
        inserts("structure \"A\" { face f rect 1ft x 2ft {\n  }\n  |"),
        body
    );
    assert_eq!(
        inserts("structure \"A\" { face f rect 1ft x 2ft {\n  |"),
        "opening edge"
    );
    assert_eq!(inserts("alternate \"A\" { |"), "structure omit");
    assert_eq!(inserts("alternate \"A\" { structure \"B\" { |"), "finish");
    assert_eq!(inserts("nonsense { |"), "");
}

#[test]
fn words_of_the_pack() {
    assert_eq!(inserts("finish bark { technique |"), "stamp carve");
    assert_eq!(inserts("finish bark { sealer |"), "matte");
    assert_eq!(inserts("structure \"A\" on |"), "block wood");
    assert_eq!(
        inserts("structure \"A\" { face f rect 1ft x 1ft on w|"),
        "block wood"
    );
    assert_eq!(inserts("structure \"A\" { edge |"), "cap \"drip-edge\"");
    assert_eq!(inserts("job \"A\" { conditions { |"), "access place");
    assert_eq!(
        inserts("structure \"A\" { conditions { access |"),
        "tight open"
    );
    assert_eq!(
        inserts("structure \"A\" { conditions { access tight |"),
        "access place"
    );
    let (analysis, offset) = marked("finish bark { technique |");
    assert_eq!(analysis.completions(offset, &PackWords::default()), []);
}

#[test]
fn shapes_behind_names() {
    assert_eq!(inserts("structure \"A\" { face f |"), SHAPES);
    assert_eq!(inserts("structure \"A\" { face \"the f\" re|"), SHAPES);
    assert_eq!(
        inserts("structure \"A\" { face f rect 1ft x 1ft { opening o |"),
        SHAPES
    );
    assert_eq!(inserts("structure \"A\" { face |"), "");
}

#[test]
fn what_follows_a_size() {
    let finishes = "finish bark { }\nfinish \"dry stone\" { }\n";
    let behind = |line: &str| inserts(&format!("{finishes}structure \"A\" {{\n  {line}"));
    let details = "bark \"dry stone\" on count at from";
    assert_eq!(behind("face f rect 1ft x 2ft |"), details);
    assert_eq!(behind("face f rect 1ft x 2ft b|"), details);
    assert_eq!(behind("face f rect 1ft x 2ft bark |\n  face g"), details);
    assert_eq!(behind("face f rect 1ft x 2ft count 2 |"), details);
    assert_eq!(behind("face f rect 1ft |"), format!("x {details}"));
    assert_eq!(behind("face f circle diameter 2ft |"), details);
    assert_eq!(behind("face f circle |"), "diameter");
    assert_eq!(behind("face f ring 2ft |"), "to");
    assert_eq!(
        behind("face f frustum 2ft to 1ft |"),
        format!("x {details}")
    );
    assert_eq!(behind("face f arc radius 2ft |"), "sweep");
    assert_eq!(
        behind("face f cylinder diameter 2ft |"),
        format!("sweep x {details}")
    );
    assert_eq!(behind("face f measured 4ft2 |"), "around");
    assert_eq!(behind("face f measured 4ft2 around 4ft high 2ft |"), "");
    assert_eq!(behind("face f polygon (0ft, 0ft) (1ft, 0ft) |"), details);
    assert_eq!(
        behind("face f rect 1ft x 2ft { opening o arch 2ft x 3ft |"),
        "rise reveal count finish from"
    );
    assert_eq!(
        behind("face f rect 1ft x 2ft { opening o rect 2ft x 3ft reveal 2in |"),
        "on reveal count finish from"
    );
    assert_eq!(
        behind("face f rect 1ft x 2ft { opening o rect 2ft x 3ft reveal 2in on |"),
        "top bottom sides"
    );
    assert_eq!(
        behind("face f rect 1ft x 2ft { opening o rect 2ft x 3ft reveal 2in on top, |"),
        "top bottom sides"
    );
    assert_eq!(
        behind("face f rect 1ft x 2ft { opening o rect 2ft x 3ft finish |"),
        "bark \"dry stone\""
    );
    assert_eq!(behind("finish |"), "bark \"dry stone\"");
    assert_eq!(behind("edge cap 2ft |"), "count");
}

#[test]
fn operands_of_expressions() {
    let plan = "let a = 1ft\nlet b = |\nlet c = 2ft\nstructure S { face f rect a x c }\n";
    let all = format!("a c S f {FUNCTIONS}");
    assert_eq!(inserts(plan), all);
    for value in ["1 + |", "min(|", "min(a, |", "-|", "(a * |", "2ft -\n  |"] {
        assert_eq!(inserts(&plan.replace('|', value)), all, "{value}");
    }
    for value in ["2ft|", "a +2|", "\"S|"] {
        assert_eq!(inserts(&plan.replace('|', value)), "", "{value}");
    }
    assert_eq!(
        inserts("structure S { face f rect |"),
        format!("f S {FUNCTIONS}").replace("f S", "S f")
    );
    assert_eq!(inserts("job \"A\" { crew |"), FUNCTIONS);
    assert_eq!(inserts("finish bark { colours granite |"), FUNCTIONS);
}

#[test]
fn parameters_in_their_template() {
    let plan = "let width = 1ft\ntemplate bay(wide, high) on block {\n  face front rect |\n}\n\
                structure N from bay(|, 2ft)\n";
    let first = plan.replacen("(|", "(", 1);
    assert_eq!(
        inserts(&first),
        format!("wide high width N {FUNCTIONS}").replace(" N ", " front N ")
    );
    let second = plan.replacen("rect |", "rect ", 1);
    assert_eq!(inserts(&second), format!("width front N {FUNCTIONS}"));
    assert_eq!(inserts("template bay(w) { }\nstructure N |"), "on from");
    assert_eq!(inserts("template bay(w) { }\nstructure N from |"), "bay");
}

#[test]
fn measures_behind_a_dot() {
    let plan = "structure S { face f rect 1ft x 1ft }\nlet a = ";
    assert_eq!(inserts(&format!("{plan}f.|")), PROPERTIES);
    assert_eq!(inserts(&format!("{plan}f.ar|")), PROPERTIES);
    assert_eq!(inserts(&format!("{plan}S.|")), format!("{PROPERTIES} f"));
    assert_eq!(inserts(&format!("{plan}S.f.|")), PROPERTIES);
    assert_eq!(
        inserts(&format!("{plan}sum(\"S\".|)")),
        format!("{PROPERTIES} f")
    );
}

#[test]
fn statements_over_several_lines() {
    let plan = "let a = 1ft\ntemplate bay(w, h) { }\n";
    let all = format!("a {FUNCTIONS}");
    for line in [
        "structure N from bay(12ft,\n    |",
        "structure N from bay(\r\n    |",
        "structure N {\r\n  face f polygon (1ft,\r\n |",
        "let b =\n  |",
        "let b = 2 *\n  |\nlet c = 3",
    ] {
        let with_n = inserts(&format!("{plan}{line}"))
            .replace(" N ", " ")
            .replace(" f ", " ");
        assert_eq!(with_n.replace("a c ", "a "), all, "{line}");
    }
    let body = "face finish height at edge conditions after";
    assert_eq!(
        inserts("structure N {\r\n  face f rect 1ft x 1ft # here\r\n  |\r\n}\r\n"),
        body
    );
}

#[test]
fn choices_and_changes() {
    assert_eq!(inserts("job \"A\" { units |"), "us metric");
    assert_eq!(inserts("job \"A\" { measure |"), "net");
    assert_eq!(inserts("job \"A\" { bid { profit |"), "markup margin");
    assert_eq!(inserts("job \"A\" { bid { round up |"), "to");
    assert_eq!(inserts("job \"A\" { bid { tax 7% |"), "on");
    assert_eq!(inserts("job \"A\" { bid { tax 7% on |"), "materials total");
    assert_eq!(inserts("finish b { sealer matte, 2 |"), "coats coat");
    let plan = "structure \"The wall\" { }\nfinish bark { }\nalternate \"A\" { ";
    assert_eq!(inserts(&format!("{plan}omit |")), "\"The wall\"");
    assert_eq!(inserts(&format!("{plan}structure |")), "\"The wall\"");
    assert_eq!(
        inserts(&format!("{plan}structure \"The wall\" {{ finish |")),
        "bark"
    );
}

#[test]
fn nothing_in_comments_and_texts() {
    for text in [
        "# |",
        "let a = 2ft # |\n",
        "let a = #|",
        "job \"|\" { }",
        "job \"A|",
        "job \"A\" { client \"a |",
        "job \"A\" { client |",
        "note \"|\"",
        "note |",
        "include |",
        "let |",
        "finish |",
        "template bay(|",
        "job \"A\" { date |",
    ] {
        assert_eq!(inserts(text), "", "{text}");
    }
    assert_eq!(inserts("# a comment\n|"), TOP);
    assert_eq!(inserts("let a = 2ft # a comment\n|"), TOP);
}

#[test]
fn proposals_say_what_they_are_and_replace_the_word_that_is_begun() {
    let proposals =
        proposals("finish \"tree bark\" { }\nstructure A { face f rect 1ft x 1ft tr|ee }");
    let first = &proposals[0];
    assert_eq!(first.label, "tree bark");
    assert_eq!(first.insert, "\"tree bark\"");
    assert_eq!(first.kind, CompletionKind::Name(ThingKind::Finish));
    assert_eq!(first.detail, "finish \"tree bark\"");
    assert_eq!(first.replaces.len(), 4);
    assert!(proposals.iter().all(|one| !one.detail.is_empty()));
    assert!(
        proposals
            .iter()
            .any(|one| one.kind == CompletionKind::Keyword)
    );
}

/// Whatever stands at a place of a good plan is among what is proposed there.
#[test]
fn what_is_written_would_have_been_proposed() {
    for plan in [SAMPLE, WHOLE] {
        let analysis = analysis(plan);
        let mut asked = 0;
        for (offset, _) in plan.char_indices() {
            let Some(hover) = analysis.hover(offset) else {
                continue;
            };
            let word = &plan[hover.range.clone()];
            let is_word = word.starts_with(|first: char| first.is_alphabetic()) && word != "x";
            if hover.range.start != offset
                || !is_word
                || analysis.definition(offset) == Some(hover.range.clone())
            {
                continue;
            }
            let cut = super::analysis(&plan[..offset + 1]);
            let proposals = cut.completions(offset + 1, &PackWords::default());
            let whole = analysis.completions(offset + 1, &PackWords::default());
            // What comes later in the text is known from the whole of it only.
            let is_keyword = hover.markdown.starts_with("**");
            let list = if is_keyword { proposals } else { whole };
            let labels: Vec<_> = list.iter().map(|one| one.label.as_str()).collect();
            assert!(
                labels.contains(&word),
                "{word} at {:?}: {labels:?}",
                analysis.position(offset)
            );
            asked += 1;
        }
        assert!(asked > 50);
    }
}
