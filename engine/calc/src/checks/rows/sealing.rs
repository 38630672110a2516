//! Group H: dew point and sealing.

use super::{DERIVED, EXACT, MEMORY, REPRODUCTION, Row, all_given, factor, packs, physics, shown};
use crate::physics::dew_point::{coldest_surface, dew_point};
use parge_base::{NodeId, Tape};

const MAGNUS: &str = "Magnus formula, constants of the WMO form (seen on a weak page; from memory)";
const CHART: &str = "dew point chart of a coating text, in whole degrees";

fn dew(air: (f64, &str), humidity: f64, unit: &str) -> Option<f64> {
    let mut tape = Tape::new();
    let node = dew_on(&mut tape, air, humidity)?;
    shown(&tape, Ok(node), unit)
}

fn dew_on(tape: &mut Tape, air: (f64, &str), humidity: f64) -> Option<NodeId> {
    let [air, humidity] = all_given(tape, [air, (humidity, "%")])?;
    dew_point(tape, air, humidity, None).ok()
}

/// The coldest surface for a margin of 5 F, in °F.
fn coldest(air: f64, humidity: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let dew = dew_on(&mut tape, (air, "F"), humidity)?;
    let [margin] = all_given(&mut tape, [(25.0 / 9.0, "K")])?;
    let found = coldest_surface(&mut tape, dew, margin, None);
    shown(&tape, found, "F")
}

const fn magnus(what: &'static str, expected: f64, formula: fn() -> Option<f64>) -> Row {
    physics("D4", what, (expected, 0.0005), (MAGNUS, DERIVED), formula)
}

const LIBRARY: &str = "psychrolib 2.5.0 (ASHRAE 2017), another formula";

const fn oracle(what: &'static str, expected: f64, formula: fn() -> Option<f64>) -> Row {
    physics("D5", what, (expected, 0.02), (LIBRARY, DERIVED), formula)
}

pub(super) const ROWS: &[Row] = &[
    packs(
        "D1",
        "surface over the dew point to seal in vertical-concrete, F",
        (5.0, EXACT),
        ("coating chart text", REPRODUCTION),
        |shipped| {
            let place: (_, _, &[_]) = ("vertical-concrete", "settings", &["sealing_margin"]);
            Some(shipped.factor(place, "K")? * 1.8)
        },
    ),
    factor(
        "D1",
        "the same in C, printed in whole degrees",
        (3.0, 0.5),
        ("ISO 8502-4 practice", MEMORY),
        (("vertical-concrete", "settings", &["sealing_margin"]), "K"),
    ),
    // The chart prints whole degrees and does not say which way it rounds.
    physics(
        "D2",
        "dew point of air at 70 F and 65 %, F",
        (57.0, 1.0),
        (CHART, REPRODUCTION),
        || dew((70.0, "F"), 65.0, "F"),
    ),
    physics(
        "D2",
        "coldest surface to seal in that air, 5 F over it, F",
        (62.0, 1.0),
        (CHART, REPRODUCTION),
        || coldest(70.0, 65.0),
    ),
    magnus("dew point of air at 20 C and 50 %, C", 9.255, || {
        dew((20.0, "C"), 50.0, "C")
    }),
    magnus("dew point of air at 25 C and 60 %, C", 16.693, || {
        dew((25.0, "C"), 60.0, "C")
    }),
    magnus("dew point of air at 25 C and 50 %, C", 13.852, || {
        dew((25.0, "C"), 50.0, "C")
    }),
    magnus("dew point of air at 30 C and 70 %, C", 23.927, || {
        dew((30.0, "C"), 70.0, "C")
    }),
    magnus("dew point of air at 10 C and 80 %, C", 6.706, || {
        dew((10.0, "C"), 80.0, "C")
    }),
    oracle("dew point of air at 20 C and 50 %, C", 9.272, || {
        dew((20.0, "C"), 50.0, "C")
    }),
    oracle("dew point of air at 25 C and 60 %, C", 16.701, || {
        dew((25.0, "C"), 60.0, "C")
    }),
    oracle("dew point of air at 25 C and 50 %, C", 13.864, || {
        dew((25.0, "C"), 50.0, "C")
    }),
    oracle("dew point of air at 30 C and 70 %, C", 23.928, || {
        dew((30.0, "C"), 70.0, "C")
    }),
    oracle("dew point of air at 10 C and 80 %, C", 6.713, || {
        dew((10.0, "C"), 80.0, "C")
    }),
    physics(
        "D7",
        "air of 0 %, which has no dew point: refused",
        (1.0, EXACT),
        ("identity", DERIVED),
        || {
            let mut tape = Tape::new();
            let [air, dry] = all_given(&mut tape, [(9.5, "C"), (0.0, "%")])?;
            let refused = dew_point(&mut tape, air, dry, None).is_err();
            Some(f64::from(u8::from(refused)))
        },
    ),
    physics(
        "D7",
        "dew point of saturated air at 9.5 C, C",
        (9.5, 1e-9),
        ("identity", DERIVED),
        || dew((9.5, "C"), 100.0, "C"),
    ),
];
