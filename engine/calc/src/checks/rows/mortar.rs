//! Group B: mortar of published norms and tutorials, put through the handbook pack.

use super::{
    DERIVED, EXACT, GRIFFITH, M_107, PRIMARY, REPRODUCTION, ROOM, Row, TUTORIAL, WALL_100, WEAK,
    handbook, physics, row,
};
use crate::checks::{need, show};

const MORTAR: &str = "CPWD DAR 2019 vol. 1, SH 3";
const PLASTER: &str = "CPWD DAR 2019 vol. 2, SH 13";
/// One density of cement gives all six published masses: 50 kg in 0.035 m3.
const MASS: &str = "CPWD DAR 2019 vol. 1, SH 3; cement of 50 kg in 0.035 m3";

/// A face of 1 m3.
const CUBE: &str = "rect 10m x 10m";

fn of(face: &'static str, thickness: &str, case: &str, item: &str, unit: &str) -> Option<f64> {
    show(unit, need(face, thickness, case, item)?)
}

/// Tonnes of cement for 1 m3 of mortar, from bags of 50 kg.
fn tonnes(case: &str) -> Option<f64> {
    Some(of(CUBE, "1cm", case, "cement-bags", "bag")? * 0.05)
}

/// Sand to cement by volume, with a barrel of 3.8 ft3.
fn sand_to_barrels(case: &str) -> Option<f64> {
    let sand = of("rect 10ft x 12ft", "1in", case, "sand", "ft3")?;
    let barrels = of("rect 10ft x 12ft", "1in", case, "cement-barrels", "barrel")?;
    Some(sand / (barrels * 3.8))
}

/// The mix that Griffith's factors stand for.
const fn parts(what: &'static str, expected: f64, formula: fn() -> Option<f64>) -> Row {
    physics(
        "V8",
        what,
        (expected, 0.03),
        (
            GRIFFITH,
            "seen in the primary text; the barrel of 3.8 ft3, known to 0.05, from memory",
        ),
        formula,
    )
}

/// Cement of 1 m3 of mortar, t.
const fn cement(
    id: &'static str,
    what: &'static str,
    expected: f64,
    formula: fn() -> Option<f64>,
) -> Row {
    physics(id, what, (expected, 0.005), (MASS, REPRODUCTION), formula)
}

/// Sand of 1 m3 of mortar by one factor from dry to wet.
const fn sand(
    id: &'static str,
    what: &'static str,
    expected: f64,
    within: f64,
    case: &'static str,
) -> Row {
    row(
        id,
        what,
        (expected, within),
        (MORTAR, REPRODUCTION),
        handbook(CUBE, "1cm", case, ("sand", "m3")),
    )
}

pub(super) const ROWS: &[Row] = &[
    parts("parts of sand to 1 of cement in its 1:1.5", 1.5, || {
        sand_to_barrels("griffith15")
    }),
    parts("parts of sand to 1 of cement in its 1:2", 2.0, || {
        sand_to_barrels("topping")
    }),
    parts("parts of sand to 1 of cement in its 1:2.5", 2.5, || {
        sand_to_barrels("griffith25")
    }),
    row(
        "V9",
        "mortar for the topping, ft3",
        (80.0, EXACT),
        (GRIFFITH, PRIMARY),
        handbook("rect 24ft x 40ft", "1in", "topping", ("mortar", "ft3")),
    ),
    cement("V11", "cement for 1 m3 of 1:1, t", 1.02, || tonnes("dar1")),
    cement("V12", "cement for 1 m3 of 1:2, t", 0.68, || tonnes("dar2")),
    sand(
        "V12",
        "sand for 1 m3 of 1:2 at the dry parts of 1:1, 0.7125 m3 of sand and as much cement, m3",
        0.95,
        EXACT,
        "dar2",
    ),
    cement("V13", "cement for 1 m3 of 1:3, t", 0.51, || tonnes("dar3")),
    sand(
        "V13",
        "sand for 1 m3 of 1:3 at the same dry parts, m3",
        1.07,
        0.005,
        "dar3",
    ),
    cement("V14", "cement for 1 m3 of 1:4, t", 0.38, || tonnes("dar4")),
    cement("V15", "cement for 1 m3 of 1:5, t", 0.31, || tonnes("dar5")),
    cement("V16", "cement for 1 m3 of 1:6, t", 0.25, || tonnes("dar6")),
    row(
        "V18",
        "mortar for 10 m2 of 6 mm plaster, m3",
        (0.072, 0.0005),
        (
            "CPWD DAR 2019 vol. 2, SH 13 items 13.16-13.18",
            REPRODUCTION,
        ),
        handbook("rect 5m x 2m", "6mm", "cpwd12", ("mortar", "m3")),
    ),
    physics(
        "V19",
        "mortar for 10 m2 of two coats, 12 and 6 mm, m3",
        (0.216, 0.0005),
        (
            "CPWD DAR 2019 vol. 2, SH 13 items 13.11, 13.12",
            REPRODUCTION,
        ),
        || {
            let coat = |thickness| of("rect 5m x 2m", thickness, "cpwd12", "mortar", "m3");
            Some(coat("12mm")? + coat("6mm")?)
        },
    ),
    row(
        "L11",
        "mortar for 10 m of a band of 10 cm at 12 mm, m3",
        (0.014, 0.0005),
        (PLASTER, REPRODUCTION),
        handbook("rect 10m x 10cm", "12mm", "cpwd12", ("mortar", "m3")),
    ),
    row(
        "V21",
        "107.6 ft2 at 13 mm before waste, ft3",
        (4.589, 0.0005),
        (super::MES, REPRODUCTION),
        handbook(M_107, "13mm", "plain", ("mortar", "ft3")),
    ),
    row(
        "V22",
        "100 m2 at 12 mm with 15 % waste: wet mortar, m3",
        (1.38, 0.005),
        (TUTORIAL, WEAK),
        handbook(WALL_100, "12mm", "tutorial4", ("mortar", "m3")),
    ),
    physics(
        "V22",
        "the same: dry parts together, m3",
        (1.84, 0.005),
        (TUTORIAL, WEAK),
        || dry(WALL_100, "tutorial4", 0.035),
    ),
    physics(
        "V22",
        "the same: cement, m3",
        (0.368, 0.0005),
        (TUTORIAL, WEAK),
        || Some(of(WALL_100, "12mm", "tutorial4", "cement-bags", "bag")? * 0.035),
    ),
    row(
        "V22",
        "the same: cement, bags, not rounded",
        (0.368 / 0.035, EXACT),
        (TUTORIAL, DERIVED),
        handbook(WALL_100, "12mm", "tutorial4", ("cement-bags", "bag")),
    ),
    row(
        "V23",
        "100 m2 at 12 mm with 20 % waste: wet mortar, m3",
        (1.44, 0.005),
        (TUTORIAL, WEAK),
        handbook(WALL_100, "12mm", "tutorial5", ("mortar", "m3")),
    ),
    physics(
        "V23",
        "the same: dry parts together, m3",
        (1.92, 0.005),
        (TUTORIAL, WEAK),
        || dry(WALL_100, "tutorial5", 0.0347),
    ),
    physics(
        "V23",
        "the same: cement, m3",
        (0.32, 0.005),
        (TUTORIAL, WEAK),
        || Some(of(WALL_100, "12mm", "tutorial5", "cement-bags", "bag")? * 0.0347),
    ),
    row(
        "V23",
        "the same: cement, bags, not rounded",
        (0.32 / 0.0347, EXACT),
        (TUTORIAL, DERIVED),
        handbook(WALL_100, "12mm", "tutorial5", ("cement-bags", "bag")),
    ),
    row(
        "V24",
        "5 x 3 m at 12 mm with 20 % waste: wet mortar, m3",
        (0.216, 0.0005),
        (TUTORIAL, WEAK),
        handbook(ROOM, "12mm", "room4", ("mortar", "m3")),
    ),
    physics(
        "V24",
        "the same: dry parts together, m3",
        (0.2873, 0.00005),
        (TUTORIAL, WEAK),
        || dry(ROOM, "room4", 25.0 / 720.0),
    ),
    physics(
        "V24",
        "the same: cement, kg",
        (82.74, 0.005),
        (TUTORIAL, WEAK),
        || Some(of(ROOM, "12mm", "room4", "cement-bags", "bag")? * 50.0),
    ),
    physics(
        "V24",
        "the same: water at 0.55 of the cement, kg or L",
        (45.51, 0.005),
        (TUTORIAL, WEAK),
        || Some(of(ROOM, "12mm", "room4", "cement-bags", "bag")? * 50.0 * 0.55),
    ),
    row(
        "V24",
        "the same: cement, bags, not rounded (the printed 1.6548 is of the rounded 82.74 kg)",
        (0.28728 / 5.0 * 1440.0 / 50.0, EXACT),
        (TUTORIAL, DERIVED),
        handbook(ROOM, "12mm", "room4", ("cement-bags", "bag")),
    ),
    physics(
        "V27",
        "1 m3 of 1:6: cement, m3",
        (0.19, 0.005),
        (TUTORIAL, WEAK),
        || Some(of(CUBE, "1cm", "cube6", "cement-bags", "bag")? * 25.0 / 720.0),
    ),
    physics(
        "V27",
        "the same: cement, kg",
        (273.6, 0.05),
        (TUTORIAL, WEAK),
        || Some(of(CUBE, "1cm", "cube6", "cement-bags", "bag")? * 50.0),
    ),
];

/// Cement and sand together, m3.
fn dry(face: &'static str, case: &str, bag: f64) -> Option<f64> {
    let sand = of(face, "12mm", case, "sand", "m3")?;
    Some(sand + of(face, "12mm", case, "cement-bags", "bag")? * bag)
}
