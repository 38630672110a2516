//! The flat shapes with straight edges, each as the polygon that its description draws.

use super::{Corner, Sizes, by_geo, length, measured, sizes, written};
use proptest::prelude::*;

const WITHIN: f64 = 1e-9;

fn size() -> impl Strategy<Value = f64> {
    0.05..30.0_f64
}

/// The corners of a wall by stations, from its foot up: the last corner is the foot at its end.
fn profile(stations: &[Corner], stepped: bool) -> Vec<Corner> {
    let mut corners = vec![[stations[0][0], 0.0], stations[0]];
    for pair in stations.windows(2) {
        if stepped {
            corners.push([pair[1][0], pair[0][1]]);
        }
        corners.push(pair[1]);
    }
    corners.push([stations[stations.len() - 1][0], 0.0]);
    corners
}

fn stations() -> impl Strategy<Value = Vec<Corner>> {
    let station = (0.1..5.0_f64, prop_oneof![4 => 0.1..6.0_f64, 1 => Just(0.0)]);
    let whole = (-20.0..20.0_f64, proptest::collection::vec(station, 2..30));
    // Where no station has a height there is no wall.
    let whole = whole.prop_filter("a wall", |(_, stations)| {
        stations.iter().any(|(_, high)| *high > 0.0)
    });
    whole.prop_map(|(start, stations)| {
        let mut x = start;
        let place = |(run, high): (f64, f64)| {
            x += run;
            [x, high]
        };
        stations.into_iter().map(place).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// Judge: `geo`, of the polygon drawn by `grammar/REFERENCE.md`, "Shapes".
    #[test]
    fn rectangles_triangles_and_trapezoids(w in size(), t in size(), h in size()) {
        let corners = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
        sizes(&format!("rect {w}m x {h}m")).are(by_geo(&corners, [w, w, h + h]), WITHIN);

        let corners = [[0.0, 0.0], [w, 0.0], [w / 2.0, h]];
        let slopes = length(&[corners[1], corners[2], corners[0]]);
        sizes(&format!("triangle {w}m x {h}m")).are(by_geo(&corners, [slopes, w, 0.0]), WITHIN);

        let (left, right) = ((w - t) / 2.0, (w + t) / 2.0);
        let corners = [[0.0, 0.0], [w, 0.0], [right, h], [left, h]];
        let legs = length(&corners[1..3]) + length(&[corners[3], corners[0]]);
        sizes(&format!("trapezoid {w}m to {t}m x {h}m")).are(by_geo(&corners, [t, w, legs]), WITHIN);
    }

    /// Judge: `geo`. The corners are drawn first and the sides measured, so that no formula for
    /// the height is needed. The width of a triangle by its sides is its bottom.
    #[test]
    fn triangles_by_their_sides(a in size(), x in -20.0..40.0_f64, h in size()) {
        let corners = [[0.0, 0.0], [a, 0.0], [x, h]];
        let (b, c) = (length(&corners[1..]), length(&[corners[2], corners[0]]));
        let wanted = Sizes { width: a, ..by_geo(&corners, [b + c, a, 0.0]) };
        // A sliver loses digits in any formula that starts from its sides: the error of the
        // product under Heron's root is one of rounding over the smallest factor of it.
        let sharpest = (b + c - a).min(a + c - b).min(a + b - c) / (a + b + c);
        let within = WITHIN.max(8.0 * f64::EPSILON / sharpest);
        sizes(&format!("triangle sides {a}m, {b}m, {c}m")).are(wanted, within);
    }

    /// Judge: `geo`.
    #[test]
    fn walls_by_stations(stations in stations()) {
        let corners = profile(&stations, false);
        let (first, last) = (corners[0], corners[corners.len() - 1]);
        let top = length(&corners[1..corners.len() - 1]);
        let sides = length(&corners[..2]) + length(&corners[corners.len() - 2..]);
        let wanted = by_geo(&corners, [top, last[0] - first[0], sides]);
        sizes(&format!("stations {}", written(&stations))).are(wanted, WITHIN);
    }

    /// Judge: `geo`. All that runs upright is a side.
    #[test]
    fn walls_in_steps(stations in stations(), falls in any::<bool>()) {
        let mut stations = stations;
        let before = stations[stations.len() - 2][1];
        stations.last_mut().unwrap()[1] = if falls { 0.0 } else { before };
        prop_assume!(stations.iter().any(|[_, high]| *high > 0.0));
        let corners = profile(&stations, true);
        let long = corners[corners.len() - 1][0] - corners[0][0];
        let upright = corners.windows(2).map(|pair| (pair[1][1] - pair[0][1]).abs()).sum();
        let wanted = by_geo(&corners, [long, long, upright]);
        sizes(&format!("stations stepped {}", written(&stations))).are(wanted, WITHIN);
    }

    /// The isoperimetric inequality: no closed line around an area A is shorter than √(4πA),
    /// the circle's. What is longer is taken as it was measured.
    #[test]
    fn what_was_measured_on_the_wall(area in 0.5..200.0_f64, share in 0.5..3.0_f64, high in size()) {
        prop_assume!((share - 1.0).abs() > 1e-6);
        let around = share * (4.0 * std::f64::consts::PI * area).sqrt();
        let said = measured(&format!("measured {area}m2 around {around}m high {high}m \"rock\""));
        match said {
            Ok(got) => {
                prop_assert!(share > 1.0);
                // `grammar/REFERENCE.md`, "Shapes": bottom A/H, sides the rest of the length.
                let bottom = area / high;
                let sides = (around - bottom).max(0.0);
                prop_assert!((got.area - area).abs() <= WITHIN * area);
                prop_assert!((got.bottom - bottom).abs() <= WITHIN * bottom);
                prop_assert!((got.sides - sides).abs() <= WITHIN * around);
                prop_assert!((got.height - high).abs() <= WITHIN * high);
            }
            Err(said) => prop_assert!(share < 1.0 && said.contains("edge"), "{said}"),
        }
    }
}
