use crate::quantity::Quantity;
use crate::{Function, NodeId, Operator, Tape};

/// `(a / b + root a) * max(a, b)`, at 4 and 2: 4 * (2 + 2) = 16.
fn figure(a: f64, b: f64) -> (Tape, [NodeId; 3]) {
    let mut tape = Tape::new();
    let a = tape.input("a".into(), Quantity::plain(a), None);
    let b = tape.input("b".into(), Quantity::plain(b), None);
    let share = tape.combine(Operator::Divide, a, b, None).unwrap();
    let root = tape.apply(Function::Root, a, None).unwrap();
    let sum = tape.combine(Operator::Add, share, root, None).unwrap();
    let most = tape.combine(Operator::Max, a, b, None).unwrap();
    let figure = tape.combine(Operator::Multiply, sum, most, None).unwrap();
    (tape, [a, b, figure])
}

fn slopes(tape: &Tape, of: NodeId) -> Vec<f64> {
    tape.slopes(of, |node| tape.value(node).value)
}

/// By hand: in a, (1/2 + 1/4) * 4 + 4 = 7; in b, -4/4 * 4 = -4.
#[test]
fn slopes_by_hand() {
    let (tape, [a, b, figure]) = figure(4.0, 2.0);
    assert_eq!(tape.value(figure).value, 16.0);
    let slopes = slopes(&tape, figure);
    assert_eq!((slopes[a.index()], slopes[b.index()]), (7.0, -4.0));
}

#[test]
fn slopes_are_what_a_small_change_does() {
    const STEP: f64 = 1e-6;
    let value = |a, b| {
        let (tape, [.., figure]) = figure(a, b);
        tape.value(figure).value
    };
    for (a, b) in [(4.0, 2.0), (1.5, 7.0), (0.2, 0.3)] {
        let (tape, [in_a, in_b, of]) = figure(a, b);
        let slopes = slopes(&tape, of);
        let by_a = (value(a + STEP, b) - value(a - STEP, b)) / (2.0 * STEP);
        let by_b = (value(a, b + STEP) - value(a, b - STEP)) / (2.0 * STEP);
        assert!((slopes[in_a.index()] - by_a).abs() < 1e-6);
        assert!((slopes[in_b.index()] - by_b).abs() < 1e-6);
    }
}

#[test]
fn what_is_rounded_is_flat() {
    let mut tape = Tape::new();
    let a = tape.input("a".into(), Quantity::plain(1.2), None);
    let whole = tape.apply(Function::WholeUp, a, None).unwrap();
    assert_eq!(slopes(&tape, whole)[a.index()], 0.0);
}
