use crate::testing::{feet_of, measured, said};

const HEAD: &str =
    "parge 1\njob \"Test\" { rules \"small\" }\nfinish plain { technique stamp  thickness 1in }\n";

/// A street wall of 20 x 6 ft less a door of 3 x 5 ft, and two ends of 4 x 6 ft.
const PLANTER: &str = "structure \"Entry planter\" on block {\n  finish plain\n  \
    face street rect 20ft x 6ft { opening door rect 3ft x 5ft reveal 6in on top, sides }\n  \
    face ends rect 4ft x 6ft count 2\n}\n";

/// The area in square feet of a face of one foot by what an expression says.
fn length(expression: &str) -> f64 {
    let plan = format!(
        "{HEAD}let answer = {expression}\n\
         structure \"Probe\" on block {{ face probe rect answer x 1ft plain }}\n{PLANTER}"
    );
    feet_of(&measured(&plan))[0]
}

#[test]
fn measures_of_one_face_of_all_equal_faces_and_of_a_structure() {
    // 120 - 15 + 13 x 0.5 of reveal.
    let street = 111.5;
    let cases = [
        ("street.area / 1ft", street),
        ("street.gross_area / 1ft", 120.0),
        ("street.deducted_area / 1ft", 15.0),
        ("street.reveal_area / 1ft", 6.5),
        ("street.perimeter", 52.0),
        ("street.width", 20.0),
        ("street.height", 6.0),
        ("street.top", 20.0),
        ("street.bottom", 20.0),
        ("street.sides", 12.0),
        ("street.opening_edges", 16.0),
        // One of two equal faces, and both.
        ("ends.area / 1ft", 24.0),
        ("sum(ends.area) / 1ft", 48.0),
        ("ends.count * 1ft", 2.0),
        ("sum(ends.width, 1ft)", 9.0),
        ("sum(\"Entry planter\".area) / 1ft", street + 48.0),
        ("max(\"Entry planter\".width)", 20.0),
        ("min(\"Entry planter\".width)", 4.0),
        ("sum(\"Entry planter\".count) * 1ft", 3.0),
        ("\"Entry planter\".street.width", 20.0),
        ("max(street.width, ends.width)", 20.0),
    ];
    for (expression, wanted) in cases {
        let got = length(expression);
        assert!(
            (got - wanted).abs() < 1e-9,
            "{expression}: {got} is not {wanted}"
        );
    }
}

/// A wall of 10 x 8 ft with a niche of 2 x 3 ft, whose reveal of 6 in all around has a finish of
/// its own: what is coated of the structure is 74 + 5 ft2, and the strip has no height to be the
/// lowest.
#[test]
fn reveals_with_a_finish_of_their_own_count_only_in_what_is_coated() {
    let of = |expression: &str| {
        let plan = format!(
            "{HEAD}finish rough {{ technique carve  thickness 2in }}\nlet answer = {expression}\n\
             structure \"Probe\" on block {{ face probe rect answer x 1ft plain }}\n\
             structure W on block {{ face f rect 10ft x 8ft plain {{ opening o rect 2ft x 3ft reveal 6in finish rough }} }}\n"
        );
        feet_of(&measured(&plan))[0]
    };
    let cases = [
        ("sum(W.area) / 1ft", 79.0),
        ("f.area / 1ft", 74.0),
        ("min(W.height)", 8.0),
        ("max(W.width)", 10.0),
        ("sum(W.count) * 1ft", 1.0),
        ("sum(W.gross_area) / 1ft", 80.0),
    ];
    for (expression, wanted) in cases {
        let got = of(expression);
        assert!(
            (got - wanted).abs() < 1e-9,
            "{expression}: {got} is not {wanted}"
        );
    }
}

/// `street` is the own face within a structure, and needs its structure's name elsewhere when
/// two structures have one.
#[test]
fn a_name_is_looked_for_at_home_first() {
    let measured = measured(&format!(
        "{HEAD}structure \"A\" on block {{\n  face street rect 10ft x 1ft plain\n  face half rect street.width / 2 x 1ft plain\n}}\n\
         structure \"B\" on block {{\n  face street rect 30ft x 1ft plain\n  face half rect street.width / 2 x 1ft plain\n  \
         face other rect A.street.width x 1ft plain\n}}\n"
    ));
    assert_eq!(feet_of(&measured), [10.0, 5.0, 30.0, 15.0, 10.0]);
}

#[test]
fn mistakes_in_measures() {
    let told: Vec<String> = [
        "street.aera / 1ft",
        "stret.width",
        "\"Entry planter\".width",
        "sum(\"Entry planer\".width)",
        "street",
        "street.area",
        "street.width + street.area",
        "Entry.street.door.width",
        "side.width",
    ]
    .map(|expression| {
        let plan = format!(
            "{HEAD}let answer = {expression}\n\
             structure \"Probe\" on block {{ face probe rect answer x 1ft plain }}\n{PLANTER}\
             structure \"L\" on block {{ face side rect 1ft x 1ft plain }}\n\
             structure \"R\" on block {{ face side rect 1ft x 1ft plain }}\n"
        );
        format!("{expression}\n{}\n", said(&plan))
    })
    .into();
    insta::assert_snapshot!(told.join("\n"));
}
