//! The curved shapes. Each has two judges: what its description draws, cut ever finer into
//! straight edges or flat triangles, and the closed form of a handbook. The handbook is
//! Erik Oberg and others, *Machinery's Handbook*, "Mensuration of plane surfaces" and "of
//! solids", from memory; its forms are written here in its own terms, which are not those of the
//! program.

use super::{Corner, Sizes, length, ring, sizes};
use geo::Area;
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Against closed forms: rounding only.
const EXACT: f64 = 1e-10;
/// Against what was cut fine.
const FINE: f64 = 1e-8;

/// What a quantity of a figure cut into `n` parts tends to. The error of inscribed lines and
/// triangles falls by the square of `n`, so twice as many parts leave a quarter of it, and both
/// together next to nothing (Richardson, *Phil. Trans. A* 226, 1927; from memory).
fn limit(parts: usize, of: impl Fn(usize) -> f64) -> f64 {
    let (coarse, fine) = (of(parts), of(2 * parts));
    (4.0 * fine - coarse) / 3.0
}

/// Points on a curve, both ends among them.
fn along(parts: usize, curve: impl Fn(f64) -> Corner) -> Vec<Corner> {
    (0..=parts)
        .map(|at| curve(at as f64 / parts as f64))
        .collect()
}

/// The length of a curve.
fn curve_length(parts: usize, curve: impl Fn(f64) -> Corner) -> f64 {
    limit(parts, |parts| length(&along(parts, &curve)))
}

/// The area between a curve and the corners that close it.
fn area_under(parts: usize, curve: impl Fn(f64) -> Corner, rest: &[Corner]) -> f64 {
    limit(parts, |parts| {
        let mut corners = along(parts, &curve);
        corners.extend(rest);
        ring(&corners).unsigned_area()
    })
}

fn circle(radius: f64) -> impl Fn(f64) -> Corner {
    move |t| [radius * (t * TAU).cos(), radius * (t * TAU).sin()]
}

/// The area of a surface that a profile of radius and height sweeps over an angle around the
/// upright axis: a net of triangles, finer around than up since a profile is nearly straight.
fn swept(profile: impl Fn(f64) -> Corner, angle: f64) -> f64 {
    limit(30, |parts| {
        let all_around = 12 * parts;
        let point = |up: usize, around: usize| {
            let [radius, z] = profile(up as f64 / parts as f64);
            let (sin, cos) = (angle * around as f64 / all_around as f64).sin_cos();
            [radius * cos, radius * sin, z]
        };
        let mut area = 0.0;
        for up in 0..parts {
            for around in 0..all_around {
                let [a, b] = [point(up, around), point(up, around + 1)];
                let [c, d] = [point(up + 1, around), point(up + 1, around + 1)];
                area += triangle(a, b, d) + triangle(a, d, c);
            }
        }
        area
    })
}

fn triangle(a: [f64; 3], b: [f64; 3], c: [f64; 3]) -> f64 {
    let edge = |to: [f64; 3]| [to[0] - a[0], to[1] - a[1], to[2] - a[2]];
    let (u, v) = (edge(b), edge(c));
    let cross = [
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    ];
    cross.iter().map(|part| part * part).sum::<f64>().sqrt() / 2.0
}

/// The circle through the two springings and the crown of an arch: its centre is the point below
/// the crown that is as far from a springing as from the crown, found by halving.
fn centre(half_width: f64, rise: f64) -> f64 {
    let nearer_to_crown = |below: f64| below + rise < half_width.hypot(below);
    let (mut low, mut high) = (-rise, 1e9);
    for _ in 0..200 {
        let middle = (low + high) / 2.0;
        if nearer_to_crown(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

fn size() -> impl Strategy<Value = f64> {
    0.05..30.0_f64
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Handbook: circle, A = 0.7854 d², C = 3.1416 d. The upper half of its edge is its top.
    #[test]
    fn circles(d in size()) {
        let got = sizes(&format!("circle diameter {d}m"));
        let with = |area: f64, around: f64| Sizes {
            area,
            perimeter: around,
            width: d,
            height: d,
            top: around / 2.0,
            bottom: around / 2.0,
            sides: 0.0,
        };
        got.are(with(FRAC_PI_2 / 2.0 * d * d, PI * d), EXACT);
        let line = circle(d / 2.0);
        got.are(with(area_under(2000, &line, &[]), curve_length(2000, &line)), FINE);
    }

    /// Handbook: circular ring, A = 0.7854 (D² - d²). The hole's edge is sides.
    #[test]
    fn rings(outer in size(), share in 0.02..0.98_f64) {
        let inner = outer * share;
        let got = sizes(&format!("ring {outer}m to {inner}m"));
        let with = |area: f64, around: f64, hole: f64| Sizes {
            area,
            perimeter: around + hole,
            width: outer,
            height: outer,
            top: around / 2.0,
            bottom: around / 2.0,
            sides: hole,
        };
        let area = FRAC_PI_2 / 2.0 * (outer + inner) * (outer - inner);
        got.are(with(area, PI * outer, PI * inner), 1e-9);
        let (line, hole) = (circle(outer / 2.0), circle(inner / 2.0));
        let area = area_under(4000, &line, &[]) - area_under(4000, &hole, &[]);
        got.are(with(area, curve_length(2000, &line), curve_length(2000, &hole)), FINE);
    }

    /// Handbook: a half circle upon a rectangle.
    #[test]
    fn arches(w in size(), upright in prop_oneof![0.001..20.0_f64, Just(0.0)]) {
        // The height is written down rounded up, so that it never falls below the half circle.
        let h = (w / 2.0 + upright) * (1.0 + f64::EPSILON);
        let upright = h - w / 2.0;
        let got = sizes(&format!("arch {w}m x {h}m"));
        let with = |area: f64, crown: f64| Sizes {
            area,
            perimeter: crown + w + upright + upright,
            width: w,
            height: h,
            top: crown,
            bottom: w,
            sides: upright + upright,
        };
        got.are(with(w * upright + 0.125 * PI * w * w, FRAC_PI_2 * w), EXACT);
        let line = |t: f64| [w / 2.0 * (t * PI).cos(), upright + w / 2.0 * (t * PI).sin()];
        let feet = [[-w / 2.0, 0.0], [w / 2.0, 0.0]];
        got.are(with(area_under(2000, line, &feet), curve_length(2000, line)), FINE);
    }

    /// Handbook: circular segment with the chord c, the height h and the radius r: the angle is
    /// 2 arccos(1 - h/r), the arc l = r × angle, the area ½ (r l - c (r - h)).
    #[test]
    fn segment_arches(w in size(), share in 0.02..1.0_f64, upright in 0.0..10.0_f64) {
        let rise = share * w / 2.0;
        let h = upright + rise;
        let got = sizes(&format!("arch {w}m x {h}m rise {rise}m"));
        let upright = h - rise;
        let with = |segment: f64, crown: f64| Sizes {
            area: w * upright + segment,
            perimeter: crown + w + upright + upright,
            width: w,
            height: h,
            top: crown,
            bottom: w,
            sides: upright + upright,
        };
        let below = centre(w / 2.0, rise);
        let radius = below + rise;
        let arc = radius * 2.0 * (1.0 - rise / radius).acos();
        // The difference of two large areas loses digits when the arch is flat.
        got.are(with((radius * arc - w * (radius - rise)) / 2.0, arc), 1e-7);
        let half = (w / 2.0).atan2(below);
        let line = |t: f64| {
            let angle = half * (2.0 * t - 1.0);
            [radius * angle.sin(), radius * angle.cos() - below]
        };
        got.are(with(area_under(2000, line, &[]), curve_length(2000, line)), FINE);
    }

    /// Handbook: cylinder, A = 3.1416 d h; the part of it over an angle, and a wall on an arc,
    /// A = l h with the arc l = r × angle.
    #[test]
    fn cylinders_and_walls_on_an_arc(d in size(), h in size(), angle in 0.05..TAU) {
        let whole = sizes(&format!("cylinder diameter {d}m x {h}m"));
        let with = |area: f64, around: f64, sides: f64| Sizes {
            area,
            perimeter: around + around + sides,
            width: around,
            height: h,
            top: around,
            bottom: around,
            sides,
        };
        let upright = |t: f64| [d / 2.0, h * t];
        whole.are(with(PI * d * h, PI * d, 0.0), EXACT);
        whole.are(with(swept(upright, TAU), curve_length(2000, circle(d / 2.0)), 0.0), FINE);

        let line = |t: f64| circle(d / 2.0)(t * angle / TAU);
        let arc = d / 2.0 * angle;
        let fine = with(swept(upright, angle), curve_length(2000, line), h + h);
        for part in [
            format!("cylinder diameter {d}m sweep {angle}rad x {h}m"),
            format!("arc radius {}m sweep {angle}rad x {h}m", d / 2.0),
        ] {
            let got = sizes(&part);
            got.are(with(arc * h, arc, h + h), EXACT);
            got.are(fine, FINE);
        }
    }

    /// Handbook: frustum of a cone, A = 1.5708 s (D + d), s the slant height; cone,
    /// A = 1.5708 d s. The height of a tapered face is that along its slope, its width the
    /// longer way around.
    #[test]
    fn cones_and_frustums(bottom in size(), top in size(), h in size()) {
        let got = sizes(&format!("frustum {bottom}m to {top}m x {h}m"));
        let around = |d: f64| curve_length(2000, circle(d / 2.0));
        let with = |area: f64, high: f64, low: f64, slant: f64| Sizes {
            area,
            perimeter: low + high,
            width: low.max(high),
            height: slant,
            top: high,
            bottom: low,
            sides: 0.0,
        };
        let slant = length(&[[bottom / 2.0, 0.0], [top / 2.0, h]]);
        got.are(with(FRAC_PI_2 * slant * (bottom + top), PI * top, PI * bottom, slant), EXACT);
        let line = |t: f64| [(bottom + (top - bottom) * t) / 2.0, h * t];
        got.are(with(swept(line, TAU), around(top), around(bottom), slant), FINE);

        let got = sizes(&format!("cone diameter {bottom}m x {h}m"));
        let slant = length(&[[bottom / 2.0, 0.0], [0.0, h]]);
        got.are(with(FRAC_PI_2 * bottom * slant, 0.0, PI * bottom, slant), EXACT);
        let line = |t: f64| [bottom / 2.0 * (1.0 - t), h * t];
        got.are(with(swept(line, TAU), 0.0, around(bottom), slant), FINE);
    }

    /// Handbook: spherical segment, A = 2 × 3.1416 r h with r the sphere's radius. Caps of more
    /// than half a sphere are among them.
    #[test]
    fn domes(d in size(), share in 0.02..3.0_f64) {
        let h = share * d / 2.0;
        let got = sizes(&format!("dome diameter {d}m x {h}m"));
        let with = |area: f64, around: f64| Sizes {
            area,
            perimeter: around,
            width: around,
            height: h,
            top: 0.0,
            bottom: around,
            sides: 0.0,
        };
        // The sphere through the foot and the top is turned from the circle of an arch.
        let below = centre(d / 2.0, h);
        let radius = below + h;
        got.are(with(TAU * radius * h, PI * d), 1e-7);
        let half = (d / 2.0).atan2(below);
        let line = |t: f64| [radius * (half * t).sin(), radius * (half * t).cos()];
        got.are(with(swept(line, TAU), curve_length(2000, circle(d / 2.0))), 1e-6);
    }

    /// Handbook: ellipse, A = 3.1416 a b. The edge is Ramanujan's second approximation, which is
    /// too short by π (a+b) θ q⁵ with q = ((a-b)/(a+b))² and 3/2¹⁷ < θ ≤ 4/π - 14/11 (Mark B.
    /// Villarino, "A note on the accuracy of Ramanujan's approximative formula for the perimeter
    /// of an ellipse", *J. Inequal. Pure Appl. Math.* 7(1), 2006, art. 21; the constants from
    /// memory). The upper bound is that of an ellipse without height, whose edge is 4a, while
    /// the approximation gives 14πa/11.
    #[test]
    fn ellipses(w in size(), share in prop_oneof![0.01..1.0_f64, 1.0..100.0_f64, Just(1.0)]) {
        let h = w * share;
        let got = sizes(&format!("ellipse {w}m x {h}m"));
        let line = |t: f64| [w / 2.0 * (t * TAU).cos(), h / 2.0 * (t * TAU).sin()];
        let with = |area: f64| Sizes {
            area,
            perimeter: got.perimeter,
            width: w,
            height: h,
            top: got.perimeter / 2.0,
            bottom: got.perimeter / 2.0,
            sides: 0.0,
        };
        got.are(with(PI * (w / 2.0) * (h / 2.0)), EXACT);
        got.are(with(area_under(8000, line, &[])), FINE);

        let around = curve_length(20_000, line);
        let sum = (w + h) / 2.0;
        let q = ((w - h) / (w + h)).powi(2);
        let short = (around - got.perimeter) / (PI * sum);
        let bounds = [3.0 / 131_072.0, 4.0 / PI - 14.0 / 11.0].map(|theta| theta * q.powi(5));
        let rounding = 1e-11;
        prop_assert!(
            bounds[0] - rounding <= short && short <= bounds[1] + rounding,
            "{short} is not within {bounds:?}"
        );
    }
}
