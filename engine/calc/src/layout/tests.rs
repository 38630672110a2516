use super::courses::Piece;
use super::outline::Interval;
use super::*;
use crate::contract::HOOKS;
use crate::testing::{measured, pack_files, plan, shown};
use parge_base::{Sources, Units};
use parge_rules::Pack;
use proptest::prelude::*;

const INCH: f64 = 0.0254;

const TABLE: &str = "item,property,value,unit,source\n\
    lath,width,27,in,company\nlath,length,96,in,company\nlath,side_lap,1/2,in,company\n\
    lath,end_lap,1,in,company\nlath,stagger,6,in,company\nlath,smallest_piece,12,in,company\n\
    lath,reuse,1,1,company\nlath,cutting,7,%,company\n\
    paper,width,36,in,company\npaper,length,144,ft,company\npaper,side_lap,2,in,company\n\
    paper,end_lap,6,in,company\npaper,whole_pieces,0,1,company\n";

/// The small pack of this crate's tests with lath and paper.
fn pack(table: &str, sources: &mut Sources) -> Pack {
    let mut files = pack_files("fn coats(face) { }");
    let materials = files.texts.get_mut("tables/materials.csv").unwrap();
    materials.push_str(
        "lath,description,Lath,text,company\nlath,unit,sheet,text,company\nlath,unit_metric,sheet,text,company\n\
         paper,description,Paper,text,company\npaper,unit,roll,text,company\npaper,unit_metric,roll,text,company\n",
    );
    files.texts.insert("tables/sheets.csv".into(), table.into());
    parge_rules::load(&[files], HOOKS, sources).unwrap()
}

/// Pieces of lath and rolls of paper for the first face of a plan, and what is said of each.
fn laid(face: &str, table: &str) -> Vec<(f64, f64, String)> {
    let mut sources = Sources::new();
    let pack = pack(table, &mut sources);
    let measured = measured(&plan(face));
    let (mut layouts, said) = Layouts::of(&pack);
    assert!(said.is_empty(), "{said:?}");
    let job = &measured.job;
    let found = layouts.face(job, &job.faces[0], &measured.faces[0]);
    let each = found
        .iter()
        .map(|one| (one.pieces.value, one.by_area.value, one.note.to_string()));
    each.collect()
}

fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 5e-4, "{got} is not {wanted}");
}

/// 20 ft x 15 ft, the 300 ft2 of the published count by area (17.16). Lath: (180 - 1/2) / 26 1/2
/// = 6.77, so 7 courses; the last one has to cover 180 - 6 x 26 1/2 = 21 in, too much for half a
/// sheet. Each course of 240 in begins with what the one below left, and each joint takes 1 in:
///
/// | course | pieces, in | new | left, in |
/// | --- | --- | --- | --- |
/// | 1 | 96 + 96 + 50 | 3 | 46 |
/// | 2 | 46 + 96 + 96 + 5 | 3 | 91 |
/// | 3 | 91 + 96 + 55 | 2 | 41 |
/// | 4 | 41 + 96 + 96 + 10 | 3 | 86 |
/// | 5 | 86 + 96 + 60 | 2 | 36 |
/// | 6 | 36 + 96 + 96 + 15 | 3 | 81 |
/// | 7 | 81 + 96 + 65 | 2 | 31 |
///
/// Together 18 new sheets, of which 7 are cut. No joint is within 6 in of one below.
/// Paper: (180 - 2) / 34 = 5.24, so 6 courses of 20 ft: 120 ft / 143.5 ft = 0.8362 rolls.
/// By area 300 / 17.4826 = 17.160 and 300 / 406.583 = 0.7379.
#[test]
fn a_wall_of_300_square_feet() {
    let [lath, paper] = laid("face f rect 20ft x 15ft plain", TABLE)
        .try_into()
        .unwrap();
    assert_eq!(lath.0, 18.0);
    near(lath.1, 17.1599);
    near(paper.0, 0.8362);
    near(paper.1, 0.7379);
    insta::assert_snapshot!(format!("{}\n{}", lath.2, paper.2));
}

/// 8 ft x 4 ft 5 1/2 in: two courses reach up 27 + 26 1/2 = 53 1/2 in, each one sheet of 96 in,
/// which leaves nothing: 2 sheets, as whole ones have no joint to stagger. By area 35.667 / 17.4826
/// = 2.0401, which is more.
/// 8 ft x 5 ft 2 1/2 in: a third course covers 62 1/2 - 53 = 9 1/2 in; half a sheet is 13 1/2 in,
/// so one sheet gives it: 3.
#[test]
fn walls_as_wide_as_a_sheet() {
    let exact = &laid("face f rect 8ft x 53.5in plain", TABLE)[0];
    near(exact.0, 2.0401);
    assert!(
        exact.2.contains("2 courses, 2 whole and 0 cut"),
        "{exact:?}"
    );
    let third = &laid("face f rect 8ft x 62.5in plain", TABLE)[0];
    assert_eq!(third.0, 3.0);
}

/// 16 ft x 4 ft: (48 - 1/2) / 26 1/2 = 1.79, so 2 courses of 192 in. Course 1 takes 96 + 96 + 2 in,
/// 3 sheets, and leaves 94. Its joints are at 96 and 191 in. Course 2 would begin with the 94 in,
/// 2 in off the joint below, or with a whole sheet right on it; so it begins with 48 in cut off the
/// 94, goes on with 96, and ends with 192 - 143 + 1 = 50 in, more than the 46 left: 2 new sheets.
#[test]
fn joints_of_courses_are_staggered() {
    let lath = &laid("face f rect 16ft x 4ft plain", TABLE)[0];
    assert_eq!(lath.0, 5.0);
}

/// 4 ft x 9 in columns: two along a sheet of 96 in, three across its 27 in, so six out of one.
#[test]
fn equal_faces_share_a_sheet() {
    let lath = &laid("face f rect 4ft x 9in count 7 plain", TABLE)[0];
    near(lath.0 * 7.0, 2.0);
    assert!(lath.2.contains("6 of such faces"), "{lath:?}");
}

/// A gate of 60 x 20 ft in a wall of 70 x 24 ft interrupts floor((240 - 27) / 26 1/2) = 8 of its
/// (288 - 1/2) / 26 1/2 = 10.8, so 11 courses, wherever it is: of 11 x 840 = 9240 in 8 x 720 = 5760
/// are free, and there are 11 + 8 parts. 3480 / 95 + 1.5 x 19 = 65.13, so 65 sheets; without the
/// gate 9240 in and at least 11 x 8 laps take 98. Paper: floor((240 - 36) / 34) = 6 of 9 courses
/// of 70 ft, so 630 - 360 = 270 ft / 143.5 ft = 1.8815 rolls.
#[test]
fn openings_save_what_they_save_anywhere() {
    let gate = laid(
        "face f rect 70ft x 24ft plain { opening gate rect 60ft x 20ft }",
        TABLE,
    );
    assert_eq!(gate[0].0, 65.0);
    near(gate[1].0, 1.8815);
    assert!(laid("face f rect 70ft x 24ft plain", TABLE)[0].0 >= 98.0);
    // A door interrupts two courses, but its parts may lose as much; 3 ft of height save nothing.
    let whole = &laid("face f rect 30ft x 10ft plain", TABLE)[0];
    for opening in ["16ft x 8ft", "16ft x 3ft"] {
        let face = format!("face f rect 30ft x 10ft plain {{ opening o rect {opening} }}");
        assert_eq!(laid(&face, TABLE)[0].0, whole.0);
    }
}

/// What was measured on the wall has no outline: 100 ft2 by area, and 7 % for cutting.
#[test]
fn faces_without_an_outline_are_counted_by_area() {
    let face = "face f measured 100ft2 around 44ft high 8ft \"a rock\" plain";
    let lath = &laid(face, TABLE)[0];
    near(lath.1, 5.71996);
    near(lath.0, 5.71996 * 1.07);
    assert!(lath.2.starts_with("counted by area"), "{lath:?}");
}

#[test]
fn what_is_wrong_with_the_table_is_said() {
    let mut all = Vec::new();
    for (from, to) in [
        ("lath,end_lap,1,in", "lath,end_lap,96,in"),
        ("lath,end_lap,1,in", "lath,end_lap,1,lb"),
        ("lath,end_lap,1,in,company\n", ""),
        ("lath,smallest_piece,12,in", "lath,smallest_piece,1,in"),
        ("lath,stagger,6,in", "lath,stagger,48,in"),
        ("lath,", "lattice,"),
    ] {
        let mut sources = Sources::new();
        let pack = pack(&TABLE.replace(from, to), &mut sources);
        let (_, said) = Layouts::of(&pack);
        all.extend(said.iter().map(|said| shown(said, &sources)));
    }
    insta::assert_snapshot!(all.join("\n"));
}

fn sheet([width, length]: [f64; 2], [side_lap, end_lap]: [f64; 2], smallest: Option<f64>) -> Sheet {
    Sheet {
        item: "lath".into(),
        unit: Units::standard().parse("sheet").unwrap(),
        factors: Vec::new(),
        width: width * INCH,
        length: length * INCH,
        side_lap: side_lap * INCH,
        end_lap: end_lap * INCH,
        corner_carry: 0.0,
        stagger: 6.0 * INCH,
        smallest_piece: smallest.map(|smallest| smallest * INCH),
        cutting: 0.0,
        whole_pieces: true,
    }
}

fn sheets() -> impl Strategy<Value = Sheet> {
    let laps = (0.0..4.0f64, 0.0..4.0f64);
    let sizes = (12.0..60.0f64, 40.0..150.0f64);
    (sizes, laps, prop::option::of(6.0..20.0f64))
        .prop_map(|((w, l), (s, e), least)| sheet([w, l], [s, e], least))
}

fn outlines() -> impl Strategy<Value = Outline> {
    let size = || 0.3..12.0f64;
    prop_oneof![
        (size(), size()).prop_map(|(w, h)| Outline::Box([w, h])),
        (size(), size(), -2.0..14.0f64).prop_map(|(w, h, x)| Outline::Polygon(vec![
            [0.0, 0.0],
            [w, 0.0],
            [x, h]
        ])),
        // A wall with a notch in its top, and one with a notch in its side.
        (size(), size(), size()).prop_map(|(a, b, h)| {
            let top = [
                [a + b + a, 2.0 * h],
                [a + b, 2.0 * h],
                [a + b, h],
                [a, h],
                [a, 2.0 * h],
            ];
            let foot = [[0.0, 2.0 * h], [0.0, 0.0], [a + b + a, 0.0]];
            Outline::Polygon(top.into_iter().chain(foot).collect())
        }),
        (size(), size()).prop_map(|(a, b)| Outline::Ellipse([a, b])),
        (size(), 0.05..0.95f64).prop_map(|(r, share)| Outline::Ring([r, r * share])),
        (size(), size(), 0.1..1.0f64).prop_map(|(half, spring, share)| {
            let rise = half * share;
            let radius = (half * half + rise * rise) / (2.0 * rise);
            Outline::Arch([half, spring, radius, spring + rise])
        }),
        (size(), size(), size()).prop_map(|(a, b, h)| Outline::Round([a, b, h])),
        (size(), 0.2..3.0f64).prop_map(|(r, angle)| Outline::Dome([r, angle])),
    ]
}

/// The same outline seen in a mirror.
fn mirrored(outline: &Outline) -> Outline {
    match outline {
        Outline::Polygon(corners) => {
            let right = corners.iter().map(|[x, _]| *x).fold(0.0, f64::max);
            Outline::Polygon(corners.iter().map(|[x, y]| [right - x, *y]).collect())
        }
        same => same.clone(),
    }
}

/// Whether a part of a course is covered without a gap.
fn covered(pieces: &[Piece], course: usize, [from, to]: Interval, lap: f64) -> Result<(), String> {
    let mut here: Vec<&Piece> = pieces
        .iter()
        .filter(|piece| piece.course == course)
        .collect();
    here.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut reached: Option<f64> = None;
    for piece in here {
        let end = piece.from + piece.length;
        if end <= from - 1e-7 || piece.from >= to + 1e-7 {
            continue;
        }
        let fits = match reached {
            None => piece.from <= from + 1e-7,
            Some(reached) => piece.from <= reached - lap + 1e-7,
        };
        if !fits {
            return Err(format!(
                "a gap or a short lap at {} of {course}",
                piece.from
            ));
        }
        reached = Some(reached.unwrap_or(end).max(end));
    }
    match reached {
        Some(reached) if reached >= to - 1e-7 => Ok(()),
        other => Err(format!("course {course} ends at {other:?}, not at {to}")),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Every course reaches over the one below by the side lap, every part of it is covered with
    /// its end laps, and the sheets taken are at least as large as the pieces on the wall.
    #[test]
    fn all_is_covered(outline in outlines(), sheet in sheets()) {
        let laid = Laid::out(&outline, &sheet).unwrap();
        let height = outline.height();
        let mut course = 0;
        loop {
            let from = course as f64 * sheet.rise();
            let to = (from + sheet.width).min(height);
            for part in outline.strips(from, to) {
                covered(&laid.placed, course, part, sheet.end_lap).map_err(TestCaseError::fail)?;
            }
            if to >= height - 1e-9 {
                break;
            }
            course += 1;
        }
        let length: f64 = laid.placed.iter().map(|piece| piece.length).sum();
        let split = laid.words(&sheet).contains("strips");
        prop_assert!(split || laid.pieces() * sheet.length >= length - 1e-6);
        for piece in &laid.placed {
            prop_assert!(piece.length <= sheet.length + 1e-6);
        }
    }

    /// What a strip covers has every point of the outline in it: more than its mean width.
    #[test]
    fn strips_hold_the_outline(outline in outlines(), cuts in 1usize..40) {
        let height = outline.height();
        let step = height / cuts as f64;
        for at in 0..cuts {
            let (from, to) = (at as f64 * step, (at + 1) as f64 * step);
            let wide = |from: f64, to: f64| -> f64 {
                outline.strips(from, to).iter().map(|[a, b]| b - a).sum()
            };
            let all = wide(from, to);
            for inner in 0..4 {
                let low = from + step * f64::from(inner) / 4.0;
                prop_assert!(wide(low, low + step / 4.0) <= all + 1e-7);
            }
        }
    }

    /// Sheets laid are as large as the face, on any outline.
    #[test]
    fn never_less_than_the_area(outline in outlines(), sheet in sheets()) {
        let laid = Laid::out(&outline, &sheet).unwrap();
        let steps = 2000;
        let step = outline.height() / f64::from(steps);
        // From thin strips, less what each is wider than the outline at its middle.
        let area: f64 = (0..steps).map(|at| {
            let middle = (f64::from(at) + 0.5) * step;
            let parts = outline.strips(middle, middle + step * 1e-6);
            parts.iter().map(|[a, b]| (b - a) * step).sum::<f64>()
        }).sum();
        let taken = laid.pieces() * sheet.width * sheet.length;
        prop_assert!(taken >= area * (1.0 - 1e-2), "{taken} {area}");
    }

    /// A face and its image in a mirror have as much to cover, and take as many sheets: those of
    /// one part a course exactly, where joints need not be staggered. Courses are laid from the
    /// left, so that other faces may come to another number of offcuts.
    #[test]
    fn mirrors_take_the_same(
        (b, h, x) in (0.3..12.0f64, 0.3..9.0f64, -2.0..14.0f64), outline in outlines(), sheet in sheets(),
    ) {
        let length = |laid: &Laid| laid.runs.iter().map(|run| run.length).sum::<f64>();
        let both = |outline: &Outline, sheet: &Sheet| {
            [outline, &mirrored(outline)].map(|outline| Laid::out(outline, sheet).unwrap())
        };
        let [one, other] = both(&outline, &sheet);
        prop_assert!((length(&one) - length(&other)).abs() < 1e-6 * length(&one));
        let plain = Sheet { stagger: 0.0, ..sheet };
        // Sizes on a grid, so that no length meets a limit in one image and misses it in the other.
        let grid = |size: f64| (size * 512.0).round() / 512.0;
        let corners = [[0.0, 0.0], [grid(b), 0.0], [grid(x), grid(h)]];
        let left = corners.iter().map(|[x, _]| *x).fold(0.0, f64::min);
        let corners = corners.iter().map(|[x, y]| [x - left, *y]).collect();
        let [one, other] = both(&Outline::Polygon(corners), &plain);
        prop_assert_eq!(one.pieces(), other.pieces());
    }

    /// Where no offcut is used again and joints need not be staggered, a wider wall takes no fewer.
    /// With offcuts that does not hold: a wider wall may leave an offcut that is long enough for
    /// the next course, where a narrower one leaves one that is too short.
    #[test]
    fn wider_walls_take_no_fewer(w in 0.3..20.0f64, more in 0.0..5.0f64, h in 0.3..8.0f64, sheet in sheets()) {
        let plain = Sheet { smallest_piece: None, stagger: 0.0, ..sheet };
        let pieces = |w: f64| Laid::out(&Outline::Box([w, h]), &plain).unwrap().pieces();
        prop_assert!(pieces(w + more) >= pieces(w));
    }

    /// A whole opening anywhere never takes more than what was reckoned for any place: every
    /// course is laid around it in two parts.
    #[test]
    fn openings_are_enough_in_any_place(
        (w, h) in (4.0..15.0f64, 3.0..9.0f64), (wide, high) in (0.2..0.95f64, 0.2..0.95f64),
        (x, y) in (0.0..1.0f64, 0.0..1.0f64), sheet in sheets(),
    ) {
        let hole = Hole { width: w * wide, height: h * high, count: 1.0 };
        let whole = Laid::out(&Outline::Box([w, h]), &sheet).unwrap();
        let Some(bound) = openings::taken(&whole, &sheet, &[hole]) else { return Ok(()) };
        let (left, foot) = (x * (w - hole.width), y * (h - hole.height));
        // What the same way of laying takes with the opening in that place.
        let around = Laid::around(&Outline::Box([w, h]), &sheet, [left, foot], [hole.width, hole.height]);
        prop_assert!(around <= bound, "{around} > {bound}");
    }
}

/// Every shape of the language with a known outline; one of 8 x 10 ft first, to compare with.
#[test]
fn every_shape_of_a_plan_is_laid_out() {
    let shapes = [
        "rect 10ft x 8ft",
        "triangle 10ft x 8ft",
        "triangle sides 10ft, 8ft, 7ft",
        "trapezoid 10ft to 6ft x 8ft",
        "polygon (2ft,1ft) (12ft,1ft) (12ft,9ft) (2ft,7ft)",
        "circle diameter 8ft",
        "arch 6ft x 9ft",
        "arch 6ft x 9ft rise 1ft",
        "cylinder diameter 3ft x 8ft",
        "cylinder diameter 3ft sweep 90deg x 8ft",
        "frustum 4ft to 2ft x 8ft",
        "arc radius 5ft sweep 90deg x 8ft",
        "ellipse 8ft x 6ft",
        "ring 8ft to 4ft",
        "cone diameter 6ft x 8ft",
        "dome diameter 6ft x 2ft",
        "stations (0ft, 4ft) (12ft, 6ft)",
        "stations stepped (0ft, 4ft) (6ft, 6ft) (12ft, 6ft)",
    ];
    let mut all = Vec::new();
    for shape in shapes {
        let lath = &laid(&format!("face f {shape} plain"), TABLE)[0];
        assert!(lath.0 >= lath.1, "{shape}");
        all.push(format!("{shape}: {}", lath.2));
    }
    insta::assert_snapshot!(all.join("\n"));
}
