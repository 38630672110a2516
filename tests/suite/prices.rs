//! Prices that are missing, out of date or of another kind are said aloud everywhere.

use calamine::{Reader, Xlsx, open_workbook};
use parge_cli::Exit;
use parge_tests::Folder;
use serde_json::Value;

fn without(row: &str) -> Folder {
    let folder = Folder::with_demo().unwrap();
    let prices = folder.read("prices.csv").unwrap();
    let kept: Vec<&str> = prices
        .lines()
        .filter(|line| !line.starts_with(row))
        .collect();
    assert_eq!(kept.len() + 1, prices.lines().count());
    folder.write("prices.csv", kept.join("\n")).unwrap();
    folder
}

#[test]
fn a_missing_price_is_incomplete_on_screen_in_json_and_in_the_workbook() {
    let folder = without("metal-lath,");
    let said = folder.parge("estimate job.parge -o out.xlsx --json out.json");
    assert_eq!(said.exit, Exit::Problems);
    insta::assert_snapshot!(said);

    let json: Value = serde_json::from_str(&folder.read("out.json").unwrap()).unwrap();
    assert_eq!(json["status"], "incomplete");
    let line = json["materials"]
        .as_array()
        .unwrap()
        .iter()
        .find(|line| line["item"] == "metal-lath")
        .unwrap();
    for part in ["packs", "pack", "unit_price", "cost"] {
        assert_eq!(line[part], Value::Null, "{part}");
    }
    assert_eq!(json["diagnostics"][0]["code"], "E0505");

    let mut book: Xlsx<_> = open_workbook(folder.path("out.xlsx")).unwrap();
    let summary = book.worksheet_range("Summary").unwrap();
    let texts: Vec<String> = summary
        .used_cells()
        .map(|(_, _, cell)| cell.to_string())
        .collect();
    let said = texts
        .iter()
        .filter(|text| text.starts_with("INCOMPLETE: 1 line has no price"))
        .count();
    assert_eq!(said, 2, "at the top and beside the total: {texts:?}");
}

/// A row that leaves its price open prices nothing: the price is missing, and is not nothing.
#[test]
fn an_open_price_is_a_missing_price() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit("prices.csv", "sheet,12.60,USD", "sheet,,USD")
        .unwrap();
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Problems);
    let json: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(json["status"], "incomplete");
}

#[test]
fn without_a_wage_no_hour_is_priced() {
    let folder = without("labour,");
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Problems);
    let json: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(json["status"], "incomplete");
    assert_eq!(json["price"]["labour"], "0.00");
    assert!(
        json["labour"]
            .as_array()
            .unwrap()
            .iter()
            .all(|line| line["cost"].is_null())
    );
}

#[test]
fn prices_out_of_date_packs_of_another_kind_and_open_terms_are_said() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit("job.parge", "date 2026-05-11", "date 2026-11-11")
        .unwrap();
    folder
        .edit("job.parge", "until 2026-08-01", "until 2026-12-01")
        .unwrap();
    folder
        .edit("job.parge", "overhead 12%  profit margin 18%", "")
        .unwrap();
    folder
        .edit("prices.csv", "5,gal,pail,142.00", "5,lb,pail,142.00")
        .unwrap();
    let said = folder.parge("check job.parge");
    assert_eq!(said.exit, Exit::Problems);
    insta::assert_snapshot!(said);
}

#[test]
fn a_larger_pack_is_bought_less_often() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit(
            "prices.csv",
            "1,sheet,sheet,12.60",
            "10,sheet,bundle,120.00",
        )
        .unwrap();
    let said = folder.parge("estimate job.parge --json -");
    let json: Value = serde_json::from_str(&said.out).unwrap();
    let line = json["materials"]
        .as_array()
        .unwrap()
        .iter()
        .find(|line| line["item"] == "metal-lath")
        .unwrap();
    // 61.56 sheets with waste are seven bundles of ten.
    assert_eq!(
        (&line["packs"], &line["cost"]),
        (&serde_json::json!(7.0), &serde_json::json!("840.00"))
    );
}

/// Each colour comes in jugs of its own: two colours are never poured out of one.
#[test]
fn colours_are_bought_one_by_one() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit(
            "prices.csv",
            "colour,Ready colour,1,gal,jug,54.20",
            "colour/moss,Moss,1,gal,jug,60.00,USD,,\ncolour,Ready colour,1,gal,jug,54.20",
        )
        .unwrap();
    let said = folder.parge("estimate job.parge --json -");
    let json: Value = serde_json::from_str(&said.out).unwrap();
    let colours: Vec<(&str, &str)> = json["materials"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["item"].as_str().unwrap().starts_with("colour/"))
        .map(|line| {
            (
                line["item"].as_str().unwrap(),
                line["unit_price"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(colours.len(), 7, "{colours:?}");
    assert!(colours.contains(&("colour/moss", "60.00")), "its own row");
    assert!(
        colours.contains(&("colour/granite", "54.20")),
        "the row for any colour"
    );
}

#[test]
fn a_comma_in_a_price_is_said() {
    let folder = Folder::with_demo().unwrap();
    folder.edit("prices.csv", "24.80", "24,80").unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}

/// A rate without its percent sign would be a hundred times what was meant.
#[test]
fn a_rate_without_its_percent_sign_is_refused() {
    let folder = Folder::with_demo().unwrap();
    folder
        .edit("job.parge", "overhead 12%", "overhead 12")
        .unwrap();
    folder.edit("job.parge", "tax 7.25%", "tax 7.25").unwrap();
    folder.edit("job.parge", "burden 34%", "burden 3").unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}
