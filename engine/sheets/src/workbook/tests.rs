use super::*;
use crate::sample::{self, BARE_PLAN, PRICES, Sample};
use crate::shown;
use calamine::{Data, Reader, Xlsx};
use std::fmt::Write;
use std::io::Cursor;

const SHEETS: [&str; 9] = [
    "Summary",
    "Bid",
    "Faces",
    "Materials",
    "Purchases",
    "Labour",
    "Kit",
    "Factors",
    "Cautions",
];

fn bytes(sample: &Sample) -> Vec<u8> {
    workbook(&sample.estimate, &sample.sources, &sample.diagnostics).unwrap()
}

/// A cell as a reader sees it.
#[derive(Debug, Clone)]
struct Cell {
    name: String,
    value: Data,
    formula: Option<String>,
}

/// A sheet's cells, row by row.
fn cells(bytes: &[u8], sheet: &str) -> Vec<Cell> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.to_vec())).unwrap();
    let values = book.worksheet_range(sheet).unwrap();
    let formulas = book.worksheet_formula(sheet).unwrap();
    let (rows, columns) = values.end().unwrap();
    let mut cells = Vec::new();
    for row in 0..=rows {
        for column in 0..=columns {
            let value = values
                .get_value((row, column))
                .cloned()
                .unwrap_or(Data::Empty);
            let formula = formulas
                .get_value((row, column))
                .filter(|text| !text.is_empty());
            if value != Data::Empty || formula.is_some() {
                let name = rust_xlsxwriter::utility::row_col_to_cell(row, column as u16);
                cells.push(Cell {
                    name,
                    value,
                    formula: formula.cloned(),
                });
            }
        }
    }
    cells
}

fn as_text(bytes: &[u8]) -> String {
    sheets_as_text(bytes, &SHEETS)
}

fn sheets_as_text(bytes: &[u8], sheets: &[&str]) -> String {
    let mut text = String::new();
    for sheet in sheets {
        writeln!(text, "== {sheet}").unwrap();
        for cell in cells(bytes, sheet) {
            let value = match cell.value {
                Data::Float(number) => number.to_string(),
                Data::String(words) => format!("{words:?}"),
                other => format!("{other:?}"),
            };
            match cell.formula {
                Some(formula) => writeln!(text, "{}  ={formula}  ->  {value}", cell.name),
                None => writeln!(text, "{}  {value}", cell.name),
            }
            .unwrap();
        }
    }
    text
}

fn cell(bytes: &[u8], sheet: &str, name: &str) -> Cell {
    let found = cells(bytes, sheet)
        .into_iter()
        .find(|cell| cell.name == name);
    found.unwrap_or_else(|| panic!("{sheet} has no {name}"))
}

fn number(bytes: &[u8], sheet: &str, name: &str) -> f64 {
    match cell(bytes, sheet, name).value {
        Data::Float(number) => number,
        other => panic!("{sheet}!{name} is {other:?}"),
    }
}

#[test]
fn the_whole_workbook() {
    insta::assert_snapshot!(as_text(&bytes(&sample::complete())));
}

#[test]
fn a_workbook_with_an_open_line() {
    insta::assert_snapshot!(as_text(&bytes(&sample::without_lath())));
}

#[test]
fn a_bare_job_without_any_price() {
    insta::assert_snapshot!(as_text(&bytes(&sample::run(BARE_PLAN, &[], "JPY"))));
}

#[test]
fn two_runs_give_the_same_bytes() {
    assert!(bytes(&sample::complete()) == bytes(&sample::complete()));
    let bare = || bytes(&sample::run(BARE_PLAN, &PRICES, "EUR"));
    assert!(bare() == bare());
}

#[test]
fn texts_that_look_like_formulas_stay_texts() {
    let bytes = bytes(&sample::complete());
    for (sheet, name, text) in [
        ("Summary", "B6", "=1+1"),
        ("Faces", "B7", "@gable =1+1"),
        ("Materials", "L7", "-Colour House"),
    ] {
        let cell = cell(&bytes, sheet, name);
        assert_eq!(cell.value, Data::String(text.to_owned()));
        assert_eq!(cell.formula, None);
    }
}

/// The stored results are the engine's figures, to the last digit.
#[test]
fn every_formula_holds_the_figure_of_the_estimate() {
    let sample = sample::complete();
    let (estimate, bytes) = (&sample.estimate, bytes(&sample));
    let price = &estimate.price;
    let chain = [
        price.materials,
        price.freight,
        price.labour,
        price.burden,
        price.overhead,
        price.contingency,
        price.profit,
        price.allowances,
        price.charges,
        price.minimum,
        price.rounding,
        price.tax,
        price.total,
    ];
    for (row, amount) in (15..).zip(chain) {
        assert_eq!(
            number(&bytes, "Summary", &format!("D{row}")),
            amount.to_f64()
        );
    }
    for (row, line) in (5..).zip(&estimate.materials) {
        let figures = shown::need(line);
        let at = |column: &str| number(&bytes, "Materials", &format!("{column}{row}"));
        assert_eq!(at("F"), figures.with_waste);
        assert_eq!(at("I"), line.packs.unwrap());
        assert_eq!(at("K"), line.cost.unwrap().to_f64());
    }
    for (row, line) in (5..).zip(&estimate.labour) {
        let at = |column: &str| number(&bytes, "Labour", &format!("{column}{row}"));
        assert_eq!(at("C"), price.wage.unwrap().to_f64());
        assert_eq!(at("D"), line.cost.unwrap().to_f64());
    }
    for (row, face) in (5..).zip(shown::faces(&estimate.takeoff)) {
        assert_eq!(number(&bytes, "Faces", &format!("N{row}")), face.areas.net);
    }
    let sums = shown::total_areas(&estimate.takeoff);
    assert_eq!(number(&bytes, "Faces", "N8"), sums.net);
}

#[test]
fn only_plain_functions_are_used() {
    let plain = [
        "ABS",
        "AND",
        "ASIN",
        "COUNT",
        "COUNTIF",
        "EXP",
        "IF",
        "INT",
        "ISNUMBER",
        "LN",
        "MAX",
        "MIN",
        "PI",
        "ROUND",
        "ROUNDUP",
        "SQRT",
        "SUM",
        "SUMIF",
        "SUMPRODUCT",
    ];
    let samples = [
        sample::complete(),
        sample::without_lath(),
        sample::with_terms("minimum 9000 USD  round to 5 USD"),
    ];
    for sample in samples {
        let bytes = bytes(&sample);
        let all = SHEETS.into_iter().flat_map(|sheet| cells(&bytes, sheet));
        for formula in all.filter_map(|cell| cell.formula) {
            for part in formula
                .split_inclusive('(')
                .filter(|part| part.ends_with('('))
            {
                let head = part.trim_end_matches('(');
                let start = head.rfind(|ch: char| !ch.is_ascii_alphanumeric());
                let name = &head[start.map_or(0, |at| at + 1)..];
                assert!(
                    name.is_empty() || plain.contains(&name),
                    "{name} in {formula}"
                );
            }
        }
    }
}

#[test]
fn an_open_line_costs_no_zero_and_is_seen_on_the_summary() {
    let bytes = bytes(&sample::without_lath());
    let words = |sheet, name| cell(&bytes, sheet, name).value;
    let incomplete = Data::String("INCOMPLETE: 1 line has no price".into());
    assert_eq!(words("Summary", "A3"), incomplete);
    assert_eq!(words("Summary", "B27"), incomplete);
    assert_eq!(words("Materials", "K6"), Data::String("no price".into()));
    assert_eq!(number(&bytes, "Summary", "D29"), 1.0);
}

/// Control characters, a text longer than a cell, and a name with the codes of a footer.
#[test]
fn foreign_texts_do_not_break_the_file() {
    let mut sample = sample::complete();
    let job = &mut sample.estimate.takeoff.measured.job;
    job.name = format!("bell\u{7} & co &P _x0041_ {}", "long ".repeat(10_000));
    job.client = Some("\u{0}\u{1F}<b>&amp;</b> https://example.com".to_owned());
    let bytes = bytes(&sample);
    let client = Data::String("\u{FFFD}\u{FFFD}<b>&amp;</b> https://example.com".into());
    assert_eq!(cell(&bytes, "Summary", "B6").value, client);
    match cell(&bytes, "Summary", "B5").value {
        Data::String(name) => {
            assert!(name.starts_with("bell\u{FFFD} & co &P _x0041_ long"));
            assert_eq!(name.chars().count(), 32_767);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_sheet_without_room_is_refused() {
    let error = check_room("Faces", 1_048_576).unwrap_err();
    insta::assert_snapshot!(error, @"sheet `Faces` would need 1048576 lines, but a spreadsheet holds 1048576 rows");
    assert!(check_room("Faces", 1_048_000).is_ok());
}

/// A long sheet is written another way: nothing of it may be lost.
#[test]
fn a_long_sheet_reads_like_a_short_one() {
    let mut sample = sample::complete();
    let faces = &mut sample.estimate.takeoff.measured.faces;
    *faces = faces.iter().copied().cycle().take(rows::LONG + 1).collect();
    let long = cells(&bytes(&sample), "Faces");
    let short = cells(&bytes(&sample::complete()), "Faces");
    let find = |cells: &[Cell], name: &str| {
        let cell = cells.iter().find(|cell| cell.name == name).unwrap();
        (cell.value.clone(), cell.formula.clone())
    };
    for name in ["A1", "A4", "N4", "B5", "N5", "N6", "N7"] {
        assert_eq!(find(&long, name), find(&short, name), "{name}");
    }
    let (_, total) = find(&long, &format!("N{}", rows::LONG + 6));
    let last = rows::LONG + 5;
    assert_eq!(total, Some(format!("SUM(N5:N{last})")));
}

/// All cores write sheets, and who comes first to a format must not show.
#[test]
fn the_bytes_do_not_depend_on_the_number_of_threads() {
    let mut sample = sample::with_everything();
    let faces = &mut sample.estimate.takeoff.measured.faces;
    let lines = rows::LONG + 1;
    *faces = faces.iter().copied().cycle().take(lines).collect();
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        pool.unwrap().install(|| bytes(&sample))
    };
    let alone = on(1);
    for threads in [2, 4] {
        assert!(alone == on(threads), "{threads} threads");
    }
}

/// Below the total stands that these are estimates, and that must be on the paper as well.
#[test]
fn the_summary_is_printed_down_to_its_last_line() {
    let bytes = bytes(&sample::complete());
    let book: Xlsx<_> = calamine::open_workbook_from_rs(Cursor::new(&bytes)).unwrap();
    let areas = book.defined_names().iter();
    let mut areas = areas.filter(|(name, _)| name.ends_with("Print_Area"));
    let (_, printed) = areas
        .find(|(_, area)| area.starts_with("Summary!"))
        .unwrap();
    let said = cells(&bytes, "Summary");
    let said = said
        .iter()
        .find(|cell| cell.value.to_string().starts_with("These figures are"));
    let row = said.unwrap().name.trim_start_matches('A');
    assert!(printed.ends_with(&format!("${row}")), "{printed}, {row}");
}

/// Sums set aside are typed in on sheet `Bid`, and the summary follows them.
#[test]
fn the_bid_and_the_edges_have_sheets_of_their_own() {
    let sample = sample::with_everything();
    let bytes = bytes(&sample);
    let price = &sample.estimate.price;
    assert_eq!(number(&bytes, "Summary", "D22"), price.allowances.to_f64());
    assert_eq!(number(&bytes, "Summary", "D27"), price.total.to_f64());
    insta::assert_snapshot!(sheets_as_text(&bytes, &["Bid", "Edges"]));
}

/// The gable is 10 x 12 ft: (144 - 1/2) / 26 1/2 = 5.4, so 6 courses, each of 96 and 25 in, 2 sheets
/// as no offcut is used again. Its reveals are 2 x 40 in x 4 in = 2.22 ft2 of 2.22 + 120 - 1.33,
/// 0.13 sheets: 12.13, where the area takes 120.89 / 17.4826 = 6.91.
#[test]
fn what_is_laid_out_stands_beside_the_count_by_area() {
    let sample = sample::laid_out();
    let bytes = bytes(&sample);
    insta::assert_snapshot!(sheets_as_text(&bytes, &["Layout"]));
    let laid = number(&bytes, "Layout", "F5");
    assert!((laid - 12.127).abs() < 5e-4, "{laid}");
    assert_eq!(laid, number(&bytes, "Materials", "D6"));
    assert!((number(&bytes, "Layout", "G5") - 6.915).abs() < 5e-4);
    // The sizes it rests on stand among the factors.
    let factors = cells(&bytes, "Factors");
    let named = |name: &str| {
        factors
            .iter()
            .any(|cell| cell.value == Data::String(name.into()))
    };
    assert!(named("sheets: lath, side_lap"));
}

#[test]
fn the_days_and_the_batches_have_sheets_of_their_own() {
    let bytes = bytes(&sample::on_days());
    let text = sheets_as_text(&bytes, &["Days", "Batches"]);
    assert!(!text.contains("most"), "{text}");
    insta::assert_snapshot!(text);
}

/// A day without a date is not given one.
#[test]
fn days_without_dates_are_counted() {
    let bytes = bytes(&sample::on_undated_days());
    let text = sheets_as_text(&bytes, &["Days", "Batches"]);
    assert!(
        text.contains("\"day 2\"") && !text.contains("Weekday"),
        "{text}"
    );
    for no in ["2001", "Mon", "Tue"] {
        assert!(!text.contains(no), "{text}");
    }
}

#[test]
fn without_a_day_plan_there_are_no_sheets_of_it() {
    let bytes = bytes(&sample::complete());
    let book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    let names = book.sheet_names();
    assert!(!names.iter().any(|name| name == "Days" || name == "Batches"));
}

/// A crew paid by classes: (44 + 2 x 29.5) / 3 is 34.3333 an hour. The lines stand two rows and the
/// classes lower, and the summary counts them there. An open wage leaves all open.
#[test]
fn a_crew_of_classes_is_paid_the_mean_of_their_wages() {
    let plan = sample::PLAN.replace("  rules  ", "  crew { lead 1  helper 2 }\n  rules  ");
    let hour = (1.0, "h", "hour");
    let with = |helper: &'static str| {
        let classes = [
            ("labour/lead", "Lead", hour, "44", ""),
            ("labour/helper", "Helper", hour, helper, ""),
        ];
        let rows: Vec<sample::Row> = PRICES.into_iter().chain(classes).collect();
        sample::run(&plan, &rows, "USD")
    };
    let sample = with("29.5");
    let price = &sample.estimate.price;
    assert_eq!(price.wage.unwrap().to_price_text(), "34.3333");
    let bytes = bytes(&sample);
    assert_eq!(number(&bytes, "Labour", "B3"), 34.3333);
    let mean = cell(&bytes, "Labour", "B3").formula.unwrap();
    assert_eq!(
        mean,
        "IF(SUM($E$5:$E$6)>0,\"\",ROUND(SUM($D$5:$D$6)/SUM($B$5:$B$6),4))"
    );
    let class = ["B6", "C6", "D6", "E6"].map(|name| number(&bytes, "Labour", name));
    assert_eq!(class, [2.0, 29.5, 59.0, 0.0]);
    for (row, line) in (9..).zip(&sample.estimate.labour) {
        let cost = number(&bytes, "Labour", &format!("D{row}"));
        assert_eq!(cost, line.cost.unwrap().to_f64());
        let cost = (line.labour.hours * 34.3333 * 100.0).round() / 100.0;
        assert_eq!(line.cost.unwrap().to_f64(), cost);
    }
    let last = 8 + sample.estimate.labour.len();
    let lines = format!("Labour!$D$9:$D${last}");
    let all = cells(&bytes, "Summary").into_iter();
    let formulas = all.filter_map(|cell| cell.formula);
    assert!(formulas.into_iter().any(|formula| formula.contains(&lines)));
}

/// Offers, breaks, freight, leads, what is not taxed, and all terms of a bid.
#[test]
fn the_terms_of_offers_and_of_the_bid_are_live() {
    let sample = sample::with_terms("minimum 9000 USD  round to 5 USD");
    let bytes = bytes(&sample);
    let price = &sample.estimate.price;
    assert!(price.freight.to_f64() > 0.0 && price.taxed != price.materials);
    let chain = [
        price.freight,
        price.contingency,
        price.minimum,
        price.rounding,
        price.tax,
    ];
    for (cell, amount) in ["D16", "D20", "D24", "D25", "D26"].into_iter().zip(chain) {
        assert_eq!(number(&bytes, "Summary", cell), amount.to_f64(), "{cell}");
    }
    let range = sample.estimate.range.unwrap();
    for (cell, amount) in ["D32", "D33"].into_iter().zip(range.outer) {
        assert_eq!(number(&bytes, "Summary", cell), amount.to_f64(), "{cell}");
    }
    insta::assert_snapshot!(sheets_as_text(
        &bytes,
        &["Summary", "Materials", "Purchases"]
    ));
}

/// The rule is live as well: up only, or to the nearest unless that lies under the least price.
#[test]
fn rounding_up_is_another_formula() {
    let bytes = bytes(&sample::with_terms("round up to 10 USD"));
    insta::assert_snapshot!(
        cell(&bytes, "Summary", "D25").formula.unwrap(),
        @"IF($C$25=0,0,ROUND(ROUNDUP(ROUND(SUM(D15:D24)/$C$25,9),0)*$C$25-SUM(D15:D24),2))"
    );
}

/// Names of any script, from right to left too, and names that no cell could be called by.
#[test]
fn names_of_any_script_stay_what_they_are() {
    let plan = BARE_PLAN
        .replace("structure Wall", "structure \"جدار البستان\"")
        .replace("face front", "face \"=SUM(A1) 壁 🧱\"");
    let sample = sample::run(&plan, &PRICES, "USD");
    let bytes = bytes(&sample);
    let text = |name| cell(&bytes, "Faces", name).value;
    assert_eq!(text("A5"), Data::String("جدار البستان".into()));
    assert_eq!(text("B5"), Data::String("=SUM(A1) 壁 🧱".into()));
    let book = Xlsx::new(Cursor::new(bytes.as_slice())).unwrap();
    let names: Vec<&str> = book
        .defined_names()
        .iter()
        .map(|(name, _)| name.as_str())
        .filter(|name| name.starts_with("size.ج"))
        .collect();
    assert_eq!(names.len(), 2, "{names:?}");
}

/// The cells that the figures are reckoned in, of the smallest job.
#[test]
fn the_cells_behind_the_figures() {
    let sample = sample::run(BARE_PLAN, &PRICES, "USD");
    let sheets = ["Sizes", "Faces", "Classes", "Workings", "Checks"];
    insta::assert_snapshot!(sheets_as_text(&bytes(&sample), &sheets));
}

/// The job with everything, on a bid that holds for a time, of class 3, with another tax.
fn bid_with_tax(tax: &str) -> Sample {
    let plan = sample::everything()
        .replace("tax 7.25% on materials", &format!("class 3  {tax}"))
        .replace("date   2026-04-20", "date   2026-04-20\n  valid 60 days");
    sample::run(&plan, &PRICES, "USD")
}

#[test]
fn the_bid_shows_a_tax_on_the_total_and_the_expected_range() {
    let bytes = bytes(&bid_with_tax("tax 7.25% on total"));
    insta::assert_snapshot!(sheets_as_text(&bytes, &["Bid"]));
}

/// The client sees no cost, overhead or profit, nor a tax that tells what the materials cost.
#[test]
fn no_cost_is_on_the_sheet_of_the_bid() {
    let sample = bid_with_tax("tax 7.25% on materials");
    let bytes = bytes(&sample);
    let price = &sample.estimate.price;
    let hidden = [
        price.materials,
        price.labour,
        price.burden,
        price.overhead,
        price.contingency,
        price.profit,
        price.tax,
    ];
    let hidden: Vec<f64> = hidden.iter().map(|amount| amount.to_f64()).collect();
    for cell in cells(&bytes, "Bid") {
        match cell.value {
            Data::Float(number) => {
                assert!(number == 0.0 || !hidden.contains(&number), "{}", cell.name)
            }
            Data::String(words) => {
                let words = words.to_lowercase();
                for word in [
                    "cost", "wage", "overhead", "profit", "markup", "margin", "burden", "7.25",
                ] {
                    assert!(!words.contains(word), "{words}");
                }
            }
            _ => {}
        }
    }
}
