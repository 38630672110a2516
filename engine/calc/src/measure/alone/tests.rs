use super::*;
use crate::testing::{SCRIPT, pack};
use parge_base::Sources;

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

/// A plan with so many faces in each structure.
fn text_of(structures: &[usize]) -> String {
    let mut text = "parge 1\njob \"Test\" { rules \"none\" }\n".to_owned();
    for (number, faces) in structures.iter().enumerate() {
        text += &format!("structure \"Block {number}\" {{\n");
        for face in 0..*faces {
            let (length, height) = (face % 17 + 4, face % 5 + 3);
            text += &format!(
                "face \"Wall {face}\" rect {length}.7ft x {height}.3ft count {}\n",
                face % 3 + 1
            );
        }
        text += "}\n";
    }
    text
}

fn measured_of(text: &str) -> (Option<AreasOfAll>, Vec<Diagnostic>) {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let file = sources.add("plan", text);
    let parsed = parge_grammar::parse(file, text);
    assert_eq!(parsed.diagnostics, []);
    measure_alone(
        parsed.plan,
        Packs::of(&pack),
        Span::new(file, text.len(), text.len()),
    )
}

/// Faces are added in the order of the plan, in however many parts they are measured.
#[test]
fn parts_make_the_same_to_the_last_bit() {
    let text = text_of(&[1, 2_500, 3, 999, 1_001]);
    let (parted, said) = measured_of(&text);
    assert_eq!(said, []);
    assert_eq!(parted.unwrap().faces, 4_504.0);
    // A working height changes no area, and what states one is measured as a whole.
    let whole = text.replacen(" count 1\n", " count 1 at 20ft\n", 1);
    assert_ne!(whole, text);
    let (whole, said) = measured_of(&whole);
    assert_eq!(said, []);
    assert_eq!(parted, whole);
}

/// A name that two parts have is found as in a plan that is looked at as a whole.
#[test]
fn what_is_twice_in_two_parts_is_told() {
    let text = text_of(&[1_500, 1]);
    let face = text.replace("\"Wall 1400\"", "\"Wall 3\"");
    let (_, said) = measured_of(&face);
    assert!(
        said.iter()
            .any(|said| said.message.contains("`Wall 3` is defined twice")),
        "{said:?}"
    );
    let structure = text.replace("\"Block 1\"", "\"Block 0\"");
    let (_, said) = measured_of(&structure);
    assert!(
        said.iter()
            .any(|said| said.message.contains("`Block 0` is defined twice")),
        "{said:?}"
    );
}

/// A fault in one part is told as in a plan that is looked at as a whole.
#[test]
fn a_fault_in_one_part_is_told_once() {
    let text = text_of(&[1_500, 1]).replacen("4.7ft x 3.3ft", "4.7ft2 x 3.3ft", 1);
    let (_, said) = measured_of(&text);
    assert!(diagnostic::any_error(&said) && said.len() == 1, "{said:?}");
}
