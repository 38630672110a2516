//! Changes by chance that an office may make in a workbook.
//!
//! A further kind of change is a function here that gives edits, and a line in [`any`].

use super::book::Recalculated;
use super::edit::Edit;
use parge_tests::Folder;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::Union;

/// The rates of a bid, as the plan and as the summary call them, and their largest, in hundredths
/// of a per cent.
const RATES: [(&str, &str, u32); 4] = [
    ("burden ", "Burden on wages", 9_000),
    ("overhead ", "Overhead", 4_000),
    ("profit margin ", "Profit", 6_000),
    ("tax ", "Tax", 2_500),
];

/// Any change of any kind that a job has.
pub(super) fn any(folder: &Folder, book: &Recalculated) -> Union<BoxedStrategy<Edit>> {
    Union::new([prices(folder, book), wage(), rates(folder)])
}

fn prices(folder: &Folder, book: &Recalculated) -> BoxedStrategy<Edit> {
    let text = folder.read("prices.csv").unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let items = reader.records().map(|record| record.unwrap()[0].to_owned());
    let items: Vec<String> = items.collect();
    let lines = book.words_under("Materials", "Item");
    let priced = |item: &String| {
        let lines = lines
            .iter()
            .filter(|line| row_for(line, &items) == Some(item.as_str()));
        (item.clone(), lines.cloned().collect::<Vec<_>>())
    };
    let mut rows: Vec<(String, Vec<String>)> = items.iter().map(priced).collect();
    rows.retain(|(_, lines)| !lines.is_empty());
    (select(rows), thousandths())
        .prop_map(|((item, lines), price)| Edit::price(&item, &lines, &price))
        .boxed()
}

/// The row of a price book for a line: its own, or that of all of its kind, as `colour` for
/// `colour/moss`.
fn row_for<'a>(line: &str, items: &'a [String]) -> Option<&'a str> {
    let kind = line.split('/').next()?;
    let row = |name: &str| items.iter().find(|item| *item == name);
    row(line).or_else(|| row(kind)).map(String::as_str)
}

fn wage() -> BoxedStrategy<Edit> {
    thousandths().prop_map(|wage| Edit::wage(&wage)).boxed()
}

fn rates(folder: &Folder) -> BoxedStrategy<Edit> {
    let plan = folder.read("job.parge").unwrap();
    let stated = RATES.into_iter().filter(|(words, ..)| plan.contains(words));
    select(stated.collect::<Vec<_>>())
        .prop_flat_map(|(words, item, most)| (Just((words, item)), 0..most))
        .prop_map(|((words, item), hundredths)| Edit::rate(words, item, &decimal(hundredths, 100)))
        .boxed()
}

/// A price: of cents for most, of tenths of a cent for some.
fn thousandths() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => (1_u32..60_000).prop_map(|cents| decimal(cents, 100)),
        1 => (1_u32..600_000).prop_map(|thousandths| decimal(thousandths, 1000)),
    ]
}

fn decimal(number: u32, parts: u32) -> String {
    let digits = parts.ilog10() as usize;
    format!("{}.{:0digits$}", number / parts, number % parts)
}

#[test]
fn decimals_are_written_out() {
    assert_eq!([decimal(1, 100), decimal(12_345, 1000)], ["0.01", "12.345"]);
}
