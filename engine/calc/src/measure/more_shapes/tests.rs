//! Every formula against hand-worked figures, known limits, and each other.

use crate::testing::{feet, near, plan, said};
use proptest::prelude::*;
use std::f64::consts::PI;

/// As long as high, an ellipse is a circle; Ramanujan's edge of a 10 by 6 ellipse (half axes 5
/// and 3) is 25.526998863 (from memory).
#[test]
fn ellipse() {
    near(feet("ellipse 4ft x 4ft"), feet("circle diameter 4ft"));
    let [area, perimeter, ..] = feet("ellipse 10ft x 6ft");
    assert!((area - 15.0 * PI).abs() < 1e-9);
    assert!((perimeter - 25.526_998_863).abs() < 1e-6, "{perimeter}");
}

/// Diameters 6 and 4: area π (9 - 4), edges 6π and 4π.
#[test]
fn ring() {
    near(
        feet("ring 6ft to 4ft"),
        [5.0 * PI, 10.0 * PI, 6.0, 6.0, 3.0 * PI, 3.0 * PI, 4.0 * PI],
    );
}

/// Width 8, rise 2: the radius is (16 + 4) / 4 = 5, half the angle asin(4/5); the segment is
/// 25 asin(0.8) - 4 × 3. With a rise of half the width it is the half circle.
#[test]
fn arch_on_a_segment() {
    let angle = 0.8f64.asin();
    let area = 8.0 * 5.0 + 25.0 * angle - 12.0;
    let crown = 10.0 * angle;
    near(
        feet("arch 8ft x 7ft rise 2ft"),
        [area, crown + 8.0 + 10.0, 8.0, 7.0, crown, 8.0, 10.0],
    );
    near(feet("arch 4ft x 7ft rise 2ft"), feet("arch 4ft x 7ft"));
}

/// Radius 3, height 4: the slope is 5, the area 15π.
#[test]
fn cone() {
    near(
        feet("cone diameter 6ft x 4ft"),
        [15.0 * PI, 6.0 * PI, 6.0 * PI, 5.0, 0.0, 6.0 * PI, 0.0],
    );
}

/// Half a sphere of radius 3 has the area 2π 9; a cap 1 high on a foot of 6 has π (9 + 1).
#[test]
fn dome() {
    assert!((feet("dome diameter 6ft x 3ft")[0] - 18.0 * PI).abs() < 1e-9);
    assert!((feet("dome diameter 6ft x 1ft")[0] - 10.0 * PI).abs() < 1e-9);
}

/// 12 along, from 4 to 9 high: the top is 13 long, the area 78. In steps: 6 at 4 and 6 at 5.
#[test]
fn stations() {
    near(
        feet("stations (0ft, 4ft) (12ft, 9ft)"),
        [78.0, 38.0, 12.0, 9.0, 13.0, 12.0, 13.0],
    );
    near(
        feet("stations stepped (0ft, 4ft) (6ft, 5ft) (12ft, 5ft)"),
        [54.0, 34.0, 12.0, 5.0, 12.0, 12.0, 10.0],
    );
}

#[test]
fn what_was_measured_is_taken_as_stated() {
    let shape = "measured 42ft2 around 26ft high 6ft \"boulder, taped in strips\"";
    near(feet(shape), [42.0, 26.0, 7.0, 6.0, 0.0, 7.0, 19.0]);
}

#[test]
fn sizes_that_make_no_shape() {
    let faces = [
        "ring 4ft to 6ft",
        "arch 4ft x 7ft rise 3ft",
        "arch 4ft x 1ft rise 2ft",
        "stations (0ft, 4ft)",
        "stations (0ft, 4ft) (6ft, 4ft) (6ft, 5ft)",
        "stations (0ft, 4ft) (6ft, 0ft - 1ft)",
        "stations stepped (0ft, 4ft) (6ft, 5ft)",
        "measured 42ft2 around 10ft high 6ft \"a slip\"",
    ];
    let lines: Vec<String> = faces
        .iter()
        .enumerate()
        .map(|(at, shape)| format!("face f{at} {shape} plain"))
        .collect();
    insta::assert_snapshot!(said(&plan(&lines.join("\n"))));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// A sloped wall is the polygon with the same corners.
    #[test]
    fn stations_agree_with_the_polygon(run in 1u32..400, low in 1u32..200, high in 1u32..200) {
        let wall = feet(&format!("stations (0in, {low}in) ({run}in, {high}in)"));
        let outline = feet(&format!("polygon (0in, 0in) ({run}in, 0in) ({run}in, {high}in) (0in, {low}in)"));
        prop_assert!((wall[0] - outline[0]).abs() < 1e-9 * outline[0].max(1.0));
        prop_assert!((wall[1] - outline[1]).abs() < 1e-9 * outline[1].max(1.0));
    }

    /// A cone is a frustum that ends in a point.
    #[test]
    fn a_cone_is_the_limit_of_a_frustum(d in 10u32..400, h in 10u32..400) {
        let cone = feet(&format!("cone diameter {d}in x {h}in"))[0];
        let frustum = feet(&format!("frustum {d}in to 0.000001in x {h}in"))[0];
        prop_assert!((cone - frustum).abs() < 1e-6 * cone);
    }
}
