//! Shapes as a kind and a list of named sizes, so that any two can be compared.

use super::things::Property;
use super::value::Value;
use crate::job::{Figure, Job, Shape};

/// The kind of a shape, as a plan writes it, and its sizes by name. A shape that is new to the
/// language takes one line here.
pub(super) fn sizes(job: &Job, shape: &Shape) -> (&'static str, Vec<Property>) {
    let size =
        |name: &str, figure: &Figure| Property::of(name, Some(Value::Quantity(job.value(*figure))));
    let angle = |name: &str, figure: &Figure| {
        Property::of(name, Some(Value::Angle(job.value(*figure).value)))
    };
    match shape {
        Shape::Rect([w, h]) => ("rect", vec![size("width", w), size("height", h)]),
        Shape::Triangle([b, h]) => ("triangle", vec![size("base", b), size("height", h)]),
        Shape::TriangleSides([a, b, c]) => (
            "triangle sides",
            vec![size("side 1", a), size("side 2", b), size("side 3", c)],
        ),
        Shape::Trapezoid([b, t, h]) => (
            "trapezoid",
            vec![size("bottom", b), size("top", t), size("height", h)],
        ),
        Shape::Polygon(corners) => ("polygon", points("corner", corners, size)),
        Shape::Circle(d) => ("circle", vec![size("diameter", d)]),
        Shape::Arch([w, h]) => ("arch", vec![size("width", w), size("height", h)]),
        Shape::Cylinder([d, h], sweep) => {
            let sweep = sweep.as_ref().map(|sweep| angle("sweep", sweep));
            let sweep = sweep.unwrap_or_else(|| Property::of("sweep", None));
            (
                "cylinder",
                vec![size("diameter", d), sweep, size("height", h)],
            )
        }
        Shape::Frustum([b, t, h]) => (
            "frustum",
            vec![
                size("diameter at the bottom", b),
                size("diameter at the top", t),
                size("height", h),
            ],
        ),
        Shape::Arc([r, a, h]) => (
            "arc",
            vec![size("radius", r), angle("sweep", a), size("height", h)],
        ),
        Shape::Ellipse([w, h]) => ("ellipse", vec![size("width", w), size("height", h)]),
        Shape::Ring([o, i]) => (
            "ring",
            vec![size("outer diameter", o), size("inner diameter", i)],
        ),
        Shape::SegmentArch([w, h, r]) => (
            "arch",
            vec![size("width", w), size("height", h), size("rise", r)],
        ),
        Shape::Cone([d, h]) => ("cone", vec![size("diameter", d), size("height", h)]),
        Shape::Dome([d, h]) => ("dome", vec![size("diameter", d), size("height", h)]),
        Shape::Stations {
            stepped: false,
            stations,
        } => ("stations", points("station", stations, size)),
        Shape::Stations {
            stepped: true,
            stations,
        } => ("stations stepped", points("station", stations, size)),
        Shape::OfPack(_, sizes) => (
            "shape",
            sizes
                .iter()
                .map(|(name, figure)| size(name, figure))
                .collect(),
        ),
        // Its sizes are told of the opening.
        Shape::Reveal(_) => ("reveal", Vec::new()),
        Shape::Measured([a, o, h], why) => (
            "measured",
            vec![
                size("area", a),
                size("around", o),
                size("height", h),
                Property::of("reason", Some(Value::text(why))),
            ],
        ),
    }
}

/// Two sizes a point: how far along the wall, and how high.
fn points(
    name: &str,
    points: &[[Figure; 2]],
    size: impl Fn(&str, &Figure) -> Property,
) -> Vec<Property> {
    let both = |(at, [across, up]): (usize, &[Figure; 2])| {
        [
            size(&format!("{name} {} along", at + 1), across),
            size(&format!("{name} {} up", at + 1), up),
        ]
    };
    points.iter().enumerate().flat_map(both).collect()
}
