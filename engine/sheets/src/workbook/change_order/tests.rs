use super::*;
use crate::sample::{self, PLAN, PRICES, Row, Sample};
use calamine::{Data, Reader, Xlsx};
use parge_calc::change::compare;
use std::fmt::Write;
use std::io::Cursor;

const PLANS: Both<&str> = Both {
    old: "HEAD~1:walls.parge",
    new: "=walls.parge",
};

fn bytes(old: &Sample, new: &Sample) -> Vec<u8> {
    let changes = compare(&old.estimate, &new.estimate);
    change_order(&changes, PLANS, &new.estimate).unwrap()
}

/// The sample with other sizes, texts that look like formulas, and another wage.
fn revised() -> Sample {
    let edits = [
        ("22ft 4in", "24ft"),
        ("\"12 Quarry Road, north side\"", "\"-2+3\""),
        ("on wood bark {", "on block bark {"),
        (
            "structure \"Entry planter\" on block {",
            "structure \"Entry planter\" on block {\n  face \"+cap\" rect 4ft x 1ft stone",
        ),
    ];
    let mut plan = PLAN.to_owned();
    for (from, to) in edits {
        assert!(plan.contains(from), "{from}");
        plan = plan.replace(from, to);
    }
    let dearer = |row: Row| match row {
        ("labour", description, pack, _, supplier) => {
            ("labour", description, pack, "40.25", supplier)
        }
        row => row,
    };
    sample::run(&plan, &PRICES.map(dearer), "USD")
}

/// Values and formulas of the sheet, row by row.
fn sheet(bytes: &[u8]) -> (calamine::Range<Data>, calamine::Range<String>) {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.to_vec())).unwrap();
    assert_eq!(book.sheet_names(), [NAME]);
    (
        book.worksheet_range(NAME).unwrap(),
        book.worksheet_formula(NAME).unwrap(),
    )
}

fn as_text(bytes: &[u8]) -> String {
    let (values, formulas) = sheet(bytes);
    let (rows, columns) = values.end().unwrap();
    let mut text = String::new();
    for row in 0..=rows {
        for column in 0..=columns {
            let value = match values.get_value((row, column)) {
                None | Some(Data::Empty) => continue,
                Some(Data::Float(number)) => number.to_string(),
                Some(Data::String(words)) => format!("{words:?}"),
                Some(other) => format!("{other:?}"),
            };
            let name = row_col_to_cell(row, column as u16);
            let formula = formulas
                .get_value((row, column))
                .filter(|text| !text.is_empty());
            match formula {
                Some(formula) => writeln!(text, "{name}  ={formula}  ->  {value}"),
                None => writeln!(text, "{name}  {value}"),
            }
            .unwrap();
        }
    }
    text
}

#[test]
fn the_whole_change_order() {
    insta::assert_snapshot!(as_text(&bytes(&sample::complete(), &revised())));
}

/// Every formula is computed anew from the cells, and gives the result that stands there.
#[test]
fn differences_and_sums_are_what_their_formulas_say() {
    let (values, formulas) = sheet(&bytes(&sample::complete(), &revised()));
    let number = |cell: &str| -> f64 {
        let column = u32::from(cell.as_bytes()[0] - b'A');
        let row: u32 = cell[1..].parse().unwrap();
        match values.get_value((row - 1, column)) {
            Some(Data::Float(number)) => *number,
            other => panic!("{cell}: {other:?}"),
        }
    };
    let (top, left) = formulas.start().unwrap();
    let mut seen = 0;
    for (row, column, formula) in formulas.used_cells() {
        let at = (top + row as u32, left + column as u32);
        let Some(Data::Float(result)) = values.get_value(at) else {
            assert_eq!(at.0, STATUS, "{formula}");
            continue;
        };
        let expected = if let Some(range) = formula.strip_prefix("SUM(") {
            let (first, last) = range.trim_end_matches(')').split_once(':').unwrap();
            let rows = first[1..].parse::<u32>().unwrap()..=last[1..].parse::<u32>().unwrap();
            rows.map(|row| number(&format!("{}{row}", &first[..1])))
                .sum()
        } else {
            let inside = formula
                .strip_prefix("ROUND(")
                .unwrap()
                .trim_end_matches(')');
            let (difference, digits) = inside.split_once(',').unwrap();
            let (after, before) = difference.split_once('-').unwrap();
            let digits = 10_f64.powi(digits.parse().unwrap());
            ((number(after) - number(before)) * digits).round() / digits
        };
        assert!(
            (expected - result).abs() < 1e-6,
            "{formula} is {expected}, not {result}"
        );
        seen += 1;
    }
    assert!(seen > 20, "only {seen} formulas");
}

#[test]
fn texts_that_look_like_formulas_stay_texts() {
    let (values, formulas) = sheet(&bytes(&sample::complete(), &revised()));
    let texts: Vec<(u32, u32, String)> = values
        .used_cells()
        .map(|(row, column, cell)| (row as u32, column as u32, cell.to_string()))
        .collect();
    for text in ["=1+1", "-2+3", "=walls.parge"] {
        let found = texts.iter().find(|(.., cell)| cell == text);
        let (row, column, _) = found.unwrap_or_else(|| panic!("{text}"));
        let formula = formulas.get_value((*row, *column));
        assert!(formula.is_none_or(|formula| formula.is_empty()));
    }
}

#[test]
fn two_runs_give_the_same_bytes_with_their_seal() {
    let once = || bytes(&sample::complete(), &revised());
    assert!(once() == once());
    assert!(crate::is_untouched(&once()));
}

#[test]
fn open_lines_and_two_currencies_are_said_at_the_top() {
    let top = |new: &Sample| {
        let (values, _) = sheet(&bytes(&sample::complete(), new));
        values.get_value((STATUS, 0)).unwrap().to_string()
    };
    assert_eq!(top(&revised()), "Adds to the price");
    assert_eq!(top(&sample::complete()), "Leaves the price as it was");
    assert!(top(&sample::without_lath()).starts_with("INCOMPLETE"));
    let euros = sample::run(PLAN, &PRICES, "EUR");
    assert!(top(&euros).contains("different currencies"));
    // Without a difference there is no formula for one.
    let text = as_text(&bytes(&sample::complete(), &euros));
    assert!(text.contains("\"USD, then EUR\""));
    assert!(!text.contains("E21  =ROUND"), "{text}");
}

#[test]
fn a_plan_against_itself_says_so() {
    let text = as_text(&bytes(&sample::complete(), &sample::complete()));
    assert!(text.contains("nothing in the plan, the rules or the prices"));
}
