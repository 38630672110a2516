//! Group E: curing and waiting between coats, and cold.

use super::{DERIVED, EXACT, PRIMARY, Row, expression, factor, packs, row, said};
use crate::checks::shipped::{Case, Of, PLASTER, Place, Shipped};

const CODE: &str = "IBC 2018 Table 2512.6";
const COLD: &str = "IBC 2018 2512.4";
const WAITS: Place = (PLASTER, "cautions", &["coat-waits", "text"]);
const COLD_TEXT: Place = (PLASTER, "cautions", &["cold-weather", "text"]);

const fn cured(
    what: &'static str,
    (expected, unit): (f64, &'static str),
    keys: &'static [&'static str],
) -> Row {
    factor(
        "C8",
        what,
        (expected, EXACT),
        (CODE, PRIMARY),
        ((PLASTER, "curing", keys), unit),
    )
}

const fn waits(
    what: &'static str,
    days: (f64, &'static str),
    keys: &'static [&'static str],
) -> Row {
    let (expected, unit) = days;
    factor(
        "C8",
        what,
        (expected, EXACT),
        (CODE, PRIMARY),
        ((PLASTER, "waits", keys), unit),
    )
}

const fn told(
    id: &'static str,
    what: &'static str,
    expected: f64,
    around: [&'static str; 2],
) -> Row {
    said(id, what, expected, (CODE, PRIMARY), (WAITS, around))
}

/// Whether the cold is said of a job in some air.
fn cold(shipped: &Shipped, pack: &'static str, air: &str) -> Option<f64> {
    let plaster = pack == PLASTER;
    let case = Case {
        pack,
        edits: &[],
        job: air,
        finish: if plaster {
            "technique float  thickness 1/8in"
        } else {
            "technique stamp  thickness 3/4in"
        },
        on: ("block", "rect 10ft x 8ft"),
    };
    shipped.plan(&case, Of::Caution("cold-weather"), "1")
}

pub(super) const ROWS: &[Row] = &[
    cured("first coat moist, h", (48.0, "h"), &["scratch", "moist"]),
    waits(
        "first coat waits, h",
        (48.0, "h"),
        &["scratch", "brown", "least"],
    ),
    cured("second coat moist, h", (48.0, "h"), &["brown", "moist"]),
    waits(
        "second coat waits, d",
        (7.0, "d"),
        &["brown", "finish", "least"],
    ),
    cured(
        "base coat of two moist, h: taken as a second coat",
        (48.0, "h"),
        &["base", "moist"],
    ),
    waits(
        "base coat of two waits, d",
        (7.0, "d"),
        &["base", "finish", "least"],
    ),
    told(
        "C8",
        "first coat moist as it is said, h",
        48.0,
        ["the first is kept moist for ", " h"],
    ),
    told(
        "C8",
        "the next coat as it is said, h",
        48.0,
        ["takes the next after ", " h"],
    ),
    told(
        "C8",
        "second coat moist as it is said, h",
        48.0,
        ["the second is kept moist for ", " h"],
    ),
    told(
        "C8",
        "finish coat as it is said, d",
        7.0,
        ["takes the finish coat after ", " days"],
    ),
    packs(
        "C9",
        "earliest brown coat on a scratch coat of day 0, day",
        (2.0, EXACT),
        (CODE, DERIVED),
        |shipped| shipped.factor((PLASTER, "waits", &["scratch", "brown", "least"]), "d"),
    ),
    packs(
        "C9",
        "earliest finish coat, day: both waits together",
        (9.0, EXACT),
        (CODE, DERIVED),
        |shipped| {
            let waits: [Place; 2] = [
                (PLASTER, "waits", &["scratch", "brown", "least"]),
                (PLASTER, "waits", &["brown", "finish", "least"]),
            ];
            shipped.sum(&waits, "d")
        },
    ),
    told(
        "C9",
        "the same as it is said, day",
        9.0,
        ["is not before day ", ". "],
    ),
    factor(
        "C6",
        "fog cure of the finish coat, h",
        (48.0, EXACT),
        ("UFGS 09225", PRIMARY),
        ((PLASTER, "curing", &["finish", "moist"]), "h"),
    ),
    factor(
        "C10",
        "air must be warmer than, portland-plaster, F",
        (40.0, 1e-6),
        (COLD, PRIMARY),
        ((PLASTER, "settings", &["cold_limit"]), "F"),
    ),
    factor(
        "C10",
        "the same in vertical-concrete, F",
        (40.0, 1e-6),
        (COLD, PRIMARY),
        (("vertical-concrete", "settings", &["cold_limit"]), "F"),
    ),
    factor(
        "C10",
        "the same in C, printed in whole degrees",
        (4.0, 0.5),
        (COLD, PRIMARY),
        ((PLASTER, "settings", &["cold_limit"]), "C"),
    ),
    said(
        "C10",
        "the limit as it is said, F",
        40.0,
        (COLD, PRIMARY),
        (COLD_TEXT, ["warmer than ", " F"]),
    ),
    said(
        "C10",
        "and for so long after, h",
        48.0,
        (COLD, PRIMARY),
        (COLD_TEXT, ["during the work and for ", " h"]),
    ),
    packs(
        "C10",
        "at exactly 40 F it is said: not warmer",
        (1.0, EXACT),
        (COLD, PRIMARY),
        |shipped| cold(shipped, PLASTER, "weather { air 40F }"),
    ),
    packs(
        "C10",
        "at 40.1 F it is not",
        (0.0, EXACT),
        (COLD, PRIMARY),
        |shipped| cold(shipped, PLASTER, "weather { air 40.1F }"),
    ),
    packs(
        "C10",
        "vertical-concrete at exactly 40 F: said",
        (1.0, EXACT),
        (COLD, PRIMARY),
        |shipped| cold(shipped, "vertical-concrete", "weather { air 40F }"),
    ),
    row(
        "C30",
        "mortar that 2 plasterers place in an hour at 45 yd2 in 8 h and 3/8 in, ft3",
        (1.58, 0.005),
        ("C29 and the placing rate of the same list", DERIVED),
        expression("45yd2 * 3/8in / 8", "ft3"),
    ),
    row(
        "C30",
        "the same in 2.5 h: the largest batch, ft3",
        (3.96, 0.005),
        ("C29 and the placing rate of the same list", DERIVED),
        expression("45yd2 * 3/8in / 8h * 2.5h", "ft3"),
    ),
];
