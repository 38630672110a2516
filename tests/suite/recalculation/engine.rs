//! What the engine must know before it is believed: it computes by itself, tells an error from a
//! text, and has all that formulas of a workbook use.

use super::book::Recalculated;
use super::find::At;
use super::place::Place;
use super::value::Value;
use rust_xlsxwriter::{Formula, Workbook};

/// Sheet `Sums` has formulas in column B and their stored results, beside what each is about;
/// sheet `Day plan` has what they rest on.
fn book(formulas: &[(&str, Value)]) -> Recalculated {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Sums").unwrap();
    // Without this the writer stores 0 for an empty text.
    sheet.set_formula_result_default("");
    for (row, (formula, result)) in (0..).zip(formulas) {
        let result = match result {
            Value::Text(text) => text.clone(),
            other => other.to_string(),
        };
        let formula = Formula::new(*formula).set_result(result);
        sheet.write_formula(row, 1, formula).unwrap();
    }
    let sheet = book.add_worksheet().set_name("Day plan").unwrap();
    let words = ["wall", "pier", "wall", "hearth"];
    let numbers = [40.0, 2.5, 7.25, 0.75];
    for (row, (word, number)) in (0..).zip(words.into_iter().zip(numbers)) {
        sheet.write_string(row, 0, word).unwrap();
        sheet.write_number(row, 1, number).unwrap();
    }
    for (name, cell) in [
        ("waste.finish_mix.stamp", "='Day plan'!$B$1"),
        ("size.entry_planter.street.width", "='Day plan'!$B$3"),
        ("_12_wall", "='Day plan'!$B$4"),
    ] {
        book.define_name(name, cell).unwrap();
    }
    Recalculated::open(&book.save_to_buffer().unwrap())
}

/// The results are worked by hand, or stand in a table of logarithms.
#[test]
fn all_that_formulas_use_is_known() {
    let text = Value::from;
    let number = Value::from;
    let mut book = book(&[
        ("=ROUND('Day plan'!$B$3,1)", number(7.3)),
        ("=ROUND(-2.5,0)", number(-3.0)),
        ("=ROUND(1.005,2)", number(1.01)),
        ("=ROUNDUP(ROUND(3.0000000001,9),0)", number(3.0)),
        ("=ROUNDUP(ROUND(3.00000001,9),0)", number(4.0)),
        ("=INT(-2.5)", number(-3.0)),
        (
            "=IF(AND('Day plan'!B1>39,OR(1>2,2>1)),\"yes\",\"no\")",
            text("yes"),
        ),
        ("=IF('Day plan'!$C$1=\"\",\"no price\",1)", text("no price")),
        ("=IF('Day plan'!A1=\"WALL\",1,0)", number(1.0)),
        ("=SUM('Day plan'!$B$1:$B$4)", number(50.5)),
        (
            "=SUMPRODUCT('Day plan'!$B$1:$B$4,'Day plan'!$B$1:$B$4)",
            number(1659.375),
        ),
        (
            "=SUMIF('Day plan'!$A$1:$A$4,\"wall\",'Day plan'!$B$1:$B$4)",
            number(47.25),
        ),
        ("=COUNTIF('Day plan'!$A$1:$A$4,\"wall\")", number(2.0)),
        (
            "=MAX('Day plan'!$B$1:$B$4)-MIN('Day plan'!$B$1:$B$4)",
            number(39.25),
        ),
        ("=ABS(-1.5)+SQRT(2.25)", number(3.0)),
        ("=ASIN(1)*2/PI()", number(1.0)),
        ("=EXP(LN(7))", number(7.0)),
        ("=EXP(1)", number(std::f64::consts::E)),
        ("=LN(2)", number(std::f64::consts::LN_2)),
        ("=POWER(2,10)+2^-1", number(1024.5)),
        ("=-2^2", number(4.0)),
        ("=MATCH(\"hearth\",'Day plan'!$A$1:$A$4,0)", number(4.0)),
        (
            "=INDEX('Day plan'!$B$1:$B$4,MATCH(\"pier\",'Day plan'!$A$1:$A$4,0))",
            number(2.5),
        ),
        (
            "=\"a \"&'Day plan'!A2&\" of \"&'Day plan'!B2",
            text("a pier of 2.5"),
        ),
        ("=\"12 wall\"", text("12 wall")),
        ("=waste.finish_mix.stamp/100", number(0.4)),
        ("=size.entry_planter.street.width*_12_wall", number(5.4375)),
        (
            "=SUM(waste.finish_mix.stamp,WASTE.Finish_Mix.Stamp)",
            number(80.0),
        ),
        ("=\"\"", text("")),
    ]);
    assert_eq!(book.differences(), []);
    assert_eq!(book.errors(), []);
    assert_eq!(book.sheets(), ["Sums", "Day plan"]);

    let waste = book.find(&At::Name("waste.finish_mix.stamp".to_owned()));
    assert_eq!(waste, Place::new("Day plan", 1, 2));
    book.set(&waste, 60.0);
    book.recalculate();
    let sum = book
        .stored()
        .iter()
        .find(|(_, stored)| stored.formula.starts_with("waste."));
    let (place, _) = sum.unwrap();
    assert_eq!(
        book.read(place),
        Value::Number(0.6),
        "the name follows its cell"
    );
}

/// A stored result is not believed, and neither is one that the engine cannot compute.
#[test]
fn wrong_results_and_errors_are_found() {
    let book = book(&[
        ("=1+1", Value::Number(3.0)),
        ("=1/0", Value::Number(1.0)),
        ("=NOSUCHTHING(1)", Value::Number(1.0)),
        ("=no.such.name", Value::Number(1.0)),
        ("=2+2", Value::Number(4.0)),
    ]);
    let rows = |places: Vec<&Place>| places.iter().map(|place| place.row).collect::<Vec<_>>();
    let differences = book.differences();
    let errors = book.errors();
    assert_eq!(
        rows(differences.iter().map(|it| &it.place).collect()),
        [1, 2, 3, 4]
    );
    assert_eq!(
        rows(errors.iter().map(|(place, _)| place).collect()),
        [2, 3, 4]
    );
    assert_eq!(differences[0].to_string(), "Sums!B1: 2, not 3: =1+1");
}

#[test]
fn an_emptied_cell_is_not_nought() {
    let mut book = book(&[("=IF('Day plan'!B2=\"\",\"no price\",1)", Value::Number(1.0))]);
    assert_eq!(book.differences(), []);
    book.set(&Place::new("Day plan", 2, 2), Value::Empty);
    book.recalculate();
    assert_eq!(book.read(&Place::new("Sums", 1, 2)), "no price".into());
}
