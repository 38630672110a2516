//! Group D: yield by absolute volumes and by density, and pigments.

use super::{
    DERIVED, EXACT, MEMORY, PRIMARY, REPRODUCTION, Row, WEAK, all_given, expression, factor, given,
    packs, physics, row, shown,
};
use crate::checks::{Way, need, show};
use crate::physics::volume::{
    Batch, Constituent, Pigment, absolute_volume, cement_content, fresh_volume, pigments,
    relative_yield, volume_at_density,
};
use parge_base::Tape;

const NAVY: &str = "NAVEDTRA 14071 p. 17-7 (ACI 211 method)";
const NAVY_FRONT: &str = "NAVEDTRA 14070";
const SCHOOL: &str = "concrete school notes";
const C138: &str = "ASTM C138/C138M";
const THUMB: &str = "trade rule of thumb";
const C979: &str = "ASTM C979 sec. 1.4";

const WATER: (f64, &str) = (62.4, "lb/ft3");

/// The absolute volume of pounds at a relative density, ft3.
fn absolute(pounds: f64, density: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let of = [(pounds, "lb"), (density, "1"), WATER];
    let [mass, relative_density, water] = all_given(&mut tape, of)?;
    let of = Constituent {
        mass,
        relative_density,
    };
    let found = absolute_volume(&mut tape, of, water, None);
    shown(&tape, found, "ft3")
}

/// What pounds of solids at relative densities fill with pounds of water and a share of air, ft3.
fn batch(solids: &[(f64, f64)], water: f64, air: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let mut of = Vec::new();
    for (mass, density) in solids {
        of.push(Constituent {
            mass: given(&mut tape, *mass, "lb")?,
            relative_density: given(&mut tape, *density, "1")?,
        });
    }
    let [water, air, water_density] = all_given(&mut tape, [(water, "lb"), (air, "%"), WATER])?;
    let batch = Batch {
        solids: &of,
        water,
        air,
        water_density,
    };
    let found = fresh_volume(&mut tape, batch, None);
    shown(&tape, found, "ft3")
}

/// What a mass in pounds fills at a density in lb/ft3, ft3.
fn at_density(pounds: f64, density: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let [mass, density] = all_given(&mut tape, [(pounds, "lb"), (density, "lb/ft3")])?;
    let found = volume_at_density(&mut tape, mass, density, None);
    shown(&tape, found, "ft3")
}

/// The most pigment for pounds of cement, lb.
fn pigment(cement: f64) -> Option<f64> {
    let mut tape = Tape::new();
    let [cement, dose, cap] = all_given(&mut tape, [(cement, "lb"), (10.0, "%"), (10.0, "%")])?;
    let found = pigments(&mut tape, cement, &[Pigment { dose, cap }], None).ok()?;
    let allowed = found.over.is_empty() && !found.too_much;
    shown(&tape, Ok(found.mass), "lb").filter(|_| allowed)
}

/// Whether pigments, each of a dose and a cap in % of the cement, are over a cap: 1 or 0.
fn over(of: &[(f64, f64)]) -> Option<f64> {
    let mut tape = Tape::new();
    let cement = given(&mut tape, 94.0, "lb")?;
    let mut dosed = Vec::new();
    for (dose, cap) in of {
        dosed.push(Pigment {
            dose: given(&mut tape, *dose, "%")?,
            cap: given(&mut tape, *cap, "%")?,
        });
    }
    let found = pigments(&mut tape, cement, &dosed, None).ok()?;
    Some(f64::from(u8::from(
        found.too_much || !found.over.is_empty(),
    )))
}

/// The bags of cement of a tutorial.
fn bought(case: &str) -> Option<f64> {
    show("bag", need("rect 10m x 10m", "12mm", case, "cement-bags")?)
}

/// Bags as they are bought.
const fn bags(what: &'static str, expected: f64, of: fn() -> Option<f64>) -> Row {
    row(
        "Y10",
        what,
        (expected, EXACT),
        ("whole bags, of the sources of V22, V23 and others", PRIMARY),
        Way::Whole(of),
    )
}

const STONES: [(f64, f64); 2] = [(610.0, 3.15), (1735.0, 2.60)];

pub(super) const ROWS: &[Row] = &[
    physics(
        "Y1",
        "absolute volume of 610 lb of cement, SG 3.15, ft3",
        (3.10, 0.005),
        (NAVY, PRIMARY),
        || absolute(610.0, 3.15),
    ),
    physics(
        "Y1",
        "absolute volume of 305 lb of water, ft3",
        (4.89, 0.005),
        (NAVY, PRIMARY),
        || absolute(305.0, 1.0),
    ),
    physics(
        "Y1",
        "absolute volume of 1735 lb of coarse aggregate, SG 2.60, ft3",
        (10.69, 0.005),
        (NAVY, PRIMARY),
        || absolute(1735.0, 2.60),
    ),
    physics(
        "Y1",
        "cement, water and coarse aggregate with 5 % air of the yard, ft3",
        (20.03, 0.01),
        (NAVY, PRIMARY),
        || Some(batch(&STONES, 305.0, 0.0)? + 27.0 * 0.05),
    ),
    row(
        "Y1",
        "fine aggregate that fills the yard at 5 % air, SG 2.65, lb",
        (1152.0, 1.0),
        (NAVY, PRIMARY),
        expression(
            "(27ft3 * (1 - 5%) - 610lb / (3.15 * 62.4lb / 1ft3) - 305lb / (62.4lb / 1ft3) \
             - 1735lb / (2.60 * 62.4lb / 1ft3)) * 2.65 * 62.4lb / 1ft3",
            "lb",
        ),
    ),
    physics(
        "Y1",
        "the whole batch with its 1152 lb of fine aggregate, ft3",
        (27.0, 0.01),
        (NAVY, DERIVED),
        || batch(&[STONES[0], STONES[1], (1152.0, 2.65)], 305.0, 5.0),
    ),
    row(
        "Y2",
        "cement for 305 lb of water at a ratio of 0.50, lb",
        (610.0, 1e-9),
        (NAVY_FRONT, PRIMARY),
        expression("305lb / 0.50", "lb"),
    ),
    row(
        "Y2",
        "ratio of water to cement: the least of 0.59 by strength and 0.50 by exposure",
        (0.50, EXACT),
        (NAVY_FRONT, PRIMARY),
        expression("min(0.59, 0.50)", "1"),
    ),
    row(
        "Y2",
        "coarse aggregate: 0.63 of a cubic yard, ft3",
        (17.01, 0.005),
        (NAVY_FRONT, PRIMARY),
        expression("0.63 * 1yd3", "ft3"),
    ),
    row(
        "Y2",
        "coarse aggregate: 0.63 of a cubic yard at 102 lb/ft3, lb",
        (1735.0, 0.5),
        (NAVY_FRONT, PRIMARY),
        expression("0.63 * 27ft3 * 102lb / 1ft3", "lb"),
    ),
    physics(
        "Y6",
        "absolute volume of a 94 lb sack, ft3",
        (0.478, 0.0005),
        (SCHOOL, REPRODUCTION),
        || absolute(94.0, 3.15),
    ),
    row(
        "Y6",
        "water, lb/gal",
        (8.33, 0.015),
        (SCHOOL, REPRODUCTION),
        expression("62.4lb / 1ft3", "lb/gal"),
    ),
    packs(
        "Y6",
        "a sack, loose, ft3: weight over density in portland-plaster",
        (1.0, EXACT),
        (SCHOOL, REPRODUCTION),
        |shipped| {
            let of = |keys, unit| shipped.factor(("portland-plaster", "bags", keys), unit);
            let weight = of(&["portland-cement", "weight"], "lb/bag")?;
            Some(weight / of(&["portland-cement", "density"], "lb/ft3")?)
        },
    ),
    factor(
        "Y6",
        "water in vertical-concrete, lb/ft3",
        (62.4, EXACT),
        (SCHOOL, REPRODUCTION),
        (
            ("vertical-concrete", "settings", &["water_density"]),
            "lb/ft3",
        ),
    ),
    factor(
        "Y6",
        "relative density of portland cement in vertical-concrete",
        (3.15, EXACT),
        (SCHOOL, REPRODUCTION),
        (
            (
                "vertical-concrete",
                "constituents",
                &["finish-mix", "cement", "relative_density"],
            ),
            "1",
        ),
    ),
    row(
        "Y6",
        "gallons in a cubic foot, printed as 7.5",
        (7.5, 0.05),
        (SCHOOL, REPRODUCTION),
        expression("1ft3", "gal"),
    ),
    physics(
        "Y7",
        "yield of cement, water and coarse aggregate of Y1: sum of W/(SG x 62.4), ft3",
        (3.10 + 4.89 + 10.69, 0.015),
        ("engineering formula collection", DERIVED),
        || batch(&STONES, 305.0, 0.0),
    ),
    physics(
        "Y8",
        "yield of 3902 lb at 144.5 lb/ft3, ft3",
        (27.003, 0.0005),
        (C138, MEMORY),
        || at_density(3902.0, 144.5),
    ),
    physics(
        "Y8",
        "relative yield of the same against 27 ft3",
        (1.0001, 0.00005),
        (C138, MEMORY),
        || {
            let mut tape = Tape::new();
            let of = [(at_density(3902.0, 144.5)?, "ft3"), (27.0, "ft3")];
            let [found, designed] = all_given(&mut tape, of)?;
            let found = relative_yield(&mut tape, found, designed, None);
            shown(&tape, found, "1")
        },
    ),
    physics(
        "Y8",
        "cement content of 610 lb in the same, lb/yd3",
        (609.9, 0.05),
        (C138, DERIVED),
        || {
            let mut tape = Tape::new();
            let of = [(610.0, "lb"), (at_density(3902.0, 144.5)?, "ft3")];
            let [cement, volume] = all_given(&mut tape, of)?;
            let found = cement_content(&mut tape, cement, volume, None);
            shown(&tape, found, "lb/yd3")
        },
    ),
    physics(
        "Y9",
        "yield of a 40 lb bag at 133 lb/ft3, ft3",
        (0.30, 0.005),
        (THUMB, WEAK),
        || at_density(40.0, 133.0),
    ),
    physics(
        "Y9",
        "yield of a 60 lb bag at 133 lb/ft3, ft3",
        (0.45, 0.005),
        (THUMB, WEAK),
        || at_density(60.0, 133.0),
    ),
    physics(
        "Y9",
        "yield of an 80 lb bag at 133 lb/ft3, ft3",
        (0.60, 0.005),
        (THUMB, WEAK),
        || at_density(80.0, 133.0),
    ),
    row(
        "Y9",
        "60 lb bags for a cubic yard",
        (60.0, 0.5),
        (THUMB, WEAK),
        expression("1yd3 / (60lb / (133lb / 1ft3))", "1"),
    ),
    row(
        "Y9",
        "40 lb bags for a cubic yard",
        (90.0, 0.5),
        (THUMB, WEAK),
        expression("1yd3 / (40lb / (133lb / 1ft3))", "1"),
    ),
    row(
        "Y9",
        "80 lb bags for a cubic yard",
        (45.0, 0.5),
        (THUMB, WEAK),
        expression("1yd3 / (80lb / (133lb / 1ft3))", "1"),
    ),
    bags("494.2 bags, bought whole", 495.0, || Some(494.2)),
    bags("the bags of V22, bought whole", 11.0, || {
        bought("tutorial4")
    }),
    bags(
        "the bags of V23, bought whole; one tutorial rounds 9.22 down to 9",
        10.0,
        || bought("tutorial5"),
    ),
    bags("0.85 bags, bought whole", 1.0, || Some(0.85)),
    factor(
        "Y11",
        "most pigment in portland-plaster, % of the cement",
        (10.0, EXACT),
        (C979, PRIMARY),
        (("portland-plaster", "settings", &["pigment_limit"]), "%"),
    ),
    physics(
        "Y11",
        "6 and 4 % of two pigments, each up to 10 %: over",
        (0.0, EXACT),
        (C979, PRIMARY),
        || over(&[(6.0, 10.0), (4.0, 10.0)]),
    ),
    physics(
        "Y11",
        "6 and 4.1 % of two pigments, each up to 10 %: over together",
        (1.0, EXACT),
        (C979, PRIMARY),
        || over(&[(6.0, 10.0), (4.1, 10.0)]),
    ),
    physics(
        "Y11",
        "6 and 1 % of two pigments, the first up to 5 %: over its own cap",
        (1.0, EXACT),
        (C979, PRIMARY),
        || over(&[(6.0, 5.0), (1.0, 10.0)]),
    ),
    physics(
        "Y11",
        "most pigment for a 94 lb sack of cement, lb",
        (9.4, 1e-9),
        (C979, PRIMARY),
        || pigment(94.0),
    ),
];
