//! Inputs for the tests of the formulas.

use parge_base::{NodeId, Tape, Units};

/// An input of a tape.
#[allow(clippy::unwrap_used)]
pub(crate) fn input(tape: &mut Tape, number: f64, unit: &str) -> NodeId {
    let unit = Units::standard().parse(unit).unwrap();
    tape.input(unit.text().into(), unit.quantity(number).unwrap(), None)
}

/// A figure in a unit.
#[allow(clippy::unwrap_used)]
pub(crate) fn show(tape: &Tape, node: NodeId, unit: &str) -> f64 {
    let unit = Units::standard().parse(unit).unwrap();
    unit.show(tape.value(node)).unwrap()
}

/// Equal within the rounding of a published figure.
#[track_caller]
pub(crate) fn near(got: f64, expected: f64, within: f64) {
    assert!(
        (got - expected).abs() <= within,
        "{got} is not {expected} +- {within}"
    );
}
