//! Group I: dead load.

use super::{
    DERIVED, EXACT, MEMORY, PRIMARY, Row, WEAK, all_given, factor, packs, physics, said, shown,
};
use crate::checks::shipped::{Case, Of, Place, Shipped, VERTICAL};
use crate::physics::dead_load::dead_load;
use parge_base::Tape;

fn load(inches: f64, density: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let [thickness, density] = all_given(&mut tape, [(inches, "in"), (density, "lb/ft3")])?;
    let found = dead_load(&mut tape, thickness, density, None);
    shown(&tape, found, "lb/ft2")
}

const FAQ: &str = "PCA-derived plaster FAQ";

const UBC: &str = "UBC, via NCMA-TEK 79 (1976)";
const TMS: &str = "TMS 402-11/13/16 ch. 6.3 / 13.3";
const IBC: &str = "IBC 1404.10.3";
const DEAD_LOAD: Place = (VERTICAL, "cautions", &["dead-load", "text"]);
const INTERIOR: Place = (VERTICAL, "cautions", &["interior-weight", "text"]);
const FRAME: Place = (VERTICAL, "cautions", &["frame-height", "text"]);

/// Whether a caution is said of a carved coat.
fn cautioned(shipped: &Shipped, finish: &str, on: (&str, &str), key: &'static str) -> Option<f64> {
    let case = Case {
        pack: VERTICAL,
        edits: &[],
        job: "",
        finish,
        on,
    };
    shipped.plan(&case, Of::Caution(key), "1")
}

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
    packs(
        "W10",
        "the same on foam in vertical-concrete: cautioned as over the limit of W5",
        (1.0, EXACT),
        (FAQ, DERIVED),
        |shipped| {
            let finish = "technique carve  thickness 1 1/2in";
            cautioned(shipped, finish, ("foam", "rect 10ft x 8ft"), "dead-load")
        },
    ),
    factor(
        "W5",
        "adhered veneer, at most: limit for caution of vertical-concrete, lb/ft2",
        (15.0, EXACT),
        (UBC, PRIMARY),
        ((VERTICAL, "settings", &["dead_load"]), "lb/ft2"),
    ),
    said(
        "W5",
        "the same as it is said, lb/ft2",
        15.0,
        (UBC, PRIMARY),
        (DEAD_LOAD, ["veneer (", " lb/ft2 in weight"]),
    ),
    factor(
        "W6",
        "thickness of a unit, at most: limit for caution of vertical-concrete, in",
        (2.625, EXACT),
        (TMS, MEMORY),
        ((VERTICAL, "settings", &["veneer_thickness"]), "in"),
    ),
    said(
        "W6",
        "the same as it is said, in",
        2.625,
        (TMS, MEMORY),
        (DEAD_LOAD, ["in weight, ", " in in thickness"]),
    ),
    factor(
        "W8",
        "interior adhered veneer, at most: limit for caution of vertical-concrete, lb/ft2",
        (20.0, EXACT),
        (IBC, PRIMARY),
        (
            (VERTICAL, "site", &["place", "indoors", "veneer_weight"]),
            "lb/ft2",
        ),
    ),
    said(
        "W8",
        "the same as it is said, lb/ft2",
        20.0,
        (IBC, PRIMARY),
        (INTERIOR, ["adhered veneer is ", " lb/ft2"]),
    ),
    said(
        "W8",
        "sag of wood to its span, as it is said",
        1.0 / 600.0,
        (IBC, PRIMARY),
        (INTERIOR, ["may sag by ", " of its span"]),
    ),
    factor(
        "W11",
        "exterior veneer on wood framing, at most, vertical-concrete, ft",
        (30.0, EXACT),
        ("UBC 1997 1403.1.2", PRIMARY),
        ((VERTICAL, "substrates", &["wood", "frame_height"]), "ft"),
    ),
    said(
        "W11",
        "the same as it is said, ft",
        30.0,
        ("UBC 1997 1403.1.2", PRIMARY),
        (FRAME, ["no more than ", " ft"]),
    ),
    packs(
        "W11",
        "work up to exactly 30 ft on wood: cautioned",
        (0.0, EXACT),
        ("UBC 1997 1403.1.2", PRIMARY),
        |shipped| {
            let finish = "technique stamp  thickness 3/4in";
            cautioned(
                shipped,
                finish,
                ("wood", "rect 10ft x 30ft"),
                "frame-height",
            )
        },
    ),
    packs(
        "W11",
        "work up to 30.1 ft on wood: cautioned",
        (1.0, EXACT),
        ("UBC 1997 1403.1.2", PRIMARY),
        |shipped| {
            let finish = "technique stamp  thickness 3/4in";
            cautioned(
                shipped,
                finish,
                ("wood", "rect 10ft x 30.1ft"),
                "frame-height",
            )
        },
    ),
];
