use super::*;
use crate::contract::Packs;
use crate::measure::measure;
use crate::resolve::resolve;
use crate::testing::{SCRIPT, pack, plan, shown};

/// The slips in a plan that is else without fault.
fn told(text: &str) -> String {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let file = sources.add("plan.parge", text);
    let parsed = parge_grammar::parse(file, text);
    let end = Span::new(file, text.len(), text.len());
    let (job, said) = resolve(&parsed.plan, Packs::of(&pack), end);
    assert_eq!((parsed.diagnostics, said), (vec![], vec![]));
    let (measured, said) = measure(job.unwrap(), Packs::of(&pack));
    assert_eq!(said, []);
    let told = slips(&measured, &sources);
    let lines: Vec<String> = told.iter().map(|d| shown(d, &sources)).collect();
    lines.join("\n")
}

fn faces(sizes: &[&str]) -> String {
    let faces = sizes.iter().enumerate();
    let faces: Vec<String> = faces
        .map(|(number, size)| format!("face f{number} rect {size} plain"))
        .collect();
    told(&plan(&faces.join("\n")))
}

#[test]
fn sizes_in_the_wrong_unit_are_doubted() {
    let doubted = [
        &["12ft x 8ft", "12m x 8ft", "14ft x 8ft", "10ft 6in x 8ft"][..],
        &["12ft x 8ft", "11ft x 8in", "14ft x 8ft", "10ft x 7ft 6in"],
        &["12' x 8'", "11' x 8\"", "14' x 8'", "10' x 7' 6\""],
        &[
            "3.6m x 2400mm",
            "3.2m x 2400mm",
            "4m x 2400mm",
            "3.8m x 2400cm",
        ],
        &[
            "12ft x 8ft",
            "12ft x 8ft",
            "12ft x 8ft",
            "120ft x 8in",
            "11m x 8ft",
        ],
    ];
    insta::assert_snapshot!(doubted.map(faces).join("\n\n"));
}

/// The literal is found through `let` and through what is reckoned with it, and is told once.
#[test]
fn a_slip_in_a_let_is_shown_there_once() {
    let walls = plan(
        "face a rect 10ft x high plain\nface b rect 11ft x high plain\nface c cylinder diameter 5ft x 9ft plain\n\
         face d rect 12ft x 8ft 6in plain\nface e rect 9ft x 8ft plain",
    );
    insta::assert_snapshot!(told(
        &walls.replace("finish plain", "let high = 8m\nfinish plain")
    ));
}

#[test]
fn sizes_that_differ_are_no_slip() {
    let fine = [
        // A short return, a low ledge, a tall pier, in the same unit.
        &[
            "22ft x 8ft",
            "22ft x 8ft",
            "20ft x 8ft",
            "2ft x 8ft",
            "22ft x 1ft",
        ][..],
        // In inches, and not quite as many of them as the others have feet.
        &["22ft x 8ft", "22ft x 8ft", "20ft x 8ft", "18in x 30in"],
        // In another unit, and of the same size.
        &["3m x 2.4m", "3.2m x 2.4m", "3m x 2.4m", "10ft x 8ft"],
        // A yard is near to a metre.
        &["10yd x 2m", "10yd x 2m", "10yd x 2m", "10m x 2m"],
        // Too few to say.
        &["12ft x 8ft", "12ft x 8ft", "12m x 8ft"],
        // Half in one unit, half in the other.
        &[
            "12ft x 8ft",
            "12ft x 8ft",
            "12ft x 8ft",
            "12m x 8m",
            "12m x 8m",
            "12m x 8m",
        ],
        // The others are spread too wide for anything to be out of their line.
        &["3ft x 8ft", "9ft x 8ft", "40ft x 8ft", "12m x 8ft"],
    ];
    for sizes in fine {
        assert_eq!(faces(sizes), "", "{sizes:?}");
    }
}

#[test]
fn openings_that_leave_nothing_are_doubted() {
    insta::assert_snapshot!(told(&plan(
        "face a rect 10ft x 8ft plain { opening door rect 10ft x 7ft 11in }\n\
         face b rect 6ft x 8ft plain { opening left rect 3ft x 8ft  opening right rect 3ft x 8ft }"
    )));
}

#[test]
fn openings_that_leave_their_reveals_or_a_band_are_fine() {
    let faces = "face a rect 1ft x 1ft plain { opening o rect 12in x 12in reveal 3in }\n\
                 face b rect 10ft x 8ft plain { opening door rect 10ft x 7ft 6in }";
    assert_eq!(told(&plan(faces)), "");
}

/// One width that four faces share is no line of four.
#[test]
fn a_length_written_once_is_no_line() {
    let text = plan(
        "height 8ft\nface a rect w plain\nface b rect w plain\nface c rect w plain\nface d rect 4ft plain",
    );
    assert_eq!(
        told(&text.replace("finish plain", "let w = 4.2m\nfinish plain")),
        ""
    );
}
