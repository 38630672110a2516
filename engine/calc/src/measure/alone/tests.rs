use super::*;
use crate::testing::{SCRIPT, pack};
use parge_base::{Sources, diagnostic};

#[test]
fn finishes_and_substrates_that_nobody_knows_change_no_size() {
    let text = "parge 1\njob \"Test\" { rules \"none\" }\n\
                structure \"Hall\" {\n  finish unknown\n\
                face a rect 10ft x 8ft other on nothing count 2 from \"Rooms!A7\" {\n\
                opening door rect 3ft x 7ft\n}\n}\n";
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let file = sources.add("plan", text);
    let parsed = parge_grammar::parse(file, text);
    assert_eq!(parsed.diagnostics, []);
    let end = Span::new(file, text.len(), text.len());
    let (areas, said) = measure_alone(parsed.plan, Packs::of(&pack), end);
    assert!(!diagnostic::any_error(&said), "{said:?}");
    let areas = areas.unwrap();
    assert!((areas.gross / 0.09290304 - 160.0).abs() < 1e-9);
    assert_eq!((areas.faces, areas.equal), (1.0, 2.0));
    assert!((areas.deducted / 0.09290304 - 42.0).abs() < 1e-9);
}
