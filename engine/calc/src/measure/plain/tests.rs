use super::*;
use crate::contract::Packs;
use crate::measure::measure_alone;
use crate::testing::{SCRIPT, pack};
use parge_base::{Diagnostic, Sources, Span, diagnostic};
use proptest::prelude::*;

/// What a text measures by arithmetic alone, each statement a part, and the whole way.
fn both(text: &str) -> (Option<AreasOfAll>, Option<AreasOfAll>, Vec<Diagnostic>) {
    let mut sources = Sources::new();
    let pack = pack(SCRIPT, &mut sources);
    let file = sources.add("plan", text);
    let parsed = parge_grammar::parse(file, text);
    assert_eq!(parsed.diagnostics, [], "{text}");
    let mut parts: Vec<Plan> = Vec::new();
    for statement in &parsed.plan.statements {
        let part = Plan {
            statements: vec![statement.clone()],
            ..Plan::default()
        };
        parts.push(part);
    }
    let parts: Option<Vec<PlainAreas>> = parts.iter().map(plain_areas).collect();
    let plain = parts.and_then(areas_of_parts);
    let end = Span::new(file, text.len(), text.len());
    let (whole, said) = measure_alone(parsed.plan, Packs::of(&pack), end);
    (plain, whole, said)
}

/// Holds a text to be plain, or to be left to the whole way. Where it is plain, both say the same.
fn held(text: &str) -> bool {
    let (plain, whole, said) = both(text);
    if let Some(plain) = plain {
        assert!(!diagnostic::any_error(&said), "{text}\n{said:?}");
        let bits = |areas: AreasOfAll| {
            [areas.faces, areas.equal, areas.gross, areas.deducted].map(f64::to_bits)
        };
        assert_eq!(whole.map(bits), Some(bits(plain)), "{text}");
    }
    plain.is_some()
}

const JOB: &str = "parge 1\njob \"Test\" { units us measure net rules \"none\" }\n";

fn in_hall(faces: &str) -> String {
    format!("{JOB}structure \"Hall\" {{\n{faces}\n}}\n")
}

/// By hand: 10 x 8 less 2 doors of 3 x 7, twice; and 100 less a sixth of 30.
#[test]
fn plain_faces_are_added_up() {
    let text = in_hall(
        "face a rect 10ft x 8ft drystone on block count 2 from \"R!A7\" {\n\
         opening door rect 3ft x 7ft count 2 reveal 4in from \"R!B7\"\n}\n\
         face b measured 100ft2 around 2 * (100ft2 / 8ft + 8ft) high 8ft \"stated\" {\n\
         opening gap measured 30ft2 / 6 around 2 * (30ft2 / 6 / 8ft + 8ft) high 8ft \"stated\"\n}",
    );
    let (plain, ..) = both(&text);
    let plain = plain.unwrap();
    assert_eq!((plain.faces, plain.equal), (2.0, 3.0));
    let feet = |area: f64| area / 0.09290304;
    assert!((feet(plain.gross) - 260.0).abs() < 1e-9);
    assert!((feet(plain.deducted) - 89.0).abs() < 1e-9);
    assert!(held(&text));
}

/// Each of these is left to the way that says what is wrong, or measures what is not plain.
#[test]
fn what_is_not_plain_is_left_alone() {
    for face in [
        "face a rect 10ft2 x 8ft",
        "face a rect 10 x 8ft",
        "face a rect 0ft x 8ft",
        "face a rect 10ft x 8ft count 1.5",
        "face a rect 10ft x 8ft count 2 count 2",
        "face a rect 10ft x 8ft at 20ft",
        "face a rect len x 8ft",
        "face a triangle 10ft x 8ft",
        "face a rect 10ft x 8ft { opening b rect 11ft x 7ft }",
        "face a rect 10ft x 8ft { opening b rect 3ft x 9ft }",
        "face a rect 10ft x 8ft { opening b rect 8ft x 7ft count 2 }",
        "face a rect 10ft x 8ft { opening b rect 3ft x 7ft reveal 0in }",
        "face a rect 10ft x 8ft { opening b rect 3ft x 7ft reveal 4in reveal 4in }",
        "face a rect 10ft x 8ft {\nopening b rect 3ft x 7ft\nopening b rect 3ft x 7ft\n}",
        "face a rect 10ft x 8ft { edge bead 8ft }",
        "face a measured 100ft2 around 10ft high 8ft \"stated\"",
        "face a measured 100ft around 100ft high 8ft \"stated\"",
        "face a rect 10ft x 8ft\nface a rect 10ft x 8ft",
        "height 8ft\nface a rect 10ft",
        "edge bead 8ft\nface a rect 10ft x 8ft",
        "",
    ] {
        assert!(!held(&in_hall(face)), "{face}");
    }
    let plain = in_hall("face a rect 10ft x 8ft");
    assert!(held(&plain));
    for (of, is) in [
        ("units us", "units us units us"),
        ("units us", "units imperial"),
        ("measure net", "crew 2"),
        (JOB, "parge 1\n"),
    ] {
        assert!(!held(&plain.replace(of, is)), "{is}");
    }
    // What two parts say together, and neither alone.
    let again = "structure \"Hall\" {\nface b rect 10ft x 8ft\n}\n";
    assert!(!held(&(plain.clone() + again)));
    assert!(held(&(plain + again.replace("Hall", "Loft").as_str())));
}

/// At the edges of what is plain both ways say the same, and beyond them one alone speaks.
#[test]
fn edges_of_what_is_plain() {
    for face in [
        "face a rect 10ft x 8ft { opening b rect 10ft x 8ft }",
        "face a rect 10ft x 8ft { opening b rect 5ft x 8ft count 2 }",
        "face a rect 0.7m x 0.3m { opening b rect 0.1m x 0.3m count 7 }",
        "face a rect 10ft x 8ft count 1",
        "face a rect 10ft x 8ft count 100000",
        "face a rect 0.000001m x 0.000001m",
        "face a rect 1000000000m x 1000000000m { opening b rect 1mm x 1mm count 100000 }",
        "face a rect 0.0000009m x 8ft",
        "face a rect 1000000001m x 8ft",
        "face a rect 10ft x 8ft count 100001",
    ] {
        held(&in_hall(face));
    }
    assert!(held(&in_hall(
        "face a rect 10ft x 8ft { opening b rect 10ft x 8ft }"
    )));
    assert!(held(&in_hall("face a rect 10ft x 8ft count 100000")));
    assert!(!held(&in_hall("face a rect 10ft x 8ft count 100001")));
}

/// A size as plans of sheets write it, and sometimes none.
fn length() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        8 => (1_u32..60, 0_u32..100).prop_map(|(whole, part)| format!("{whole}.{part:02}")),
        1 => Just("0".to_owned()),
    ];
    let unit = prop_oneof![6 => Just("ft"), 3 => Just("m"), 3 => Just("in"), 1 => Just("ft2")];
    (number, unit).prop_map(|(number, unit)| format!("{number}{unit}"))
}

fn area() -> impl Strategy<Value = String> {
    (1_u32..900, 0_u32..4).prop_map(|(number, equal)| match equal {
        0 | 1 => format!("{number}.5ft2"),
        equal => format!("{number}.5ft2 / {equal}"),
    })
}

fn shape() -> impl Strategy<Value = String> {
    let rect = (length(), length()).prop_map(|(width, height)| format!("rect {width} x {height}"));
    let high = (area(), length()).prop_map(|(area, height)| {
        format!(
            "measured {area} around 2 * ({area} / {height} + {height}) high {height} \"stated\""
        )
    });
    let any = (area(), length(), length()).prop_map(|(area, around, height)| {
        format!("measured {area} around {around} high {height} \"stated\"")
    });
    prop_oneof![6 => rect, 2 => high, 1 => any]
}

fn tail() -> impl Strategy<Value = &'static str> {
    prop_oneof![
        4 => Just(""),
        4 => Just(" count 2"),
        1 => Just(" count 3 from \"R!A1\""),
        1 => Just(" count 0"),
    ]
}

fn opening() -> impl Strategy<Value = String> {
    let reveal =
        prop_oneof![3 => Just(""), 2 => Just(" reveal 4in"), 1 => Just(" reveal 2in on top")];
    (0_u32..9, shape(), reveal, tail()).prop_map(|(name, shape, reveal, tail)| {
        format!("opening \"o{name}\" {shape}{reveal}{tail}\n")
    })
}

fn face() -> impl Strategy<Value = String> {
    let openings = proptest::collection::vec(opening(), 0..3);
    let finish = prop_oneof![3 => Just(""), 1 => Just(" bark on cmu")];
    (0_u32..99, shape(), finish, tail(), openings).prop_map(
        |(name, shape, finish, tail, openings)| {
            let block = match openings.is_empty() {
                true => String::new(),
                false => format!(" {{\n{}}}", openings.concat()),
            };
            format!("face \"f{name}\" {shape}{finish}{tail}{block}\n")
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn arithmetic_alone_makes_the_same_to_the_last_bit(
        structures in proptest::collection::vec(
            (0_u32..30, proptest::collection::vec(face(), 1..4)), 1..4,
        )
    ) {
        let structures = structures.iter().map(|(name, faces)| {
            format!("structure \"S{name}\" {{\n{}}}\n", faces.concat())
        });
        held(&(JOB.to_owned() + structures.collect::<String>().as_str()));
    }

    /// What is in order is plain, so that the property above says something.
    #[test]
    fn what_sheets_give_is_plain(
        faces in proptest::collection::vec((1_u32..90, 1_u32..90, 1_u32..9), 1..9)
    ) {
        let faces = faces.iter().enumerate().map(|(number, (length, height, count))| {
            format!("face \"f{number}\" rect {length}.25ft x {height}ft count {count}\n")
        });
        let text = in_hall(&faces.collect::<String>());
        prop_assert!(held(&text));
    }
}
