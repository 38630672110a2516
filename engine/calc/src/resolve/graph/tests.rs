use crate::testing::{feet_of, measured, said};

const HEAD: &str =
    "parge 1\njob \"Test\" { rules \"small\" }\nfinish plain { technique stamp  thickness 1in }\n";

#[test]
fn names_and_faces_need_each_other_in_any_order() {
    let measured = measured(&format!(
        "{HEAD}structure \"W\" on block {{\n  finish plain\n  height low\n  \
         face c rect b.width + 1ft\n  face b rect half x 2ft\n  face a rect 10ft x 4ft\n}}\n\
         let half = a.width / 2\nlet low = a.height - 1ft\n"
    ));
    assert_eq!(feet_of(&measured), [18.0, 10.0, 40.0]);
}

/// A face that states its own height does not need its structure's, which may be its own measure.
#[test]
fn a_structures_height_may_be_the_measure_of_a_face_that_states_its_own() {
    let measured = measured(&format!(
        "{HEAD}structure \"W\" on block {{\n  finish plain\n  height a.height\n  face a rect 10ft x 4ft\n  face b rect 2ft\n}}\n"
    ));
    assert_eq!(feet_of(&measured), [40.0, 8.0]);
}

#[test]
fn a_long_chain_needs_no_deep_stack() {
    let mut plan = format!("{HEAD}let n0 = 1ft\n");
    for number in 1..20_000 {
        plan += &format!("let n{number} = n{}\n", number - 1);
    }
    plan += "structure \"W\" on block { face a rect n19999 x 1ft plain }\n";
    assert_eq!(feet_of(&measured(&plan)), [1.0]);
}

#[test]
fn circles_through_faces_and_templates_are_shown_whole_and_told_once() {
    let plans = [
        "let w = a.width\nstructure \"W\" on block { face a rect b.width x 1ft plain\n face b rect w x 1ft plain }",
        "structure \"W\" on block { face a rect a.width x 1ft plain }",
        "let w = sum(W.area) / 1ft\nstructure W on block { face a rect w x 1ft plain\n face b rect 1ft x 1ft plain }",
        "template t(w) on block { face a rect w x 1ft plain }\nstructure \"N\" from t(a.width)",
        "structure \"W\" on block { height a.width\n face a rect 2ft plain }\nstructure \"V\" on block { height b.height\n face b rect 2ft plain }",
    ];
    let told = plans.map(|plan| format!("{plan}\n{}\n", said(&format!("{HEAD}{plan}\n"))));
    insta::assert_snapshot!(told.join("\n"));
}
