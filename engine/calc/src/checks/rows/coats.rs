//! Group E: thickness and number of coats, and the base below them.

use super::{EXACT, PRIMARY, REPRODUCTION, Row, factor, packs, row, said};
use crate::checks::Way;
use crate::checks::shipped::{Case, Of, PLASTER, Place, Shipped};

const C926: &str = "ASTM C926 thickness table";
const SOLID: &str = "ASTM C926 Table 1 / 5.2.3";
const IBC_COATS: &str = "IBC 2512.1";

const fn coat(work: &'static [&'static str]) -> Place {
    (PLASTER, "coats", work)
}

/// The coats of a work together, in.
const fn together(
    id: &'static str,
    what: &'static str,
    expected: f64,
    formula: fn(&Shipped) -> Option<f64>,
) -> Row {
    packs(id, what, (expected, EXACT), (C926, REPRODUCTION), formula)
}

const fn coats(what: &'static str, expected: f64, formula: fn(&Shipped) -> Option<f64>) -> Row {
    packs(
        "C15",
        what,
        (expected, EXACT),
        (IBC_COATS, PRIMARY),
        formula,
    )
}

const fn single(
    id: &'static str,
    what: &'static str,
    expected: f64,
    source: &'static str,
    place: Place,
) -> Row {
    factor(
        id,
        what,
        (expected, EXACT),
        (source, REPRODUCTION),
        (place, "in"),
    )
}

/// Whether a finish of a thickness over 1/2 in of coats on an uneven base is said to be too thick.
fn over(shipped: &Shipped, finish: &str) -> Option<f64> {
    let case = Case {
        pack: PLASTER,
        edits: &[],
        job: "conditions { surface uneven }",
        finish,
        on: ("block", "rect 10ft x 8ft"),
    };
    shipped.plan(&case, Of::Caution("solid-base"), "1")
}

pub(super) const ROWS: &[Row] = &[
    single(
        "C1",
        "scratch coat on metal lath, in",
        0.375,
        C926,
        coat(&["three-coat-lath", "scratch"]),
    ),
    single(
        "C1",
        "brown coat on metal lath, in",
        0.375,
        C926,
        coat(&["three-coat-lath", "brown"]),
    ),
    single(
        "C1",
        "finish coat on metal lath, in",
        0.125,
        C926,
        coat(&["three-coat-lath", "finish"]),
    ),
    together(
        "C1",
        "three coats on metal lath together, in",
        0.875,
        |shipped| {
            let coats = [
                coat(&["three-coat-lath", "scratch"]),
                coat(&["three-coat-lath", "brown"]),
                coat(&["three-coat-lath", "finish"]),
            ];
            shipped.sum(&coats, "in")
        },
    ),
    single(
        "C1",
        "scratch coat of vertical-concrete, in",
        0.375,
        C926,
        ("vertical-concrete", "coats", &["scratch", "thickness"]),
    ),
    together(
        "C2",
        "two coats on unit masonry together, in",
        0.5,
        |shipped| {
            let coats = [
                coat(&["two-coat-masonry", "base"]),
                coat(&["two-coat-masonry", "finish"]),
            ];
            shipped.sum(&coats, "in")
        },
    ),
    single(
        "C2",
        "of which the base coat, in",
        0.375,
        C926,
        coat(&["two-coat-masonry", "base"]),
    ),
    together(
        "C3",
        "two coats on cast concrete together, in",
        0.375,
        |shipped| {
            let coats = [
                coat(&["two-coat-concrete", "base"]),
                coat(&["two-coat-concrete", "finish"]),
            ];
            shipped.sum(&coats, "in")
        },
    ),
    single(
        "C3",
        "of which the base coat, in",
        0.25,
        C926,
        coat(&["two-coat-concrete", "base"]),
    ),
    together(
        "C4",
        "three coats on a solid base together, in",
        0.625,
        |shipped| {
            let coats = [
                coat(&["three-coat-solid", "scratch"]),
                coat(&["three-coat-solid", "brown"]),
                coat(&["three-coat-solid", "finish"]),
            ];
            shipped.sum(&coats, "in")
        },
    ),
    single(
        "C4",
        "total on a solid base over which lath is required, portland-plaster, in",
        0.625,
        SOLID,
        (PLASTER, "settings", &["solid_base"]),
    ),
    single(
        "C4",
        "the same in vertical-concrete, in",
        0.625,
        SOLID,
        ("vertical-concrete", "settings", &["solid_base"]),
    ),
    packs(
        "C4",
        "exactly 5/8 in on a solid base: cautions about lath",
        (0.0, EXACT),
        (SOLID, REPRODUCTION),
        |shipped| over(shipped, "technique float  thickness 1/8in"),
    ),
    packs(
        "C4",
        "0.626 in on a solid base: cautions about lath",
        (1.0, EXACT),
        (SOLID, REPRODUCTION),
        |shipped| over(shipped, "technique float  thickness 0.126in"),
    ),
    factor(
        "C6",
        "scratch coat, in: at least 3/8",
        (0.375, EXACT),
        ("UFGS 09225", PRIMARY),
        (coat(&["three-coat-lath", "scratch"]), "in"),
    ),
    said(
        "C13",
        "a solid base in plane within, in, as `uneven` says",
        0.25,
        ("ASTM C926 5.2", REPRODUCTION),
        (
            (PLASTER, "site", &["surface", "uneven", "description"]),
            ["by more than ", " in in"],
        ),
    ),
    said(
        "C13",
        "over a length of, ft",
        10.0,
        ("ASTM C926 5.2", REPRODUCTION),
        (
            (PLASTER, "site", &["surface", "uneven", "description"]),
            ["in in ", " ft"],
        ),
    ),
    coats("coats on metal lath, at least", 3.0, |shipped| {
        shipped.count(coat(&["three-coat-lath"]))
    }),
    coats("coats on masonry, at least", 2.0, |shipped| {
        shipped.count(coat(&["two-coat-masonry"]))
    }),
    coats("coats on cast concrete, at least", 2.0, |shipped| {
        shipped.count(coat(&["two-coat-concrete"]))
    }),
    row(
        "C16",
        "sand to 1 of cement in a dash bond coat, at most, as the note of `concrete` says",
        (2.0, EXACT),
        ("NYC BC 2510.7", PRIMARY),
        Way::Noted(
            (PLASTER, "substrates", &["concrete", "bonding"]),
            ["at most ", " parts of sand"],
        ),
    ),
    row(
        "C16",
        "the same: moist for, h",
        (24.0, EXACT),
        ("NYC BC 2510.7", PRIMARY),
        Way::Noted(
            (PLASTER, "substrates", &["concrete", "bonding"]),
            ["moist for ", " h"],
        ),
    ),
];
