use super::*;
use crate::sample::{self, BARE_PLAN, PRICES, Sample};
use crate::{is_untouched, jobs_workbook};
use calamine::{Data, Reader, Xlsx};
use rust_decimal::Decimal;
use serde_json::Value;
use std::io::Cursor;

fn row(plan: &str, name: &str, sample: &Sample) -> JobRow {
    let mut row = JobRow {
        plan: plan.to_owned(),
        name: name.to_owned(),
        client: Some("=1+1".to_owned()),
        figures: Some(Figures::of(&sample.estimate)),
        errors: 0,
        warnings: 0,
        first: None,
    };
    row.say(&sample.diagnostics, &sample.sources);
    row
}

/// Two jobs in dollars, of which one lacks a price, one in euros, and one that could not be read.
fn jobs() -> Jobs {
    let failed = JobRow {
        plan: "north/bad.parge".to_owned(),
        name: String::new(),
        client: None,
        figures: None,
        errors: 2,
        warnings: 1,
        first: Some(FirstError {
            code: "E0202",
            message: "there is no finish `ston`".to_owned(),
            place: Some(("bad.parge".to_owned(), 12, 5)),
        }),
    };
    Jobs {
        rows: vec![
            row("court.parge", "Court", &sample::complete()),
            row(
                "east/bare.parge",
                "@Bare; =1+1",
                &sample::run(BARE_PLAN, &PRICES, "EUR"),
            ),
            failed,
            row("open.parge", "Open", &sample::without_lath()),
        ],
        parts: vec![Part {
            file: "company/finishes.parge".to_owned(),
            included: true,
        }],
    }
}

#[test]
fn as_lines_of_values() {
    insta::assert_snapshot!(jobs_csv(&jobs()));
}

#[test]
fn as_json_by_the_schema() {
    let text = jobs_json(&jobs());
    let value: Value = serde_json::from_str(&text).unwrap();
    let schema: Value = serde_json::from_str(JOBS_SCHEMA).unwrap();
    assert!(jsonschema::meta::is_valid(&schema));
    let validator = jsonschema::validator_for(&schema).unwrap();
    let errors: Vec<String> = validator
        .iter_errors(&value)
        .map(|error| error.to_string())
        .collect();
    assert_eq!(errors, [""; 0]);
    assert!(is_jobs_json(text.as_bytes()));
    assert!(!is_jobs_json(b"{\"jobs\":[]}") && !is_jobs_json(b""));
    insta::assert_snapshot!(text);
}

/// Amounts of one currency are added, and those of jobs that could not be estimated are in no sum.
#[test]
fn totals_are_by_currency() {
    let jobs = jobs();
    let totals = jobs.totals();
    let codes: Vec<_> = totals
        .iter()
        .map(|total| (total.currency.code(), total.jobs, total.incomplete))
        .collect();
    assert_eq!(codes, [("EUR", 1, 0), ("USD", 2, 1)]);
    let sum = |of: fn(&Figures) -> Money| {
        let dollars = jobs.rows.iter().filter_map(|row| row.figures);
        let dollars = dollars.filter(|of| of.total.currency().code() == "USD");
        dollars
            .map(|figures| of(&figures).amount())
            .sum::<Decimal>()
    };
    let sums = totals[1].sums.unwrap();
    assert_eq!(sums.materials.amount(), sum(|of| of.materials));
    assert_eq!(sums.labour.amount(), sum(|of| of.labour));
    assert_eq!(sums.total.amount(), sum(|of| of.total));
    assert_eq!(jobs.failed(), 1);
}

/// A sum that cannot be written is no figure anywhere.
#[test]
fn a_sum_that_is_too_large_is_none() {
    let mut jobs = jobs();
    for row in &mut jobs.rows {
        if let Some(figures) = &mut row.figures {
            figures.total = Money::new(Decimal::MAX, figures.total.currency());
        }
    }
    let of = |code: &str| {
        let totals = jobs.totals();
        totals.into_iter().find(|of| of.currency.code() == code)
    };
    assert!(of("USD").unwrap().sums.is_none());
    assert!(of("EUR").unwrap().sums.is_some());
    jobs_workbook(&jobs).unwrap();
}

#[test]
fn as_a_workbook() {
    let jobs = jobs();
    let bytes = jobs_workbook(&jobs).unwrap();
    assert!(is_untouched(&bytes));
    assert!(bytes == jobs_workbook(&jobs).unwrap());
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    for name in ["Jobs", "Totals"] {
        text += &format!("== {name}\n");
        let range = book.worksheet_range(name).unwrap();
        let formulas = book.worksheet_formula(name).unwrap();
        for (row, cells) in range.rows().enumerate() {
            let cells = cells.iter().enumerate().map(|(column, cell)| {
                let at = (row as u32, column as u32);
                match formulas.get_value(at).filter(|formula| !formula.is_empty()) {
                    Some(formula) => format!("{cell} [={formula}]"),
                    None if *cell == Data::Empty => String::new(),
                    None => cell.to_string(),
                }
            });
            text += cells
                .collect::<Vec<_>>()
                .join(" | ")
                .trim_end_matches([' ', '|']);
            text += "\n";
        }
    }
    insta::assert_snapshot!(text);
}
