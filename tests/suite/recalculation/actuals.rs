//! The sheet of actuals: its formulas are those of the program, also after what was used is typed in
//! or corrected there.

use super::book::Recalculated;
use super::place::Place;
use parge_cli::Exit;
use parge_tests::Folder;

const SHEET: &str = "Actuals";

fn folder(record: &str) -> Folder {
    let folder = Folder::with_example("sedge-ferry").unwrap();
    if !record.is_empty() {
        folder.write("actuals.txt", record).unwrap();
    }
    folder
}

fn workbook(folder: &Folder) -> Recalculated {
    let said = folder.parge("actuals job.parge -o book.xlsx --force");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    Recalculated::open(&std::fs::read(folder.path("book.xlsx")).unwrap())
}

/// The cell of a column in the line of a material, from 0.
fn cell(line: u32, column: u32) -> Place {
    Place::new(SHEET, 5 + line, column)
}

/// Columns of the sheet, from 1.
const RECORDED: u32 = 6;
const PAID: u32 = 10;

#[test]
fn every_formula_computes_what_was_stored_with_it() {
    for record in ["", "hours place 80 h\nfinish-mix 70 bags\n"] {
        let book = workbook(&folder(record));
        assert_eq!(book.differences(), []);
        assert_eq!(book.errors(), []);
        let own = book.stored().keys().filter(|place| place.sheet == SHEET);
        assert!(own.count() > 300);
    }
}

/// An amount that is corrected, one that was not recorded before, and a price paid: the workbook
/// reckons as the program does of a record that says the same.
#[test]
fn what_is_typed_in_is_as_if_it_was_recorded() {
    let base = "area \"Seat walls\" 134 ft2\nhours carve \"Seat walls\" 5 h\n";
    let mut book = workbook(&folder(&format!("{base}finish-mix 70 bags\n")));
    book.set(&cell(0, RECORDED), 61.5);
    book.set(&cell(1, RECORDED), 20.0);
    book.set(&cell(1, PAID), 17.25);
    book.recalculate();
    let record = format!("{base}finish-mix 61.5 bags\nscratch-mix 20 bags at 17.25 USD\n");
    let wanted = workbook(&folder(&record));
    assert_eq!(book.differences_from(&wanted), []);
    assert_eq!(book.errors(), []);
}

/// A use that is taken away again counts on neither side.
#[test]
fn an_emptied_cell_is_not_recorded() {
    let mut book = workbook(&folder("finish-mix 70 bags\nscratch-mix 20 bags\n"));
    book.set(&cell(1, RECORDED), super::value::Value::Empty);
    book.recalculate();
    let wanted = workbook(&folder("finish-mix 70 bags\n"));
    assert_eq!(book.differences_from(&wanted), []);
}
