//! The outline of a face, flat or developed, cut into level strips.

use super::polygon;
use crate::job::{Figure, Job, Shape};
use std::f64::consts::PI;

/// A part of the width, from its left to its right end, m.
pub(super) type Interval = [f64; 2];

/// The outline of a face. Sizes are in metres; heights run from the foot up, along the slope of
/// a tapered column and along the meridian of a dome.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Outline {
    /// Width and height.
    Box([f64; 2]),
    /// The corners, the lowest of them at the height 0.
    Polygon(Vec<[f64; 2]>),
    /// Half axes; a circle has equal ones.
    Ellipse([f64; 2]),
    /// Outer and inner radius.
    Ring([f64; 2]),
    /// Half the width, height of the springing, radius of the arc, height of the crown.
    Arch([f64; 4]),
    /// All around: radius at the foot and at the top, height along the slope.
    Round([f64; 3]),
    /// Radius of the sphere, and the angle that its cap takes from the crown down.
    Dome([f64; 2]),
}

impl Outline {
    /// The outline of a shape that measures so much in width, height and area; none for what was
    /// measured on the wall, for reveals, and for shapes of a pack but those that are as large as
    /// a box around them.
    pub(crate) fn of(job: &Job, shape: &Shape, [width, height, area]: [f64; 3]) -> Option<Self> {
        let size = |figure: &Figure| job.value(*figure).value;
        Some(match shape {
            Shape::Rect(_) | Shape::Arc(_) | Shape::Cylinder(_, Some(_)) => {
                Self::Box([width, height])
            }
            Shape::Triangle(_) => {
                Self::Polygon(vec![[0.0, 0.0], [width, 0.0], [width / 2.0, height]])
            }
            Shape::TriangleSides(sides) => {
                let [a, b, c] = sides.each_ref().map(size);
                // The law of cosines, where the third side goes up from the left end.
                let x = (a * a + c * c - b * b) / (2.0 * a);
                Self::Polygon(vec![[0.0, 0.0], [a, 0.0], [x, height]])
            }
            Shape::Trapezoid(sizes) => {
                let [bottom, top, _] = sizes.each_ref().map(size);
                let (middle, b, t) = (width / 2.0, bottom / 2.0, top / 2.0);
                Self::Polygon(vec![
                    [middle - b, 0.0],
                    [middle + b, 0.0],
                    [middle + t, height],
                    [middle - t, height],
                ])
            }
            Shape::Polygon(points) => Self::Polygon(grounded(points, &size)),
            Shape::Stations { stepped, stations } => {
                Self::Polygon(along_stations(*stepped, stations, &size))
            }
            Shape::Circle(_) | Shape::Ellipse(_) => Self::Ellipse([width / 2.0, height / 2.0]),
            Shape::Ring(sizes) => Self::Ring(sizes.each_ref().map(|figure| size(figure) / 2.0)),
            Shape::Arch(_) => Self::Arch([width / 2.0, height - width / 2.0, width / 2.0, height]),
            Shape::SegmentArch([_, _, rise]) => {
                let (half, rise) = (width / 2.0, size(rise));
                let radius = (half * half + rise * rise) / (2.0 * rise);
                Self::Arch([half, height - rise, radius, height])
            }
            Shape::Cylinder([diameter, _], None) => {
                let radius = size(diameter) / 2.0;
                Self::Round([radius, radius, height])
            }
            Shape::Frustum([bottom, top, _]) => {
                Self::Round([size(bottom) / 2.0, size(top) / 2.0, height])
            }
            Shape::Cone([diameter, _]) => Self::Round([size(diameter) / 2.0, 0.0, height]),
            Shape::Dome([diameter, high]) => {
                let (a, high) = (size(diameter) / 2.0, size(high));
                let radius = (a * a + high * high) / (2.0 * high);
                // Of half the cap: tan(angle / 2) = high / a.
                Self::Dome([radius, 2.0 * high.atan2(a)])
            }
            Shape::OfPack(..) => {
                let boxed = (width * height - area).abs() <= BOXED * area;
                return boxed.then_some(Self::Box([width, height]));
            }
            Shape::Measured(..) | Shape::Reveal(_) => return None,
        })
    }

    /// The height.
    pub(super) fn height(&self) -> f64 {
        match self {
            Self::Box([_, height]) | Self::Arch([.., height]) | Self::Round([.., height]) => {
                *height
            }
            Self::Polygon(corners) => corners.iter().map(|[_, y]| *y).fold(0.0, f64::max),
            Self::Ellipse([_, half]) => half * 2.0,
            Self::Ring([outer, _]) => outer * 2.0,
            Self::Dome([radius, angle]) => radius * angle,
        }
    }

    /// Whether courses close around it.
    pub(super) fn is_round(&self) -> bool {
        matches!(self, Self::Round(_) | Self::Dome(_))
    }

    /// The parts of the width over which some of the outline lies between two heights, from the
    /// left to the right.
    pub(super) fn strips(&self, from: f64, to: f64) -> Vec<Interval> {
        let about = |middle: f64, half: f64| vec![[middle - half, middle + half]];
        let parts = match self {
            Self::Box([width, _]) => vec![[0.0, *width]],
            Self::Polygon(corners) => return polygon::strips(corners, from, to),
            Self::Ellipse([a, b]) => {
                let y = (b.clamp(from, to) - b) / b;
                about(*a, a * (1.0 - y * y).max(0.0).sqrt())
            }
            Self::Ring([outer, inner]) => return ring(*outer, *inner, from, to),
            Self::Arch([half, spring, radius, crown]) => {
                let above = (from - spring).max(0.0);
                // The centre of the arc lies a radius below the crown.
                let up = spring + above - (crown - radius);
                let wide = (radius * radius - up * up).max(0.0).sqrt();
                about(*half, if above > 0.0 { wide.min(*half) } else { *half })
            }
            Self::Round([foot, top, height]) => {
                let radius = |y: f64| foot + (top - foot) * (y / height).clamp(0.0, 1.0);
                vec![[0.0, 2.0 * PI * radius(from).max(radius(to))]]
            }
            Self::Dome([radius, angle]) => {
                let at = |y: f64| (angle - y / radius).clamp(0.0, *angle);
                // The cap is widest at its equator, where it has one.
                let widest = (PI / 2.0).clamp(at(to), at(from));
                vec![[0.0, 2.0 * PI * radius * widest.sin()]]
            }
        };
        polygon::union(parts)
    }

    /// Kind and sizes.
    pub(super) fn key(&self, key: &mut Vec<u64>) {
        let (kind, sizes): (u64, &[f64]) = match self {
            Self::Box(sizes) => (0, sizes),
            Self::Polygon(corners) => (1, corners.as_flattened()),
            Self::Ellipse(sizes) => (2, sizes),
            Self::Ring(sizes) => (3, sizes),
            Self::Arch(sizes) => (4, sizes),
            Self::Round(sizes) => (5, sizes),
            Self::Dome(sizes) => (6, sizes),
        };
        key.push(kind);
        key.extend(sizes.iter().map(|size| size.to_bits()));
    }
}

/// How far a shape of a pack may be off the box around it by binary noise.
const BOXED: f64 = 1e-9;

/// A disc with a hole: where the whole strip lies within the height of the hole, what all of it
/// leaves free parts it.
fn ring(outer: f64, inner: f64, from: f64, to: f64) -> Vec<Interval> {
    let half = |radius: f64, y: f64| (radius * radius - (y - outer).powi(2)).max(0.0).sqrt();
    let wide = half(outer, outer.clamp(from, to));
    let free = half(inner, from).min(half(inner, to));
    if free > 0.0 {
        vec![[outer - wide, outer - free], [outer + free, outer + wide]]
    } else {
        polygon::union(vec![[outer - wide, outer + wide]])
    }
}

/// The corners of a polygon, moved so that it stands at the height 0 and begins at the left.
fn grounded(points: &[[Figure; 2]], size: &impl Fn(&Figure) -> f64) -> Vec<[f64; 2]> {
    let corners: Vec<[f64; 2]> = points
        .iter()
        .map(|point| point.each_ref().map(size))
        .collect();
    let least = |axis: fn(&[f64; 2]) -> f64| corners.iter().map(axis).fold(f64::MAX, f64::min);
    let (left, foot) = (least(|point| point[0]), least(|point| point[1]));
    let moved = corners.iter().map(|[x, y]| [x - left, y - foot]);
    moved.collect()
}

/// The corners of a wall by its heights along the way: along the top, then back on the ground.
fn along_stations(
    stepped: bool,
    stations: &[[Figure; 2]],
    size: &impl Fn(&Figure) -> f64,
) -> Vec<[f64; 2]> {
    let sizes: Vec<[f64; 2]> = stations
        .iter()
        .map(|station| station.each_ref().map(size))
        .collect();
    let ([start, _], [end, _]) = match sizes.as_slice() {
        [first, .., last] => (*first, *last),
        _ => return Vec::new(),
    };
    let mut corners = Vec::with_capacity(2 * sizes.len() + 2);
    let mut before: Option<f64> = None;
    for [x, height] in &sizes {
        if let (true, Some(before)) = (stepped, before) {
            corners.push([x - start, before]);
        }
        corners.push([x - start, *height]);
        before = Some(*height);
    }
    corners.extend([[end - start, 0.0], [0.0, 0.0]]);
    corners
}
