use super::*;
use calamine::{Data, Reader, Xlsx};
use std::io::{Cursor, Read};

#[test]
fn rows_keep_their_places_and_texts_stay_texts() {
    let book = VerdictBook {
        title: "rooms.xlsx".to_owned(),
        made: "Plan",
        sheets: vec![VerdictSheet {
            name: "Rooms [1]".to_owned(),
            rows: vec![VerdictRow {
                row: 4,
                cells: vec![(0, Cell::Text("=1+1".to_owned())), (2, Cell::Number(12.5))],
                verdicts: vec![Verdict {
                    word: "rejected".to_owned(),
                    detail: "no size".to_owned(),
                    look: true,
                }],
            }],
        }],
        sums: vec![("area".to_owned(), 12.0, 12.0, true)],
        lines: vec!["+one".to_owned()],
    };
    let bytes = verdict_workbook(&book).unwrap();
    assert!(crate::is_untouched(&bytes));
    let mut read: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    assert_eq!(read.sheet_names(), ["Rooms 1", "Reconciliation"]);
    let rows = read.worksheet_range("Rooms 1").unwrap();
    assert_eq!(
        rows.get_value((4, 0)),
        Some(&Data::String("=1+1".to_owned()))
    );
    assert_eq!(rows.get_value((4, 2)), Some(&Data::Float(12.5)));
    assert_eq!(
        rows.get_value((4, 4)),
        Some(&Data::String("rejected".to_owned()))
    );
    assert!(read.worksheet_formula("Rooms 1").unwrap().is_empty());
}

/// What is signed is not divided over pages beside each other: neither rows and their verdicts, nor
/// sums and whether they agree.
#[test]
fn each_sheet_is_one_page_wide() {
    let book = VerdictBook {
        title: "rooms.xlsx".to_owned(),
        made: "Plan",
        sheets: vec![VerdictSheet {
            name: "Rooms".to_owned(),
            rows: Vec::new(),
        }],
        sums: vec![("area".to_owned(), 12.0, 12.0, true)],
        lines: vec!["a line that is wider than any column of the sums ".repeat(4)],
    };
    let bytes = verdict_workbook(&book).unwrap();
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    for sheet in ["sheet1", "sheet2"] {
        let mut part = archive
            .by_name(&format!("xl/worksheets/{sheet}.xml"))
            .unwrap();
        let mut text = String::new();
        part.read_to_string(&mut text).unwrap();
        assert!(text.contains(r#"<pageSetUpPr fitToPage="1"/>"#), "{text}");
    }
}

/// Names that a workbook cannot tell apart once they are cut to its length are told apart.
#[test]
fn sheets_of_long_names_are_all_there() {
    let sheets = ["north", "south"].map(|side| VerdictSheet {
        name: format!("Elevation schedule block A {side}"),
        rows: Vec::new(),
    });
    let book = VerdictBook {
        title: "rooms.xlsx".to_owned(),
        made: "Plan",
        sheets: sheets.into(),
        sums: Vec::new(),
        lines: Vec::new(),
    };
    let bytes = verdict_workbook(&book).unwrap();
    let read: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    assert_eq!(read.sheet_names().len(), 3);
}
