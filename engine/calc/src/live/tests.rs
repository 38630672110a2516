use super::*;
use crate::pool::pool;
use crate::price::price;
use crate::takeoff::take_off;
use crate::testing::{measured, pack, plan};
use parge_base::Currency;
use parge_base::prices::PriceBook;

/// The model of a plan under a script, handed to a test.
fn with_live(text: &str, script: &str, test: impl FnOnce(&Live<'_>)) {
    let mut sources = Sources::new();
    let pack = pack(script, &mut sources);
    let file = sources.add("plan.parge", text);
    let (takeoff, said) = take_off(measured(text), &pack);
    assert!(!parge_base::diagnostic::any_error(&said), "{said:?}");
    let (pooled, _) = pool(&takeoff, &pack);
    let book = PriceBook {
        currency: Currency::from_code("USD").unwrap(),
        offers: Vec::new(),
        open: Vec::new(),
        freight: Vec::new(),
        span: Span::new(file, 0, 0),
    };
    let estimate = price(takeoff, pooled, &book, &pack).0.unwrap();
    test(&Live::of(&estimate, &sources));
}

/// The sum of the workings for a line, in base units.
fn sum(live: &Live<'_>, goes: Goes) -> f64 {
    let lines = live.workings.iter().filter(|line| line.goes == goes);
    lines
        .map(|line| line.value * live.system.scale(line.kind))
        .sum()
}

/// All that the sheets rest on, against the figures of the estimate.
fn agrees(live: &Live<'_>) {
    let near = |a: f64, b: f64| {
        assert!((a - b).abs() <= 1e-12 * b.abs().max(1e-9), "{a} is not {b}");
    };
    for version in live.versions.iter().take(1) {
        for (number, line) in version.estimate.materials.iter().enumerate() {
            near(sum(live, Goes::Need(number)), line.material.need.value);
            near(sum(live, Goes::Waste(number)), line.material.waste.value);
        }
        for (number, line) in version.estimate.labour.iter().enumerate() {
            let hours = sum(live, Goes::Hours(number)) / 3600.0;
            assert!((hours - line.labour.hours).abs() <= 0.005 + 1e-9);
        }
    }
    for line in &live.workings {
        if let Content::Held(held) = &line.content {
            assert!(held.holds(&|cell| live.value(cell)), "{}", line.what);
        }
    }
    for (number, class) in live.classes.iter().enumerate() {
        for row in 0..class.rows.len() {
            for held in live.row_guards(number, row) {
                assert!(held.holds(&|cell| live.value(cell)));
            }
        }
    }
}

const FACES: &str = "face a rect 10ft x 4ft plain\nface b rect 6ft x 3ft plain count 3\n\
     face c rect 30ft x 9ft plain\nedge cap 12ft count 2";

#[test]
fn a_class_is_reckoned_once_for_all_its_faces() {
    let script = r#"
fn coats(face) {
    let volume = face.area * (face.thickness + 0.1 * face.thickness);
    need("mix", volume / factor("mixes", "mix", "yield"), factor("mixes", "mix", "waste"));
    hours("place", (face.area + face.width * face.height) * factor("rates", "place"));
    hours("clean", quantity(10, "min") + face.area * factor("rates", "place"));
}
fn edges(edge) { hours("place", edge.length * factor("rates", "edge")); }
fn whole_job(job) { hours("clean", job.hours * factor("rates", "clean")); }
"#;
    with_live(&plan(FACES), script, |live| {
        agrees(live);
        let class = &live.classes[0];
        assert_eq!(class.count, 5.0);
        let terms: Vec<&str> = class.terms.iter().map(|term| term.what.as_str()).collect();
        assert_eq!(terms, ["coated area", "width × height"]);
        let said: Vec<String> = live
            .workings
            .iter()
            .filter_map(|line| match &line.content {
                Content::Figure(expr) => Some(format!("{}: {}", line.what, words(expr, live))),
                _ => None,
            })
            .collect();
        insta::assert_snapshot!(said.join("\n"));
    });
}

#[test]
fn a_comparison_of_sizes_is_watched_in_every_row() {
    with_live(&plan(FACES), crate::testing::SCRIPT, |live| {
        agrees(live);
        assert_eq!(live.classes.len(), 3, "small faces, large ones, edges");
        let held = live.row_guards(0, 0);
        let larger = |cell: Cell| live.value(cell) * 10.0;
        assert!(held.iter().any(|held| !held.holds(&larger)));
    });
}

/// A share that is wasted may differ from face to face.
#[test]
fn waste_that_rests_on_a_size_is_added_up_face_by_face() {
    let script = r#"
fn coats(face) {
    need("mix", face.area * quantity(1, "bag/ft2"), min(face.area / quantity(100, "ft2"), 0.3));
}
fn edges(edge) { hours("place", edge.length * factor("rates", "edge")); }
"#;
    with_live(&plan(FACES), script, agrees);
}

#[test]
fn what_nothing_is_needed_of_is_watched() {
    let script = r#"
fn coats(face) { need("mix", (face.width - face.width) * quantity(1, "bag/ft"), factor("mixes", "mix", "waste")); }
fn edges(edge) { hours("place", edge.length * factor("rates", "edge")); }
"#;
    with_live(&plan(FACES), script, |live| {
        let checks = live.workings.iter().filter(|line| line.goes == Goes::Check);
        let checks: Vec<&str> = checks.map(|line| line.what.as_str()).collect();
        assert_eq!(&checks[..2], ["need of mix", "waste of mix"]);
    });
}
