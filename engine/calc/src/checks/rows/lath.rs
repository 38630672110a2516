//! Group E: lath, fasteners, paper and control joints, as the packs count them.

use super::{DERIVED, EXACT, PRIMARY, REPRODUCTION, Row, factor, packs};
use crate::checks::shipped::{Case, Edit, Of, PLASTER, Place, Shipped, VERTICAL};

const NAVY: &str = "NAVEDTRA 14044 ch. 7";
const PHILADELPHIA: &str = "Phila. R-R703.7.1 (ASTM C1063-18b)";
const LAPPED: &str = "NAVEDTRA 14044: laps and sheets";
const MINNESOTA: &str = "IRC R703.2 via Minn. R. 1309.0703";
const JOINTS: &str = "municipal checklist citing ASTM C1063";

const fn sheet(pack: &'static str, keys: &'static [&'static str]) -> Place {
    (pack, "sheets", keys)
}

const fn lap(
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
        (source, PRIMARY),
        (place, "in"),
    )
}

const FINISH: &str = "technique float  thickness 1/8in";

/// What a lathed face of portland-plaster comes to.
fn on_wood(shipped: &Shipped, edits: &[Edit], face: &str, of: Of, unit: &str) -> Option<f64> {
    let case = Case {
        pack: PLASTER,
        edits,
        job: "",
        finish: FINISH,
        on: ("wood", face),
    };
    shipped.plan(&case, of, unit)
}

/// Fasteners for 1 ft2.
fn fasteners(shipped: &Shipped, edits: &[Edit]) -> Option<f64> {
    let of = Of::Need("lath-fastener");
    Some(on_wood(shipped, edits, "rect 10ft x 10ft", of, "each")? / 100.0)
}

fn sheets(shipped: &Shipped, edits: &[Edit], face: &str) -> Option<f64> {
    on_wood(shipped, edits, face, Of::ByArea("metal-lath"), "sheet")
}

const NO_LAPS: &[Edit] = &[
    ("sheets", "metal-lath,side_lap,0,in,company,"),
    ("sheets", "metal-lath,end_lap,0,in,company,"),
];

/// Whether a face needs control joints.
fn jointed(shipped: &Shipped, face: &str) -> Option<f64> {
    on_wood(shipped, &[], face, Of::Caution("control-joints"), "1")
}

const fn panel(what: &'static str, expected: f64, formula: fn(&Shipped) -> Option<f64>) -> Row {
    packs(
        "C27",
        what,
        (expected, EXACT),
        (JOINTS, REPRODUCTION),
        formula,
    )
}

pub(super) const ROWS: &[Row] = &[
    lap(
        "C17",
        "lath laps at ends, portland-plaster, in",
        1.0,
        NAVY,
        sheet(PLASTER, &["metal-lath", "end_lap"]),
    ),
    lap(
        "C17",
        "lath laps at sides, in",
        0.5,
        NAVY,
        sheet(PLASTER, &["metal-lath", "side_lap"]),
    ),
    lap(
        "C17",
        "lath laps at ends, vertical-concrete, in",
        1.0,
        NAVY,
        sheet(VERTICAL, &["metal-lath", "end_lap"]),
    ),
    lap(
        "C17",
        "lath laps at sides, in",
        0.5,
        NAVY,
        sheet(VERTICAL, &["metal-lath", "side_lap"]),
    ),
    lap(
        "C18",
        "fasteners along wood studs, at most, portland-plaster, in",
        7.0,
        PHILADELPHIA,
        (PLASTER, "fixings", &["lath-fastener", "along"]),
    ),
    lap(
        "C18",
        "the same in vertical-concrete, in",
        7.0,
        PHILADELPHIA,
        (VERTICAL, "fixings", &["lath-fastener", "along"]),
    ),
    packs(
        "C18",
        "the other published spacing, as a note of portland-plaster has it, in",
        (6.0, EXACT),
        ("NAVEDTRA 14044; Minn. R. 1309.0703", PRIMARY),
        |shipped| {
            let place = (PLASTER, "fixings", &["lath-fastener", "along"] as &[_]);
            shipped.noted(place, ["1309.0703 have ", " in"])
        },
    ),
    packs(
        "C18",
        "studs apart, at most, as a note of portland-plaster has it, in",
        (24.0, EXACT),
        (PHILADELPHIA, PRIMARY),
        |shipped| {
            let place = (PLASTER, "fixings", &["lath-fastener", "between"] as &[_]);
            shipped.noted(place, ["allows up to ", " in"])
        },
    ),
    packs(
        "C19",
        "fasteners for 1 ft2, 7 in along studs 16 in on centre",
        (1.286, 0.0005),
        (PHILADELPHIA, DERIVED),
        |shipped| fasteners(shipped, &[]),
    ),
    packs(
        "C19",
        "the same at 6 in",
        (1.5, EXACT),
        (NAVY, DERIVED),
        |shipped| fasteners(shipped, &[("fixings", "lath-fastener,along,6,in,company,")]),
    ),
    packs(
        "C21",
        "a sheet of lath, ft2",
        (18.0, EXACT),
        ("NAVEDTRA 14044; ASTM C847-95 4.2-4.3", PRIMARY),
        |shipped| {
            let side = |keys| shipped.factor(sheet(PLASTER, keys), "ft");
            Some(side(&["metal-lath", "width"])? * side(&["metal-lath", "length"])?)
        },
    ),
    lap(
        "C21",
        "its width, in",
        27.0,
        "ASTM C847-95 4.2-4.3",
        sheet(VERTICAL, &["metal-lath", "width"]),
    ),
    lap(
        "C21",
        "its length, in",
        96.0,
        "ASTM C847-95 4.2-4.3",
        sheet(VERTICAL, &["metal-lath", "length"]),
    ),
    packs(
        "C22",
        "sheets with laps for 300 ft2",
        (17.16, 0.005),
        (LAPPED, DERIVED),
        |shipped| sheets(shipped, &[], "rect 20ft x 15ft"),
    ),
    packs(
        "C22",
        "the same without laps",
        (16.67, 0.005),
        (LAPPED, DERIVED),
        |shipped| sheets(shipped, NO_LAPS, "rect 20ft x 15ft"),
    ),
    packs(
        "C22",
        "what a lapped sheet covers, ft2",
        (17.483, 0.0005),
        (LAPPED, DERIVED),
        |shipped| Some(300.0 / sheets(shipped, &[], "rect 20ft x 15ft")?),
    ),
    packs(
        "C22",
        "factor for laps: sheets for the 18 ft2 of one",
        (1.0296, 0.00005),
        (LAPPED, DERIVED),
        |shipped| sheets(shipped, &[], "rect 9ft x 2ft"),
    ),
    lap(
        "C23",
        "lath past a corner, portland-plaster, in",
        4.0,
        NAVY,
        sheet(PLASTER, &["metal-lath", "corner_carry"]),
    ),
    lap(
        "C23",
        "the same in vertical-concrete, in",
        4.0,
        NAVY,
        sheet(VERTICAL, &["metal-lath", "corner_carry"]),
    ),
    lap(
        "C25",
        "paper laps, horizontal joints, in",
        2.0,
        MINNESOTA,
        sheet(PLASTER, &["building-paper", "side_lap"]),
    ),
    lap(
        "C25",
        "paper laps, vertical joints, in",
        6.0,
        MINNESOTA,
        sheet(PLASTER, &["building-paper", "end_lap"]),
    ),
    lap(
        "C25",
        "paper laps of vertical-concrete, horizontal, in",
        2.0,
        MINNESOTA,
        sheet(VERTICAL, &["building-paper", "side_lap"]),
    ),
    lap(
        "C25",
        "paper laps of vertical-concrete, vertical, in",
        6.0,
        MINNESOTA,
        sheet(VERTICAL, &["building-paper", "end_lap"]),
    ),
    packs(
        "C26",
        "factor for paper of 36 in lapped 2 in: rolls for the 432 ft2 of one, without end laps",
        (1.0588, 0.00005),
        (MINNESOTA, DERIVED),
        |shipped| {
            let edits = &[("sheets", "building-paper,end_lap,0,in,company,")];
            on_wood(
                shipped,
                edits,
                "rect 48ft x 9ft",
                Of::ByArea("building-paper"),
                "roll",
            )
        },
    ),
    factor(
        "C27",
        "panel between control joints, at most, ft2",
        (144.0, EXACT),
        (JOINTS, REPRODUCTION),
        ((PLASTER, "settings", &["panel_area"]), "ft2"),
    ),
    factor(
        "C27",
        "the same, ft between joints",
        (18.0, EXACT),
        (JOINTS, REPRODUCTION),
        ((PLASTER, "settings", &["panel_length"]), "ft"),
    ),
    factor(
        "C27",
        "the same, length to width, from memory",
        (2.5, EXACT),
        ("ASTM C1063", super::MEMORY),
        ((PLASTER, "settings", &["panel_ratio"]), "1"),
    ),
    panel(
        "12 x 12 ft, exactly 144 ft2: joints asked for",
        0.0,
        |shipped| jointed(shipped, "rect 12ft x 12ft"),
    ),
    panel("12.1 x 12 ft: joints asked for", 1.0, |shipped| {
        jointed(shipped, "rect 12.1ft x 12ft")
    }),
    panel(
        "18 x 8 ft, exactly 18 ft long: joints asked for",
        0.0,
        |shipped| jointed(shipped, "rect 18ft x 8ft"),
    ),
    panel("18.1 x 7.9 ft: joints asked for", 1.0, |shipped| {
        jointed(shipped, "rect 18.1ft x 7.9ft")
    }),
];
