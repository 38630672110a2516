use super::*;
use crate::testing::{SCRIPT, measured, pack, plan, said, taken};
use parge_base::Sources;
use proptest::prelude::*;

fn amounts(taken: &Taken) -> Vec<u64> {
    let needs = taken
        .needs
        .iter()
        .flat_map(|need| [need.amount.value, need.waste.value]);
    needs
        .chain(taken.hours.iter().map(|hours| hours.time.value))
        .map(f64::to_bits)
        .collect()
}

/// 90 ft² at 1 in: 7.5 ft³, 15 bags, 1.5 bags of waste, 9 hours; three times that for three.
#[test]
fn needs_are_multiplied_by_the_count() {
    let takeoff = taken(&plan("face f rect 10ft x 9ft count 3 plain"), SCRIPT);
    let [need] = takeoff.faces[0].needs.as_slice() else {
        panic!("one need")
    };
    assert!((need.amount.value - 45.0).abs() < 1e-9);
    assert!((need.waste.value - 4.5).abs() < 1e-9);
    assert!((takeoff.faces[0].hours[0].time.value / 3600.0 - 27.0).abs() < 1e-9);
    let whole = takeoff.whole.unwrap();
    assert!(
        (whole.hours[0].time.value / 3600.0 - 1.35).abs() < 1e-9,
        "5 % for cleaning up"
    );
}

#[test]
fn faces_that_differ_in_size_share_a_run_until_a_comparison_parts_them() {
    let faces = "face a rect 5ft x 9ft plain\nface b rect 6ft x 9ft plain\nface c rect 60ft x 9ft plain\n\
                 face d rect 70ft x 9ft plain\nface e rect 5ft x 9ft on wood plain";
    let takeoff = taken(&plan(faces), SCRIPT);
    let runs: Vec<usize> = takeoff.faces.iter().map(|taken| taken.run).collect();
    assert_eq!(runs, [0, 0, 1, 1, 2]);
}

#[test]
fn cautions_count_their_faces_and_warnings_are_said_once() {
    let faces = "face a rect 5ft x 11ft plain count 2\nface b rect 6ft x 9ft at 10ft plain\nface c rect 5ft x 12ft plain";
    let takeoff = taken(&plan(faces), SCRIPT);
    let [caution] = takeoff.cautions.as_slice() else {
        panic!("one caution")
    };
    assert_eq!(
        (caution.key.as_str(), caution.faces),
        ("fall", 2),
        "10 ft exactly is not above 10 ft"
    );
    let thick =
        plan("face a rect 5ft x 5ft plain\nface b rect 6ft x 5ft plain").replace("1in", "3in");
    insta::assert_snapshot!(said(&thick));
}

#[test]
fn the_factors_used_are_listed_once() {
    let takeoff = taken(
        &plan("face a rect 5ft x 5ft plain\nface b rect 60ft x 5ft plain"),
        SCRIPT,
    );
    let names: Vec<&str> = takeoff
        .factors()
        .iter()
        .map(|factor| factor.name.as_str())
        .collect();
    assert_eq!(
        names,
        [
            "mixes: mix, waste",
            "mixes: mix, yield",
            "rates: clean",
            "rates: place"
        ]
    );
}

#[test]
fn names_that_stand_in_no_table_and_rules_that_stop_are_reported_once() {
    let script = "fn coats(face) { need(\"mxi\", face.area, factor(\"mixes\", \"mix\", \"waste\")); }\n\
                  fn labour(face) { hours(\"place\", face.area + face.width); }";
    let mut sources = Sources::new();
    let pack = pack(script, &mut sources);
    let text = plan("face a rect 5ft x 5ft plain\nface b rect 6ft x 5ft plain");
    let (_, said) = take_off(measured(&text), &pack);
    let shown: Vec<String> = said
        .iter()
        .map(|d| format!("{} {} | {}", d.code.id(), d.message, d.help))
        .collect();
    insta::assert_snapshot!(shown.join("\n"));
}

/// A bound that a rule's figure must keep is tried for every face, also for those that are
/// replayed: 80 ft² over the limit for one face, and less than nothing for the next.
#[test]
fn a_need_below_nothing_is_refused_in_any_order() {
    let script = "fn coats(face) { need(\"mix\", (face.area - quantity(20, \"ft2\")) / quantity(1, \"ft2\") * quantity(1, \"bag\"), factor(\"mixes\", \"mix\", \"waste\")); }";
    for faces in [
        "face a rect 10ft x 10ft plain\nface b rect 10ft x 1ft plain",
        "face b rect 10ft x 1ft plain\nface a rect 10ft x 10ft plain",
    ] {
        let mut sources = Sources::new();
        let pack = pack(script, &mut sources);
        let (_, said) = take_off(measured(&plan(faces)), &pack);
        assert!(
            said.iter().any(|d| d.message.contains("less than nothing")),
            "{faces}"
        );
    }
}

/// Rules that compare sizes with a long series of limits are stopped, not followed.
#[test]
fn a_rule_that_parts_every_face_is_stopped() {
    let script =
        "fn coats(face) { for i in 0..100 { if face.area > quantity(i, \"ft2\") * 0.1 { } } }";
    let faces: String = (1..100)
        .map(|at| format!("face f{at} rect {at}in x 1ft plain\n"))
        .collect();
    let mut sources = Sources::new();
    let pack = pack(script, &mut sources);
    let (_, said) = take_off(measured(&plan(&faces)), &pack);
    assert!(said.iter().any(|d| d.code == Code::RuleLimit));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// A replayed face has the same bits as a face for which the rules run afresh.
    #[test]
    fn replay_equals_a_direct_run(sizes in prop::collection::vec((1u32..400, 1u32..200, 1u32..4), 1..12)) {
        let face = |(at, (w, h, count)): (usize, &(u32, u32, u32))| {
            format!("face f{at} rect {w}in x {h}in count {count} plain\n")
        };
        let all: String = sizes.iter().enumerate().map(face).collect();
        let together = taken(&plan(&all), SCRIPT);
        for (at, size) in sizes.iter().enumerate() {
            let alone = taken(&plan(&face((at, size))), SCRIPT);
            prop_assert_eq!(amounts(&together.faces[at]), amounts(&alone.faces[0]));
        }
    }
}

/// Weather of one day that no rule asks for is as little passed over as that of all days.
#[test]
fn weather_that_no_rule_asks_for_is_said() {
    let plan = plan("face a rect 5ft x 9ft plain");
    assert!(!said(&plan).contains("W0217"));
    for weather in ["weather { air 90F }", "weather 2026-06-03 { air 90F }"] {
        let stated = plan.replace(
            "  rules \"small\"\n",
            &format!("  rules \"small\"\n  {weather}\n"),
        );
        let told = said(&stated);
        assert_eq!(told.matches("W0217").count(), 1, "{told}");
    }
}
