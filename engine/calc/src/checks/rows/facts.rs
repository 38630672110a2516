//! Common practice of vertical concrete that stands in the tables of its pack. No publication is
//! behind these values: they are defaults for a company to replace.

use super::{EXACT, Row, factor};
use crate::checks::shipped::VERTICAL;

const SOURCE: &str = "common practice, no source";
const HOW_SURE: &str = "a default to replace by the data sheet and job records";

const fn fact(
    id: &'static str,
    what: &'static str,
    (expected, unit): (f64, &'static str),
    table: &'static str,
    keys: &'static [&'static str],
) -> Row {
    factor(
        id,
        what,
        (expected, EXACT),
        (SOURCE, HOW_SURE),
        ((VERTICAL, table, keys), unit),
    )
}

pub(super) const ROWS: &[Row] = &[
    fact(
        "F1",
        "water for a bag of finish mix, least, qt",
        (4.75, "qt/bag"),
        "mixes",
        &["finish-mix", "water_low"],
    ),
    fact(
        "F1",
        "the same, most, qt",
        (5.0, "qt/bag"),
        "mixes",
        &["finish-mix", "water_high"],
    ),
    fact("F2", "mixing, min", (2.0, "min"), "mixing", &["mix"]),
    fact("F2", "standing, min", (3.0, "min"), "mixing", &["rest"]),
    fact(
        "F3",
        "on the wall within, min of mixing",
        (20.0, "min"),
        "mixing",
        &["on_the_wall"],
    ),
    fact(
        "F3",
        "working time where no weather is stated, min",
        (20.0, "min"),
        "days",
        &["working_time"],
    ),
    fact(
        "F4",
        "bags that the mixer holds",
        (2.0, "bag"),
        "mixing",
        &["mixer"],
    ),
    fact(
        "F5",
        "stamped finish, least, in",
        (0.75, "in"),
        "techniques",
        &["stamp", "min_thickness"],
    ),
    fact(
        "F5",
        "stamped finish, most, in",
        (1.0, "in"),
        "techniques",
        &["stamp", "max_thickness"],
    ),
    fact(
        "F5",
        "rock, timber and bark built up, most, in",
        (3.0, "in"),
        "techniques",
        &["carve", "max_thickness"],
    ),
    fact(
        "F6",
        "built up at a time, most: a full hand-carve, in",
        (1.5, "in"),
        "coats",
        &["finish", "lift"],
    ),
    fact(
        "F7",
        "scratch coat goes on the day before: overnight, h",
        (16.0, "h"),
        "waits",
        &["scratch", "prime", "least"],
    ),
    fact(
        "F8",
        "layers of building paper on wood",
        (2.0, "1"),
        "substrates",
        &["wood", "paper_layers"],
    ),
    fact(
        "F9",
        "gypsum board is lathed over a total of, in",
        (1.0, "in"),
        "substrates",
        &["gypsum", "lath_over"],
    ),
];
