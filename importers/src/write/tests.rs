use super::*;
use crate::faces::{Import, Sizes, import};
use crate::grid::{Book, open};
use crate::profile::{Are, Profile};
use parge_base::Sources;
use proptest::prelude::*;

fn words() -> PlanWords {
    PlanWords {
        name: "Beech Lane".to_owned(),
        rules: "vertical-concrete".to_owned(),
        prices: "prices.csv".to_owned(),
        measure: "net".to_owned(),
    }
}

fn written(csv: &str, answers: &[(&str, &str)]) -> (String, Vec<Sum>) {
    let book = open("rooms.csv", csv.as_bytes()).unwrap();
    let mut profile = Profile::default();
    for (key, value) in answers {
        profile.answer(key, value).unwrap();
    }
    profile.job.on = Some("block".to_owned());
    profile.job.finish = Some("drystone".to_owned());
    let import = import(&book, &profile);
    assert_eq!(import.questions, []);
    held(&book, &import, &profile)
}

fn held(book: &Book, import: &Import, profile: &Profile) -> (String, Vec<Sum>) {
    let plan = plan_text(book, import, profile, &words()).unwrap();
    let text = plan.text.clone();
    let file = Sources::new().add("plan", "");
    // What is written at once is what the program's own layout makes of it.
    assert_eq!(parge_grammar::fmt::format(file, &text).unwrap(), text);
    let whole = [addends_of_plan(&read_again(file, &text).unwrap()).unwrap()];
    let parts = read_in_parts(file, &plan, |part| addends_of_plan(part).ok()).unwrap();
    assert_eq!(parts.len(), plan.parts.len());
    let sheet = sums_of_sheet(import, &profile.answers);
    let sums = reconcile(&sheet, &Sums::of_parts(&whole));
    assert_eq!(sums, reconcile(&sheet, &Sums::of_parts(&parts)));
    (text, sums)
}

/// A fault planted between the rows and the plan, by what it is called.
type Fault = (&'static str, fn(&mut Import));

const FAULTS: [Fault; 12] = [
    ("a face is lost", |import| {
        import.faces.pop();
    }),
    ("a face is doubled", |import| {
        let mut again = import.faces[0].clone();
        again.name += " again";
        import.faces.push(again);
    }),
    ("a length is another", |import| {
        import.faces[0].sizes = import.faces[1].sizes.clone();
    }),
    ("length and height change places", |import| {
        if let Sizes::Rect(level, upright) = import.faces[0].sizes.clone() {
            import.faces[0].sizes = Sizes::Rect(upright, level);
        }
    }),
    ("a count is another", |import| import.faces[1].count += 1),
    ("a count is lost", |import| import.faces[1].count = 1),
    ("an area of all is one of each", |import| {
        let areas = import
            .faces
            .iter_mut()
            .filter_map(|face| match &mut face.sizes {
                Sizes::Area { of, .. } => Some(of),
                Sizes::Rect(..) => None,
            });
        for of in areas {
            *of = Are::Each;
        }
    }),
    ("an opening is lost", |import| {
        import.faces[0].openings.pop();
    }),
    ("an opening is doubled", |import| {
        let mut again = import.faces[0].openings[0].clone();
        again.name += " again";
        import.faces[0].openings.push(again);
    }),
    ("an opening is in another face", |import| {
        let opening = import.faces[0].openings.remove(0);
        import.faces[1].openings.push(opening);
    }),
    ("an opening is there twice", |import| {
        import.faces[0].openings[0].count += 1;
    }),
    ("a reveal is lost", |import| {
        import.faces[0].openings[0].reveal = None;
    }),
];

/// The sums of the sheet do not come from the faces that are written, so that whatever happens to
/// those shows.
#[test]
fn a_fault_between_reading_and_writing_is_caught() {
    let csv = "Wall,L (ft),H (ft),Nos,Opng W (ft),Opng H (ft),Reveal (in),SF\n\
               North,12,8,1,3,7,4,\nEast,10,9,2,,,,\nSouth,,,3,,,,120\nWest,9,8,1,,,,\n";
    let book = open("rooms.csv", csv.as_bytes()).unwrap();
    let mut profile = Profile::default();
    for (key, value) in [
        ("areas_are", "all"),
        ("openings_are", "each"),
        ("height", "8ft"),
    ] {
        profile.answer(key, value).unwrap();
    }
    let whole = import(&book, &profile);
    assert_eq!(whole.questions, []);
    let (_, sums) = held(&book, &whole, &profile);
    assert!(sums.iter().all(Sum::agrees), "{sums:?}");
    for (fault, plant) in FAULTS {
        let mut broken = whole.clone();
        plant(&mut broken);
        let (_, sums) = held(&book, &broken, &profile);
        assert!(!sums.iter().all(Sum::agrees), "{fault} is not caught");
    }
}

#[test]
fn a_plan_with_everything() {
    let csv = "Room,Wall,L (ft),H (ft),Qty,ddt (SF),Finish,Remarks\n\
               Hall,North \"A\",12,8,1,21,,\nHall,South,10.5,8' 6\",2,,bark,\n\
               Kitchen,East,9,8,1,-,,\nKitchen,West,TBC,8,1,,,ask\n";
    let (text, sums) = written(csv, &[]);
    insta::assert_snapshot!(text);
    assert!(sums.iter().all(Sum::agrees), "{sums:?}");
}

#[test]
fn areas_alone_with_a_count() {
    let csv = "Item,Area (m2),Qty\nFeature wall,24,2\nFront,10.5,1\n";
    let answers = [("height", "2.4m"), ("areas_are", "all")];
    let (text, sums) = written(csv, &answers);
    insta::assert_snapshot!(text);
    assert!(sums.iter().all(Sum::agrees), "{sums:?}");
}

proptest! {
    /// Whatever the sizes, what is written says what the sheet says.
    #[test]
    fn nothing_is_lost_doubled_or_invented(
        rows in prop::collection::vec(
            ("[A-Za-z \"#\\\\{}]{0,8}", 1u32..4000, 0u32..100, 1u32..900, 1u32..9), 1..20,
        )
    ) {
        let mut csv = csv::Writer::from_writer(Vec::new());
        csv.write_record(["Wall", "Length (m)", "Height (mm)", "Nos"]).unwrap();
        for (name, whole, hundredths, height, count) in &rows {
            let length = format!("{whole}.{hundredths:02}");
            csv.write_record([
                format!("w {name}"),
                length,
                format!("{height}"),
                format!("{count}"),
            ])
            .unwrap();
        }
        let csv = String::from_utf8(csv.into_inner().unwrap()).unwrap();
        let (_, sums) = written(&csv, &[]);
        for sum in sums {
            prop_assert!(sum.agrees(), "{sum:?}");
            if sum.what == "faces" {
                prop_assert_eq!(sum.plan, rows.len() as f64);
            }
        }
    }
}

proptest! {
    /// Faces are written as the program lays plans out: areas in expressions that may be broken as
    /// well, and names that fill a line. `held` compares the texts.
    #[test]
    fn what_is_written_is_laid_out(
        rows in prop::collection::vec(
            (
                "[A-Za-zé\u{200b} \"#\\\\{}()/+-]{0,12}",
                "[A-Za-zé\u{200b} \"#\\\\{}()/+-]{0,90}",
                (0u32..3, 1u32..4000, 1u32..900),
                (1u32..9, 0u32..2),
                prop::sample::select(vec!["", "bark", "Bark two", "height", "x", "after"]),
            ),
            1..12,
        )
    ) {
        let mut csv = csv::Writer::from_writer(Vec::new());
        let head = ["Room", "Wall", "L (ft)", "H (ft)", "Area (SF)", "Qty", "ddt (SF)", "Finish"];
        csv.write_record(head).unwrap();
        for (room, wall, (kind, size, other), (count, less), finish) in &rows {
            let (size, other) = (format!("{}.{:02}", size + 10, other % 100), other.to_string());
            let [length, height, area] = match kind {
                0 => [other.as_str(), "8' 6 1/2\"", ""],
                1 => ["", "9", size.as_str()],
                _ => ["", "", size.as_str()],
            };
            let (count, less) = (count.to_string(), less.to_string());
            let (room, wall) = (format!("r {room}"), format!("w {wall}"));
            csv.write_record([&room, &wall, length, height, area, &count, &less, finish]).unwrap();
        }
        let csv = String::from_utf8(csv.into_inner().unwrap()).unwrap();
        let answers = [("height", "8ft"), ("areas_are", "all"), ("openings_are", "each")];
        let (_, sums) = written(&csv, &answers);
        prop_assert!(sums.iter().all(Sum::agrees), "{:?}", sums);
    }
}

/// A long plan is read again in several parts, which make up its text and its sums.
#[test]
fn a_long_plan_is_read_again_in_parts() {
    let mut csv = "Room,Wall,L (ft),H (ft),Nos\n".to_owned();
    for face in 0..1_700 {
        let (length, height) = (face % 17 + 4, face % 5 + 3);
        csv += &format!("Room {},w {face},{length}.7,{height}.3,2\n", face / 40);
    }
    let (text, sums) = written(&csv, &[]);
    assert!(sums.iter().all(Sum::agrees), "{sums:?}");
    assert_eq!(text.matches("\n  face ").count(), 1_700);
    let plan = long_plan(&csv);
    assert!(plan.parts.len() > 3, "{:?}", plan.parts);
    let mut end = 0;
    for part in &plan.parts {
        assert_eq!(part.start, end);
        end = part.end;
    }
    assert_eq!(end, plan.text.len());
}

fn long_plan(csv: &str) -> PlanText {
    let book = open("rooms.csv", csv.as_bytes()).unwrap();
    let profile = Profile::default();
    plan_text(&book, &import(&book, &profile), &profile, &words()).unwrap()
}

/// What a part does not say whole is not read, so that nobody sums up a part of a plan.
#[test]
fn a_part_with_a_fault_is_not_read() {
    let mut plan = long_plan("Wall,L (ft),H (ft)\nNorth,12,8\nEast,9,8\n");
    let file = Sources::new().add("plan", "");
    let read = |plan: &PlanText| read_in_parts(file, plan, |part| addends_of_plan(part).ok());
    assert!(read(&plan).is_some());
    plan.text = plan.text.replace("9ft", "9fx");
    assert_eq!(read(&plan), None);
}
