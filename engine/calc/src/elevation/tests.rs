use super::*;
use crate::testing::{measured, plan};
use proptest::prelude::*;
use std::f64::consts::PI;

/// The first face of a structure with such lines, and its gross area, width and height.
fn drawn(face: &str) -> (Elevation, [f64; 3]) {
    let measured = measured(&plan(face));
    let first = &measured.faces[0];
    let node = |node| measured.job.tape.value(node).value;
    let sizes = [first.shape.area, first.shape.width, first.shape.height].map(node);
    (Elevations::of(&measured).face(first).unwrap(), sizes)
}

/// Of closed lines through corners, the second of which is a hole.
fn area(outline: &[Path]) -> f64 {
    let area = |path: &Path| {
        let corners = path.corners();
        let ends = corners.iter().zip(corners.iter().cycle().skip(1));
        ends.map(|([x1, y1], [x2, y2])| x1 * y2 - x2 * y1)
            .sum::<f64>()
            .abs()
            / 2.0
    };
    let holes: f64 = outline.iter().skip(1).map(area).sum();
    outline.first().map_or(0.0, area) - holes
}

fn near(got: f64, wanted: f64, share: f64) {
    assert!(
        (got - wanted).abs() <= share * wanted.abs(),
        "{got} is not {wanted}"
    );
}

const FOOT: f64 = 0.3048;

/// Of each shape that can be laid flat: its view, and the corners that are dimensioned across and up.
#[test]
fn every_shape_that_can_be_laid_flat_is_as_large_as_measured() {
    let shapes = [
        ("rect 8ft x 4ft", View::Flat, 2, 2),
        ("triangle 8ft x 3ft", View::Flat, 3, 2),
        ("triangle sides 8ft, 7ft, 5ft", View::Flat, 3, 2),
        ("trapezoid 6ft to 4ft x 7ft", View::Flat, 4, 2),
        (
            "polygon (0ft, 0ft) (16ft, 0ft) (16ft, 8ft) (8ft, 12ft) (0ft, 8ft)",
            View::Flat,
            3,
            3,
        ),
        ("circle diameter 5ft", View::Flat, 2, 2),
        ("ellipse 5ft x 3ft", View::Flat, 2, 2),
        ("ring 3ft to 2ft", View::Flat, 4, 2),
        ("arch 4ft x 7ft", View::Flat, 2, 3),
        ("arch 4ft x 2ft", View::Flat, 2, 2),
        ("arch 6ft x 7ft rise 1ft", View::Flat, 2, 3),
        (
            "stations (2ft, 7ft) (10ft, 6ft) (20ft, 2ft)",
            View::Flat,
            3,
            2,
        ),
        (
            "stations stepped (0ft, 7ft) (10ft, 6ft) (20ft, 0ft)",
            View::Flat,
            3,
            3,
        ),
        ("arc radius 6ft sweep 90deg x 4ft", View::Unrolled, 2, 2),
        ("cylinder diameter 3ft x 4ft", View::Unrolled, 2, 2),
        (
            "cylinder diameter 3ft sweep 200deg x 4ft",
            View::Unrolled,
            2,
            2,
        ),
        ("frustum 3ft to 3ft x 4ft", View::Unrolled, 2, 2),
    ];
    for (shape, view, across, up) in shapes {
        let (elevation, [gross, width, height]) = drawn(&format!("face f {shape} plain"));
        assert_eq!(elevation.view, view, "{shape}");
        assert_eq!(
            (elevation.across.len(), elevation.up.len()),
            (across, up),
            "{shape}"
        );
        near(area(&elevation.outline), gross, 5e-4);
        near(elevation.size[0], width, 1e-9);
        near(elevation.size[1], height, 1e-9);
    }
}

/// 30 in to 22 in, 9 ft 6 in upright: the slope is √(4² + 114²) = 114.07 in; the fan turns by
/// 2π 4 / 114.07 = 12.62° between radii of 427.76 in and 313.69 in, so that its chord at the foot
/// is 2 · 427.76 · sin 6.31° = 94.06 in, a little less than the 94.25 in around.
#[test]
fn a_tapered_column_is_a_fan() {
    for (face, sign) in [
        ("frustum 30in to 22in x 9ft 6in", 1.0),
        ("frustum 22in to 30in x 9ft 6in", -1.0),
    ] {
        let (elevation, [gross, ..]) = drawn(&format!("face f {face} plain"));
        near(area(&elevation.outline), gross, 1e-3);
        near(elevation.size[0], 94.057 * 0.0254, 1e-4);
        let View::Fan([foot, top, slope]) = elevation.view else {
            panic!("{:?}", elevation.view);
        };
        let (wide, narrow) = if sign > 0.0 { (foot, top) } else { (top, foot) };
        near(wide, 30.0 * 0.0254 * PI, 1e-12);
        near(narrow, 22.0 * 0.0254 * PI, 1e-12);
        near(slope, 114.0702 * 0.0254, 1e-6);
    }
}

/// A cone as high as wide turns by 2π · 1 / √5 = 161°; a flat one by more than half a round.
#[test]
fn a_cone_is_a_fan_that_ends_in_a_point() {
    for shape in [
        "cone diameter 4ft x 4ft",
        "cone diameter 4ft x 6in",
        "frustum 0.5ft to 8ft x 6in",
    ] {
        let (elevation, [gross, ..]) = drawn(&format!("face f {shape} plain"));
        assert!(matches!(elevation.view, View::Fan(_)));
        near(area(&elevation.outline), gross, 1e-3);
    }
}

/// A cap higher than half its sphere bulges over its foot.
#[test]
fn a_dome_is_shown_from_the_side() {
    let (elevation, _) = drawn("face f dome diameter 6ft x 3ft plain");
    assert_eq!(elevation.view, View::Side);
    assert!(!elevation.view.is_true_to_area());
    near(elevation.size[0], 6.0 * FOOT, 1e-9);
    near(
        area(&elevation.outline),
        PI * (3.0 * FOOT).powi(2) / 2.0,
        1e-3,
    );
    // The sphere has the radius (9 + 36) / 12 = 3.75 ft.
    let (elevation, _) = drawn("face f dome diameter 6ft x 6ft plain");
    near(elevation.size[0], 7.5 * FOOT, 1e-4);
    near(elevation.size[1], 6.0 * FOOT, 1e-9);
}

#[test]
fn what_has_no_outline_is_a_rectangle() {
    let (elevation, [gross, ..]) =
        drawn("face f measured 42ft2 around 26ft high 5ft \"taped\" plain");
    assert_eq!(elevation.view, View::SameArea);
    near(area(&elevation.outline), gross, 1e-9);
    near(elevation.size[1], 5.0 * FOOT, 1e-9);
}

/// The reveal of a door of 3 ft x 7 ft along its top and sides, 6 in deep: 17 ft x 6 in.
#[test]
fn a_reveal_with_a_finish_of_its_own_is_a_strip() {
    let text = plan(
        "face f rect 16ft x 9ft plain { opening door rect 3ft x 7ft reveal 6in on top, sides finish rough }",
    );
    let text = text.replace(
        "structure",
        "finish rough { technique carve thickness 1in }\nstructure",
    );
    let measured = measured(&text);
    let strip = Elevations::of(&measured).face(&measured.faces[1]).unwrap();
    assert_eq!(strip.view, View::Strip);
    near(strip.size[0], 17.0 * FOOT, 1e-9);
    near(strip.size[1], 0.5 * FOOT, 1e-9);
}

/// 20 ft with openings of 3, 3 and 4 ft: gaps of 10/4 ft. The door stands on the ground, the
/// windows at half the height.
#[test]
fn openings_stand_in_a_row() {
    let (elevation, _) = drawn(
        "face f rect 20ft x 9ft plain { opening window rect 3ft x 4ft reveal 4in count 2\n opening door arch 4ft x 7ft reveal 4in on top, sides }",
    );
    let places: Vec<[f64; 2]> = elevation.openings.iter().map(|of| of.at[0]).collect();
    let wanted = [[2.5, 2.5], [8.0, 2.5], [13.5, 0.0]];
    for (got, wanted) in places.iter().zip(wanted) {
        assert!((got[0] - wanted[0] * FOOT).abs() < 1e-9, "{places:?}");
        assert!((got[1] - wanted[1] * FOOT).abs() < 1e-9, "{places:?}");
    }
    assert!(elevation.left_out.is_empty());
}

/// What is too long for one row stands in several; what fits nowhere is named.
#[test]
fn many_openings_stand_in_rows_or_are_left_out() {
    let (elevation, _) =
        drawn("face f rect 12ft x 12ft plain { opening w rect 3ft x 3ft count 9 }");
    assert_eq!(elevation.openings.len(), 9);
    let (elevation, _) = drawn(
        "face f rect 12ft x 12ft plain { opening w rect 7ft x 7ft\n opening v rect 6ft x 6ft }",
    );
    assert_eq!(
        (elevation.openings.len(), elevation.left_out),
        (0, vec![0, 1])
    );
    let (elevation, _) =
        drawn("face f rect 400ft x 12ft plain { opening w rect 1ft x 1ft count 1000 }");
    assert_eq!((elevation.openings.len(), elevation.left_out), (0, vec![0]));
}

/// In a gable the row goes down to where there is room.
#[test]
fn a_gable_has_its_openings_where_there_is_room() {
    let (elevation, _) =
        drawn("face f triangle 16ft x 6ft plain { opening w rect 3ft x 2ft count 3 }");
    assert_eq!(elevation.openings.len(), 3);
    assert!(elevation.openings[0].at[0][1] < 2.0 * FOOT);
}

fn shape() -> impl Strategy<Value = String> {
    let foot = |most: u32| (4..most).prop_map(|quarters| f64::from(quarters) / 4.0);
    let two = (foot(200), foot(80));
    let three = (foot(200), foot(200), foot(80));
    prop_oneof![
        two.clone().prop_map(|(w, h)| format!("rect {w}ft x {h}ft")),
        two.clone()
            .prop_map(|(w, h)| format!("triangle {w}ft x {h}ft")),
        three
            .clone()
            .prop_map(|(b, t, h)| format!("trapezoid {b}ft to {t}ft x {h}ft")),
        two.clone()
            .prop_map(|(w, h)| format!("ellipse {w}ft x {h}ft")),
        two.clone()
            .prop_map(|(w, h)| format!("arch {w}ft x {}ft", w / 2.0 + h)),
        (foot(80), foot(40), 1..20u32).prop_map(|(w, h, n)| {
            let rise = w / 2.0 * f64::from(n) / 20.0;
            format!("arch {w}ft x {}ft rise {rise}ft", h + rise)
        }),
        two.clone()
            .prop_map(|(d, more)| format!("ring {}ft to {d}ft", d + more)),
        three
            .clone()
            .prop_map(|(a, b, h)| format!("frustum {a}ft to {b}ft x {h}ft")),
        two.clone()
            .prop_map(|(d, h)| format!("cone diameter {d}ft x {h}ft")),
        (foot(40), 1..360u32, foot(40))
            .prop_map(|(r, turn, h)| format!("arc radius {r}ft sweep {turn}deg x {h}ft")),
        (foot(80), foot(80), foot(80), foot(40)).prop_map(|(a, b, c, run)| {
            let end = run + 2.0;
            format!("stations (0ft, {a}ft) ({run}ft, {b}ft) ({end}ft, {c}ft)")
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// What is drawn is as large as what is measured, and as wide and high where it is no fan.
    #[test]
    fn outlines_are_as_large_as_measured(shape in shape()) {
        let (elevation, [gross, width, height]) = drawn(&format!("face f {shape} plain"));
        near(area(&elevation.outline), gross, 5e-3);
        if !matches!(elevation.view, View::Fan(_)) {
            near(elevation.size[0], width, 5e-3);
            near(elevation.size[1], height, 5e-3);
        }
    }

    /// Openings that have a place lie within the outline, and none over another.
    #[test]
    fn openings_never_overlap(
        shape in shape(),
        sizes in prop::collection::vec((1..60u32, 1..60u32, any::<bool>()), 1..12),
    ) {
        let (elevation, _) = drawn(&format!("face f {shape} plain"));
        let boxes: Vec<Boxed> = sizes
            .iter()
            .map(|(w, h, on_ground)| Boxed {
                size: [*w, *h].map(|inches| f64::from(inches) * FOOT / 12.0),
                on_ground: *on_ground,
            })
            .collect();
        let Some(places) = place::places(&elevation.outline, elevation.size, &boxes) else {
            return Ok(());
        };
        prop_assert_eq!(places.len(), boxes.len());
        let lines: Vec<_> = elevation.outline.iter().map(Path::corners).collect();
        for (at, ([x, y], one)) in places.iter().zip(&boxes).enumerate() {
            let [w, h] = one.size;
            // A hair smaller, so that what lies on the outline is within.
            for share in [[0.001, 0.001], [0.999, 0.001], [0.001, 0.999], [0.999, 0.999], [0.5, 0.5]] {
                let corner = [x + w * share[0], y + h * share[1]];
                prop_assert!(is_within(&lines, corner), "{:?} of {} at {:?}", corner, at, [x, y]);
            }
            for ([x2, y2], other) in places.iter().zip(&boxes).take(at) {
                let [w2, h2] = other.size;
                let apart = x + w <= x2 + 1e-6 || x2 + w2 <= x + 1e-6
                    || y + h <= y2 + 1e-6 || y2 + h2 <= y + 1e-6;
                prop_assert!(apart, "{} is over another", at);
            }
        }
    }
}

/// Whether a point lies within closed lines, of which the second is a hole.
fn is_within(lines: &[Vec<[f64; 2]>], [x, y]: [f64; 2]) -> bool {
    let edges = lines
        .iter()
        .flat_map(|line| line.iter().zip(line.iter().cycle().skip(1)));
    let crossed = edges.filter(|([x1, y1], [x2, y2])| {
        (*y1 <= y) != (*y2 <= y) && x1 + (x2 - x1) * (y - y1) / (y2 - y1) < x
    });
    crossed.count() % 2 == 1
}
