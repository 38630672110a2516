use super::*;

const MADE: &str = "<worksheet><dimension ref=\"A1:C9\"/><sheetData><row r=\"1\"><c r=\"A1\"/></row>\
    <row r=\"4\"></row><row r=\"9\"/></sheetData><more/></worksheet>";

fn body(first: u32, last: [u32; 2]) -> Body {
    Body {
        is_long: true,
        waiting: None,
        first,
        last,
        parts: Vec::new(),
    }
}

#[test]
fn a_body_stands_between_the_rows_above_and_below_it() {
    let (before, behind) = around(MADE, &body(4, [7, 1])).unwrap();
    assert!(before.ends_with("<row r=\"4\"></row>"));
    assert!(behind.starts_with("<row r=\"9\"/></sheetData>"));
    assert!(before.contains("ref=\"A1:C9\""));
    let (before, behind) = around(MADE, &body(9, [20, 30])).unwrap();
    assert!(before.ends_with("<row r=\"9\"/>"));
    assert!(behind.starts_with("</sheetData>"));
    assert!(before.contains("ref=\"A1:AE21\""));
}

#[test]
fn the_dimension_holds_all_cells() {
    assert_eq!(dimension("A1", [0, 0]).unwrap(), "A1:A1");
    assert_eq!(dimension("A1:AB7", [3, 2]).unwrap(), "A1:AB7");
    assert_eq!(dimension("A1:AB7", [9, 701]).unwrap(), "A1:ZZ10");
    assert_eq!(dimension("", [9, 701]), None);
}

#[test]
fn a_workbook_larger_than_an_archive_is_refused() {
    assert_eq!(small(7).unwrap(), 7);
    insta::assert_snapshot!(small(1 << 32).unwrap_err(), @"the workbook could not be written: it would be larger than the 4 GB that a workbook can hold: divide the job");
}

#[test]
fn a_body_without_a_part_is_no_file() {
    let mut book = rust_xlsxwriter::Workbook::new();
    book.add_worksheet();
    let made = book.save_to_buffer().unwrap();
    let mut file = Vec::new();
    assert!(write(made, vec![(2, body(0, [0, 0]))], &mut file).is_err());
}
