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
                    Sizes::Area { area, side, .. } => match side {
                        Side::Answered(side) | Side::High(side) => {
                            format!("{} high {}", area.written(), side.written())
                        }
                        Side::Long(side) => format!("{} long {}", area.written(), side.written()),
                    },
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

/// A deduction beside the sizes of an opening is held against them, and passed over by nothing.
#[test]
fn a_deduction_beside_the_sizes_of_an_opening_is_held_against_them() {
    let head = "Wall,L (ft),H (ft),Opng W (ft),Opng H (ft),Opng qty,ddt (SF)\n";
    let csv = format!("{head}A,20,8,3,7,2,42\nB,20,8,3,7,2,21\nC,20,8,3,7,1,45\nD,20,8,,,,12\n");
    let read = read_with(&csv, &[]);
    insta::assert_snapshot!(told(&read));
    let same =
        "Wall,L (ft),H (ft),Opening size (ft),ddt (ft)\nA,20,8,3 x 7,3 x 7\nB,20,8,3 x 7,4 x 7\n";
    insta::assert_snapshot!(told(&read_with(same, &[])));
}

#[test]
fn a_deduction_beside_the_sizes_of_an_openings_own_row_is_held_against_them() {
    let csv = "Wall,L (ft),H (ft),SF,ddt (SF)\nA,20,8,160,\nless door,3,7,,21\nB,20,8,160,\n\
               less door,3,7,,12\n";
    insta::assert_snapshot!(told(&read_with(csv, &[])));
}

/// An area that openings are off already loses them once.
#[test]
fn openings_are_not_taken_off_a_net_area() {
    let csv = "Wall,ddt (SF),Net area (SF)\nA,20,140\nB,,150\n";
    insta::assert_snapshot!(told(&read_with(csv, &[("height", "8ft")])));
}

#[test]
fn an_area_with_one_size_is_taken_with_it() {
    let csv = "Wall,Length (m),Height (m),Area (m2)\nA,,2.5,10\nB,4,,10\nC,4,2.5,10\nD,,2.5,\n";
    let read = read_with(csv, &[]);
    insta::assert_snapshot!(told(&read));
    let guesses: Vec<&str> = read
        .guesses
        .iter()
        .map(|guess| guess.what.as_str())
        .collect();
    insta::assert_snapshot!(guesses.join("\n"));
}

/// `12.500` is twelve and a half in one office and twelve thousand five hundred in another.
#[test]
fn a_lone_point_before_three_digits_is_asked_about() {
    let of = |csv: &str, answers: &[(&str, &str)]| {
        let read = read_with(csv, answers);
        let guesses = read
            .guesses
            .iter()
            .map(|guess| format!("~ {}, since {}", guess.what, guess.reason));
        let lines: Vec<String> = std::iter::once(told(&read)).chain(guesses).collect();
        lines.join("\n")
    };
    let mm = "Wall,Length (mm),Height (mm)\nA,12.500,2.400\n";
    insta::assert_snapshot!(of(mm, &[]));
    insta::assert_snapshot!(of(mm, &[("decimal", "comma")]));
    // The numbers of walls say nothing of their sizes.
    let numbered =
        "Item no,Wall,Length (m),Height (m)\n1.1,A,12.500,2.400\n1.2,B 2.5,3.250,2.400\n";
    insta::assert_snapshot!(of(numbered, &[]));
    // Another size on the sheet does, and so do feet and inches.
    let shown = "Wall,Length (m),Height (m)\nA,12.500,2.4\n";
    insta::assert_snapshot!(of(shown, &[]));
    let feet = "Wall,Length (in),Height (in)\nA,120.125,96.500\n";
    insta::assert_snapshot!(of(feet, &[]));
}

/// A total is held against the rows and the sum of which it speaks; what agrees only otherwise is a
/// doubt.
#[test]
fn a_total_that_agrees_only_with_an_odd_reading_is_doubted() {
    let head = "Wall,L (ft),H (ft),Nos,SF\n";
    let rows = "A,10,8,1,80\nless door,2,7,1,14\n";
    let of = |totals: &str| told(&read_with(&format!("{head}{rows}{totals}"), &[]));
    insta::assert_snapshot!(of("Total,,,,66\n"));
    insta::assert_snapshot!(of("Total,,,,94\n"));
    insta::assert_snapshot!(of("Total,,,,80\n"));
    insta::assert_snapshot!(of("Gross total,,,,80\n"));
    insta::assert_snapshot!(of(
        "Subtotal,,,,66\nB,10,8,1,80\nSubtotal,,,,146\nGrand total,,,,80\n"
    ));
}

/// A minus before a size is an opening where its area is off as well, and a slip where it is not.
#[test]
fn a_size_below_zero_beside_an_area_above_it_is_a_slip() {
    let csv =
        "Wall,L (ft),H (ft),W (ft),Qty,SF\nA,10,8,,1,80\nB,10,-8,,,80\nC,-3,7,,1,-21\nD,10,8,,,\n";
    let read = read_with(csv, &[]);
    insta::assert_snapshot!(told(&read));
    let guess = "rows without a figure under `Qty` count once";
    assert!(
        read.guesses.iter().any(|told| told.what == guess),
        "{:?}",
        read.guesses
    );
}

/// The unit of one column is none of the column beside it, and a remark of a row is none of the sheet.
#[test]
fn only_a_note_of_the_sheet_is_of_all_its_columns() {
    let beside = "Wall,Length (m),Height,Remarks\nA,4,2400,size of site 3 m\n";
    let read = read_with(beside, &[]);
    assert_eq!(read.questions[0].key, "length", "{}", told(&read));
    let note = "Oak House,,\nWall,Length,Height\nAll in mm,,\nA,4000,2400\n";
    let read = read_with(note, &[]);
    insta::assert_snapshot!(told(&read));
    let guess = "2 figures have their unit from what stands in a note on the sheet";
    assert!(
        read.guesses.iter().any(|told| told.what == guess),
        "{:?}",
        read.guesses
    );
}
