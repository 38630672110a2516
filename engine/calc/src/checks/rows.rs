//! The published values, in groups; each group in the order of their numbers.

mod coats;
mod curing;
mod evaporation;
mod facts;
mod labour;
mod lath;
mod lifting;
mod maturity;
mod mixes;
mod mortar;
mod mouldings;
mod norms;
mod pricing;
mod safety;
mod sealing;
mod volume;
mod weight;

use super::Way;
use super::shipped::{Place, Shipped};
use crate::physics::Outcome;
use parge_base::{NodeId, Tape, Units};

/// All groups, in the order in which they are shown.
pub(super) const GROUPS: &[&[Row]] = &[
    ROWS,
    mortar::ROWS,
    mixes::ROWS,
    labour::ROWS,
    pricing::ROWS,
    norms::ROWS,
    volume::ROWS,
    coats::ROWS,
    curing::ROWS,
    mouldings::ROWS,
    lath::ROWS,
    evaporation::ROWS,
    maturity::ROWS,
    sealing::ROWS,
    weight::ROWS,
    lifting::ROWS,
    safety::ROWS,
    facts::ROWS,
];

/// A published value and the way to compute it.
pub(super) struct Row {
    pub(super) id: &'static str,
    pub(super) what: &'static str,
    pub(super) expected: f64,
    pub(super) tolerance: f64,
    pub(super) source: &'static str,
    pub(super) how_sure: &'static str,
    pub(super) way: Way,
}

pub(super) const PRIMARY: &str = "seen in the primary text";
pub(super) const REPRODUCTION: &str = "seen in a reproduction";
pub(super) const WEAK: &str = "seen on a weak page";
pub(super) const DERIVED: &str = "derived";
pub(super) const MEMORY: &str = "from memory";

const HB44: &str = "NIST Handbook 44, appendix C";
const SP811: &str = "NIST SP 811 (2008), appendix B";
const PCA: &str = "PCA-derived plaster FAQ: 324/t";
const GRIFFITH: &str = "I. S. Griffith, Carpentry, estimating table";
const MES: &str = "rate analysis for cement plaster, Pakistan MES-style schedule";
const TUTORIAL: &str = "published tutorial on plaster quantities";

const fn row(
    id: &'static str,
    what: &'static str,
    (expected, tolerance): (f64, f64),
    (source, how_sure): (&'static str, &'static str),
    way: Way,
) -> Row {
    Row {
        id,
        what,
        expected,
        tolerance,
        source,
        how_sure,
        way,
    }
}

/// A value of the physics.
const fn physics(
    id: &'static str,
    what: &'static str,
    published: (f64, f64),
    from: (&'static str, &'static str),
    formula: fn() -> Option<f64>,
) -> Row {
    row(id, what, published, from, Way::Physics(formula))
}

/// A number of a table of a pack of the program.
const fn factor(
    id: &'static str,
    what: &'static str,
    published: (f64, f64),
    from: (&'static str, &'static str),
    (place, unit): (Place, &'static str),
) -> Row {
    row(id, what, published, from, Way::Factor(place, unit))
}

/// A number in a text of a pack of the program, between two phrases.
const fn said(
    id: &'static str,
    what: &'static str,
    published: f64,
    from: (&'static str, &'static str),
    (place, around): (Place, [&'static str; 2]),
) -> Row {
    row(id, what, (published, EXACT), from, Way::Said(place, around))
}

/// What is worked out from packs of the program.
const fn packs(
    id: &'static str,
    what: &'static str,
    published: (f64, f64),
    from: (&'static str, &'static str),
    formula: fn(&Shipped) -> Option<f64>,
) -> Row {
    row(id, what, published, from, Way::Packs(formula))
}

/// How far a value that is stated and not reckoned may be from the published one.
const EXACT: f64 = 1e-9;

/// An input of a formula of the physics.
fn given(tape: &mut Tape, number: f64, unit: &str) -> Option<NodeId> {
    let quantity = Units::standard().parse(unit).ok()?.quantity(number).ok()?;
    Some(tape.literal(quantity, None))
}

/// Several of them.
fn all_given<const N: usize>(tape: &mut Tape, of: [(f64, &str); N]) -> Option<[NodeId; N]> {
    let found = of.map(|(number, unit)| given(tape, number, unit));
    let nodes: Vec<NodeId> = found.into_iter().collect::<Option<_>>()?;
    nodes.try_into().ok()
}

/// The figure of a formula in a unit.
fn shown(tape: &Tape, node: Outcome<NodeId>, unit: &str) -> Option<f64> {
    Units::standard()
        .parse(unit)
        .ok()?
        .show(tape.value(node.ok()?))
}

const fn expression(text: &'static str, unit: &'static str) -> Way {
    Way::Expression(text, unit)
}

const fn handbook(
    face: &'static str,
    thickness: &'static str,
    case: &'static str,
    (item, unit): (&'static str, &'static str),
) -> Way {
    Way::Handbook {
        face,
        thickness,
        case,
        item,
        unit,
    }
}

/// Coverage of a cubic yard at a thickness, in ft².
const fn coverage(what: &'static str, expected: f64, tolerance: f64, text: &'static str) -> Row {
    row(
        "V3",
        what,
        (expected, tolerance),
        (PCA, WEAK),
        expression(text, "ft2"),
    )
}

const WALL_100: &str = "rect 10m x 10m";
const ROOM: &str = "rect 5m x 3m";
const M_107: &str = "rect 107.6ft x 1ft";

const ROWS: &[Row] = &[
    row(
        "M15",
        "net area of a 100 ft2 wall with a 3 x 7 ft door, ft2",
        (79.0, 1e-9),
        (
            "Treatise on Architecture and Building Construction, vol. 4; Cyclopedia of Architecture, Carpentry and Building: net of the same example",
            DERIVED,
        ),
        Way::NetArea("rect 10ft x 10ft { opening door rect 3ft x 7ft }", "ft2"),
    ),
    row(
        "V1",
        "volume of 100 ft2 at 3/4 in, ft3: thickness times net area",
        (6.25, 1e-9),
        ("NAVEDTRA 14044, Builder 3&2 vol. 2, ch. 7", PRIMARY),
        handbook("rect 10ft x 10ft", "3/4in", "plain", ("mortar", "ft3")),
    ),
    row(
        "V2",
        "coverage of 1 ft3 at 7/8 in, ft2",
        (13.7, 0.05),
        (PCA, WEAK),
        expression("1ft3 / 7/8in", "ft2"),
    ),
    coverage(
        "coverage of 1 yd3 at 1/8 in, ft2",
        2592.0,
        1e-6,
        "1yd3 / 1/8in",
    ),
    coverage(
        "coverage of 1 yd3 at 1/4 in, ft2",
        1296.0,
        1e-6,
        "1yd3 / 1/4in",
    ),
    coverage(
        "coverage of 1 yd3 at 3/8 in, ft2",
        864.0,
        1e-6,
        "1yd3 / 3/8in",
    ),
    coverage(
        "coverage of 1 yd3 at 1/2 in, ft2",
        648.0,
        1e-6,
        "1yd3 / 1/2in",
    ),
    coverage(
        "coverage of 1 yd3 at 5/8 in, ft2",
        518.4,
        1e-6,
        "1yd3 / 5/8in",
    ),
    coverage(
        "coverage of 1 yd3 at 3/4 in, ft2",
        432.0,
        1e-6,
        "1yd3 / 3/4in",
    ),
    coverage(
        "coverage of 1 yd3 at 7/8 in, ft2",
        370.29,
        0.005,
        "1yd3 / 7/8in",
    ),
    coverage("coverage of 1 yd3 at 1 in, ft2", 324.0, 1e-6, "1yd3 / 1in"),
    row(
        "V5",
        "extra mean thickness for the key behind metal lath in the pack, in: 8 ft3 per 900 ft2",
        (8.0 / 900.0 * 12.0, 0.0005),
        (
            "Estimating in Building Construction, fig. 16.7: 8 ft3 per 900 ft2",
            PRIMARY,
        ),
        Way::Factor(
            ("vertical-concrete", "coats", &["scratch", "lath_key"]),
            "in",
        ),
    ),
    row(
        "V6",
        "cement by rule 38 for 1 yd3 of 1:3, sacks",
        (9.5, 1e-9),
        ("NAVEDTRA 14043; NAVEDTRA 14045 ch. 4", PRIMARY),
        handbook("rect 9ft x 9ft", "4in", "rule38", ("cement-bags", "bag")),
    ),
    row(
        "V6",
        "sand for the same, ft3",
        (28.5, 1e-9),
        ("NAVEDTRA 14043; NAVEDTRA 14045 ch. 4", PRIMARY),
        handbook("rect 9ft x 9ft", "4in", "rule38", ("sand", "ft3")),
    ),
    row(
        "V9",
        "cement for a 1 in topping of 24 x 40 ft, 1:2, barrels",
        (9.912, 0.001),
        (GRIFFITH, PRIMARY),
        handbook(
            "rect 24ft x 40ft",
            "1in",
            "topping",
            ("cement-barrels", "barrel"),
        ),
    ),
    row(
        "V9",
        "sand for the same topping, yd3",
        (2.752, 0.001),
        (GRIFFITH, PRIMARY),
        handbook("rect 24ft x 40ft", "1in", "topping", ("sand", "yd3")),
    ),
    row(
        "V18",
        "mortar for 10 m2 of 12 mm plaster, m3",
        (0.144, 0.0005),
        ("CPWD DAR 2019 vol. 2, SH 13 item 13.1", REPRODUCTION),
        handbook("rect 5m x 2m", "12mm", "cpwd12", ("mortar", "m3")),
    ),
    row(
        "V18",
        "mortar for 10 m2 of 15 mm plaster, m3",
        (0.172, 0.0005),
        ("CPWD DAR 2019 vol. 2, SH 13 item 13.2", REPRODUCTION),
        handbook("rect 5m x 2m", "15mm", "cpwd15", ("mortar", "m3")),
    ),
    row(
        "V18",
        "mortar for 10 m2 of 20 mm plaster, m3",
        (0.224, 0.0005),
        ("CPWD DAR 2019 vol. 2, SH 13 item 13.3", REPRODUCTION),
        handbook("rect 5m x 2m", "20mm", "cpwd20", ("mortar", "m3")),
    ),
    row(
        "V21",
        "107.6 ft2 at 13 mm with 10 % waste, ft3",
        (5.048, 0.0005),
        (MES, REPRODUCTION),
        handbook(M_107, "13mm", "mes13", ("mortar", "ft3")),
    ),
    row(
        "V21",
        "the same, m3",
        (0.143, 0.0005),
        (MES, REPRODUCTION),
        handbook(M_107, "13mm", "mes13", ("mortar", "m3")),
    ),
    row(
        "V22",
        "100 m2 at 12 mm, 1:4, 15 % waste: cement, bags of 0.035 m3",
        (10.5, 0.05),
        (TUTORIAL, WEAK),
        handbook(WALL_100, "12mm", "tutorial4", ("cement-bags", "bag")),
    ),
    row(
        "V22",
        "the same: sand, m3",
        (1.472, 0.0005),
        (TUTORIAL, WEAK),
        handbook(WALL_100, "12mm", "tutorial4", ("sand", "m3")),
    ),
    row(
        "V23",
        "100 m2 at 12 mm, 1:5, 20 % waste: cement, bags of 0.0347 m3",
        (9.22, 0.005),
        (TUTORIAL, WEAK),
        handbook(WALL_100, "12mm", "tutorial5", ("cement-bags", "bag")),
    ),
    row(
        "V23",
        "the same: sand, m3",
        (1.60, 0.005),
        (TUTORIAL, WEAK),
        handbook(WALL_100, "12mm", "tutorial5", ("sand", "m3")),
    ),
    row(
        "V24",
        "5 x 3 m at 12 mm, 1:4, 20 % waste, x 1.33: cement, bags of 50 kg",
        (1.6548, 0.0005),
        (TUTORIAL, WEAK),
        handbook(ROOM, "12mm", "room4", ("cement-bags", "bag")),
    ),
    row(
        "V24",
        "the same: sand, m3",
        (0.22984, 0.00005),
        (TUTORIAL, WEAK),
        handbook(ROOM, "12mm", "room4", ("sand", "m3")),
    ),
    row(
        "V27",
        "1 m3 of 1:6, x 1.33: cement, bags of 50 kg",
        (5.472, 0.0005),
        (TUTORIAL, WEAK),
        handbook("rect 10m x 10m", "1cm", "cube6", ("cement-bags", "bag")),
    ),
    row(
        "V27",
        "the same: sand, m3",
        (1.14, 0.0005),
        (TUTORIAL, WEAK),
        handbook("rect 10m x 10m", "1cm", "cube6", ("sand", "m3")),
    ),
    row(
        "U1",
        "a US gallon, in3",
        (231.0, 1e-9),
        (HB44, PRIMARY),
        expression("1gal", "in3"),
    ),
    row(
        "U1",
        "a US gallon, L",
        (3.785411784, 1e-12),
        (HB44, PRIMARY),
        expression("1gal", "L"),
    ),
    row(
        "U1",
        "a US quart, in3",
        (57.75, 1e-9),
        (HB44, PRIMARY),
        expression("1qt", "in3"),
    ),
    row(
        "U1",
        "a US quart, L",
        (0.946352946, 1e-12),
        (HB44, PRIMARY),
        expression("1qt", "L"),
    ),
    row(
        "U2",
        "a cubic foot, gal",
        (7.480519, 5e-7),
        (HB44, PRIMARY),
        expression("1ft3", "gal"),
    ),
    row(
        "U2",
        "a cubic yard, ft3",
        (27.0, 1e-9),
        (HB44, PRIMARY),
        expression("1yd3", "ft3"),
    ),
    row(
        "U2",
        "a cubic yard, m3",
        (0.764554857984, 1e-12),
        (HB44, PRIMARY),
        expression("1yd3", "m3"),
    ),
    row(
        "U3",
        "a pound, kg",
        (0.45359237, 1e-12),
        (SP811, REPRODUCTION),
        expression("1lb", "kg"),
    ),
    row(
        "U4",
        "a pound per cubic foot, kg/m3",
        (16.01846337, 5e-9),
        ("exact pound and foot", DERIVED),
        expression("1lb / 1ft3", "kg/m3"),
    ),
    row(
        "U5",
        "a square yard, ft2",
        (9.0, 1e-9),
        ("exact inch", DERIVED),
        expression("1yd2", "ft2"),
    ),
    row(
        "U5",
        "a square yard, m2",
        (0.83612736, 1e-12),
        ("exact inch", DERIVED),
        expression("1yd2", "m2"),
    ),
    row(
        "U6",
        "50 kg of cement at 1440 kg/m3, m3",
        (0.034722, 5e-7),
        (TUTORIAL, WEAK),
        expression("50kg / (1440kg / 1m3)", "m3"),
    ),
];
