//! Group C: hours of the CPWD norms as portland-plaster reckons them, and the published rates that
//! the norms give (group K).

use super::{DERIVED, EXACT, REPRODUCTION, Row, WEAK, expression, packs, row};
use crate::checks::shipped::{Case, Edit, Of, PLASTER, Shipped};

const COATS: &str = "CPWD DAR 2019 13.1";
const DAR: &str = "CPWD DAR 2019";

/// The tender of a coat left out: what remains is the mason.
const NO_TENDER: &[Edit] = &[
    ("labour", "base,tender,0,h/m2,company,"),
    ("labour", "finish,tender,0,h/m2,company,"),
];
const NO_MASON: &[Edit] = &[
    ("labour", "base,plasterer,0,h/m2,company,"),
    ("labour", "finish,float,0,h/m2,company,"),
    ("labour", "finish,trowel,0,h/m2,company,"),
];

/// Hours of a phase for 10 m2 of two coats on masonry.
fn hours(shipped: &Shipped, edits: &[Edit], finish: &str, phase: &'static str) -> Option<f64> {
    on(shipped, edits, (finish, "rect 5m x 2m"), phase)
}

fn on(
    shipped: &Shipped,
    edits: &[Edit],
    (finish, face): (&str, &str),
    phase: &'static str,
) -> Option<f64> {
    let case = Case {
        pack: PLASTER,
        edits,
        job: "",
        finish,
        on: ("block", face),
    };
    shipped.plan(&case, Of::Hours(phase), "h")
}

const FLOAT: &str = "technique float  thickness 1/8in";
const TROWEL: &str = "technique trowel  thickness 1/8in";

/// Days of 8 h of one trade for the base coat, and with the finish coat.
fn base(shipped: &Shipped, edits: &[Edit]) -> Option<f64> {
    Some(hours(shipped, edits, FLOAT, "base")? / 8.0)
}

fn two_coats(shipped: &Shipped, edits: &[Edit]) -> Option<f64> {
    Some(base(shipped, edits)? + hours(shipped, edits, FLOAT, "finish")? / 8.0)
}

/// Hours of a curved face over those of a flat one of the same area.
fn curved_to_flat(shipped: &Shipped, radius: f64) -> Option<f64> {
    let width = radius * std::f64::consts::FRAC_PI_2;
    let bent = format!("arc radius {radius}m sweep 90deg x 2m");
    let flat = format!("rect {width}m x 2m");
    let bent = on(shipped, &[], (FLOAT, &bent), "base")?;
    Some(bent / on(shipped, &[], (FLOAT, &flat), "base")?)
}

const fn norm(
    id: &'static str,
    what: &'static str,
    published: (f64, f64),
    source: &'static str,
    formula: fn(&Shipped) -> Option<f64>,
) -> Row {
    packs(id, what, published, (source, REPRODUCTION), formula)
}

/// A published sum of money.
const fn money(id: &'static str, what: &'static str, expected: f64, text: &'static str) -> Row {
    row(
        id,
        what,
        (expected, 0.005),
        (DAR, REPRODUCTION),
        expression(text, "1"),
    )
}

/// A published rate for 1 m2, rounded to 0.05, from the direct cost of 10 m2.
const fn rate(what: &'static str, expected: f64, text: &'static str) -> Row {
    row(
        "P2",
        what,
        (expected, 0.025),
        (DAR, REPRODUCTION),
        expression(text, "1"),
    )
}

pub(super) const ROWS: &[Row] = &[
    norm(
        "L5",
        "mason for 10 m2 of the base coat in portland-plaster, days of 8 h",
        (0.67, 0.005),
        COATS,
        |shipped| base(shipped, NO_TENDER),
    ),
    norm(
        "L5",
        "the same: coolie, the tender there, days",
        (0.75, 0.005),
        COATS,
        |shipped| base(shipped, NO_MASON),
    ),
    money(
        "L6",
        "direct cost of 10 m2 of 15 mm from its norms of 0.80, 0.88 and 0.99 d (13.2.1)",
        2301.25,
        "0.172 * 3528.85 + 0.80 * 709 + 0.88 * 558 + 0.99 * 617 + 12.61 * 2",
    ),
    money(
        "L7",
        "direct cost of 10 m2 of 20 mm from its norms of 0.94, 1.02 and 1.10 d (13.3.1)",
        2730.00,
        "0.224 * 3528.85 + 0.94 * 709 + 1.02 * 558 + 1.10 * 617 + 12.61 * 2",
    ),
    norm(
        "L8",
        "mason for 10 m2 of two coats in portland-plaster, days of 8 h",
        (1.21, 0.005),
        "CPWD DAR 2019 13.11, 13.12",
        |shipped| two_coats(shipped, NO_TENDER),
    ),
    norm(
        "L8",
        "the same: coolie, the tender there, days",
        (1.29, 0.005),
        "CPWD DAR 2019 13.11, 13.12",
        |shipped| two_coats(shipped, NO_MASON),
    ),
    norm(
        "L8",
        "mason of two coats over mason of one",
        (1.81, 0.005),
        "CPWD DAR 2019 13.11, 13.1",
        |shipped| Some(two_coats(shipped, NO_TENDER)? / base(shipped, NO_TENDER)?),
    ),
    norm(
        "L9",
        "mason for 10 m2 of a floating coat: trowelled less floated in portland-plaster, days",
        (0.27, 0.005),
        "CPWD DAR 2019 13.7-13.10, 13.18",
        |shipped| {
            let finish = |finish| hours(shipped, NO_TENDER, finish, "finish");
            Some((finish(TROWEL)? - finish(FLOAT)?) / 8.0)
        },
    ),
    row(
        "L10",
        "labour of lining out 10 m2 as stone blocks, 0.50 d of mason and labourer, of the direct cost of 13.27; its sundries are not listed and taken as under 1 %",
        (637.14, 6.4),
        (DAR, DERIVED),
        expression("0.50 * 709 + 0.50 * 558", "1"),
    ),
    norm(
        "L10",
        "the same labour in h/ft2, as a note of vertical-concrete has it beside its carving",
        (8.0 / 107.6391, 0.0005),
        "CPWD DAR 2019 13.27: 1 d of 8 h for 10 m2",
        |shipped| {
            let keys = &["carve", "carve"];
            shipped.noted(
                ("vertical-concrete", "labour", keys),
                ["Lining out stone blocks alone is ", " h/ft2"],
            )
        },
    ),
    norm(
        "L14",
        "hours of a curved base coat of 6 m radius over flat ones: mason 0.20 on 0.67 d",
        (1.0 + 0.20 / 0.67, 0.005),
        "CPWD DAR 2019 13.23",
        |shipped| curved_to_flat(shipped, 6.0),
    ),
    norm(
        "L14",
        "the same over 6 m of radius",
        (1.0, EXACT),
        "CPWD DAR 2019 13.23",
        |shipped| curved_to_flat(shipped, 6.01),
    ),
    packs(
        "L15",
        "mason of the base coat, h/m2",
        (0.536, 0.0005),
        (COATS, DERIVED),
        |shipped| Some(hours(shipped, NO_TENDER, FLOAT, "base")? / 10.0),
    ),
    packs(
        "L15",
        "whole gang with 0.92 d of water carrier, h/m2",
        (1.872, 0.0005),
        (COATS, DERIVED),
        |shipped| Some((hours(shipped, &[], FLOAT, "base")? + 0.92 * 8.0) / 10.0),
    ),
    packs(
        "L15",
        "the same, h/ft2",
        (0.174, 0.0005),
        (COATS, DERIVED),
        |shipped| Some((hours(shipped, &[], FLOAT, "base")? + 0.92 * 8.0) / 107.6391),
    ),
    packs(
        "L18",
        "base coat of one mason in 8 h, m2",
        (14.9, 0.05),
        (COATS, DERIVED),
        |shipped| Some(80.0 / hours(shipped, NO_TENDER, FLOAT, "base")?),
    ),
    packs(
        "L18",
        "the same over the 8 m2 of task work: published rates disagree",
        (2.0, 0.2),
        ("task-work table", WEAK),
        |shipped| Some(10.0 / hours(shipped, NO_TENDER, FLOAT, "base")?),
    ),
    norm(
        "L19",
        "mixing 1 m3 of mortar: labour 0.75 and water carrier 0.07 d, days of 8 h",
        (0.82, 0.005),
        "IS 7272 Pt 1 labour constants; CPWD DAR SH 3",
        |shipped| {
            let one = &[("coats", "two-coat-masonry,base,10,mm,company,")];
            // 100 m2 under 10 ft high, 10 and 5 mm thick.
            let wall = "rect 100m x 1m";
            let of = |phase| {
                on(
                    shipped,
                    one,
                    ("technique float  thickness 5mm", wall),
                    phase,
                )
            };
            Some((of("mix-base")? + of("mix-finish")?) / 8.0 / 1.5)
        },
    ),
    money(
        "P1",
        "direct cost of 10 m2 of 12 mm from its norms (13.1.1)",
        1994.54,
        "0.144 * 3528.85 + 0.67 * 709 + 0.75 * 558 + 0.92 * 617 + 12.61 * 2",
    ),
    row(
        "P1",
        "its chain: water, tax, profit with overhead, cess",
        (1.3379377, 5e-8),
        (DAR, REPRODUCTION),
        expression("(1 + 1%) * (1 + 14.05%) * (1 + 15%) * (1 + 1%)", "1"),
    ),
    money(
        "P1",
        "10 m2 after the chain",
        2668.57,
        "1994.54 * 1.01 * 1.1405 * 1.15 * 1.01",
    ),
    rate(
        "rate of 12 mm for 1 m2, rounded to 0.05 (13.1.1)",
        266.85,
        "1994.54 * 1.01 * 1.1405 * 1.15 * 1.01 / 10",
    ),
    rate(
        "rate of 15 mm for 1 m2 (13.2.1)",
        307.90,
        "2301.25 * 1.01 * 1.1405 * 1.15 * 1.01 / 10",
    ),
    rate(
        "rate of 20 mm for 1 m2 (13.3.1)",
        365.25,
        "2730.00 * 1.01 * 1.1405 * 1.15 * 1.01 / 10",
    ),
    rate(
        "rate of 13.4.1 for 1 m2",
        276.15,
        "2063.88 * 1.01 * 1.1405 * 1.15 * 1.01 / 10",
    ),
    rate(
        "rate of 13.11 for 1 m2",
        399.30,
        "2984.52 * 1.01 * 1.1405 * 1.15 * 1.01 / 10",
    ),
    rate(
        "extra for lining out as stone blocks for 1 m2 (13.27)",
        85.25,
        "637.14 * 1.01 * 1.1405 * 1.15 * 1.01 / 10",
    ),
];
