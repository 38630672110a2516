//! Groups C and K: arithmetic of crews, days and learning.

use super::{DERIVED, EXACT, PRIMARY, Row, all_given, expression, physics, row, shown};
use crate::physics::labour::{
    Learning, duration, efficiency, learnt, learnt_total, man_days, productive_time,
};
use parge_base::Tape;

const NAVY: &str = "NAVEDTRA 14045 ch. 2, citing NAVFAC P-405";
const AVERAGE: &str = "accounting text, cumulative-average form";
const UNIT: &str = "Crawford, unit form";

/// The time of a piece, or the mean up to it, in hours, where the first takes 100 h, at 80 %.
fn learning(number: u32) -> Option<f64> {
    let mut tape = Tape::new();
    let [first, rate] = all_given(&mut tape, [(100.0, "h"), (80.0, "%")])?;
    let found = learnt(&mut tape, first, rate, number, None);
    shown(&tape, found, "h")
}

fn total(form: Learning, number: u32) -> Option<f64> {
    let mut tape = Tape::new();
    let of = all_given(&mut tape, [(100.0, "h"), (80.0, "%")])?;
    let found = learnt_total(&mut tape, form, of, number, None);
    shown(&tape, found, "h")
}

pub(super) const ROWS: &[Row] = &[
    physics(
        "L1",
        "16,000 ft2 at 33 hours for 1,000 ft2 and 8 h a day, man-days",
        (66.0, 1e-9),
        (NAVY, PRIMARY),
        || {
            let mut tape = Tape::new();
            let of = [
                (16_000.0, "ft2"),
                (1000.0, "ft2"),
                (33.0, "h"),
                (8.0, "h"),
                (1.0, "1"),
            ];
            let of = all_given(&mut tape, of)?;
            let found = man_days(&mut tape, of, None);
            shown(&tape, found, "1")
        },
    ),
    physics(
        "L2",
        "efficiency of a site, eight elements rated by us at 25 to 100 %, %: their mean",
        (67.0, EXACT),
        (NAVY, DERIVED),
        || {
            let mut tape = Tape::new();
            let of = [25.0, 50.0, 61.0, 70.0, 75.0, 75.0, 80.0, 100.0].map(|rate| (rate, "%"));
            let of = all_given(&mut tape, of)?;
            let found = efficiency(&mut tape, &of, None);
            shown(&tape, found, "%")
        },
    ),
    physics(
        "L2",
        "hours that are worked of 8 at the Navy's mean of 67 %",
        (5.36, EXACT),
        (NAVY, DERIVED),
        || {
            let mut tape = Tape::new();
            let [paid, share] = all_given(&mut tape, [(8.0, "h"), (67.0, "%")])?;
            let found = productive_time(&mut tape, paid, share, None);
            shown(&tape, found, "h")
        },
    ),
    row(
        "L3",
        "what 4 people at 75 % can do in 22 days: DL x WD x ME x AF, man-days",
        (66.0, EXACT),
        (NAVY, DERIVED),
        expression("4 * 22 * 1.0 * 75%", "1"),
    ),
    physics(
        "L3",
        "66 man-days by 4 people at 75 % availability, days",
        (22.0, 1e-9),
        (NAVY, DERIVED),
        || {
            let mut tape = Tape::new();
            let of = [(66.0, "1"), (4.0, "1"), (75.0, "%"), (1.0, "1")];
            let of = all_given(&mut tape, of)?;
            let found = duration(&mut tape, of, None);
            shown(&tape, found, "1")
        },
    ),
    physics(
        "P10",
        "learning at 80 %, cumulative-average form: mean of 16 pieces, first 100 h, h",
        (40.96, 1e-9),
        (AVERAGE, PRIMARY),
        || learning(16),
    ),
    physics(
        "P10",
        "the same: all 16 pieces, h",
        (655.36, 1e-9),
        (AVERAGE, PRIMARY),
        || total(Learning::CumulativeAverage, 16),
    ),
    physics(
        "P11",
        "learning at 80 %, unit form: the third piece, h",
        (70.21, 0.005),
        (UNIT, DERIVED),
        || learning(3),
    ),
    physics(
        "P11",
        "the same: the fifth piece, h",
        (59.56, 0.005),
        (UNIT, DERIVED),
        || learning(5),
    ),
    physics(
        "P11",
        "the same: the first four pieces, h (256 in the other form)",
        (314.21, 0.005),
        (UNIT, DERIVED),
        || total(Learning::Unit, 4),
    ),
];
