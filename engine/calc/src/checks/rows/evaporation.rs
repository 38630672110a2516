//! Group F: evaporation. The two published forms, each by itself.

use super::{DERIVED, EXACT, MEMORY, PRIMARY, Row, all_given, packs, physics, said, shown};
use crate::checks::shipped::{VERTICAL, number_between};
use crate::physics::evaporation::{ABOUT, Readings, inch_pound, metric};
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

/// The SI form for what condenses: what the program takes, and whether it says so.
fn condensing() -> Option<(f64, bool)> {
    let mut tape = Tape::new();
    let of = [(10.0, "C"), (35.0, "C"), (90.0, "%"), (10_000.0, "m/h")];
    let [mix, air, humidity, wind] = all_given(&mut tape, of)?;
    let of = Readings {
        mix,
        air,
        humidity,
        wind,
    };
    let found = metric(&mut tape, of, None).ok()?;
    let rate = shown(&tape, Ok(found.rate), "kg/m2/h")?;
    Some((rate, found.condensation))
}

/// The inch-pound form for the readings of E3 in °C and km/h, kg/m2/h.
fn exact_units() -> Option<f64> {
    let mut tape = Tape::new();
    let celsius = |fahrenheit: f64| ((fahrenheit - 32.0) / 1.8, "C");
    let wind = (12.0 * MILE * 1000.0, "m/h");
    let of = [celsius(87.0), celsius(80.0), (50.0, "%"), wind];
    let [mix, air, humidity, wind] = all_given(&mut tape, of)?;
    let of = Readings {
        mix,
        air,
        humidity,
        wind,
    };
    let found = inch_pound(&mut tape, of, None);
    shown(&tape, found.map(|found| found.rate), "kg/m2/h")
}

/// The first constant of the inch-pound form, written for °C and km/h.
fn first_constant() -> Option<f64> {
    let warm = |fahrenheit: f64| ((fahrenheit - 32.0) / 1.8 + 17.778_f64).powf(2.5);
    let drying = warm(87.0) - 0.5 * warm(80.0);
    Some(exact_units()? / (drying * (12.0 * MILE + 4.02336) * 1e-6))
}

/// A check against Menzel's form, within 4 %.
const fn menzel(what: &'static str, expected: f64, formula: fn() -> Option<f64>) -> Row {
    physics(
        "E6",
        what,
        (expected, 0.04 * expected),
        (
            "Menzel (1954): 0.44 (e0 - ea)(0.253 + 0.096 V), within 4 %",
            MEMORY,
        ),
        formula,
    )
}

/// Kilometres in a mile, exact.
const MILE: f64 = 1.609344;

const HOT: (f64, &str) = (90.0, "F");
const WARM: (f64, &str) = (80.0, "F");

pub(super) const ROWS: &[Row] = &[
    // By hand: 5 x (49^2.5 - 0.5 x 49^2.5) x 10 / 10^6, and 49^2.5 = 16807.
    physics(
        "E1",
        "evaporation, SI form: mix 31 C, air 31 C, 50 %, 6 km/h, kg/m2/h, by hand",
        (0.420175, EXACT),
        (UNO, DERIVED),
        || si((31.0, "C"), (31.0, "C"), 50.0, 6.0),
    ),
    // By hand: (81^2.5 - 0.5 x 81^2.5) x 3 / 10^6, and 81^2.5 = 59049.
    physics(
        "E2",
        "evaporation, inch-pound form (used): mix 81 F, air 81 F, 50 %, 5 mph, lb/ft2/h, by hand",
        (0.0885735, EXACT),
        (ACI_305, DERIVED),
        || us(81.0, 81.0, 50.0, 5.0),
    ),
    physics(
        "E3",
        "the worked example by the SI form: mix 31 C, air 27 C, 50 %, 19 km/h, kg/m2/h",
        (1.15, 0.005),
        (ANSWER, PRIMARY),
        || si((31.0, "C"), (27.0, "C"), 50.0, 19.0),
    ),
    physics(
        "E3",
        "the worked example by the inch-pound form: mix 87 F, air 80 F, 50 %, 12 mph, lb/ft2/h",
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
    menzel(
        "the inch-pound form at 87 F, air 80 F, 50 %, 12 mph, lb/ft2/h",
        0.236,
        || us(87.0, 80.0, 50.0, 12.0),
    ),
    menzel("the same at 90 F, 10 mph, lb/ft2/h", 0.238, || {
        us(90.0, 80.0, 50.0, 10.0)
    }),
    menzel("the same at 90 F, 20 mph, lb/ft2/h", 0.426, || {
        us(90.0, 80.0, 50.0, 20.0)
    }),
    physics(
        "E7",
        "the inch-pound form of readings in exact C and km/h, kg/m2/h",
        (1.189, 0.0005),
        (ACI_305, DERIVED),
        exact_units,
    ),
    physics(
        "E7",
        "its first constant for C and km/h, where the rounded SI form has 5",
        (5.275, 0.0005),
        (ACI_305, DERIVED),
        first_constant,
    ),
    packs(
        "E8",
        "precautions in vertical-concrete for a mix that bleeds, over, lb/ft2/h",
        (0.2, EXACT),
        ("ACI 305R as reported", PRIMARY),
        |shipped| shipped.factor((VERTICAL, "settings", &["evaporation_limit"]), "lb/ft2/h"),
    ),
    packs(
        "E8",
        "the same for its finish mix, which bleeds little, lb/ft2/h",
        (0.1, EXACT),
        ("ACI 305R as reported", PRIMARY),
        |shipped| {
            let limit: (_, _, &[_]) = (VERTICAL, "settings", &["evaporation_limit"]);
            let share: (_, _, &[_]) = (VERTICAL, "mixes", &["finish-mix", "evaporation_share"]);
            Some(shipped.factor(limit, "lb/ft2/h")? * shipped.factor(share, "1")?)
        },
    ),
    packs(
        "E8",
        "the same in kg/m2/h, printed as 0.5",
        (0.5, 0.05),
        ("ACI 305R as reported", PRIMARY),
        |shipped| {
            let limit: (_, _, &[_]) = (VERTICAL, "settings", &["evaporation_limit"]);
            let share: (_, _, &[_]) = (VERTICAL, "mixes", &["finish-mix", "evaporation_share"]);
            Some(shipped.factor(limit, "kg/m2/h")? * shipped.factor(share, "1")?)
        },
    ),
    said(
        "E9",
        "how far an estimate may be off, as the caution says, %",
        40.0,
        ("Hover, ACI SP-338 (2020) abstract", PRIMARY),
        (
            (VERTICAL, "cautions", &["evaporation", "text"]),
            ["may be ", " % off"],
        ),
    ),
    physics(
        "E9",
        "the same as every explanation of the figure says, %",
        (40.0, EXACT),
        ("Hover, ACI SP-338 (2020) abstract", PRIMARY),
        || number_between(ABOUT, ["about ", " % more or less"]),
    ),
    physics(
        "E10",
        "height of the wind above the surface, as every explanation says, in",
        (20.0, EXACT),
        (ANSWER, PRIMARY),
        || number_between(ABOUT, ["wind taken ", " in (0.5 m)"]),
    ),
    physics(
        "E11",
        "what is taken where moisture condenses, kg/m2/h",
        (0.0, EXACT),
        (UNO, DERIVED),
        || condensing().map(|(rate, _)| rate),
    ),
    physics(
        "E11",
        "and it is flagged: 1",
        (1.0, EXACT),
        (UNO, DERIVED),
        || condensing().map(|(_, flagged)| f64::from(u8::from(flagged))),
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
