//! Measuring rules of packs against group A of the published checks: IS 1200 Part 12 and two older
//! conventions of the United States.
//!
//! IS 1200-12:1976 and IS 1200-13:1994 were seen in the primary text and in a reproduction, but for
//! what is said of a wall with one finished side, which is from memory. The conventions of the
//! United States are those of Colliery Engineer Co., *Treatise on Architecture and Building
//! Construction*, vol. 4, art. 36, and *Cyclopedia of Architecture, Carpentry and Building*,
//! "Plastering measurements".

use parge_cli::Exit;
use parge_tests::{Folder, Said};
use serde_json::Value;

fn estimate(job: &str, faces: &str) -> Said {
    let folder = Folder::with_demo().unwrap();
    let plan = format!(
        "parge 1\njob \"Measured\" {{\n  rules \"vertical-concrete\"\n  prices \"prices.csv\"\n  {job}\n  \
         bid {{ burden 0%  overhead 0%  profit markup 0%  tax 0% on materials }}\n}}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on concrete {{\n  finish plain\n{faces}\n}}\n"
    );
    folder.write("job.parge", plan).unwrap();
    folder.parge("estimate job.parge --json -")
}

/// The net area of each face, in the unit shown, all equal ones together.
fn net(job: &str, faces: &str) -> Vec<f64> {
    let said = estimate(job, faces);
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let json: Value = serde_json::from_str(&said.out).unwrap();
    let faces = json["faces"].as_array().unwrap().iter();
    faces
        .map(|face| face["net_area"]["value"].as_f64().unwrap())
        .collect()
}

fn near(got: &[f64], wanted: &[f64]) {
    assert_eq!(got.len(), wanted.len());
    for (got, wanted) in got.iter().zip(wanted) {
        assert!((got - wanted).abs() < 1e-6, "{got} is not {wanted}");
    }
}

const IS_1200: &str = "measure \"is-1200-12\"  units metric";

/// M1, M2, M5, M6: an opening in a wall of 4 x 3 m finished on both sides, on one of its faces.
/// Both limits are "not exceeding".
#[test]
fn openings_by_their_size_when_both_sides_are_finished() {
    let job = format!("{IS_1200}  conditions {{ sides both }}");
    for (opening, wanted) in [
        ("0.5m x 1m reveal 100mm", 12.0),
        ("0.51m x 1m reveal 100mm", 12.0 - 0.255),
        ("1.5m x 2m reveal 100mm", 12.0 - 1.5),
        ("1.51m x 2m reveal 100mm", 12.0 - 3.02 + 7.02 * 0.1),
    ] {
        let face = format!("face a rect 4m x 3m {{ opening o rect {opening} }}");
        near(&net(&job, &face), &[wanted]);
    }
}

/// M4, from memory: one finished side. The narrower reveal takes the whole opening, the wider one
/// nothing of it.
#[test]
fn middling_openings_when_one_side_is_finished() {
    let face = "face a rect 4m x 3m { opening o rect 1m x 2m reveal 100mm }";
    let job = |word: &str| format!("{IS_1200}  conditions {{ sides {word} }}");
    near(&net(&job("one_narrower"), face), &[10.0]);
    near(&net(&job("one_wider"), face), &[12.0]);
    // Where the plan does not say, nothing is deducted, and that is said.
    let said = estimate(IS_1200, face);
    assert!(said.err.contains("W0409"), "{said}");
    near(&net(IS_1200, face), &[12.0]);
}

/// M7: a wall of 4.00 x 3.00 m, both faces, openings of 0.4, 2.0 and 3.6 m2 with a reveal of
/// 0.20 m on four sides: 2 x 12.00 - 0 - 2.0 - 2 x 3.6 + 2 (1.8 + 2.0) x 0.20 = 16.32 m2.
#[test]
fn the_worked_wall() {
    let job = format!("{IS_1200}  conditions {{ sides both }}");
    let openings = "opening s rect 0.4m x 1m\n opening m rect 1m x 2m\n opening l rect 1.8m x 2m";
    let faces = format!(
        "face a rect 4m x 3m {{ {openings} reveal 0.2m }}\nface b rect 4m x 3m {{ {openings} }}"
    );
    let both: f64 = net(&job, &faces).iter().sum();
    near(&[both], &[16.32]);
}

/// M8, M9, M10: areas to 0.01 m2; bands of 300 mm and work over 10 m up are measured apart.
#[test]
fn areas_are_booked_to_hundredths_and_what_is_measured_apart_is_said() {
    near(&net(IS_1200, "face a rect 1.234m x 1m"), &[1.23]);
    for (face, said) in [
        ("face a rect 300mm x 2m", true),
        ("face a rect 301mm x 2m", false),
        ("face a rect 2m x 10m", false),
        ("face a rect 2m x 10.01m", true),
    ] {
        let told = estimate(IS_1200, face);
        assert_eq!(
            told.err.contains("measured") || told.err.contains("kept apart"),
            said,
            "{told}"
        );
    }
}

/// M13, M15, M16: openings under 63 ft2 stay in, larger ones come out; a return of 8 in by 10 ft
/// counts 10.0 ft2 and not 6.67.
#[test]
fn openings_under_seven_square_yards_stay_in() {
    let job = "measure \"openings-over-63ft2\"";
    let wall = |opening: &str| format!("face a rect 10ft x 10ft {{ opening o rect {opening} }}");
    near(&net(job, &wall("3ft x 7ft")), &[100.0]);
    near(&net(job, &wall("9ft x 7ft")), &[37.0]);
    near(&net(job, &wall("9ft x 6ft 11in")), &[100.0]);
    near(&net(job, "face a rect 8in x 10ft"), &[10.0]);
    near(&net(job, "face a rect 12in x 10ft"), &[10.0]);
}

/// M14, M15: 100 ft2 with a door of 3 x 7 ft is 100 - 10.5 = 89.5 ft2; net it is 79 ft2.
#[test]
fn half_of_every_opening_stays_in() {
    let wall = "face a rect 10ft x 10ft { opening door rect 3ft x 7ft }";
    near(&net("measure \"half-openings\"", wall), &[89.5]);
    near(&net("measure net", wall), &[79.0]);
}

/// A measure in an expression is that of the measuring rule as well.
#[test]
fn expressions_see_what_the_rule_counts() {
    let faces = "face a rect 10ft x 10ft { opening door rect 3ft x 7ft }\n  \
                 face b rect a.area / 10ft x 1ft";
    near(&net("measure \"half-openings\"", faces), &[89.5, 8.95]);
}

#[test]
fn a_measuring_rule_that_is_none_is_said() {
    let told = |job: &str| estimate(job, "face a rect 10ft x 10ft").err;
    let rules = told("measure \"vertical-concrete\"");
    let unknown = told("measure nett");
    let folder = Folder::with_demo().unwrap();
    folder
        .edit(
            "job.parge",
            "rules \"vertical-concrete\"",
            "rules \"is-1200-12\"",
        )
        .unwrap();
    let only_measures = folder.parge("check job.parge").err;
    insta::assert_snapshot!([rules, unknown, only_measures].join("\n"));
}

/// A shape of the pack: 8 sides of 3 ft x (sqrt(2) - 1) around, 9 ft high, twice.
#[test]
fn a_pack_adds_shapes() {
    let around = 8.0 * 3.0 * (2f64.sqrt() - 1.0);
    let faces = "face post shape octagon(3ft, 9ft) count 2\n  \
                 face band rect max(post.width, 1ft) x 1ft";
    near(&net("measure net", faces), &[around * 18.0, around]);
    let told = |face: &str| estimate("measure net", face).err;
    insta::assert_snapshot!(
        [
            told("face a shape octogon(3ft, 9ft)"),
            told("face a shape octagon(3ft)"),
            told("face a shape octagon(3ft, 9)"),
            told("face a shape octagon 3ft x 9ft"),
        ]
        .join("\n")
    );
}

/// A size of a pack's shape that counts something is a whole number, and may be none.
#[test]
fn a_shape_of_a_pack_counts_its_angles() {
    let said = |sizes: &str| {
        let folder = Folder::new().unwrap();
        let plan = format!(
            "parge 1\njob \"Moulding\" {{ rules \"portland-plaster\"  crew 2 }}\n\
             finish plain {{ technique float  thickness 1/8in }}\n\
             structure \"Hall\" on block {{ face run shape cornice(40ft, 8in, {sizes}) plain }}\n"
        );
        folder.write("job.parge", plan).unwrap();
        folder.parge("takeoff job.parge")
    };
    for (sizes, area) in [("0, 0", "40.0"), ("2, 1", "44.0")] {
        let out = said(sizes).out;
        assert!(out.contains(area), "{out}");
    }
    assert!(said("2.5, 1").err.contains("error[E0210]"));
    assert!(said("-1, 1").err.contains("error[E0210]"));
    assert!(said("2ft, 1").err.contains("error[E0205]"));
}
