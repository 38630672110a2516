use crate::testing::{measured, plan, said};
use proptest::prelude::*;

/// Gross, deducted, reveal and net area of the only face, in square feet.
fn areas(face: &str) -> [f64; 4] {
    let measured = measured(&plan(face));
    let face = measured.faces[0];
    [face.shape.area, face.deducted, face.reveal, face.net]
        .map(|node| measured.job.tape.value(node).value / 0.09290304)
}

fn near(got: [f64; 4], wanted: [f64; 4]) {
    for (got, wanted) in got.iter().zip(wanted) {
        assert!((got - wanted).abs() < 1e-9, "{got} is not {wanted}");
    }
}

/// M15 of the published checks: a wall of 100 ft² with a door of 3 by 7 ft is 79 ft² net.
#[test]
fn net_deducts_every_opening() {
    near(
        areas("face f rect 10ft x 10ft plain { opening door rect 3ft x 7ft }"),
        [100.0, 21.0, 0.0, 79.0],
    );
}

/// Two windows of 2 by 3 ft with reveals of 6 in: deducted 12, added 2 × 10 ft × 0.5 ft.
#[test]
fn reveals_are_added_all_around_and_counted() {
    near(
        areas("face f rect 10ft x 10ft plain { opening w rect 2ft x 3ft reveal 6in count 2 }"),
        [100.0, 12.0, 10.0, 98.0],
    );
}

/// A door on the ground has no reveal at its foot: 3 by 7 ft, 6 in deep: (3 + 14) × 0.5 ft.
#[test]
fn a_reveal_may_be_on_some_edges_only() {
    near(
        areas(
            "face f rect 10ft x 10ft plain { opening door rect 3ft x 7ft reveal 6in on top, sides }",
        ),
        [100.0, 21.0, 8.5, 87.5],
    );
}

#[test]
fn an_opening_as_large_as_its_face_leaves_its_reveals() {
    near(
        areas("face f rect 1ft x 1ft plain { opening o rect 12in x 12in reveal 3in }"),
        [1.0, 1.0, 1.0, 1.0],
    );
}

#[test]
fn openings_that_fill_their_face_leave_nothing_and_not_less() {
    near(
        areas("face f rect 3.3ft x 3.3ft plain { opening o rect 1.1ft x 3.3ft count 3 }"),
        [10.89, 10.89, 0.0, 0.0],
    );
    let measured = measured(&plan(
        "face f rect 3.3ft x 3.3ft plain { opening o rect 1.1ft x 3.3ft count 3 }",
    ));
    assert!(measured.job.tape.value(measured.faces[0].net).value >= 0.0);
}

#[test]
fn a_working_height_below_the_face_is_said() {
    insta::assert_snapshot!(said(&plan("face f rect 10ft x 14ft at 3ft plain")));
}

#[test]
fn openings_that_do_not_fit_are_refused() {
    insta::assert_snapshot!(said(&plan(
        "face a rect 4ft x 4ft plain { opening wide rect 5ft x 1ft }\n\
         face b rect 4ft x 4ft plain { opening high rect 1ft x 50in }\n\
         face c rect 4ft x 4ft plain { opening many rect 2ft x 2ft count 5 }\n\
         face d polygon (0ft, 0ft) (4ft, 4ft) (4ft, 0ft) (0ft, 4ft) plain\n\
         face g polygon (0m, 0m) (0.1m, 0.3m) (0.3m, 0.9m) plain\n\
         face e triangle sides 2ft, 3ft, 5ft plain\n\
         face f arch 4ft x 1ft plain"
    )));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Cutting a wall in two changes nothing about its area.
    #[test]
    fn splitting_a_face_changes_nothing(w in 2u32..500, h in 1u32..500, cut in 1u32..499) {
        prop_assume!(cut < w);
        let whole = areas(&format!("face f rect {w}in x {h}in plain"))[3];
        let left = areas(&format!("face f rect {cut}in x {h}in plain"))[3];
        let right = areas(&format!("face f rect {}in x {h}in plain", w - cut))[3];
        prop_assert!((left + right - whole).abs() < 1e-9 * whole);
    }
}
