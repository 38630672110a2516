//! Group G: maturity and equivalent age.

use super::{DERIVED, MEMORY, Row, WEAK, all_given, given, physics, shown};
use crate::physics::maturity::{Period, Wait, age_factor, nurse_saul, wait};
use parge_base::Tape;

const C1074: &str = "ASTM C1074 form";
const ARRHENIUS: &str = "ASTM C1074 equivalent age: 5000 K, 20 C";
const SCALED: &str = "IBC 2018 Table 2512.6, by ASTM C1074 equivalent age";

const HOUR: f64 = 3600.0;
const DAY: f64 = 24.0 * HOUR;

/// Maturity in °C times a unit of time, of hours and °C.
fn mature(history: &[(f64, f64)], datum: f64, unit: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let mut periods = Vec::new();
    for (hours, celsius) in history {
        periods.push(Period {
            time: given(&mut tape, *hours, "h")?,
            temperature: given(&mut tape, *celsius, "C")?,
        });
    }
    let datum = given(&mut tape, datum, "C")?;
    let found = nurse_saul(&mut tape, &periods, datum, None).ok()?;
    Some(tape.value(found).value / unit)
}

fn factor(celsius: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let of = [(celsius, "C"), (20.0, "C"), (5000.0, "K")];
    let [here, reference, activation] = all_given(&mut tape, of)?;
    let found = age_factor(&mut tape, here, reference, activation, None);
    shown(&tape, found, "1")
}

/// 48 h stated for 20 °C, in hours at another temperature.
fn waited(celsius: f64, which: fn(Wait) -> parge_base::NodeId) -> Option<f64> {
    let mut tape = Tape::new();
    let of = [(celsius, "C"), (20.0, "C"), (5000.0, "K"), (48.0, "h")];
    let [here, reference, activation, stated] = all_given(&mut tape, of)?;
    let factor = age_factor(&mut tape, here, reference, activation, None).ok()?;
    let found = wait(&mut tape, stated, factor, None);
    shown(&tape, found.map(which), "h")
}

/// An age factor of T5.
const fn age(what: &'static str, expected: f64, formula: fn() -> Option<f64>) -> Row {
    physics(
        "T5",
        what,
        (expected, 0.00005),
        (ARRHENIUS, DERIVED),
        formula,
    )
}

pub(super) const ROWS: &[Row] = &[
    physics(
        "T1",
        "maturity of 28 d at 15 C over -11 C, C days",
        (728.0, 1e-6),
        ("exam item, Nurse-Saul", WEAK),
        || mature(&[(28.0 * 24.0, 15.0)], -11.0, DAY),
    ),
    physics(
        "T2",
        "maturity of 28 d at 18 C over -11 C, C hours",
        (19_488.0, 1e-6),
        ("textbook note (Shetty, Plowman)", WEAK),
        || mature(&[(28.0 * 24.0, 18.0)], -11.0, HOUR),
    ),
    physics(
        "T4",
        "maturity of 12 h at 25 C and 12 h at 15 C over 0 C, C hours",
        (480.0, 1e-6),
        (C1074, MEMORY),
        || mature(&[(12.0, 25.0), (12.0, 15.0)], 0.0, HOUR),
    ),
    physics(
        "T4",
        "the same over -10 C, with 12 h at -15 C that add nothing, C hours",
        (720.0, 1e-6),
        (C1074, MEMORY),
        || mature(&[(12.0, 25.0), (12.0, 15.0), (12.0, -15.0)], -10.0, HOUR),
    ),
    age("age factor at 5 C", 0.3986, || factor(5.0)),
    age("age factor at 10 C", 0.5475, || factor(10.0)),
    age("age factor at 15 C", 0.7438, || factor(15.0)),
    age("age factor at 25 C", 1.3311, || factor(25.0)),
    age("age factor at 30 C", 1.7553, || factor(30.0)),
    age("age factor at 35 C", 2.2939, || factor(35.0)),
    age("age factor at 40 C", 2.9723, || factor(40.0)),
    physics(
        "T7",
        "48 h stated for 20 C, at 10 C, h",
        (87.7, 0.05),
        (SCALED, DERIVED),
        || waited(10.0, |wait| wait.governing),
    ),
    physics(
        "T7",
        "the same at 30 C by equivalent age, h",
        (27.3, 0.05),
        (SCALED, DERIVED),
        || waited(30.0, |wait| wait.equivalent),
    ),
    physics(
        "T7",
        "the same at 30 C: the stated minimum governs, h",
        (48.0, 1e-9),
        (SCALED, DERIVED),
        || waited(30.0, |wait| wait.governing),
    ),
];
