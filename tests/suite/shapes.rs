//! Every shape, measured through the program's own stages, against judges from outside: the
//! crate `geo` for what has straight edges, polygons and nets of triangles that become finer for
//! what is curved, and the closed forms of handbooks besides. No judge knows the program's
//! formulas.

mod curved;
mod flat;
mod polygons;

use geo::{Area, BoundingRect, Euclidean, Length, LineString, Polygon};
use parge_base::{Sources, Span, diagnostic};
use parge_calc::contract::{HOOKS, Packs};
use parge_calc::measure::measure;
use parge_calc::resolve::resolve;
use parge_rules::Pack;
use std::sync::LazyLock;

/// What a shape measures, in metres and square metres.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Sizes {
    area: f64,
    perimeter: f64,
    width: f64,
    height: f64,
    top: f64,
    bottom: f64,
    sides: f64,
}

impl Sizes {
    fn all(self) -> [(&'static str, f64); 7] {
        [
            ("area", self.area),
            ("perimeter", self.perimeter),
            ("width", self.width),
            ("height", self.height),
            ("top", self.top),
            ("bottom", self.bottom),
            ("sides", self.sides),
        ]
    }

    /// Whether all seven are those of a judge, to a share of the size of the figure, or of the
    /// perimeter for a length that is next to nothing.
    #[track_caller]
    fn are(self, wanted: Self, within: f64) {
        for ((name, got), (_, wanted_here)) in self.all().into_iter().zip(wanted.all()) {
            let scale = match name {
                "area" => wanted.area,
                _ => wanted_here.max(wanted.perimeter * 1e-3),
            };
            assert!(
                (got - wanted_here).abs() <= within * scale,
                "{name}: {got} is not {wanted_here}\n{self:?}\n{wanted:?}"
            );
        }
    }
}

static PACK: LazyLock<Pack> = LazyLock::new(|| {
    let files = parge_standard_packs::find("vertical-concrete").unwrap();
    parge_rules::load(&[files], HOOKS, &mut Sources::new()).unwrap()
});

/// Measures a shape as a plan writes it. Where that is refused: what is said.
fn measured(shape: &str) -> Result<Sizes, String> {
    let text = format!(
        "parge 1\njob \"Shapes\" {{ rules \"vertical-concrete\" }}\n\
         finish plain {{ technique stamp  thickness 1in }}\n\
         structure \"Wall\" on block {{ face f {shape} plain }}\n"
    );
    let file = Sources::new().add("plan", "");
    let parsed = parge_grammar::parse(file, &text);
    let end = Span::new(file, text.len(), text.len());
    let (job, said) = resolve(&parsed.plan, Packs::of(&PACK), end);
    let mut told = parsed.diagnostics;
    told.extend(said);
    let measured = job.map(|job| {
        let (measured, said) = measure(job, Packs::of(&PACK));
        told.extend(said);
        measured
    });
    if diagnostic::any_error(&told) {
        let messages: Vec<String> = told.into_iter().map(|told| told.message).collect();
        return Err(messages.join("; "));
    }
    let measured = measured.unwrap();
    let shape = measured.faces[0].shape;
    let size = |node| measured.job.tape.value(node).value;
    Ok(Sizes {
        area: size(shape.area),
        perimeter: size(shape.perimeter),
        width: size(shape.width),
        height: size(shape.height),
        top: size(shape.top),
        bottom: size(shape.bottom),
        sides: size(shape.sides),
    })
}

/// Measures a shape that is one.
#[track_caller]
fn sizes(shape: &str) -> Sizes {
    measured(shape).unwrap_or_else(|said| panic!("{shape}: {said}"))
}

/// A corner in metres.
type Corner = [f64; 2];

fn ring(corners: &[Corner]) -> Polygon {
    Polygon::new(LineString::from(corners.to_vec()), Vec::new())
}

/// The length of a broken line, by `geo`.
fn length(corners: &[Corner]) -> f64 {
    Euclidean.length(&LineString::from(corners.to_vec()))
}

/// What `geo` says of a polygon as a whole; its edges are named by the caller.
fn by_geo(corners: &[Corner], [top, bottom, sides]: [f64; 3]) -> Sizes {
    let polygon = ring(corners);
    let bounds = polygon.bounding_rect().unwrap();
    Sizes {
        area: polygon.unsigned_area(),
        perimeter: Euclidean.length(polygon.exterior()),
        width: bounds.width(),
        height: bounds.height(),
        top,
        bottom,
        sides,
    }
}

/// `(0m, 1.5m) (…)`, as a plan writes corners and stations.
fn written(points: &[Corner]) -> String {
    let points: Vec<String> = points
        .iter()
        .map(|[x, y]| format!("({x}m, {y}m)"))
        .collect();
    points.join(" ")
}
