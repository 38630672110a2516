//! Group I: dead load.

use super::{DERIVED, Row, WEAK, all_given, physics, shown};
use crate::physics::dead_load::dead_load;
use parge_base::Tape;

fn load(inches: f64, density: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let [thickness, density] = all_given(&mut tape, [(inches, "in"), (density, "lb/ft3")])?;
    let found = dead_load(&mut tape, thickness, density, None);
    shown(&tape, found, "lb/ft2")
}

const FAQ: &str = "PCA-derived plaster FAQ";

pub(super) const ROWS: &[Row] = &[
    physics(
        "W4",
        "weight of 7/8 in of wet plaster at 142 lb/ft3, lb/ft2",
        (10.35, 0.005),
        (FAQ, WEAK),
        || load(0.875, 142.0),
    ),
    physics(
        "W4",
        "the same for each inch, lb/ft2",
        (11.83, 0.005),
        (FAQ, WEAK),
        || load(1.0, 142.0),
    ),
    physics(
        "W10",
        "weight of a carved coat of 1 1/2 in at 125 lb/ft3, lb/ft2",
        (15.6, 0.05),
        (FAQ, DERIVED),
        || load(1.5, 125.0),
    ),
    physics(
        "W10",
        "the same at 142 lb/ft3, lb/ft2",
        (17.75, 0.005),
        (FAQ, DERIVED),
        || load(1.5, 142.0),
    ),
];
