//! Published rules of measuring, each with a wall that shows it, measured by the pack that holds the
//! rule.

use super::Check;
use super::rows::{DERIVED, MEMORY, PRIMARY};
use crate::contract::Packs;
use crate::measure::{Measured, measure};
use crate::resolve::resolve;
use crate::takeoff::take_off;
use parge_base::diagnostic::any_error;
use parge_base::{Dim, Quantity, Sources, Span, Units};
use parge_rules::Pack;

/// What is computed of a plan.
enum Of {
    /// The net area of all faces.
    Net,
    /// The area that hours of lathing are counted for: the hours over their rate.
    Lathing,
}

struct Row {
    id: &'static str,
    what: &'static str,
    expected: f64,
    source: (&'static str, &'static str),
    /// The measuring pack; empty for the program's own rule `net`.
    pack: &'static str,
    /// The structures of the plan.
    plan: &'static str,
    unit: &'static str,
    of: Of,
}

const IS_12: &str = "IS 1200 Part 12:1976 (3rd rev.), deduction rules";
const IS_13_3: &str = "IS 1200 Part 13:1994 cl. 3.2(b)(2)";
const IS_LARGE: &str = "IS 1200 Part 13:1994 cl. 3.2.2";
const TREATISE: &str = "Treatise on Architecture and Building Construction, vol. 4, art. 36";
const CYCLOPEDIA: &str =
    "Cyclopedia of Architecture, Carpentry and Building, Plastering measurements";

const IS: &str = "is-1200-12";
const SEVEN: &str = "openings-over-63ft2";
const HALF: &str = "half-openings";
const OLDER: &str = "older-us-plastering";

/// How far a computed area may be from the published one: these are exact.
const EXACT: f64 = 1e-9;

const fn net(
    id: &'static str,
    what: &'static str,
    (expected, unit): (f64, &'static str),
    source: (&'static str, &'static str),
    pack: &'static str,
    plan: &'static str,
) -> Row {
    Row {
        id,
        what,
        expected,
        source,
        pack,
        plan,
        unit,
        of: Of::Net,
    }
}

const ROWS: &[Row] = &[
    net(
        "M1",
        "4 x 3 m with an opening of 0.50 m2 and its reveal, m2: neither deducted nor added",
        (12.0, "m2"),
        (IS_12, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides both }  face a rect 4m x 3m plain { opening o rect 0.5m x 1m reveal 100mm } }"#,
    ),
    net(
        "M2",
        "both faces of a 4 x 3 m wall with an opening of 2 m2, finished alike, m2: deducted from one",
        (22.0, "m2"),
        (IS_12, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides both }  face a rect 4m x 3m plain { opening o rect 1m x 2m reveal 100mm } }
structure "B" on concrete { conditions { sides both }  face a rect 4m x 3m plain { opening o rect 1m x 2m } }"#,
    ),
    net(
        "M3",
        "4 x 3 m with an opening of 2 m2, each side with its own finish, m2: the side of the narrower reveal",
        (10.0, "m2"),
        (IS_13_3, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides differ_narrower }  face a rect 4m x 3m plain { opening o rect 1m x 2m reveal 100mm } }"#,
    ),
    net(
        "M3",
        "the same: the side of the wider reveal, m2",
        (12.0, "m2"),
        (IS_13_3, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides differ_wider }  face a rect 4m x 3m plain { opening o rect 1m x 2m reveal 100mm } }"#,
    ),
    net(
        "M3",
        "the same with equal reveals: each side, m2",
        (11.0, "m2"),
        (IS_13_3, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides differ_equal }  face a rect 4m x 3m plain { opening o rect 1m x 2m reveal 100mm } }"#,
    ),
    net(
        "M4",
        "the same with one side finished and its reveal the narrower, m2",
        (10.0, "m2"),
        (IS_12, MEMORY),
        IS,
        r#"structure "A" on concrete { conditions { sides one_narrower }  face a rect 4m x 3m plain { opening o rect 1m x 2m reveal 100mm } }"#,
    ),
    net(
        "M4",
        "the same with its reveal as wide or wider, m2",
        (12.0, "m2"),
        (IS_12, MEMORY),
        IS,
        r#"structure "A" on concrete { conditions { sides one_wider }  face a rect 4m x 3m plain { opening o rect 1m x 2m reveal 100mm } }"#,
    ),
    net(
        "M5",
        "4 x 3 m with an opening of 1.8 x 2 m and a reveal of 0.2 m, m2: deducted, reveals added",
        (9.92, "m2"),
        (IS_LARGE, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides both }  face a rect 4m x 3m plain { opening o rect 1.8m x 2m reveal 0.2m } }"#,
    ),
    net(
        "M6",
        "one face of 4 x 3 m with an opening of exactly 3.00 m2, both sides finished, m2: still the middling one",
        (10.5, "m2"),
        (IS_12, PRIMARY),
        IS,
        r#"structure "A" on concrete { conditions { sides both }  face a rect 4m x 3m plain { opening o rect 1.5m x 2m reveal 100mm } }"#,
    ),
    net(
        "M7",
        "both faces of 4 x 3 m with openings of 0.4, 2.0 and 3.6 m2, reveal 0.2 m, m2",
        (16.32, "m2"),
        ("rules M1, M2 and M5 together", DERIVED),
        IS,
        r#"structure "A" on concrete {
  conditions { sides both }
  face a rect 4m x 3m plain {
opening s rect 0.4m x 1m
opening m rect 1m x 2m
opening l rect 1.8m x 2m reveal 0.2m
}
  face b rect 4m x 3m plain {
opening s rect 0.4m x 1m
opening m rect 1m x 2m
opening l rect 1.8m x 2m
}
}"#,
    ),
    net(
        "M11",
        "4 x 3 m of wall with a pilaster that stands 0.35 m out, m2: its two sides are added",
        (14.1, "m2"),
        ("IS 1200 Part 12:1976 cl. 3.12.1", PRIMARY),
        IS,
        r#"structure "A" on concrete {
  face a rect 4m x 3m plain
  face side rect 0.35m x 3m count 2 plain
}"#,
    ),
    Row {
        id: "M12",
        what: "lathing of a wall of 100 ft2 with a door of 21 ft2, ft2: net, laps are no part of it",
        expected: 79.0,
        source: ("IS 1200 Part 12:1976 cl. 3.16.1-3.16.2", PRIMARY),
        pack: "",
        plan: r#"structure "A" on wood { face a rect 10ft x 10ft plain { opening o rect 3ft x 7ft } }"#,
        unit: "ft2",
        of: Of::Lathing,
    },
    net(
        "M13",
        "100 ft2 with an opening of 63 ft2, ft2: deducted",
        (37.0, "ft2"),
        (TREATISE, PRIMARY),
        SEVEN,
        r#"structure "A" on concrete { face a rect 10ft x 10ft plain { opening o rect 9ft x 7ft } }"#,
    ),
    net(
        "M15",
        "100 ft2 with a door of 3 x 7 ft, openings under 63 ft2 left in, ft2",
        (100.0, "ft2"),
        (TREATISE, DERIVED),
        SEVEN,
        r#"structure "A" on concrete { face a rect 10ft x 10ft plain { opening o rect 3ft x 7ft } }"#,
    ),
    net(
        "M14",
        "100 ft2 with a door of 3 x 7 ft, half of it deducted, ft2",
        (89.5, "ft2"),
        (CYCLOPEDIA, PRIMARY),
        HALF,
        r#"structure "A" on concrete { face a rect 10ft x 10ft plain { opening o rect 3ft x 7ft } }"#,
    ),
    net(
        "M16",
        "a return of 8 in x 10 ft, counted 12 in wide, ft2",
        (10.0, "ft2"),
        (TREATISE, PRIMARY),
        SEVEN,
        r#"structure "A" on concrete { face a rect 8in x 10ft plain }"#,
    ),
    net(
        "M17",
        "20 ft2 of circular or elliptical work, ft2: 2 times",
        (40.0, "ft2"),
        (TREATISE, PRIMARY),
        OLDER,
        r#"structure "A" on concrete { conditions { work curved }  face a rect 5ft x 4ft plain }"#,
    ),
    net(
        "M17",
        "20 ft2 of a dome or groin, ft2: 3 times",
        (60.0, "ft2"),
        (TREATISE, PRIMARY),
        OLDER,
        r#"structure "A" on concrete { conditions { work dome }  face a rect 5ft x 4ft plain }"#,
    ),
    net(
        "M18",
        "20 ft2 of a stair soffit or closet, ft2: 1 1/2 times",
        (30.0, "ft2"),
        (TREATISE, PRIMARY),
        OLDER,
        r#"structure "A" on concrete { conditions { work raking }  face a rect 5ft x 4ft plain }"#,
    ),
    net(
        "M19",
        "40 ft of cornice without angles and with a girth of 8 in, counted with 12 in, ft2",
        (40.0, "ft2"),
        (TREATISE, PRIMARY),
        OLDER,
        r#"structure "A" on concrete { conditions { work cornice }  face a rect 40ft x 8in plain }"#,
    ),
    net(
        "M20",
        "a wall outdoors of 10 x 22 ft, ft2: 1 % more on the 21st foot, 2 % on the 22nd; the reading by strips is ours",
        (220.3, "ft2"),
        (TREATISE, DERIVED),
        OLDER,
        r#"structure "A" on concrete { conditions { place outdoors }  face a rect 10ft x 22ft plain }"#,
    ),
    net(
        "M20",
        "a wall indoors of 10 x 24 ft, ft2: 5 % more on the second 12 ft",
        (246.0, "ft2"),
        (TREATISE, DERIVED),
        OLDER,
        r#"structure "A" on concrete { conditions { place indoors }  face a rect 10ft x 24ft plain }"#,
    ),
];

/// Computes the checks of measuring. `rules` is the pack whose faces are measured, and `packs` finds
/// a measuring pack by its name.
pub fn measuring(rules: &Pack, packs: &dyn Fn(&str) -> Option<Pack>) -> Vec<Check> {
    let check = |row: &Row| Check {
        id: row.id,
        what: row.what,
        expected: row.expected,
        tolerance: EXACT,
        source: row.source.0,
        how_sure: row.source.1,
        computed: match row.pack {
            "" => compute(row, Packs::of(rules)),
            name => packs(name).and_then(|pack| {
                let measuring = Some(&pack);
                compute(row, Packs { rules, measuring })
            }),
        },
    };
    ROWS.iter().map(check).collect()
}

fn compute(row: &Row, packs: Packs<'_>) -> Option<f64> {
    let measured = measured(row.plan, packs)?;
    let area = match row.of {
        Of::Net => area(&measured),
        Of::Lathing => lathing(measured, packs.rules),
    };
    Units::standard().parse(row.unit).ok()?.show(area?)
}

fn measured(structures: &str, packs: Packs<'_>) -> Option<Measured> {
    let text = format!(
        "parge 1\njob \"check\" {{ crew 1 }}\nfinish plain {{ technique stamp  thickness 1in }}\n{structures}\n"
    );
    let mut sources = Sources::new();
    let file = sources.add("check.parge", text);
    let parsed = parge_grammar::parse(file, sources.text(file));
    let (job, said) = resolve(&parsed.plan, packs, Span::new(file, 0, 0));
    let fine = parsed.diagnostics.is_empty() && !any_error(&said);
    let (measured, said) = measure(job.filter(|_| fine)?, packs);
    (!any_error(&said)).then_some(measured)
}

fn area(measured: &Measured) -> Option<Quantity> {
    let job = &measured.job;
    let mut sum = Quantity::zero(Dim::AREA);
    for face in &measured.faces {
        let count = Quantity::plain(f64::from(job.faces.get(face.face)?.count));
        sum = sum.plus(job.tape.value(face.net).times(count).ok()?).ok()?;
    }
    Some(sum)
}

fn lathing(measured: Measured, rules: &Pack) -> Option<Quantity> {
    let (takeoff, said) = take_off(measured, rules);
    let hours = takeoff.faces.iter().flat_map(|taken| &taken.hours);
    let mut time = Quantity::zero(Dim::TIME);
    for line in hours.filter(|line| &*line.phase == "lath") {
        time = time.plus(line.time).ok()?;
    }
    let rate = rules.tables().factor("labour", &["lath", "metal-lath"])?;
    (!any_error(&said)).then(|| time.over(rate.quantity).ok())?
}
