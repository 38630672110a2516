use super::*;
use crate::grid::open;
use crate::profile::Profile;

fn read_with(csv: &str, answers: &[(&str, &str)]) -> Import {
    let book = open("sheet.csv", csv.as_bytes()).unwrap();
    let mut profile = Profile::default();
    for (key, value) in answers {
        profile.answer(key, value).unwrap();
    }
    import(&book, &profile)
}

/// What came of a sheet, a line each.
fn told(import: &Import) -> String {
    let mut lines = Vec::new();
    for row in &import.rows {
        let what = match &row.verdict {
            Verdict::Face(face) => {
                let face = &import.faces[*face];
                let sizes = match &face.sizes {
                    Sizes::Rect(a, b) => format!("{} x {}", a.written(), b.written()),
                    Sizes::Area { area, height, .. } => {
                        format!("{} high {}", area.written(), height.written())
                    }
                };
                format!(
                    "{} / {}: {sizes} x{}",
                    face.structure, face.name, face.count
                )
            }
            Verdict::Opening(face, opening) => {
                let opening = &import.faces[*face].openings[*opening];
                format!(
                    "{} {:.4} m2 x{}",
                    opening.name,
                    opening.area(),
                    opening.count
                )
            }
            Verdict::Heading(text) | Verdict::Rejected(text) => text.clone(),
            Verdict::Total(_) | Verdict::Note | Verdict::Offer(_) => String::new(),
        };
        lines.push(format!("{} {}: {what}", row.row + 1, row.verdict.word()));
    }
    for question in &import.questions {
        lines.push(format!("? {}: {}", question.key, question.text));
    }
    for remark in &import.remarks {
        lines.push(format!("! {}", remark.text));
    }
    lines.join("\n")
}

/// An opening under a face that is not taken over is none of the face above it.
#[test]
fn an_opening_of_a_rejected_face_goes_into_no_other() {
    let csv = "Wall,Length (ft),Height (ft)\nNorth,40,10\nSouth,?,10\nless door,3,7\n";
    let read = read_with(csv, &[("openings", "deduct")]);
    assert_eq!(read.faces.len(), 1);
    assert!(read.faces[0].openings.is_empty(), "{}", told(&read));
    let rejected = |row: &&RowRead| matches!(row.verdict, Verdict::Rejected(_));
    assert_eq!(read.rows.iter().filter(rejected).count(), 2);
}

/// Nobody knows which of two statements holds, so neither does.
#[test]
fn a_size_that_is_stated_twice_is_rejected() {
    let csv = "Wall,Size (ft),Height (ft)\nNorth,40 x 10,12\nSouth,20 x 10,\n";
    let read = read_with(csv, &[]);
    assert_eq!(read.faces.len(), 1, "{}", told(&read));
    assert!(matches!(read.rows[1].verdict, Verdict::Rejected(_)));
}

#[test]
fn rooms_with_totals() {
    let csv = "Beech Lane,,,\nWall,L (ft),H (ft),Qty,SF\nHall,,,,\nNorth,12,8,1,96\nSouth,10,8,2,160\n\
               Subtotal,,,,256\nKitchen,,,,\nEast,9,8,1,72\nGrand total,,,,328\nSealed by others,,,,\n";
    insta::assert_snapshot!(told(&read_with(csv, &[])));
}

#[test]
fn openings_in_rows_are_asked_about_and_deducted() {
    let csv = "Wall,Length (m),Height (m),Nos\nFront,6.0,2.4,1\nDoor D1,0.9,2.1,1\nless window,1.2,1.0,2\n";
    insta::assert_snapshot!(told(&read_with(csv, &[])), @r"
    1 heading: the header of the table
    2 face: sheet / Front: 6.0m x 2.4m x1
    3 rejected: a question about it is open
    4 opening: less window 2.4000 m2 x2
    ? openings: row `Door D1` and others begin with the word of an opening
    ");
    let answered = read_with(csv, &[("openings", "deduct")]);
    assert!(answered.questions.is_empty());
    assert!((answered.faces[0].deducted() - 4.29).abs() < 1e-9);
}

#[test]
fn a_doubled_subtotal_and_a_slip_of_units_are_told() {
    let csv =
        "Wall,L (ft),H (ft),SF\nA,10,8,80\nB,10,8,80\nTotal A,,,160\nC,10,96,80\nTotal,,,400\n";
    insta::assert_snapshot!(told(&read_with(csv, &[])));
}

#[test]
fn what_nobody_says_is_asked() {
    insta::assert_snapshot!(told(&read_with("Wall,L,H\nA,10,8\n", &[])), @r"
    1 heading: the header of the table
    2 rejected: a question about it is open
    ? length: sheet!B2 and others state a size, and nothing says in which unit
    ");
    let bill = "Item,Qty,Unit\nFeature wall,120,SF\n";
    insta::assert_snapshot!(told(&read_with(bill, &[])), @r"
    1 heading: the header of the table
    2 rejected: a question about it is open
    ? height: row 2 states an area alone: how high are such faces?
    ");
    insta::assert_snapshot!(told(&read_with(bill, &[("height", "8ft")])), @r"
    1 heading: the header of the table
    2 face: sheet / Feature wall: 120ft2 high 8ft x1
    ");
}

#[test]
fn blocks_that_repeat() {
    let csv = "Wall,L (m),H (m),Nos\nTypical bay (x 4),,,\nFront,3,2,1\nSide,1,2,2\n";
    let asked = read_with(csv, &[]);
    assert_eq!(asked.questions[0].key, "repeats");
    let read = read_with(csv, &[("repeats", "multiply")]);
    assert_eq!(
        read.faces.iter().map(|face| face.count).collect::<Vec<_>>(),
        [4, 8]
    );
    assert_eq!(read.faces[0].structure, "Typical bay");
}

#[test]
fn rows_that_cannot_be_read_say_why() {
    let csv = "Wall,L (ft),H (ft)\nA,TBC,8\nB,10,\nDoor,3,7\nC,,\nD,8-6,8\n";
    let answers = [("openings", "deduct"), ("height", "9ft")];
    insta::assert_snapshot!(told(&read_with(csv, &answers)));
}

#[test]
fn an_opening_whose_area_does_not_fit_its_sizes_is_told() {
    let csv = "Wall,L (ft),H (ft),Nos,SF\nA,10,8,1,80\nless door,3,7,1,21\nless vent,2,1,2,4\n\
               less window,4,3,1,144\n";
    let read = read_with(csv, &[]);
    let told: Vec<&str> = read.remarks.iter().map(|told| told.text.as_str()).collect();
    assert_eq!(
        told,
        [
            "sheet!E5 states 144ft2, and its sizes make 12, of all such openings of one face: 12 times as much"
        ]
    );
    assert!(
        read.remarks
            .iter()
            .all(|told| told.weight == Weight::Contradiction)
    );
}

#[test]
fn a_total_that_counts_a_block_once_is_told() {
    let csv = "Wall,L (m),H (m),Nos,m2\nTypical bay (x 4),,,,\nFront,3,2,1,6\nless door,1,2,1,2\n\
               Hall,,,,\nSide,1,2,2,4\nTotal,,,,8\n";
    let read = read_with(csv, &[("repeats", "multiply"), ("openings_are", "each")]);
    insta::assert_snapshot!(told(&read));
}
