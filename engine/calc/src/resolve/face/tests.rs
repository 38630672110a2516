use crate::testing::{SCRIPT, feet_of, measured, plan, said, taken};

/// A wall of 10 x 10 ft with a niche of 2 x 3 ft whose reveal of 6 in has another finish: the
/// reveal of 10 ft x 6 in = 5 ft2 is a face of its own, and no part of the wall.
#[test]
fn a_reveal_with_a_finish_of_its_own_is_a_face_of_its_own() {
    let text = plan("face wall rect 10ft x 10ft plain count 2 { opening niche rect 2ft x 3ft reveal 6in finish rough }")
        .replace("structure", "finish rough { technique carve  thickness 2in }\nstructure");
    let measured = measured(&text);
    assert_eq!(feet_of(&measured), [94.0, 5.0]);
    let faces = &measured.job.faces;
    assert_eq!(faces[1].name, "wall, reveal of niche");
    assert_eq!((faces[1].count, faces[1].finish), (2, 1));
}

/// A cap of 20 ft three times, and on each of two faces 10 ft of corner: 80 ft x 0.5 h, twice as
/// slow under tight access.
#[test]
fn edges_are_taken_off_by_length_count_and_conditions() {
    let text = plan(
        "conditions { access tight }\nedge cap wall.width count 3\n\
         face wall rect 20ft x 10ft plain count 2 { edge corner wall.height }",
    );
    let takeoff = taken(&text, SCRIPT);
    let edges = &takeoff.measured.job.edges;
    let counts: Vec<u32> = edges.iter().map(|edge| edge.count).collect();
    assert_eq!(counts, [3, 2]);
    let hours: f64 = takeoff
        .edges
        .iter()
        .flat_map(|taken| &taken.hours)
        .map(|line| line.time.value / 3600.0)
        .sum();
    assert!((hours - 80.0).abs() < 1e-9, "{hours}");
}

#[test]
fn mistakes_in_edges_and_reveals() {
    let blocks = [
        "edge cup 10ft",
        "edge cap 10",
        "edge cap 0ft",
        "edge cap 10ft count 1.5",
        "edge cap wall.area",
        "face f rect 5ft x 5ft plain { opening o rect 1ft x 1ft finish plain }",
        "face f rect 5ft x 5ft plain { opening o rect 1ft x 1ft reveal 4in finish plian }",
    ];
    let told = blocks.map(|block| {
        let plan = plan(&format!("face wall rect 10ft x 10ft plain\n{block}"));
        format!("{block}\n{}\n", said(&plan))
    });
    insta::assert_snapshot!(told.join("\n"));
}
