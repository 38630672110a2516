//! Group A: mouldings run in plaster, which are measured by a shape of the rule pack.

use super::{EXACT, PRIMARY, Row, packs};
use crate::checks::shipped::{Case, Of, PLASTER, Shipped};

const TREATISE: &str = "Treatise on Architecture and Building Construction, vol. 4, art. 36";

/// The area that a cornice counts for, in square feet.
fn cornice(shipped: &Shipped, shape: &str) -> Option<f64> {
    let case = Case {
        pack: PLASTER,
        edits: &[],
        job: "",
        finish: "technique float  thickness 1/8in",
        on: ("block", shape),
    };
    shipped.plan(&case, Of::Area, "ft2")
}

const fn measured(what: &'static str, expected: f64, by: fn(&Shipped) -> Option<f64>) -> Row {
    packs("M19", what, (expected, EXACT), (TREATISE, PRIMARY), by)
}

pub(super) const ROWS: &[Row] = &[
    measured(
        "40 ft of cornice with two internal and one external angle, girth 15 in, ft2: 1 and 2 ft more for each",
        55.0,
        |shipped| cornice(shipped, "shape cornice(40ft, 15in, 2, 1)"),
    ),
    measured(
        "the same with a girth of 8 in, which counts as 12 in, ft2",
        44.0,
        |shipped| cornice(shipped, "shape cornice(40ft, 8in, 2, 1)"),
    ),
];
