use super::*;

/// The waits between two phases of a structure, in hours to a tenth.
fn wait(takeoff: &Takeoff, before: &str, after: &str) -> Vec<f64> {
    let [before, after] = [before, after].map(|phase| step_of(takeoff, Some("Wall"), phase));
    let links = plan_of(takeoff).links.iter();
    let found =
        links.filter(|link| link.row.is_some() && (link.before, link.after) == (before, after));
    found
        .map(|link| parge_base::number::round_to(hours(link.wait), 1))
        .collect()
}

fn has(takeoff: &Takeoff, before: usize, after: usize) -> bool {
    let mut links = plan_of(takeoff).links.iter();
    links.any(|link| (link.before, link.after) == (before, after))
}

/// T7 of the published checks (ASTM C1074): in air of 10 C an hour is worth 0.547 of one at 20 C,
/// so 48 h become 87.7 h. Warmth shortens nothing.
#[test]
fn cold_lengthens_a_wait_and_warmth_shortens_none() {
    for (weather, hours) in [
        ("", 48.0),
        ("weather { air 10C }", 87.7),
        ("weather { air 35C }", 48.0),
        ("weather { air 20C }  weather 2026-06-02 { air 10C }", 87.7),
    ] {
        let (takeoff, _) = taken_by(
            &[files(RULES)],
            &text_of(&format!("{START} {weather}"), WALL),
        );
        assert_eq!(wait(&takeoff, "scratch", "place"), [hours], "{weather}");
        assert_eq!(wait(&takeoff, "place", "seal"), [24.0]);
    }
}

/// A wait within a step, or against the order of the phases, is none: it would be a circle.
#[test]
fn rows_against_the_order_of_the_phases_are_no_waits() {
    let takeoff = taken(START, WALL);
    let rows = plan_of(&takeoff)
        .links
        .iter()
        .filter(|link| link.row.is_some());
    assert_eq!(rows.count(), 2);
}

#[test]
fn the_steps_of_a_structure_follow_each_other_and_the_job_goes_around() {
    let two = format!("{WALL}\nstructure Shed on block {{ face f rect 5ft x 9ft plain }}");
    let takeoff = taken(START, &two);
    let [mobilise, clean] = ["mobilise", "clean"].map(|phase| step_of(&takeoff, None, phase));
    for structure in ["Wall", "Shed"] {
        let chain = ["lath", "scratch", "place", "seal"];
        let chain = chain.map(|phase| step_of(&takeoff, Some(structure), phase));
        for pair in chain.windows(2) {
            assert!(has(&takeoff, pair[0], pair[1]));
        }
        assert!(has(&takeoff, mobilise, chain[0]));
        assert!(has(&takeoff, chain[3], clean));
    }
    let planned = &plan_of(&takeoff).planned;
    let first = planned.iter().map(|planned| planned.first).min().unwrap();
    let last = planned.iter().map(|planned| planned.last).max().unwrap();
    assert_eq!(
        (planned[mobilise].first, planned[clean].last),
        (first, last)
    );
    assert_eq!(first, date(2026, 6, 1));
}

const THREE: &str = "structure One on block { face f rect 5ft x 9ft plain }\n\
    structure Two on block { after One  face f rect 5ft x 9ft plain }\n\
    structure Three on block { after Two  face f rect 5ft x 9ft plain }";

#[test]
fn a_structure_begins_after_another_is_done() {
    let takeoff = taken(START, THREE);
    for (before, after) in [("One", "Two"), ("Two", "Three")] {
        let last = step_of(&takeoff, Some(before), "seal");
        assert!(has(&takeoff, last, step_of(&takeoff, Some(after), "lath")));
    }
    let planned =
        |structure, phase| &plan_of(&takeoff).planned[step_of(&takeoff, Some(structure), phase)];
    assert!(planned("Two", "lath").first >= planned("One", "seal").last);
}

/// An alternate takes a structure away that another waits for: it hands on what it waits for.
#[test]
fn a_structure_without_work_hands_on_what_it_waits_for() {
    let mut sources = Sources::new();
    let pack = parge_rules::load(&[files(RULES)], HOOKS, &mut sources).unwrap();
    let mut measured = measured_by(&text_of(START, THREE), &pack, &mut sources);
    measured.faces.remove(1);
    let (takeoff, said) = take_off(measured, &pack);
    assert!(said.is_empty(), "{said:?}");
    let last = step_of(&takeoff, Some("One"), "seal");
    assert!(has(
        &takeoff,
        last,
        step_of(&takeoff, Some("Three"), "lath")
    ));
}
