use super::*;
use crate::sample;
use parge_base::Units;
use parge_calc::actuals::lines;

fn form() -> Form {
    let sample = sample::with_everything();
    let lines = lines(&sample.estimate, &Units::standard());
    Form::of(&sample.estimate, &lines, &sample::fingerprint())
}

#[test]
fn the_text_of_a_form() {
    insta::assert_snapshot!(form().text());
}

/// Names of users are texts wherever the table is opened.
#[test]
fn nothing_in_the_table_is_a_formula() {
    let csv = form().csv();
    for line in csv.lines() {
        for cell in line.split(',') {
            assert!(!cell.starts_with(['=', '+', '@']), "{line}");
        }
    }
    assert!(csv.starts_with("\u{feff}what,name,where,amount,unit,price,currency,note\r\n"));
}

#[test]
fn a_workbook_is_sealed() {
    let sample = sample::complete();
    let bytes = form().workbook(&sample.estimate).unwrap();
    assert!(crate::is_untouched(&bytes));
}
