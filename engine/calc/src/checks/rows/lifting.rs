//! Group J: lifting.

use super::{DERIVED, PRIMARY, REPRODUCTION, Row, all_given, physics, shown};
use crate::physics::lifting::{
    Duration, Form, Lift, frequency_multiplier, lifting_index, recommended_weight, weight_of,
};
use parge_base::Tape;

const CCOHS: &str = "Canadian Centre for Occupational Health and Safety, worked example";
const NIOSH: &str = "NIOSH 94-110";

/// The limit for reach, height and travel, a grip, and one lift now and then without a turn;
/// with a load, the index.
fn lift(
    form: Form,
    (sizes, unit): ([f64; 3], &str),
    coupling: f64,
    load: Option<f64>,
) -> Option<f64> {
    let mass = if form == Form::Inch { "lb" } else { "kg" };
    let mut tape = Tape::new();
    let [horizontal, vertical, travel] = all_given(&mut tape, sizes.map(|size| (size, unit)))?;
    let [turn, frequency, coupling] =
        all_given(&mut tape, [(0.0, "1"), (1.0, "1"), (coupling, "1")])?;
    let of = Lift {
        horizontal,
        vertical,
        travel,
        turn,
        frequency,
        coupling,
    };
    let limit = recommended_weight(&mut tape, form, of, None);
    let Some(load) = load else {
        return shown(&tape, limit, mass);
    };
    let [load] = all_given(&mut tape, [(load, mass)])?;
    let index = lifting_index(&mut tape, load, limit.ok()?, None);
    shown(&tape, index, "1")
}

/// The limit in kg for the multipliers that the worked example prints, each 1 but for reach and
/// travel; with a load, the index. The example takes 0.95 for 40 cm of travel, where the equation
/// gives 0.93.
fn as_printed(reach: f64, load: Option<f64>) -> Option<f64> {
    let mut tape = Tape::new();
    let of = all_given(&mut tape, [(reach, "1"), (0.95, "1")])?;
    let limit = weight_of(&mut tape, Form::Metric, &of, None);
    let Some(load) = load else {
        return shown(&tape, limit, "kg");
    };
    let [load] = all_given(&mut tape, [(load, "kg")])?;
    let index = lifting_index(&mut tape, load, limit.ok()?, None);
    shown(&tape, index, "1")
}

const SACK: ([f64; 3], &str) = ([10.0, 30.0, 25.0], "in");

pub(super) const ROWS: &[Row] = &[
    physics(
        "S11",
        "lifting limit in the best place, lb",
        (51.0, 1e-9),
        (NIOSH, PRIMARY),
        || lift(Form::Inch, ([10.0, 30.0, 10.0], "in"), 1.0, None),
    ),
    physics(
        "S11",
        "the same in metric form, kg",
        (23.0, 1e-9),
        (NIOSH, PRIMARY),
        || lift(Form::Metric, ([25.0, 75.0, 25.0], "cm"), 1.0, None),
    ),
    physics(
        "S12",
        "lifting limit for printed multipliers of 0.50 (reach), 0.95 (travel), kg",
        (10.9, 0.05),
        (CCOHS, PRIMARY),
        || as_printed(0.50, None),
    ),
    physics(
        "S12",
        "index of 15 kg there",
        (1.38, 0.01),
        (CCOHS, PRIMARY),
        || as_printed(0.50, Some(15.0)),
    ),
    physics(
        "S12",
        "lifting limit after redesign, 0.80 (reach), kg",
        (17.5, 0.05),
        (CCOHS, PRIMARY),
        || as_printed(0.80, None),
    ),
    physics(
        "S12",
        "index of 15 kg there",
        (0.86, 0.005),
        (CCOHS, PRIMARY),
        || as_printed(0.80, Some(15.0)),
    ),
    physics(
        "S15",
        "lifting limit for a sack 10 in out, from 30 in over 25 in, grip multiplier 0.95, lb",
        (43.2, 0.05),
        (NIOSH, DERIVED),
        || lift(Form::Inch, SACK, 0.95, None),
    ),
    physics(
        "S15",
        "index of a 94 lb sack there",
        (2.18, 0.005),
        (NIOSH, DERIVED),
        || lift(Form::Inch, SACK, 0.95, Some(94.0)),
    ),
    physics(
        "S16",
        "frequency multiplier of 3 lifts a minute for an hour",
        (0.88, 1e-9),
        ("NIOSH 94-110 table 5", REPRODUCTION),
        || frequency_multiplier(3.0, Duration::Short),
    ),
    physics(
        "S16",
        "the same for two hours",
        (0.79, 1e-9),
        ("NIOSH 94-110 table 5", REPRODUCTION),
        || frequency_multiplier(3.0, Duration::Moderate),
    ),
];
