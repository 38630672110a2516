use super::Audience;
use crate::takeoff::{Takeoff, take_off};
use crate::testing::{measured, pack, plan, shown};
use parge_base::Sources;

/// Takes off two walls, 100 and 200 ft2, with a rule `cautions`.
fn with(units: &str, cautions: &str) -> (Takeoff, String) {
    let mut sources = Sources::new();
    let script = format!("fn cautions(face) {{\n{cautions}\n}}\n");
    let pack = pack(&script, &mut sources);
    let walls = plan("face f rect 10ft x 10ft plain\nface g rect 20ft x 10ft plain");
    let walls = walls.replace("rules", &format!("units {units}\n  rules"));
    let (takeoff, said) = take_off(measured(&walls), &pack);
    let said: Vec<String> = said.iter().map(|said| shown(said, &sources)).collect();
    (takeoff, said.join("\n"))
}

/// 0.01 lb/ft2 over 100 and 200 ft2: 1 and 2 lb, of which the second face is replayed.
const WEIGHT: &str = "caution(\"heavy\", face.area * quantity(0.01, \"lb/ft2\"));";

#[test]
fn the_largest_figure_of_all_faces_is_said() {
    let (takeoff, said) = with("us", WEIGHT);
    assert_eq!(said, "");
    assert_eq!(
        takeoff.runs.len(),
        2,
        "one for the faces and one for the job"
    );
    let caution = &takeoff.cautions[0];
    assert_eq!((&*caution.text, caution.faces), ("It weighs 2 lb.", 2));
    assert_eq!(caution.audience, Audience::Both);
    // 2 lb x 0.45359237 kg.
    let (takeoff, _) = with("metric", WEIGHT);
    assert_eq!(takeoff.cautions[0].text, "It weighs 0.91 kg.");
}

#[test]
fn a_caution_without_a_figure_keeps_its_text_and_names_its_audience() {
    let (takeoff, said) = with("us", "caution(\"fall\"); caution(\"fall\");");
    assert_eq!(said, "");
    let caution = &takeoff.cautions[0];
    assert_eq!((&*caution.text, caution.faces), ("Work above 10 ft", 2));
    assert_eq!(caution.audience, Audience::Crew);
}

#[test]
fn rows_that_do_not_fit_are_told() {
    let all = [
        "caution(\"heavy\");",
        "caution(\"plain\", face.area);",
        "caution(\"heavy\", face.area);",
        "caution(\"odd\");",
        "caution(\"mute\");",
        "caution(\"fal\");",
    ];
    let told = all.map(|cautions| format!("{cautions}\n    {}\n", with("us", cautions).1));
    insta::assert_snapshot!(told.join("\n"));
}
