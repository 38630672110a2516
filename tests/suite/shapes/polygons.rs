//! Polygons against the crate `geo`: its area, lengths, bounds and validity.

use super::{Corner, Sizes, by_geo, length, measured, ring, sizes, written};
use geo::line_intersection::line_intersection;
use geo::{Area, Contains, Line, LineIntersection, Point, Validation};
use proptest::prelude::*;
use std::f64::consts::TAU;

/// What `geo` says of a polygon. An edge is a side when it is steeper than 45°; else it is a
/// bottom when the point just above its middle lies inside, and a top when that lies outside
/// (`grammar/REFERENCE.md`, "Shapes"). None where an edge lies too near to 45° to tell.
fn judged(corners: &[Corner]) -> Option<Sizes> {
    let polygon = ring(corners);
    let mut edges = [0.0; 3];
    for line in polygon.exterior().lines() {
        let (run, rise) = (line.dx().abs(), line.dy().abs());
        if (run - rise).abs() < 1e-9 * (run + rise) {
            return None;
        }
        let middle = line.start + (line.end - line.start) / 2.0;
        let above = Point::new(middle.x, middle.y + 1e-6);
        let below = Point::new(middle.x, middle.y - 1e-6);
        let kind = match (
            rise > run,
            polygon.contains(&above),
            polygon.contains(&below),
        ) {
            (true, _, _) => 2,
            (false, true, false) => 1,
            (false, false, true) => 0,
            (false, ..) => return None,
        };
        edges[kind] += length(&[line.start.into(), line.end.into()]);
    }
    Some(by_geo(corners, edges))
}

fn turned(corners: &[Corner], angle: f64, [x, y]: Corner, backwards: bool) -> Vec<Corner> {
    let (sin, cos) = angle.sin_cos();
    let turn = |[a, b]: &Corner| [x + a * cos - b * sin, y + a * sin + b * cos];
    let mut turned: Vec<Corner> = corners.iter().map(turn).collect();
    if backwards {
        turned.reverse();
    }
    turned
}

/// Corners around a centre, at angles that grow by less than half a turn: whatever their
/// distances, no sides cross.
fn star() -> impl Strategy<Value = Vec<Corner>> {
    let corner = (0.0..0.45_f64, 0.2..10.0_f64);
    proptest::collection::vec(corner, 3..40).prop_map(|corners| {
        let step = TAU / corners.len() as f64;
        let around = |(at, (late, far)): (usize, (f64, f64))| {
            let (sin, cos) = (step * (at as f64 + late)).sin_cos();
            [far * cos, far * sin]
        };
        corners.into_iter().enumerate().map(around).collect()
    })
}

/// A lower and an upper chain from left to right that never meet: combs and ragged walls.
fn comb() -> impl Strategy<Value = Vec<Corner>> {
    let chain = || proptest::collection::vec((0.05..2.0_f64, 0.1..8.0_f64), 2..20);
    (chain(), chain()).prop_map(|(lower, upper)| {
        let along = |chain: &[(f64, f64)], sign: f64| -> Vec<Corner> {
            let whole: f64 = chain.iter().map(|(run, _)| run).sum();
            let mut x = 0.0;
            let corner = |(run, height): &(f64, f64)| {
                x += run / whole * 10.0;
                [x, sign * height]
            };
            chain.iter().map(corner).collect()
        };
        // Both begin at one tip.
        let mut corners = vec![[0.0, 0.0]];
        corners.extend(along(&lower, -1.0));
        let upper = along(&upper, 1.0);
        corners.extend(upper.into_iter().rev());
        corners
    })
}

/// A band that winds around itself, which no direction sees as a comb.
fn spiral() -> impl Strategy<Value = Vec<Corner>> {
    (8..60usize, 0.5..3.0_f64, 0.2..0.8_f64).prop_map(|(count, pitch, share)| {
        let at = |number: usize, inward: f64| {
            let angle = number as f64 * TAU / 16.0;
            let far = pitch * (2.0 + number as f64 / 16.0) - inward;
            [far * angle.cos(), far * angle.sin()]
        };
        let outer = (0..count).map(|number| at(number, 0.0));
        let inner = (0..count).rev().map(|number| at(number, pitch * share));
        outer.chain(inner).collect()
    })
}

/// One of the three, turned, moved and walked either way.
fn simple() -> impl Strategy<Value = Vec<Corner>> {
    let origin = prop_oneof![Just([0.0, 0.0]), [-1000.0..1000.0, -1000.0..1000.0]];
    (
        prop_oneof![star(), comb(), spiral()],
        0.0..TAU,
        origin,
        any::<bool>(),
    )
        .prop_map(|(corners, angle, origin, backwards)| turned(&corners, angle, origin, backwards))
}

fn written_polygon(corners: &[Corner]) -> String {
    format!("polygon {}", written(corners))
}

/// The sides of a polygon that meet as they should not, counted from 1 in the order of the
/// plan: by `geo`, whose predicates are exact for the figures given. Neighbours share a corner,
/// so these must not lie over each other.
fn meetings(corners: &[Corner]) -> Vec<(usize, usize)> {
    let sides: Vec<Line> = ring(corners).exterior().lines().collect();
    let count = sides.len();
    let mut met = Vec::new();
    for (i, first) in sides.iter().enumerate() {
        for (j, second) in sides.iter().enumerate().skip(i + 1) {
            let neighbours = j == i + 1 || (i == 0 && j == count - 1);
            let bad = match line_intersection(*first, *second) {
                None => false,
                Some(LineIntersection::Collinear { intersection }) => {
                    !neighbours || intersection.start != intersection.end
                }
                Some(LineIntersection::SinglePoint { .. }) => !neighbours,
            };
            if bad {
                met.push((i + 1, j + 1));
            }
        }
    }
    met
}

/// `side 1 meets side 3 of the polygon`.
fn named(said: &str) -> Option<(usize, usize)> {
    let rest = said.split_once("side ")?.1;
    let (first, rest) = rest.split_once(" meets side ")?;
    let (second, _) = rest.split_once(" of the polygon")?;
    Some((first.parse().ok()?, second.parse().ok()?))
}

/// Looks that Parge refuses exactly what `geo` finds no simple polygon, and names sides that meet.
fn judge(corners: &[Corner]) {
    let met = meetings(corners);
    // Its own check of validity lets corners pass that all lie in one line.
    let polygon = ring(corners);
    if polygon.unsigned_area() > 0.0 {
        assert_eq!(
            met.is_empty(),
            polygon.is_valid(),
            "geo against geo: {met:?} {corners:?}"
        );
    }
    match measured(&written_polygon(corners)) {
        Ok(got) => {
            assert_eq!(met, [], "{corners:?}");
            // The whole-number corners here have many edges at 45°, which are level enough.
            let wanted = by_geo(corners, [got.top, got.bottom, got.sides]);
            got.are(wanted, 1e-9);
        }
        Err(said) => {
            let pair = named(&said);
            assert!(
                pair.is_some_and(|pair| met.contains(&pair)),
                "{said}: geo finds {met:?} in {corners:?}"
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Judge: `geo` 0.33.
    #[test]
    fn simple_polygons_measure_as_geo_says(corners in simple()) {
        let wanted = judged(&corners);
        prop_assume!(wanted.is_some());
        sizes(&written_polygon(&corners)).are(wanted.unwrap(), 1e-9);
    }

    /// Judge: `geo` 0.33. On a coarse grid corners often fall on sides, and sides over sides.
    #[test]
    fn corners_on_a_grid_are_refused_when_geo_says_so(
        corners in proptest::collection::vec([-4..5i32, -4..5i32], 3..9)
    ) {
        let corners: Vec<Corner> = corners.iter().map(|[x, y]| [f64::from(*x), f64::from(*y)]).collect();
        let repeated = corners.iter().zip(corners.iter().cycle().skip(1)).any(|(a, b)| a == b);
        prop_assume!(!repeated);
        judge(&corners);
    }

    /// Judge: `geo` 0.33.
    #[test]
    fn corners_anywhere_are_refused_when_geo_says_so(
        corners in proptest::collection::vec([-10.0..10.0, -10.0..10.0], 3..12)
    ) {
        judge(&corners);
    }

    /// Judge: `geo` 0.33. Two corners changed places, as when a list is copied by hand.
    #[test]
    fn two_corners_in_the_wrong_order_are_refused_when_geo_says_so(
        corners in star(), a in any::<prop::sample::Index>(), b in any::<prop::sample::Index>(),
    ) {
        let mut corners = corners;
        let (a, b) = (a.index(corners.len()), b.index(corners.len()));
        corners.swap(a, b);
        judge(&corners);
    }
}
