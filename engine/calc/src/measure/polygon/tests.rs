use super::*;

fn fault(corners: &[Point]) -> Option<String> {
    match check(corners) {
        Ok(()) => None,
        Err(ShapeError::Impossible(text, _) | ShapeError::NoValue(text)) => Some(text),
    }
}

#[test]
fn simple_outlines_pass_also_with_corners_in_line() {
    assert_eq!(fault(&[[0., 0.], [4., 0.], [4., 3.], [0., 3.]]), None);
    assert_eq!(
        fault(&[[0., 0.], [2., 0.], [4., 0.], [4., 3.]]),
        None,
        "a corner in line"
    );
    assert_eq!(
        fault(&[[0., 0.], [4., 0.], [4., 4.], [2., 1.], [0., 4.]]),
        None,
        "a notch"
    );
}

#[test]
fn sides_that_cross_touch_or_fold_back_are_named() {
    let bow_tie = fault(&[[0., 0.], [4., 3.], [4., 0.], [0., 3.]]);
    assert_eq!(
        bow_tie.as_deref(),
        Some("side 1 meets side 3 of the polygon")
    );
    let touch = fault(&[[0., 0.], [4., 0.], [4., 4.], [2., 0.], [0., 4.]]);
    assert!(touch.is_some_and(|text| text.starts_with("side 1 meets side")));
    let back = fault(&[[0., 0.], [4., 0.], [2., 0.], [2., 3.]]);
    assert_eq!(back.as_deref(), Some("side 1 meets side 2 of the polygon"));
}

#[test]
fn too_few_corners_and_repeated_ones_are_refused() {
    assert!(fault(&[[0., 0.], [1., 0.]]).is_some());
    let closed = fault(&[[0., 0.], [1., 0.], [1., 1.], [0., 0.]]);
    assert_eq!(
        closed.as_deref(),
        Some("side 4 has no length: two corners are the same")
    );
}
