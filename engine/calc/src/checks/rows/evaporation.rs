//! Group F: evaporation. The two published forms, each by itself.

use super::{DERIVED, MEMORY, PRIMARY, Row, all_given, physics, shown};
use crate::physics::evaporation::{Readings, inch_pound, metric};
use parge_base::Tape;

const UNO: &str = "Uno, ACI Materials J. 95-M34 (1998), SI form";
const ACI_305: &str = "Uno (1998), inch-pound form of ACI 305R";
const ANSWER: &str = "Concrete International Q&A, Estimating evaporation rates to prevent plastic shrinkage cracking";

/// By the form that the program uses, in lb/ft2/h: °F, %, mph.
fn us(mix: f64, air: f64, humidity: f64, wind: f64) -> Option<f64> {
    us_in(mix, air, humidity, wind, "lb/ft2/h")
}

fn us_in(mix: f64, air: f64, humidity: f64, wind: f64, unit: &str) -> Option<f64> {
    let mut tape = Tape::new();
    let of = [(mix, "F"), (air, "F"), (humidity, "%"), (wind, "mph")];
    let [mix, air, humidity, wind] = all_given(&mut tape, of)?;
    let of = Readings {
        mix,
        air,
        humidity,
        wind,
    };
    let found = inch_pound(&mut tape, of, None);
    shown(&tape, found.map(|found| found.rate), unit)
}

/// By the SI form, in kg/m2/h: °C, %, km/h. Below zero where moisture condenses.
fn si(mix: (f64, &str), air: (f64, &str), humidity: f64, wind: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let of = [mix, air, (humidity, "%"), (wind * 1000.0, "m/h")];
    let [mix, air, humidity, wind] = all_given(&mut tape, of)?;
    let of = Readings {
        mix,
        air,
        humidity,
        wind,
    };
    let found = metric(&mut tape, of, None);
    shown(&tape, found.map(|found| found.formula), "kg/m2/h")
}

/// Kilometres in a mile, exact.
const MILE: f64 = 1.609344;

const HOT: (f64, &str) = (90.0, "F");
const WARM: (f64, &str) = (80.0, "F");

pub(super) const ROWS: &[Row] = &[
    physics(
        "E1",
        "evaporation, SI form: mix 31 C, air 27 C, 50 %, 19 km/h, kg/m2/h",
        (1.15, 0.005),
        (ANSWER, PRIMARY),
        || si((31.0, "C"), (27.0, "C"), 50.0, 19.0),
    ),
    physics(
        "E2",
        "evaporation, inch-pound form (used): mix 87 F, air 80 F, 50 %, 12 mph, lb/ft2/h",
        (0.24, 0.005),
        (ANSWER, PRIMARY),
        || us(87.0, 80.0, 50.0, 12.0),
    ),
    physics(
        "E4",
        "the same, with more digits",
        (0.2435, 0.00005),
        (ACI_305, DERIVED),
        || us(87.0, 80.0, 50.0, 12.0),
    ),
    physics(
        "E4",
        "the same in kg/m2/h: 3 % over the SI form",
        (1.189, 0.0005),
        (ACI_305, DERIVED),
        || us_in(87.0, 80.0, 50.0, 12.0, "kg/m2/h"),
    ),
    physics(
        "E5",
        "evaporation at 80 F, mix 90 F, 50 %, no wind, lb/ft2/h",
        (0.0482, 0.00005),
        (ACI_305, DERIVED),
        || us(90.0, 80.0, 50.0, 0.0),
    ),
    physics(
        "E5",
        "the same at 10 mph, lb/ft2/h",
        (0.2411, 0.00005),
        (ACI_305, DERIVED),
        || us(90.0, 80.0, 50.0, 10.0),
    ),
    physics(
        "E5",
        "the same at 20 mph, lb/ft2/h",
        (0.4340, 0.00005),
        (ACI_305, DERIVED),
        || us(90.0, 80.0, 50.0, 20.0),
    ),
    physics(
        "E5",
        "the SI form without wind, kg/m2/h",
        (0.224, 0.0005),
        (UNO, DERIVED),
        || si(HOT, WARM, 50.0, 0.0),
    ),
    physics(
        "E5",
        "the SI form at 10 mph, kg/m2/h",
        (1.126, 0.0005),
        (UNO, DERIVED),
        || si(HOT, WARM, 50.0, 10.0 * MILE),
    ),
    physics(
        "E5",
        "the SI form at 20 mph, kg/m2/h",
        (2.028, 0.0005),
        (UNO, DERIVED),
        || si(HOT, WARM, 50.0, 20.0 * MILE),
    ),
    physics(
        "E11",
        "the SI form before it is held at nothing: mix 10 C, air 35 C, 90 %, 10 km/h, kg/m2/h",
        (-0.998, 0.0005),
        (UNO, DERIVED),
        || si((10.0, "C"), (35.0, "C"), 90.0, 10.0),
    ),
    physics(
        "E13",
        "a pound per square foot and hour, kg/m2/h",
        (4.882428, 5e-7),
        ("exact pound and foot", DERIVED),
        || {
            let mut tape = Tape::new();
            let [one] = all_given(&mut tape, [(1.0, "lb/ft2/h")])?;
            shown(&tape, Ok(one), "kg/m2/h")
        },
    ),
    physics(
        "E8",
        "the limit of 0.2 lb/ft2/h, kg/m2/h, printed as 1.0",
        (1.0, 0.05),
        ("ACI 305R", MEMORY),
        || {
            let mut tape = Tape::new();
            let [limit] = all_given(&mut tape, [(0.2, "lb/ft2/h")])?;
            shown(&tape, Ok(limit), "kg/m2/h")
        },
    ),
];
