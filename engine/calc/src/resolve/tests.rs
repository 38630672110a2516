//! What is said of plans with mistakes in their names and values.

use crate::testing::{measured, plan, said};

const HEAD: &str =
    "parge 1\njob \"Test\" { rules \"small\" }\nfinish plain { technique stamp  thickness 1in }\n";

fn values(lets: &str) -> String {
    said(&format!(
        "{HEAD}{lets}\nstructure \"W\" on block {{ face f rect answer x 1ft plain }}\n"
    ))
}

#[test]
fn names_are_defined_in_any_order() {
    assert_eq!(
        values("let answer = half * 2\nlet half = whole / 2\nlet whole = 3ft"),
        ""
    );
    let plan = format!(
        "{HEAD}let a = max(2ft, b, 1yd)\nlet b = 18in + sqrt(4ft2)\nstructure \"W\" on block {{ face f rect a x b plain }}"
    );
    let measured = measured(&plan);
    let area = measured.job.tape.value(measured.faces[0].net).value / 0.09290304;
    assert!((area - 3.5 * 3.5).abs() < 1e-9);
}

#[test]
fn mistakes_in_expressions() {
    insta::assert_snapshot!(
        [
            "let answer = 2ft + 3ft2",
            "let answer = 2ft + 3",
            "let answer = 2ft / 0",
            "let answer = 2ft * 3ft",
            "let answer = 22",
            "let answer = anser",
            "let answer = mn(1ft, 2ft)",
            "let answer = sqrt(1ft, 2ft)",
            "let answer = sqrt(2ft)",
            "let answer = 1ft - 2ft",
            "let answer = 1ft\nlet answer = 2ft",
            "let answer = 1ft\nlet other = 2ft",
        ]
        .map(|text| format!("{text}\n{}\n", values(text)))
        .join("\n")
    );
}

#[test]
fn a_circle_is_shown_whole_and_told_once() {
    insta::assert_snapshot!(values(
        "let answer = b + 1ft\nlet b = c\nlet c = 2 * answer\nlet d = b"
    ));
}

#[test]
fn mistakes_in_faces() {
    insta::assert_snapshot!(said(&plan(
        "face a rect 5ft x 5ft plian\n\
         face b rect 5ft x 5ft on blok plain\n\
         face c rect 5ft x 5ft\n\
         face d rect 5ft x 5 plain\n\
         face d rect 5ft2 x 5ft plain count 1.5 count 2\n\
         face e rect 0ft x 5ft plain\n\
         face f arc radius 6ft sweep 90 x 4ft plain\n\
         face g rect 5ft x 5ft plain { opening o rect 1ft x 1ft reveal 4 }"
    )));
}

#[test]
fn mistakes_in_finishes() {
    insta::assert_snapshot!(said(
        "parge 1\njob \"Test\" { rules \"small\" }\n\
         finish a { technique stmap  thickness 1in }\n\
         finish b { thickness 1ft2 }\n\
         finish c { technique stamp  thickness 1in  relief 0.5 }\n\
         finish d { technique stamp  thickness 1in  colours granite 60%, moss 30% }\n\
         finish d { technique stamp  thickness 1in  sealer matte, 0 coats }\n\
         structure \"W\" { face f rect 1ft x 1ft a\nface g rect 1ft x 1ft on wood b\nface h rect 1ft x 1ft on wood c }\n\
         structure \"W\" on wood { face f rect 1ft x 1ft d }\n"
    ));
}

/// A plan just made of a client's sheet is no wall of errors: what a line of the structure mends is
/// told once a structure, and a finish that nothing defines once.
#[test]
fn what_many_faces_lack_is_told_once() {
    insta::assert_snapshot!(said(
        "parge 1\njob \"Test\" { rules \"small\" }\n\
         structure \"W\" { face f rect 1ft x 1ft\nface g rect 1ft x 1ft\n\
         face h rect 1ft x 1ft \"Carved stone\"\nface i rect 1ft x 1ft \"Carved stone\" }\n\
         structure \"V\" { face f rect 1ft x 1ft on wood\nface g rect 1ft x 1ft \"Carved stone\" }\n"
    ));
}

#[test]
fn mistakes_in_the_job() {
    insta::assert_snapshot!(said(
        "parge 1\njob \"Test\" {\n  units imperial\n  measure nett\n  crew 2.5\n  crew 3\n\
         weather { air 84  humidity 140%  wind 9mph }\n\
         bid { overhead 12%  overhead 12%  profit margin 100%  tax 7% on material  burden 5ft }\n}\n\
         job \"Second\" { }\nfinish unused { technique stamp  thickness 1in }\n"
    ));
}

#[test]
fn a_plan_without_a_job_or_a_face() {
    insta::assert_snapshot!(said("parge 1\nlet a = 1ft\n"));
}
