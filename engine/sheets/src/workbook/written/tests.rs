use super::*;
use rust_xlsxwriter::utility::{row_col_to_cell, row_col_to_cell_absolute};

fn said(push: impl Fn(&mut String)) -> String {
    let mut text = String::new();
    push(&mut text);
    text
}

#[test]
fn cells_are_named_as_the_writer_names_them() {
    for column in (0..1_500).chain([16_383]) {
        for row in [0, 8, 9, 99, 1_048_575] {
            let plain = said(|text| push_cell(text, row, column));
            assert_eq!(plain, row_col_to_cell(row, column));
            let fixed = said(|text| push_fixed(text, row, column));
            assert_eq!(fixed, row_col_to_cell_absolute(row, column));
        }
    }
}

#[test]
fn a_number_is_written_as_it_is_shown() {
    let numbers = [
        0.0,
        -0.0,
        1.0,
        -1.0,
        10.0,
        4_294_967_295.0,
        4_294_967_296.0,
        0.1,
        1.0 / 3.0,
        1e21,
        1e-7,
    ];
    for number in numbers {
        assert_eq!(said(|text| push_number(text, number)), number.to_string());
    }
}
