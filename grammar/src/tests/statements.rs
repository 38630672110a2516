//! Statements and their parts.

use super::{SAMPLE, good, read, told};
use crate::ast::{BidTerm, FaceDetail, FinishSetting, JobSetting, OpeningDetail, Statement};

#[test]
fn the_sample_reads_without_a_word() {
    let plan = good(SAMPLE);
    assert_eq!(plan.version.as_ref().map(|version| version.node), Some(1));
    let [
        Statement::Job(job),
        lets @ ..,
        Statement::Structure(planter),
        Statement::Structure(trunk),
    ] = plan.statements.as_slice()
    else {
        panic!("{plan:?}");
    };
    assert_eq!(lets.len(), 4);
    assert_eq!(job.name.node, "Heron Point nature centre");
    assert_eq!(job.settings.len(), 10);
    assert_eq!(
        planter.substrate.as_ref().map(|name| name.node.as_str()),
        Some("block")
    );
    assert_eq!(planter.faces.len(), 4);
    let gable = &planter.faces[3];
    assert_eq!(gable.openings.len(), 2);
    assert!(matches!(&gable.details[0].node, FaceDetail::Substrate(name) if name.node == "wood"));
    assert!(matches!(&gable.details[1].node, FaceDetail::Finish(name) if name.node == "drystone"));
    assert!(matches!(
        gable.openings[0].details[0].node,
        OpeningDetail::Reveal(..)
    ));
    assert!(matches!(
        gable.openings[0].details[1].node,
        OpeningDetail::Count(_)
    ));
    assert_eq!(trunk.finishes.len(), 1);
    assert_eq!(trunk.faces[0].details.len(), 3);
}

#[test]
fn settings_say_what_was_written() {
    let plan = good(SAMPLE);
    let Some(Statement::Job(job)) = plan.statements.first() else {
        panic!("no job");
    };
    let settings: Vec<_> = job.settings.iter().map(|setting| &setting.node).collect();
    assert!(matches!(settings[2], JobSetting::Date(day) if day.node.to_string() == "2026-04-20"));
    let JobSetting::Weather(weather) = settings[8] else {
        panic!("no weather");
    };
    let readings: Vec<_> = weather.iter().map(|(name, _)| name.node.as_str()).collect();
    assert_eq!(readings, ["air", "humidity", "wind", "mix"]);
    let JobSetting::Bid(terms) = settings[9] else {
        panic!("no bid");
    };
    assert!(matches!(&terms[2].node, BidTerm::Profit(kind, _) if kind.node == "markup"));
    assert!(matches!(&terms[3].node, BidTerm::Tax(_, base) if base.node == "materials"));
}

#[test]
fn finishes_say_what_was_written() {
    let text = "parge 1\nfinish \"dry stone\" { colors granite 60%,\n \"moss green\" 40%\n sealer matte, 1 coat }\nfinish b { sealer gloss }";
    let plan = good(text);
    let [Statement::Finish(first), Statement::Finish(second)] = plan.statements.as_slice() else {
        panic!("{plan:?}");
    };
    assert_eq!(first.name.node, "dry stone");
    assert!(
        matches!(&first.settings[0].node, FinishSetting::Colours(colours)
        if colours.len() == 2 && colours[1].0.node == "moss green")
    );
    assert!(matches!(
        &first.settings[1].node,
        FinishSetting::Sealer(_, Some(_))
    ));
    assert!(matches!(
        &second.settings[0].node,
        FinishSetting::Sealer(_, None)
    ));
}

#[test]
fn spans_point_at_the_words() {
    let at = |span: parge_base::Span| SAMPLE.get(span.range()).unwrap();
    let plan = good(SAMPLE);
    let Some(Statement::Structure(planter)) = plan.statements.get(5) else {
        panic!("no structure");
    };
    let (ends, gable) = (&planter.faces[1], &planter.faces[3]);
    assert_eq!(at(planter.name.span), "\"Entry planter\"");
    assert_eq!(
        at(ends.span),
        "face ends    rect 4ft 2in x planter_h   count 2      drystone"
    );
    assert_eq!(at(ends.shape.span), "rect 4ft 2in x planter_h");
    assert_eq!(at(ends.details[0].span), "count 2");
    assert_eq!(at(gable.openings[0].shape.span), "rect 12in x 8in");
    assert_eq!(at(gable.details[0].span), "on wood");
}

#[test]
fn names_may_hold_any_text_in_quotes_and_letters_of_any_script_without() {
    let plan = good(
        "parge 1\nlet höhe_ü2 = 3m\nstructure \"a \\\"b\\\" \\\\ {#} ( 日本\" { face 正面 rect 1m x höhe_ü2 \"x\" }",
    );
    let Some(Statement::Structure(structure)) = plan.statements.get(1) else {
        panic!("{plan:?}");
    };
    assert_eq!(structure.name.node, "a \"b\" \\ {#} ( 日本");
    assert_eq!(structure.faces[0].name.node, "正面");
}

#[test]
fn units_are_no_reserved_words() {
    good("parge 1\nlet h = 3ft\nlet t = h\nlet in = 2in\nstructure s { face m rect in x h * 2 h }");
}

#[test]
fn layout_is_free_where_nothing_is_lost() {
    let lines = "parge 1\r\nlet a =\r\n\r\n  3ft + # more\r\n  2ft\r\nstructure \"s\"\r\n{\r\nface a rect a x a\r\n}\r\n";
    good(lines);
    good("\u{FEFF}parge 1 # first\nlet a = 3ft");
    good("# note\n\nparge 1\njob \"a\" {}\nfinish b {}\nstructure \"c\" {}");
    // Without any indent nothing is taken for a new statement while braces are in balance.
    good("parge 1\nstructure \"s\" {\nfinish bark\nface a rect 1ft x 1ft\n}");
}

#[test]
fn equality_ignores_places() {
    let loose = "parge 1\n\n\nlet   a = 2ft   8in # so\n";
    assert_eq!(read("parge 1\nlet a = 2ft 8in").plan, read(loose).plan);
}

#[test]
fn many_statements_keep_their_order() {
    let mut text = String::from("parge 1\n");
    for number in 0..10_000 {
        text += &format!("let a{number} = {number}ft\n");
    }
    let plan = good(&text);
    for (number, statement) in plan.statements.iter().enumerate() {
        assert!(
            matches!(statement, Statement::Let(found) if found.name.node == format!("a{number}"))
        );
    }
    let broken = text.replace("9ft", "9 ft");
    assert_eq!(told(&broken), told(&broken));
}
