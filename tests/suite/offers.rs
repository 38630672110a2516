//! Several offers an item, workbooks of prices, and the terms of a bid, through the program.

use calamine::{Data, Reader, Xlsx, open_workbook};
use parge_cli::Exit;
use parge_tests::Folder;
use rust_xlsxwriter::Workbook;
use serde_json::Value;

const PLAN: &str = r#"parge 1

job "Two walls" {
  date    2026-05-11
  rules   "vertical-concrete"
  prices  "prices.csv"
  crew    2
  start   2026-06-01
  bid {
    burden       30%
    overhead     10%
    contingency  8%
    class        3
    profit       margin 20%
    minimum      12 150 USD
    round        up to 10 USD
    tax          7.25% on materials
  }
}

finish rock { technique stamp  thickness 1in  sealer matte }

structure "Walls" on block {
  finish rock
  face tall   rect 30ft x 8ft
  face short  rect 12ft x 6ft
}
"#;

/// Finish mix in two sizes, with a break and an offer that has ended; release in two sizes.
const PRICES: &str = "\
item,pack,pack_unit,pack_name,price,currency,supplier,valid_from,valid_until,from_packs,lead_days,freight,taxed
finish-mix,1,bag,bag,24.80,USD,Mill Street Yard,,2026-12-31,,5,85.00,
finish-mix,1,bag,bag,20.10,USD,Mill Street Yard,,2026-12-31,75,5,85.00,
finish-mix,1.6,bag,sack,38.90,USD,Ferry Road Supply,,2026-12-31,,12,120,
finish-mix,1.6,bag,sack,18.90,USD,Old Quarry,,2025-12-31,,12,,
scratch-mix,1,bag,bag,16.40,USD,Mill Street Yard,,,,,,
water,1,gal,gallon,0.00,USD,Owner,,,,,,no
bonding-primer,5,gal,pail,142.00,USD,Mill Street Yard,,,,,,
masonry-cleaner,5,gal,pail,68.50,USD,Mill Street Yard,,,,,,
release,5,gal,pail,96.00,USD,Mill Street Yard,,,,,,
release,1,gal,jug,26.00,USD,Ferry Road Supply,,,,14,,no
sealer,5,gal,pail,228.00,USD,Mill Street Yard,,,,,,
sheeting,2000,ft2,roll,84.00,USD,Ferry Road Supply,,,,,,
masking,180,ft,roll,11.95,USD,Ferry Road Supply,,,,,,
curing-cover,600,ft2,roll,118.00,USD,Ferry Road Supply,,,,,,
labour,1,h,hour,36.50,USD,,,2026-06-30,,,,
labour,1,h,hour,38.50,USD,,2026-07-01,,,,,
";

fn job() -> Folder {
    let folder = Folder::new().unwrap();
    folder.write("job.parge", PLAN).unwrap();
    folder.write("prices.csv", PRICES).unwrap();
    folder
}

/// The rows of comma-separated text as the second sheet of a workbook; numbers become numbers.
fn workbook(text: &str) -> Vec<u8> {
    let mut book = Workbook::new();
    book.add_worksheet().set_name("Read me").unwrap();
    let sheet = book.add_worksheet();
    sheet.set_name("Spring 2026").unwrap();
    for (row, line) in (0..).zip(text.lines()) {
        for (column, field) in (0..).zip(line.split(',')) {
            match field.parse::<f64>() {
                Ok(number) => sheet.write(row, column, number).unwrap(),
                Err(_) => sheet.write(row, column, field).unwrap(),
            };
        }
    }
    book.save_to_buffer().unwrap()
}

fn json(folder: &Folder) -> Value {
    let said = folder.parge("estimate job.parge --json -");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    serde_json::from_str(&said.out).unwrap()
}

#[test]
fn offers_and_terms_on_the_terminal() {
    let said = job().parge("estimate job.parge");
    let shown: Vec<&str> = said.out.split("\n\n").collect();
    let part = |head: &str| shown.iter().find(|part| part.contains(head)).copied();
    let parts = ["offer for", "longest lead", " price  "].map(|head| part(head).unwrap_or(""));
    insta::assert_snapshot!(format!("{}\n{:?}", parts.join("\n\n"), said.exit));
}

#[test]
fn a_cost_tells_why_its_offer_was_chosen() {
    let folder = job();
    insta::assert_snapshot!(folder.parge("explain job.parge finish-mix --depth 1"));
    insta::assert_snapshot!(folder.parge("explain job.parge total --depth 1"));
}

/// A workbook with the same rows gives the same figures, by its path and the name of its sheet.
#[test]
fn a_workbook_of_prices_is_the_book_that_its_text_is() {
    let folder = job();
    let mut by_text = json(&folder);
    folder.write("prices.xlsx", workbook(PRICES)).unwrap();
    folder
        .edit("job.parge", "prices.csv", "prices.xlsx#Spring 2026")
        .unwrap();
    let mut by_sheet = json(&folder);
    for estimate in [&mut by_text, &mut by_sheet] {
        estimate["diagnostics"] = Value::Null;
        // The plan names another file.
        estimate["fingerprint"]["plan"] = Value::Null;
    }
    assert_eq!(by_text, by_sheet);
    // It cannot be taken for an output.
    let said = folder.parge("estimate job.parge -o prices.xlsx --force");
    assert!(
        said.err.contains("is what the figures are read from"),
        "{said}"
    );
    // What is wrong in it is said with its cell.
    let wrong = PRICES.replace("38.90", "38.90 each");
    folder.write("prices.xlsx", workbook(&wrong)).unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}

#[test]
fn what_is_no_workbook_or_has_no_such_sheet_is_told() {
    let folder = job();
    folder.write("prices.xlsx", PRICES).unwrap();
    folder
        .edit("job.parge", "prices.csv", "prices.xlsx")
        .unwrap();
    let mut said = folder.parge("check job.parge").to_string();
    folder.write("prices.xlsx", workbook(PRICES)).unwrap();
    folder
        .edit("job.parge", "prices.xlsx", "prices.xlsx#Spring 2025")
        .unwrap();
    said += "\n";
    said += &folder.parge("check job.parge").to_string();
    insta::assert_snapshot!(said);
}

#[test]
fn mistakes_in_offers_and_terms_are_told() {
    let folder = job();
    for (from, to) in [
        ("class        3", "class        7"),
        ("contingency  8%", "contingency  108%"),
        ("round        up to 10 USD", "round to 0 USD"),
    ] {
        folder.edit("job.parge", from, to).unwrap();
    }
    let twice = "release,1,gal,jug,27.00,USD,Ferry Road Supply,,,,,,\n\
                 sealer,1,gal,jug,50.00,EUR,Ferry Road Supply,,,,,,\n\
                 masking,180,ft,roll,9.95,USD,Mill Street Yard,,,0,,,\n";
    let prices = format!("{PRICES}{twice}");
    folder.write("prices.csv", prices).unwrap();
    insta::assert_snapshot!(folder.parge("check job.parge"));
}

/// Without a figure that leaves the minimum out.
#[test]
fn a_minimum_in_another_currency_gives_no_figures() {
    let folder = job();
    folder
        .edit("job.parge", "12 150 USD", "12 150 EUR")
        .unwrap();
    let said = folder.parge("estimate job.parge");
    assert_eq!((said.exit, said.out.as_str()), (Exit::Problems, ""));
    insta::assert_snapshot!(said);
}

#[test]
fn terms_that_change_are_told() {
    let folder = job();
    let new = PLAN
        .replace("contingency  8%", "contingency  5%")
        .replace("class        3", "class        2")
        .replace("up to 10 USD", "to 5 USD")
        .replace("12 150", "18 000");
    folder.write("new.parge", new).unwrap();
    insta::assert_snapshot!(folder.parge("diff job.parge new.parge"));
}

/// Every amount of the summary that is stored is the one of the JSON.
#[test]
fn the_workbook_has_all_steps_and_the_purchases() {
    let folder = job();
    let said = folder.parge("estimate job.parge -o out.xlsx");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    let json = json(&folder);
    let mut book: Xlsx<_> = open_workbook(folder.path("out.xlsx")).unwrap();
    let summary = book.worksheet_range("Summary").unwrap();
    let amount = |item: &str| -> f64 {
        let mut rows = summary.rows();
        let row = rows.find(|row| row[0] == item).unwrap();
        match row[3] {
            Data::Float(amount) => amount,
            ref other => panic!("{item}: {other:?}"),
        }
    };
    let steps = [
        ("Freight", "freight"),
        ("Contingency", "contingency"),
        ("Up to the minimum", "minimum"),
        ("Rounding", "rounding"),
        ("Tax", "tax"),
        ("Total", "total"),
    ];
    for (item, step) in steps {
        let wanted: f64 = json["price"][step].as_str().unwrap().parse().unwrap();
        assert_eq!(amount(item), wanted, "{item}");
    }
    let purchases = book.worksheet_range("Purchases").unwrap();
    let texts: Vec<String> = purchases.rows().map(|row| row[0].to_string()).collect();
    assert!(
        texts.iter().any(|text| text == "Ferry Road Supply, in all"),
        "{texts:?}"
    );
}
