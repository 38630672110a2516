//! Every formula against hand-worked figures, and the polygon against the others.

use crate::testing::{feet, measured, near, plan, said};
use proptest::prelude::*;
use std::f64::consts::PI;

#[test]
fn rectangle() {
    near(
        feet("rect 22ft 6in x 4ft"),
        [90.0, 53.0, 22.5, 4.0, 22.5, 22.5, 8.0],
    );
}

/// A 3-4-5 triangle, as a gable and by its sides: 6 wide and 4 high has slopes of 5.
#[test]
fn triangles() {
    near(
        feet("triangle 6ft x 4ft"),
        [12.0, 16.0, 6.0, 4.0, 10.0, 6.0, 0.0],
    );
    near(
        feet("triangle sides 6ft, 5ft, 5ft"),
        [12.0, 16.0, 6.0, 4.0, 10.0, 6.0, 0.0],
    );
    near(
        feet("triangle sides 5ft, 4ft, 3ft"),
        [6.0, 12.0, 5.0, 2.4, 7.0, 5.0, 0.0],
    );
}

/// Bottom 10, top 4, height 4: each leg spans 3 and 4, so it is 5 long.
#[test]
fn trapezoid() {
    near(
        feet("trapezoid 10ft to 4ft x 4ft"),
        [28.0, 24.0, 10.0, 4.0, 4.0, 10.0, 10.0],
    );
}

#[test]
fn circle() {
    near(
        feet("circle diameter 4ft"),
        [4.0 * PI, 4.0 * PI, 4.0, 4.0, 2.0 * PI, 2.0 * PI, 0.0],
    );
}

/// 4 wide, 7 high at the crown: 4 by 5 under a half circle of radius 2.
#[test]
fn arch() {
    let area = 20.0 + 2.0 * PI;
    near(
        feet("arch 4ft x 7ft"),
        [area, 14.0 + 2.0 * PI, 4.0, 7.0, 2.0 * PI, 4.0, 10.0],
    );
}

#[test]
fn cylinder_whole_and_half() {
    let around = 3.0 * PI;
    near(
        feet("cylinder diameter 3ft x 8ft"),
        [8.0 * around, 2.0 * around, around, 8.0, around, around, 0.0],
    );
    let half = around / 2.0;
    near(
        feet("cylinder diameter 3ft sweep 180deg x 8ft"),
        [8.0 * half, 2.0 * half + 16.0, half, 8.0, half, half, 16.0],
    );
}

/// Radii 4 and 1 with height 4 have a slope of 5: area π (4 + 1) 5.
#[test]
fn tapered_column() {
    near(
        feet("frustum 8ft to 2ft x 4ft"),
        [25.0 * PI, 10.0 * PI, 8.0 * PI, 5.0, 2.0 * PI, 8.0 * PI, 0.0],
    );
}

/// The working height of a tapered column is its upright height, not its slope: 10 ft is not
/// more than 10 ft.
#[test]
fn the_slope_of_a_column_lifts_nobody_higher() {
    let measured = measured(&plan("face f frustum 30in to 22in x 10ft plain"));
    let height = measured
        .job
        .tape
        .value(measured.faces[0].working_height)
        .value;
    assert_eq!(height, 10.0 * 0.3048);
}

#[test]
fn arc_wall() {
    let around = 6.0 * PI / 2.0;
    near(
        feet("arc radius 6ft sweep 90deg x 4ft"),
        [
            4.0 * around,
            2.0 * around + 8.0,
            around,
            4.0,
            around,
            around,
            8.0,
        ],
    );
}

/// A gable wall: 10 wide, 4 at the eaves, 7 at the ridge: 40 + 15. Its slopes are at 31°.
#[test]
fn polygon() {
    let slope = 34f64.sqrt();
    near(
        feet("polygon (0ft, 0ft) (10ft, 0ft) (10ft, 4ft) (5ft, 7ft) (0ft, 4ft)"),
        [55.0, 18.0 + 2.0 * slope, 10.0, 7.0, 2.0 * slope, 10.0, 8.0],
    );
}

/// The same outline named the other way around has the same measures.
/// Corners as a survey has them: 3.1 x 2.3 m far from the origin. The products of such numbers
/// have no digits left for 7.13 m2.
#[test]
fn polygon_far_from_the_origin() {
    let far = "polygon (500000m, 4649776m) (500003.1m, 4649776m) (500003.1m, 4649778.3m) (500000m, 4649778.3m)";
    let area = feet(far)[0] * 0.09290304;
    assert!((area - 7.13).abs() < 1e-7, "{area}");
}

/// The third side passes through the second corner, but for the binary noise of decimals.
#[test]
fn a_corner_on_a_side_is_found_in_decimals() {
    let said = said(&plan(
        "face f polygon (0m, 0m) (0.3m, 0.9m) (1m, 0m) (0.1m, 0.3m) plain",
    ));
    assert!(said.contains("meets side"), "{said}");
}

#[test]
fn polygon_by_the_left_or_the_right_hand() {
    near(
        feet("polygon (0ft, 4ft) (5ft, 7ft) (10ft, 4ft) (10ft, 0ft) (0ft, 0ft)"),
        feet("polygon (0ft, 0ft) (10ft, 0ft) (10ft, 4ft) (5ft, 7ft) (0ft, 4ft)"),
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn polygons_agree_with_the_shapes_they_outline(w in 1u32..4000, h in 1u32..4000) {
        let outline = format!("polygon (0in, 0in) ({w}in, 0in) ({w}in, {h}in) (0in, {h}in)");
        near(feet(&outline), feet(&format!("rect {w}in x {h}in")));
        let by_sides = format!("triangle sides {w}in, {h}in, sqrt({w}in * {w}in + {h}in * {h}in)");
        let by_corners = feet(&format!("polygon (0in, 0in) ({w}in, 0in) (0in, {h}in)"));
        let error = (feet(&by_sides)[0] - by_corners[0]).abs();
        prop_assert!(error <= 1e-6 * by_corners[0], "Heron is off by {error}");
    }

    /// Scaling every length by k scales areas by k² and lengths by k.
    #[test]
    fn measures_scale(k in 2u32..50) {
        let shape = |k: u32| feet(&format!("frustum {}in to {}in x {}in", 30 * k, 22 * k, 114 * k));
        let (one, many) = (shape(1), shape(k));
        let k = f64::from(k);
        prop_assert!((many[0] / one[0] / (k * k) - 1.0).abs() < 1e-9);
        prop_assert!((many[1] / one[1] / k - 1.0).abs() < 1e-9);
    }
}
