//! Group K: the chain from cost to price, and how sure an estimate is.

use super::super::priced::Bid;
use super::{DERIVED, EXACT, MEMORY, REPRODUCTION, Row, WEAK, row};
use crate::checks::Way;
use crate::price::Estimate;
use parge_base::Money;

const DAR: &str = "CPWD DAR 2019 vol. 2, SH 13";
const OLDER: &str = "CPWD DAR of an earlier year, the item before 13.19";
const TUTORIAL: &str = "published tutorial on plaster rates";
const IDENTITY: &str = "identity m = k / (1 + k)";
const AACE: &str = "AACE International RP 18R-97, table 1";
const WALL: &str = "Panko and Sprague, \"Hitting the Wall\" (1998): the wall task";

/// Square metres that an analysis is made for; its price of one is printed.
const OF: f64 = 10.0;
/// Half a unit of the last of four rounded lines each, where the publication rounds none of them.
const LINES: f64 = 0.02;

/// CPWD rounds a price of 1 m2 to 0.05, which is 0.50 for the 10 m2 that are reckoned.
const CPWD: Bid = Bid {
    by_shares: true,
    currency: "INR",
    job: "units metric  bid { round to 0.50 INR }",
    finish: ("lump", "technique plain  thickness 12mm"),
    face: "rect 5m x 2m",
    prices: &[],
};

/// Item 13.1.1, with all that it is made of.
const CEMENT_12: Bid = Bid {
    finish: ("cement12", "technique plain  thickness 12mm"),
    prices: &[
        ("mortar", 0.001, "m3", "3.52885"),
        ("mason", 0.01, "shift", "7.09"),
        ("labourer", 0.01, "shift", "5.58"),
        ("water-carrier", 0.01, "shift", "6.17"),
        ("sundries", 0.01, "unit", "0.02"),
    ],
    ..CPWD
};

/// A bid at a direct cost.
const fn lump(job: &'static str, currency: &'static str, prices: Prices) -> Bid {
    Bid {
        by_shares: false,
        currency,
        job,
        prices,
        ..CPWD
    }
}

const fn cpwd(prices: Prices) -> Bid {
    Bid { prices, ..CPWD }
}

type Prices = &'static [(&'static str, f64, &'static str, &'static str)];

const COST_80_000: Prices = &[("work", 1.0, "lot", "80000")];

const fn wall(prices: Prices) -> Bid {
    Bid {
        by_shares: false,
        currency: "USD",
        job: "crew 2  bid { burden 20%  profit markup 30% }",
        finish: ("wall", "technique laid  thickness 2ft"),
        face: "rect 20ft x 6ft",
        prices,
    }
}

type Asked = fn(&Estimate) -> Option<f64>;

const fn bid(
    id: &'static str,
    what: &'static str,
    published: (f64, f64),
    from: (&'static str, &'static str),
    way: (Bid, Asked),
) -> Row {
    row(id, what, published, from, Way::Bid(way.0, way.1))
}

fn total(estimate: &Estimate) -> Option<f64> {
    Some(estimate.price.total.to_f64())
}

fn before_rounding(estimate: &Estimate) -> Option<f64> {
    let price = &estimate.price;
    let before = price.total.minus(price.rounding).ok()?;
    Some(before.to_f64())
}

fn of_one(estimate: &Estimate) -> Option<f64> {
    Some(total(estimate)? / OF)
}

/// The profit as a share of the price, in percent.
fn margin(estimate: &Estimate) -> Option<f64> {
    let price = &estimate.price;
    Some(price.profit.to_f64() / price.total.to_f64() * 100.0)
}

/// The profit as a share of the cost, in percent.
fn markup(estimate: &Estimate) -> Option<f64> {
    let price = &estimate.price;
    Some(price.profit.to_f64() / price.materials.to_f64() * 100.0)
}

/// How far a limit of the expected range lies from the total, in percent.
fn away(estimate: &Estimate, limit: fn(&Estimate) -> Option<Money>) -> Option<f64> {
    let total = estimate.price.total;
    let away = limit(estimate)?.minus(total).ok()?;
    Some(away.to_f64() / total.to_f64() * 100.0)
}

/// The price of 1 m2 at a direct cost for 10.
const fn closure(what: &'static str, published: f64, prices: Prices) -> Row {
    bid(
        "P2",
        what,
        (published, EXACT),
        (DAR, REPRODUCTION),
        (cpwd(prices), of_one),
    )
}

/// The margin that a markup is.
const fn conversion(what: &'static str, job: &'static str, published: f64) -> Row {
    bid(
        "P7",
        what,
        (published, 0.05),
        (IDENTITY, WEAK),
        (lump(job, "USD", COST_80_000), margin),
    )
}

const fn limit(
    (id, how_sure): (&'static str, &'static str),
    what: &'static str,
    job: &'static str,
    published: f64,
    asked: Asked,
) -> Row {
    bid(
        id,
        what,
        (published, EXACT),
        (AACE, how_sure),
        (lump(job, "USD", COST_80_000), asked),
    )
}

const OUTER: (&str, &str) = ("P8", REPRODUCTION);
const INNER: (&str, &str) = ("P9", MEMORY);

const LOW: Asked = |estimate| away(estimate, |estimate| Some(estimate.range?.outer[0]));
const HIGH: Asked = |estimate| away(estimate, |estimate| Some(estimate.range?.outer[1]));
const BEST_LOW: Asked = |estimate| away(estimate, |estimate| Some(estimate.range?.inner[0]));
const BEST_HIGH: Asked = |estimate| away(estimate, |estimate| Some(estimate.range?.inner[1]));

const CLASSES: [&str; 5] = [
    "bid { contingency 0%  class 1 }",
    "bid { contingency 0%  class 2 }",
    "bid { contingency 0%  class 3 }",
    "bid { contingency 0%  class 4 }",
    "bid { contingency 0%  class 5 }",
];

pub(super) const ROWS: &[Row] = &[
    bid(
        "P1",
        "direct cost of 10 m2 of item 13.1.1, INR: mortar, three trades, sundries",
        (1994.54, EXACT),
        (DAR, REPRODUCTION),
        (CEMENT_12, |estimate| {
            Some(estimate.price.materials.to_f64())
        }),
    ),
    bid(
        "P1",
        "the same with water, tax, profit and cess, INR",
        (2668.57, LINES),
        (DAR, REPRODUCTION),
        (CEMENT_12, before_rounding),
    ),
    bid(
        "P1",
        "the same for 1 m2, rounded to 0.05, INR",
        (266.85, EXACT),
        (DAR, REPRODUCTION),
        (CEMENT_12, of_one),
    ),
    closure(
        "1 m2 of item 13.2.1 at a direct cost of 2301.25 for 10, INR",
        307.9,
        &[("work", 1.0, "lot", "2301.25")],
    ),
    closure(
        "1 m2 of item 13.3.1 at a direct cost of 2730.00 for 10, INR",
        365.25,
        &[("work", 1.0, "lot", "2730.00")],
    ),
    closure(
        "1 m2 of item 13.4.1 at a direct cost of 2063.88 for 10, INR",
        276.15,
        &[("work", 1.0, "lot", "2063.88")],
    ),
    closure(
        "1 m2 of item 13.11 at a direct cost of 2984.52 for 10, INR",
        399.3,
        &[("work", 1.0, "lot", "2984.52")],
    ),
    closure(
        "1 m2 of item 13.27 at a direct cost of 637.14 for 10, INR",
        85.25,
        &[("work", 1.0, "lot", "637.14")],
    ),
    bid(
        "P3",
        "366.82 and 1 %, INR",
        (370.49, EXACT),
        (OLDER, REPRODUCTION),
        (
            lump(
                "units metric  bid { overhead 1%  profit markup 15%  round to 0.50 INR }",
                "INR",
                &[("work", 1.0, "lot", "366.82")],
            ),
            |estimate| {
                let price = &estimate.price;
                Some(price.materials.plus(price.overhead).ok()?.to_f64())
            },
        ),
    ),
    bid(
        "P3",
        "the same and 15 %, INR",
        (426.06, EXACT),
        (OLDER, REPRODUCTION),
        (
            lump(
                "units metric  bid { overhead 1%  profit markup 15%  round to 0.50 INR }",
                "INR",
                &[("work", 1.0, "lot", "366.82")],
            ),
            before_rounding,
        ),
    ),
    bid(
        "P3",
        "the same for 1 m2, rounded to 0.05, INR",
        (42.6, EXACT),
        (OLDER, REPRODUCTION),
        (
            lump(
                "units metric  bid { overhead 1%  profit markup 15%  round to 0.50 INR }",
                "INR",
                &[("work", 1.0, "lot", "366.82")],
            ),
            of_one,
        ),
    ),
    bid(
        "P5",
        "7,768 and 1 %",
        (7845.68, EXACT),
        (TUTORIAL, WEAK),
        (
            lump(
                "bid { overhead 1%  contingency 2%  profit markup 25% }",
                "INR",
                &[("work", 1.0, "lot", "7768")],
            ),
            |estimate| {
                let price = &estimate.price;
                Some(price.materials.plus(price.overhead).ok()?.to_f64())
            },
        ),
    ),
    bid(
        "P5",
        "the same and 2 %",
        (8002.59, EXACT),
        (TUTORIAL, WEAK),
        (
            lump(
                "bid { overhead 1%  contingency 2%  profit markup 25% }",
                "INR",
                &[("work", 1.0, "lot", "7768")],
            ),
            |estimate| {
                let price = &estimate.price;
                let cost = price.materials.plus(price.overhead).ok()?;
                Some(cost.plus(price.contingency).ok()?.to_f64())
            },
        ),
    ),
    bid(
        "P5",
        "the same and 25 % (10,003.24, which is cut off)",
        (10003.23, 0.01),
        (TUTORIAL, WEAK),
        (
            lump(
                "bid { overhead 1%  contingency 2%  profit markup 25% }",
                "INR",
                &[("work", 1.0, "lot", "7768")],
            ),
            total,
        ),
    ),
    bid(
        "P5",
        "the same for 1 of 100",
        (100.03, 0.005),
        (TUTORIAL, WEAK),
        (
            lump(
                "bid { overhead 1%  contingency 2%  profit markup 25% }",
                "INR",
                &[("work", 1.0, "lot", "7768")],
            ),
            |estimate| Some(total(estimate)? / 100.0),
        ),
    ),
    bid(
        "P6",
        "price at a cost of 80,000 and a margin of 20 %",
        (100000.0, EXACT),
        ("identity: price = cost / (1 - margin)", WEAK),
        (lump("bid { profit margin 20% }", "USD", COST_80_000), total),
    ),
    bid(
        "P6",
        "price at the same cost and a markup of 20 %",
        (96000.0, EXACT),
        ("identity: price = cost / (1 - margin)", WEAK),
        (lump("bid { profit markup 20% }", "USD", COST_80_000), total),
    ),
    bid(
        "P6",
        "the margin of that price, %",
        (16.7, 0.05),
        ("identity: price = cost / (1 - margin)", WEAK),
        (
            lump("bid { profit markup 20% }", "USD", COST_80_000),
            margin,
        ),
    ),
    conversion(
        "margin that a markup of 10 % is, %",
        "bid { profit markup 10% }",
        9.1,
    ),
    conversion(
        "margin that a markup of 15 % is, %",
        "bid { profit markup 15% }",
        13.0,
    ),
    conversion(
        "margin that a markup of 20 % is, %",
        "bid { profit markup 20% }",
        16.7,
    ),
    conversion(
        "margin that a markup of 25 % is, %",
        "bid { profit markup 25% }",
        20.0,
    ),
    conversion(
        "margin that a markup of 30 % is, %",
        "bid { profit markup 30% }",
        23.1,
    ),
    conversion(
        "margin that a markup of 50 % is, %",
        "bid { profit markup 50% }",
        33.3,
    ),
    conversion(
        "margin that a markup of 100 % is, %",
        "bid { profit markup 100% }",
        50.0,
    ),
    bid(
        "P7",
        "markup that a margin of 40 % needs, %",
        (66.67, 0.005),
        (IDENTITY, DERIVED),
        (
            lump("bid { profit margin 40% }", "USD", COST_80_000),
            markup,
        ),
    ),
    limit(
        OUTER,
        "outer limit of class 5, low, % of the estimate",
        CLASSES[4],
        -50.0,
        LOW,
    ),
    limit(
        OUTER,
        "outer limit of class 5, high, % of the estimate",
        CLASSES[4],
        100.0,
        HIGH,
    ),
    limit(
        OUTER,
        "outer limit of class 4, low, % of the estimate",
        CLASSES[3],
        -30.0,
        LOW,
    ),
    limit(
        OUTER,
        "outer limit of class 4, high, % of the estimate",
        CLASSES[3],
        50.0,
        HIGH,
    ),
    limit(
        OUTER,
        "outer limit of class 3, low, % of the estimate",
        CLASSES[2],
        -20.0,
        LOW,
    ),
    limit(
        OUTER,
        "outer limit of class 3, high, % of the estimate",
        CLASSES[2],
        30.0,
        HIGH,
    ),
    limit(
        OUTER,
        "outer limit of class 2, low, % of the estimate",
        CLASSES[1],
        -15.0,
        LOW,
    ),
    limit(
        OUTER,
        "outer limit of class 2, high, % of the estimate",
        CLASSES[1],
        20.0,
        HIGH,
    ),
    limit(
        OUTER,
        "outer limit of class 1, low, % of the estimate",
        CLASSES[0],
        -10.0,
        LOW,
    ),
    limit(
        OUTER,
        "outer limit of class 1, high, % of the estimate",
        CLASSES[0],
        15.0,
        HIGH,
    ),
    limit(
        INNER,
        "inner limit of class 5, low, % of the estimate",
        CLASSES[4],
        -20.0,
        BEST_LOW,
    ),
    limit(
        INNER,
        "inner limit of class 5, high, % of the estimate",
        CLASSES[4],
        30.0,
        BEST_HIGH,
    ),
    limit(
        INNER,
        "inner limit of class 4, low, % of the estimate",
        CLASSES[3],
        -15.0,
        BEST_LOW,
    ),
    limit(
        INNER,
        "inner limit of class 4, high, % of the estimate",
        CLASSES[3],
        20.0,
        BEST_HIGH,
    ),
    limit(
        INNER,
        "inner limit of class 3, low, % of the estimate",
        CLASSES[2],
        -10.0,
        BEST_LOW,
    ),
    limit(
        INNER,
        "inner limit of class 3, high, % of the estimate",
        CLASSES[2],
        10.0,
        BEST_HIGH,
    ),
    limit(
        INNER,
        "inner limit of class 2, low, % of the estimate",
        CLASSES[1],
        -5.0,
        BEST_LOW,
    ),
    limit(
        INNER,
        "inner limit of class 2, high, % of the estimate",
        CLASSES[1],
        5.0,
        BEST_HIGH,
    ),
    limit(
        INNER,
        "inner limit of class 1, low, % of the estimate",
        CLASSES[0],
        -3.0,
        BEST_LOW,
    ),
    limit(
        INNER,
        "inner limit of class 1, high, % of the estimate",
        CLASSES[0],
        3.0,
        BEST_HIGH,
    ),
    bid(
        "P13",
        "price of the wall of lava rock at 3 for 1 ft3, USD: stone, 48 h of two, 20 % and 30 %",
        (1684.8, EXACT),
        (WALL, MEMORY),
        (
            wall(&[("stone", 1.0, "ft3", "3"), ("labour", 1.0, "h", "10")]),
            total,
        ),
    ),
    bid(
        "P13",
        "price of the wall of brick at 2 for 1 ft3, USD: stone, 48 h of two, 20 % and 30 %",
        (1372.8, EXACT),
        (WALL, MEMORY),
        (
            wall(&[("stone", 1.0, "ft3", "2"), ("labour", 1.0, "h", "10")]),
            total,
        ),
    ),
];
