use crate::testing::{feet_of, measured, said};

const HEAD: &str = "parge 1\njob \"Test\" { rules \"small\" }\n\
    finish plain { technique stamp  thickness 1in }\nfinish rough { technique carve  thickness 2in }\n";

const BAY: &str = "template bay(width, high) on block {\n  finish plain\n  \
    face front rect width x high { opening door rect 3ft x 7ft }\n  face side rect width / 2 x high on wood rough\n}\n";

#[test]
fn a_template_gives_its_faces_with_the_values_of_each_structure() {
    let plan = format!(
        "{HEAD}{BAY}let width = 1ft\n\
         structure \"North\" from bay(12ft, 8ft)\n\
         structure \"South\" from bay(10 * width, 9ft) on wood {{\n  finish rough\n  face extra rect width x 2ft\n}}\n"
    );
    let measured = measured(&plan);
    let job = &measured.job;
    let faces: Vec<String> = job
        .faces
        .iter()
        .map(|face| {
            let finish = &job.finishes[face.finish].name;
            format!(
                "{}.{} {} {finish}",
                job.structure_name(face.structure),
                face.name,
                face.substrate
            )
        })
        .collect();
    // The structure's own block has the last word on what the template states for all its faces;
    // a parameter hides the `let` of its name in the template only.
    assert_eq!(
        faces,
        [
            "North.front block plain",
            "North.side wood rough",
            "South.front wood rough",
            "South.side wood rough",
            "South.extra wood rough",
        ]
    );
    let areas = [
        12.0 * 8.0 - 21.0,
        6.0 * 8.0,
        10.0 * 9.0 - 21.0,
        5.0 * 9.0,
        2.0,
    ];
    assert_eq!(feet_of(&measured), areas);
}

#[test]
fn height_working_height_and_finish_are_inherited_and_a_faces_own_word_wins() {
    let measured = measured(&format!(
        "{HEAD}structure \"W\" on block {{\n  height 8ft\n  at 20ft\n  finish plain\n  \
         face a rect 10ft\n  face b rect 10ft x 4ft at 5ft rough\n  face c cylinder diameter 2ft\n  \
         face d frustum 3ft to 3ft\n  face e arc radius 5ft sweep 180deg\n}}\n"
    ));
    let heights: Vec<f64> = measured
        .faces
        .iter()
        .map(|face| {
            (measured.job.tape.value(face.working_height).value / 0.3048 * 1e6).round() / 1e6
        })
        .collect();
    assert_eq!(heights, [20.0, 5.0, 20.0, 20.0, 20.0]);
    let pi = std::f64::consts::PI;
    let wanted = [80.0, 40.0, 16.0 * pi, 24.0 * pi, 40.0 * pi];
    for (got, wanted) in feet_of(&measured).iter().zip(wanted) {
        assert!((got - wanted).abs() < 1e-9, "{got} is not {wanted}");
    }
}

#[test]
fn mistakes_in_templates() {
    let plans = [
        "structure \"N\" from bya(1ft, 2ft)",
        "structure \"N\" from bay(1ft)",
        "structure \"N\" from bay(1ft, 2ft, 3ft)",
        "structure \"N\" from bay(12ft, 8)\nstructure \"S\" from bay(12ft, 9)",
        "structure \"N\" from bay(2ft, 8ft)",
        "structure \"N\" from bay(widht, 8ft)",
        "structure \"N\" from bay(12ft, 8ft) { face front rect 1ft x 1ft }",
        "structure \"N\" from bay(12ft, 8ft)\ntemplate bay on block { face a rect 1ft x 1ft plain }",
        "template other(a, a) on block { face a rect a x a plain }\nstructure \"N\" from bay(12ft, 8ft)",
        "structure \"N\" on block { face a rect 12ft plain }",
        "template odd(a, b) on block { face f rect a x 1ft plain }\nstructure \"O\" from odd(1ft, 2ft)\nstructure \"N\" from bay(12ft, 8ft)",
    ];
    let told: Vec<String> = plans
        .iter()
        .map(|plan| format!("{plan}\n{}\n", said(&format!("{HEAD}{BAY}{plan}\n"))))
        .collect();
    insta::assert_snapshot!(told.join("\n"));
}
