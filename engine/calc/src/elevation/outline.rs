//! The outline of a shape as lines and arcs.

use super::{Edge, Elevation, Path, View};
use crate::job::{Job, Shape};
use crate::layout::outline::Outline;
use std::f64::consts::PI;

/// Tapers that turn less than this, in radians, when laid flat are drawn straight.
const STRAIGHT: f64 = 1e-4;

/// Corners that lie closer than this share of the size are one.
const SAME: f64 = 1e-9;

/// A shape that measures so much in width, height and area, without openings.
pub(super) fn drawn(job: &Job, shape: &Shape, sizes: [f64; 3]) -> Elevation {
    let (view, paths, levels) = match Outline::of(job, shape, sizes) {
        Some(outline) => {
            let (view, paths) = paths(&outline);
            (
                view.unwrap_or_else(|| flat_view(shape)),
                paths,
                levels(&outline),
            )
        }
        None => {
            let (view, size) = substitute(shape, sizes);
            (view, vec![rectangle(size)], Levels::default())
        }
    };
    let mut elevation = grounded(view, paths);
    elevation.across = sorted(levels.across, elevation.size[0]);
    elevation.up = sorted(levels.up, elevation.size[1]);
    elevation.stations = stations(job, shape);
    if !elevation.stations.is_empty() {
        elevation.up = sorted(Vec::new(), elevation.size[1]);
    }
    elevation
}

/// What is drawn of a shape without an outline.
fn substitute(shape: &Shape, [width, height, area]: [f64; 3]) -> (View, [f64; 2]) {
    match shape {
        // As wide as it is deep: see `measure::reveal`.
        Shape::Reveal(_) if width > 0.0 => (View::Strip, [area / width, width]),
        Shape::Measured(..) => (View::SameArea, [width, height]),
        _ => (View::Around, [width, height]),
    }
}

fn flat_view(shape: &Shape) -> View {
    match shape {
        Shape::Arc(_) | Shape::Cylinder(..) => View::Unrolled,
        _ => View::Flat,
    }
}

/// Moved so that the box around it begins at 0.
fn grounded(view: View, paths: Vec<Path>) -> Elevation {
    let corners = paths.iter().flat_map(Path::corners);
    let around = corners.fold(None, |around: Option<[f64; 4]>, [x, y]| {
        let [left, foot, right, top] = around.unwrap_or([x, y, x, y]);
        Some([left.min(x), foot.min(y), right.max(x), top.max(y)])
    });
    let [left, foot, right, top] = around.unwrap_or_default();
    Elevation {
        view,
        outline: paths
            .iter()
            .map(|path| path.moved([-left, -foot]))
            .collect(),
        size: [right - left, top - foot],
        across: Vec::new(),
        up: Vec::new(),
        stations: Vec::new(),
        openings: Vec::new(),
        left_out: Vec::new(),
    }
}

/// The closed lines of an outline, and the view where it is not flat or rolled.
fn paths(outline: &Outline) -> (Option<View>, Vec<Path>) {
    match *outline {
        Outline::Box(size) => (None, vec![rectangle(size)]),
        Outline::Polygon(ref corners) => (None, vec![Path::polygon(corners)]),
        Outline::Ellipse(radii) => (None, vec![Path::ellipse(radii, radii)]),
        Outline::Ring([outer, inner]) => {
            let circle = |radius| Path::ellipse([outer; 2], [radius; 2]);
            (None, vec![circle(outer), circle(inner)])
        }
        Outline::Arch([half, spring, radius, _]) => (None, vec![arch(half, spring, radius)]),
        Outline::Round([foot, top, slope]) => {
            let turn = 2.0 * PI * (foot - top) / slope;
            if turn.abs() < STRAIGHT {
                // Of the same area as what tapers by next to nothing.
                let around = PI * (foot + top);
                return (Some(View::Unrolled), vec![rectangle([around, slope])]);
            }
            let view = View::Fan([2.0 * PI * foot, 2.0 * PI * top, slope]);
            let path = if turn > 0.0 {
                fan(foot, top, slope)
            } else {
                fan(top, foot, slope).upside_down()
            };
            (Some(view), vec![path])
        }
        Outline::Dome([radius, angle]) => (Some(View::Side), vec![cap(radius, angle)]),
    }
}

fn rectangle([width, height]: [f64; 2]) -> Path {
    Path::polygon(&[[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
}

/// A rectangle under an arc.
fn arch(half: f64, spring: f64, radius: f64) -> Path {
    let mut path = Path::polygon(&[[0.0, 0.0], [2.0 * half, 0.0]]);
    let is_upright = spring > SAME * half;
    if is_upright {
        path.edges.push(Edge::Line([2.0 * half, spring]));
    }
    path.edges.push(Edge::Arc {
        to: [0.0, if is_upright { spring } else { 0.0 }],
        radii: [radius; 2],
        large: false,
        left: true,
    });
    path
}

/// A frustum laid flat: the part of a ring between the lengths around at its wide and its narrow
/// end. The rays meet where the taper would end, `wide x slope / (wide - narrow)` from the wide
/// end, and the angle between them is `2 π (wide - narrow) / slope`.
fn fan(wide: f64, narrow: f64, slope: f64) -> Path {
    let taper = wide - narrow;
    let (outer, inner) = (wide * slope / taper, narrow * slope / taper);
    let turn = 2.0 * PI * taper / slope;
    let at = |radius: f64, share: f64| {
        let angle = turn * share;
        [radius * angle.sin(), -radius * angle.cos()]
    };
    let arc = |to, radius, left| Edge::Arc {
        to,
        radii: [radius; 2],
        large: turn > PI,
        left,
    };
    let mut edges = vec![arc(at(outer, 0.5), outer, true), Edge::Line(at(inner, 0.5))];
    if inner > 0.0 {
        edges.push(arc(at(inner, -0.5), inner, false));
    }
    Path {
        start: at(outer, -0.5),
        edges,
    }
}

/// A cap of a sphere from the side, whose foot is seen under that angle from the crown down.
fn cap(radius: f64, angle: f64) -> Path {
    let half = radius * angle.sin();
    Path {
        start: [-half, 0.0],
        edges: vec![
            Edge::Line([half, 0.0]),
            Edge::Arc {
                to: [-half, 0.0],
                radii: [radius; 2],
                large: angle > PI / 2.0,
                left: true,
            },
        ],
    }
}

/// Where an outline has corners or ends beside those of the box around it.
#[derive(Default)]
struct Levels {
    across: Vec<f64>,
    up: Vec<f64>,
}

fn levels(outline: &Outline) -> Levels {
    match *outline {
        Outline::Polygon(ref corners) => Levels {
            across: corners.iter().map(|[x, _]| *x).collect(),
            up: corners.iter().map(|[_, y]| *y).collect(),
        },
        Outline::Arch([_, spring, ..]) => Levels {
            across: Vec::new(),
            up: vec![spring],
        },
        Outline::Ring([outer, inner]) => Levels {
            across: vec![outer - inner, outer + inner],
            up: Vec::new(),
        },
        // What bulges over its foot.
        Outline::Dome([radius, angle]) if angle > PI / 2.0 => {
            let half = radius * angle.sin();
            Levels {
                across: vec![radius - half, radius + half],
                up: Vec::new(),
            }
        }
        _ => Levels::default(),
    }
}

/// In order and each once, with both ends.
fn sorted(mut levels: Vec<f64>, end: f64) -> Vec<f64> {
    levels.extend([0.0, end]);
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|a, b| (*a - *b).abs() <= SAME * end);
    levels
}

fn stations(job: &Job, shape: &Shape) -> Vec<[f64; 2]> {
    // The steps of a stepped wall are dimensioned as its corners.
    let Shape::Stations {
        stepped: false,
        stations,
    } = shape
    else {
        return Vec::new();
    };
    let sizes: Vec<[f64; 2]> = stations
        .iter()
        .map(|station| station.map(|figure| job.value(figure).value))
        .collect();
    let start = sizes.first().map_or(0.0, |[start, _]| *start);
    let from_start = sizes.into_iter().map(|[x, height]| [x - start, height]);
    from_start.collect()
}
