//! Group J: limits of the law on dust and scaffolds as they are said and looked at, and the tables
//! of the lifting equation in the packs.

use super::{EXACT, PRIMARY, REPRODUCTION, Row, WEAK, expression, factor, packs, physics, row};
use crate::checks::shipped::{Case, Of, PLASTER, Shipped, VERTICAL};
use crate::physics::lifting::{Duration, frequency_multiplier};

const SILICA: &str = "29 CFR 1926.1153";
const TABLE_1: &str = "29 CFR 1926.1153 Table 1";
const GRINDERS: &str = "29 CFR 1926.1153 Table 1 (xi), (xii)";
const FALL: &str = "29 CFR 1926.451(g)(1)";
const ACCESS: &str = "29 CFR 1926.451(e)(1)";
const STRENGTH: &str = "29 CFR 1926.451(a)(1), (f)(16)";
const NIOSH: &str = "NIOSH 94-110";
const TABLE_5: &str = "NIOSH 94-110 table 5";
const SKIN: &str = "NIOSH-funded CPWR, Employer's guide to skin protection (2000)";

/// A number of a caution that both packs say alike.
const fn told(
    id: &'static str,
    what: &'static str,
    expected: f64,
    from: (&'static str, &'static str),
    formula: fn(&Shipped) -> Option<f64>,
) -> Row {
    packs(id, what, (expected, EXACT), from, formula)
}

/// Whether a caution is said of a face of a pack.
fn cautioned(shipped: &Shipped, pack: &'static str, face: &str, key: &'static str) -> Option<f64> {
    let finish = if pack == PLASTER {
        "technique float  thickness 1/8in"
    } else {
        "technique stamp  thickness 3/4in"
    };
    let case = Case {
        pack,
        edits: &[],
        job: "",
        finish,
        on: ("block", face),
    };
    shipped.plan(&case, Of::Caution(key), "1")
}

/// A number of table `lifting` of vertical-concrete.
const fn lifting(
    what: &'static str,
    (expected, unit): (f64, &'static str),
    keys: &'static [&'static str],
) -> Row {
    factor(
        "S11",
        what,
        (expected, EXACT),
        (NIOSH, PRIMARY),
        ((VERTICAL, "lifting", keys), unit),
    )
}

/// A frequency multiplier in the table of vertical-concrete.
const fn pace(what: &'static str, expected: f64, keys: &'static [&'static str]) -> Row {
    factor(
        "S16",
        what,
        (expected, EXACT),
        (TABLE_5, REPRODUCTION),
        ((VERTICAL, "lifting_pace", keys), "1"),
    )
}

/// A frequency multiplier of the physics.
const fn formula(what: &'static str, expected: f64, of: fn() -> Option<f64>) -> Row {
    physics("S16", what, (expected, EXACT), (TABLE_5, REPRODUCTION), of)
}

pub(super) const ROWS: &[Row] = &[
    told(
        "S1",
        "permissible silica over 8 h, as it is said, ug/m3",
        50.0,
        (SILICA, REPRODUCTION),
        |shipped| shipped.agreed("cautions", &["silica", "text"], ["Limits are ", " and,"]),
    ),
    told(
        "S1",
        "action level, as it is said, ug/m3",
        25.0,
        (SILICA, REPRODUCTION),
        |shipped| shipped.agreed("cautions", &["silica", "text"], ["for action, ", " ug/m3"]),
    ),
    told(
        "S2",
        "saw cut wet outdoors without a respirator, up to, h a shift",
        4.0,
        (TABLE_1, PRIMARY),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["silica-grinding", "text"],
                ["cut wet: up to ", " h a shift outdoors"],
            )
        },
    ),
    told(
        "S2",
        "the same longer or indoors: APF",
        10.0,
        (TABLE_1, PRIMARY),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["silica-grinding", "text"],
                ["longer or indoors with APF ", ". Grinders"],
            )
        },
    ),
    told(
        "S4",
        "tasks of Table 1, as it is said",
        18.0,
        (TABLE_1, REPRODUCTION),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["silica", "text"],
                [
                    "set controls for ",
                    " tasks; mixing dry mortar is not among them",
                ],
            )
        },
    ),
    told(
        "S5",
        "grinder indoors over 4 h: APF",
        10.0,
        (GRINDERS, super::MEMORY),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["silica-grinding", "text"],
                ["indoors over 4 h APF ", ","],
            )
        },
    ),
    told(
        "S5",
        "grinder taking out mortar, up to 4 h: APF",
        10.0,
        (GRINDERS, super::MEMORY),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["silica-grinding", "text"],
                ["taking out mortar APF ", ","],
            )
        },
    ),
    told(
        "S5",
        "grinder taking out mortar, over 4 h: APF",
        25.0,
        (GRINDERS, super::MEMORY),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["silica-grinding", "text"],
                [", over 4 h APF ", "."],
            )
        },
    ),
    factor(
        "S6",
        "fall protection over, vertical-concrete, ft",
        (10.0, EXACT),
        (FALL, REPRODUCTION),
        ((VERTICAL, "settings", &["fall_protection"]), "ft"),
    ),
    packs(
        "S6",
        "vertical-concrete, work up to exactly 10 ft: fall protection asked for",
        (0.0, EXACT),
        (FALL, REPRODUCTION),
        |shipped| cautioned(shipped, VERTICAL, "rect 10ft x 10ft", "fall-protection"),
    ),
    packs(
        "S6",
        "vertical-concrete, work up to 10.01 ft: fall protection asked for",
        (1.0, EXACT),
        (FALL, REPRODUCTION),
        |shipped| cautioned(shipped, VERTICAL, "rect 10ft x 10.01ft", "fall-protection"),
    ),
    factor(
        "S6",
        "fall protection over, portland-plaster, ft",
        (10.0, EXACT),
        (FALL, REPRODUCTION),
        ((PLASTER, "settings", &["fall_protection"]), "ft"),
    ),
    packs(
        "S6",
        "portland-plaster, work up to exactly 10 ft: fall protection asked for",
        (0.0, EXACT),
        (FALL, REPRODUCTION),
        |shipped| cautioned(shipped, PLASTER, "rect 10ft x 10ft", "fall-protection"),
    ),
    packs(
        "S6",
        "portland-plaster, work up to 10.01 ft: fall protection asked for",
        (1.0, EXACT),
        (FALL, REPRODUCTION),
        |shipped| cautioned(shipped, PLASTER, "rect 10ft x 10.01ft", "fall-protection"),
    ),
    told(
        "S6",
        "the same as it is said, ft",
        10.0,
        (FALL, REPRODUCTION),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["fall-protection", "text"],
                ["anyone more than ", " ft"],
            )
        },
    ),
    factor(
        "S7",
        "platform over or under its access, more than, vertical-concrete, ft",
        (2.0, EXACT),
        (ACCESS, REPRODUCTION),
        ((VERTICAL, "settings", &["access_step"]), "ft"),
    ),
    factor(
        "S7",
        "platform over or under its access, more than, portland-plaster, ft",
        (2.0, EXACT),
        (ACCESS, REPRODUCTION),
        ((PLASTER, "settings", &["access_step"]), "ft"),
    ),
    told(
        "S7",
        "the same as it is said, ft",
        2.0,
        (ACCESS, REPRODUCTION),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["scaffold-access", "text"],
                ["more than ", " ft"],
            )
        },
    ),
    told(
        "S7",
        "rest platforms, at most, as it is said, ft",
        35.0,
        (ACCESS, REPRODUCTION),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["scaffold-access", "text"],
                ["rest platforms ", " ft apart"],
            )
        },
    ),
    told(
        "S8",
        "times its load that scaffold must carry, as it is said",
        4.0,
        (STRENGTH, PRIMARY),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["scaffold-strength", "text"],
                ["carry itself and ", " times"],
            )
        },
    ),
    told(
        "S8",
        "sag of a platform to its span, as it is said",
        1.0 / 60.0,
        (STRENGTH, WEAK),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["scaffold-strength", "text"],
                ["may sag by ", " of its span"],
            )
        },
    ),
    told(
        "S8",
        "sag on 7 ft, as it is said, in",
        1.4,
        (STRENGTH, WEAK),
        |shipped| {
            shipped.agreed(
                "cautions",
                &["scaffold-strength", "text"],
                ["at most: ", " in on 7 ft"],
            )
        },
    ),
    row(
        "S8",
        "7 ft over 60, in",
        (1.4, EXACT),
        (STRENGTH, WEAK),
        expression("7ft / 60", "in"),
    ),
    lifting(
        "load constant of vertical-concrete, lb",
        (51.0, "lb"),
        &["load_constant"],
    ),
    lifting(
        "reach that counts as one, in",
        (10.0, "in"),
        &["reach_base"],
    ),
    lifting("best height, in", (30.0, "in"), &["height_base"]),
    lifting(
        "loss for an inch off it",
        (0.0075, "1/in"),
        &["height_slope"],
    ),
    lifting(
        "constant part of the distance multiplier",
        (0.82, "1"),
        &["distance_share"],
    ),
    lifting(
        "the same, part over the distance, in",
        (1.8, "in"),
        &["distance_length"],
    ),
    lifting(
        "loss for a degree of turning",
        (0.0032, "1"),
        &["twist_slope"],
    ),
    packs(
        "S11",
        "rows of table lifting in which the packs differ",
        (0.0, EXACT),
        (NIOSH, PRIMARY),
        |shipped| shipped.differing("lifting"),
    ),
    packs(
        "S16",
        "rows of table lifting_pace in which the packs differ",
        (0.0, EXACT),
        (TABLE_5, REPRODUCTION),
        |shipped| shipped.differing("lifting_pace"),
    ),
    pace(
        "0.2 lifts a minute, up to 1 h, vertical-concrete",
        1.00,
        &["short", "0.2"],
    ),
    pace(
        "0.5 lifts a minute, up to 1 h, vertical-concrete",
        0.97,
        &["short", "0.5"],
    ),
    pace(
        "1 lifts a minute, up to 1 h, vertical-concrete",
        0.94,
        &["short", "1"],
    ),
    pace(
        "2 lifts a minute, up to 1 h, vertical-concrete",
        0.91,
        &["short", "2"],
    ),
    pace(
        "3 lifts a minute, up to 1 h, vertical-concrete",
        0.88,
        &["short", "3"],
    ),
    pace(
        "4 lifts a minute, up to 1 h, vertical-concrete",
        0.84,
        &["short", "4"],
    ),
    pace(
        "5 lifts a minute, up to 1 h, vertical-concrete",
        0.80,
        &["short", "5"],
    ),
    pace(
        "6 lifts a minute, up to 1 h, vertical-concrete",
        0.75,
        &["short", "6"],
    ),
    formula("0.2 lifts a minute, up to 1 h, the formula", 1.00, || {
        frequency_multiplier(0.2, Duration::Short)
    }),
    formula("0.5 lifts a minute, up to 1 h, the formula", 0.97, || {
        frequency_multiplier(0.5, Duration::Short)
    }),
    formula("1 lifts a minute, up to 1 h, the formula", 0.94, || {
        frequency_multiplier(1.0, Duration::Short)
    }),
    formula("2 lifts a minute, up to 1 h, the formula", 0.91, || {
        frequency_multiplier(2.0, Duration::Short)
    }),
    formula("4 lifts a minute, up to 1 h, the formula", 0.84, || {
        frequency_multiplier(4.0, Duration::Short)
    }),
    formula("5 lifts a minute, up to 1 h, the formula", 0.80, || {
        frequency_multiplier(5.0, Duration::Short)
    }),
    formula("6 lifts a minute, up to 1 h, the formula", 0.75, || {
        frequency_multiplier(6.0, Duration::Short)
    }),
    pace(
        "0.2 lifts a minute, up to 2 h, vertical-concrete",
        0.95,
        &["long", "0.2"],
    ),
    pace(
        "0.5 lifts a minute, up to 2 h, vertical-concrete",
        0.92,
        &["long", "0.5"],
    ),
    pace(
        "1 lifts a minute, up to 2 h, vertical-concrete",
        0.88,
        &["long", "1"],
    ),
    pace(
        "2 lifts a minute, up to 2 h, vertical-concrete",
        0.84,
        &["long", "2"],
    ),
    pace(
        "3 lifts a minute, up to 2 h, vertical-concrete",
        0.79,
        &["long", "3"],
    ),
    formula("0.2 lifts a minute, up to 2 h, the formula", 0.95, || {
        frequency_multiplier(0.2, Duration::Moderate)
    }),
    formula("0.5 lifts a minute, up to 2 h, the formula", 0.92, || {
        frequency_multiplier(0.5, Duration::Moderate)
    }),
    formula("1 lifts a minute, up to 2 h, the formula", 0.88, || {
        frequency_multiplier(1.0, Duration::Moderate)
    }),
    formula("2 lifts a minute, up to 2 h, the formula", 0.84, || {
        frequency_multiplier(2.0, Duration::Moderate)
    }),
    told(
        "S17",
        "pH of wet cement from, as it is said",
        12.0,
        (SKIN, PRIMARY),
        |shipped| shipped.agreed("cautions", &["wet-cement", "text"], ["(pH ", " to "]),
    ),
    told("S17", "the same up to", 13.0, (SKIN, PRIMARY), |shipped| {
        shipped.agreed("cautions", &["wet-cement", "text"], ["(pH 12 to ", ")"])
    }),
];
