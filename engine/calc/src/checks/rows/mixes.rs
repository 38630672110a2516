//! Group B: mixes by volume, as the rules of portland plaster reckon and limit them.

use super::{EXACT, PRIMARY, REPRODUCTION, Row, factor, packs};
use crate::checks::shipped::{Case, Edit, Of, PLASTER, Place, Shipped};

const CPWD: &str = "CPWD DAR 2019 vol. 1, SH 3";
const PARTS: &str = "CPWD DAR 2019 vol. 1, SH 3: sand and a share of it, derived";
const IRC: &str = "IRC 2018 Table R702.1(3)";
const NAVY: &str = "NAVEDTRA 14044 ch. 7, table 7-1";
const WASTE: &str = "Army subcourse EN5466; NAVEDTRA 14071 p. 17-10";

const WALL: (&str, &str) = ("block", "rect 10m x 10m");

/// 1 m3 of a base coat without lime, with so many parts of sand.
fn cube(shipped: &Shipped, parts: &'static str, of: Of, unit: &str) -> Option<f64> {
    let edits: &[Edit] = &[
        ("coats", "two-coat-masonry,base,10,mm,company,"),
        ("mixes", "base,lime,0,1,company,"),
        ("mixes", parts),
    ];
    let case = Case {
        pack: PLASTER,
        edits,
        job: "",
        finish: "technique float  thickness 1/8in",
        on: WALL,
    };
    shipped.plan(&case, of, unit)
}

const THREE: &str = "base,sand,3,1,company,";
const FOUR: &str = "base,sand,4,1,company,";
const FIVE: &str = "base,sand,5,1,company,";
const SIX: &str = "base,sand,6,1,company,";

fn sand(shipped: &Shipped, parts: &'static str) -> Option<f64> {
    cube(shipped, parts, Of::Need("sand"), "m3")
}

/// The loose cement, m3, at the volume that the pack gives a bag.
fn cement(shipped: &Shipped, parts: &'static str) -> Option<f64> {
    let bags = cube(shipped, parts, Of::Need("portland-cement"), "bag")?;
    let weight = shipped.factor((PLASTER, "bags", &["portland-cement", "weight"]), "lb/bag")?;
    let density = shipped.factor((PLASTER, "bags", &["portland-cement", "density"]), "lb/m3")?;
    Some(bags * weight / density)
}

fn both(shipped: &Shipped, parts: &'static str) -> Option<f64> {
    Some(sand(shipped, parts)? + cement(shipped, parts)?)
}

/// The warnings of a wall on block after a row was replaced.
fn warnings(shipped: &Shipped, edits: &[Edit]) -> Option<f64> {
    let case = Case {
        pack: PLASTER,
        edits,
        job: "",
        finish: "technique float  thickness 1/8in",
        on: WALL,
    };
    shipped.plan(&case, Of::Warnings, "1")
}

const fn dry(what: &'static str, expected: f64, formula: fn(&Shipped) -> Option<f64>) -> Row {
    packs(
        "V17",
        what,
        (expected, 0.001),
        (PARTS, REPRODUCTION),
        formula,
    )
}

const fn limit(what: &'static str, expected: f64, keys: &'static [&'static str]) -> Row {
    factor(
        "V31",
        what,
        (expected, EXACT),
        (IRC, PRIMARY),
        ((PLASTER, "mixes", keys), "1"),
    )
}

const fn waste(what: &'static str, place: Place) -> Row {
    factor("V32", what, (10.0, EXACT), (WASTE, PRIMARY), (place, "%"))
}

pub(super) const ROWS: &[Row] = &[
    packs(
        "V13",
        "sand for 1 m3 of 1:3 plaster by portland-plaster, m3",
        (1.07, 0.005),
        (CPWD, REPRODUCTION),
        |shipped| sand(shipped, THREE),
    ),
    packs(
        "V14",
        "sand for 1 m3 of 1:4 plaster by portland-plaster, m3",
        (1.07, 0.005),
        (CPWD, REPRODUCTION),
        |shipped| sand(shipped, FOUR),
    ),
    packs(
        "V15",
        "sand for 1 m3 of 1:5 plaster by portland-plaster, m3",
        (1.07, 0.005),
        (CPWD, REPRODUCTION),
        |shipped| sand(shipped, FIVE),
    ),
    packs(
        "V16",
        "sand for 1 m3 of 1:6 plaster by portland-plaster, m3",
        (1.07, 0.005),
        (CPWD, REPRODUCTION),
        |shipped| sand(shipped, SIX),
    ),
    packs(
        "V16",
        "cement for 1 m3 of 1:6 plaster by portland-plaster, m3",
        (0.178, 0.0005),
        (CPWD, REPRODUCTION),
        |shipped| cement(shipped, SIX),
    ),
    dry(
        "dry parts to 1 of plaster, 1:3, by portland-plaster",
        1.427,
        |shipped| both(shipped, THREE),
    ),
    dry("the same, 1:4", 1.338, |shipped| both(shipped, FOUR)),
    dry("the same, 1:5", 1.284, |shipped| both(shipped, FIVE)),
    dry("the same, 1:6", 1.248, |shipped| both(shipped, SIX)),
    factor(
        "V30",
        "a part of portland cement in portland-plaster, lb",
        (94.0, EXACT),
        (NAVY, PRIMARY),
        ((PLASTER, "bags", &["portland-cement", "weight"]), "lb/bag"),
    ),
    packs(
        "V30",
        "lime of 10 % of the weight of the cement, parts by volume, as a note of portland-plaster has it",
        (0.25, 0.02),
        (NAVY, PRIMARY),
        |shipped| {
            let density = |item| shipped.factor((PLASTER, "bags", item), "lb/ft3");
            let cement = density(&["portland-cement", "density"])?;
            Some(0.10 * cement / density(&["hydrated-lime", "density"])?)
        },
    ),
    limit(
        "sand to cement and lime in a scratch coat, least",
        2.5,
        &["scratch", "sand_low"],
    ),
    limit("the same, most", 4.0, &["scratch", "sand_high"]),
    limit(
        "sand to cement and lime in a base coat, least: as a first coat",
        2.5,
        &["base", "sand_low"],
    ),
    limit("the same, most", 4.0, &["base", "sand_high"]),
    limit(
        "sand to cement and lime in a brown coat, least",
        3.0,
        &["brown", "sand_low"],
    ),
    limit("the same, most", 5.0, &["brown", "sand_high"]),
    limit(
        "sand to cement and lime in a finish coat, least",
        1.5,
        &["finish", "sand_low"],
    ),
    limit("the same, most", 3.0, &["finish", "sand_high"]),
    packs(
        "V31",
        "warnings of a base coat with exactly 4 parts of sand",
        (0.0, EXACT),
        (IRC, PRIMARY),
        |shipped| warnings(shipped, &[("mixes", FOUR)]),
    ),
    packs(
        "V31",
        "warnings of a base coat with 4.01 parts of sand",
        (1.0, EXACT),
        (IRC, PRIMARY),
        |shipped| warnings(shipped, &[("mixes", "base,sand,4.01,1,company,")]),
    ),
    waste(
        "waste of a scratch coat in portland-plaster, %; stated for concrete up to 200 yd3",
        (PLASTER, "waste", &["scratch", "any"]),
    ),
    waste(
        "waste of a base coat there, %",
        (PLASTER, "waste", &["base", "any"]),
    ),
    waste(
        "waste of a scratch coat in vertical-concrete, %",
        ("vertical-concrete", "waste", &["scratch-mix", "any"]),
    ),
];
