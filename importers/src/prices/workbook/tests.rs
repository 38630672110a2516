use crate::{price_book, price_book_of_workbook};
use parge_base::prices::PriceBook;
use parge_base::{Diagnostic, Sources, Units};
use proptest::prelude::*;
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook};

const HEAD: [&str; 8] = [
    "Item",
    "Pack",
    "pack_unit",
    "PRICE",
    "currency",
    "supplier",
    "valid_until",
    "taxed",
];

/// A workbook of two sheets; `fill` writes the rows of the second one, from the third row on.
fn book_with(fill: impl Fn(&mut rust_xlsxwriter::Worksheet)) -> Vec<u8> {
    let mut book = Workbook::new();
    book.add_worksheet().set_name("Notes").unwrap();
    let sheet = book.add_worksheet();
    sheet.set_name("Spring 2026").unwrap();
    for (column, name) in (1..).zip(HEAD) {
        sheet.write(1, column, name).unwrap();
    }
    fill(sheet);
    book.save_to_buffer().unwrap()
}

fn row(sheet: &mut rust_xlsxwriter::Worksheet, row: u32, item: &str, price: f64) {
    sheet.write(row, 1, item).unwrap();
    sheet.write(row, 2, 5).unwrap();
    sheet.write(row, 3, "gal").unwrap();
    sheet.write(row, 4, price).unwrap();
    sheet.write(row, 5, "USD").unwrap();
    sheet.write(row, 6, "Mill Street Yard").unwrap();
    let date = ExcelDateTime::from_ymd(2026, 12, 31).unwrap();
    let format = Format::new().set_num_format("dd/mm/yyyy");
    sheet
        .write_datetime_with_format(row, 7, &date, &format)
        .unwrap();
    sheet.write(row, 8, false).unwrap();
}

fn read(bytes: &[u8], sheet: Option<&str>) -> (Option<PriceBook>, String) {
    let mut sources = Sources::new();
    let units = Units::standard();
    let (book, said) = price_book_of_workbook(&mut sources, "prices.xlsx", bytes, sheet, &units);
    let line = |said: &Diagnostic| {
        let labels = said.labels.iter().map(|label| {
            let place = sources.place(label.span.file, label.span.start);
            let slice = sources.slice(label.span);
            format!("\n  line {}, `{slice}`: {}", place.line, label.text)
        });
        let labels: String = labels.collect();
        format!(
            "{}: {} | {}{labels}",
            said.code.id(),
            said.message,
            said.help
        )
    };
    (book, said.iter().map(line).collect::<Vec<_>>().join("\n"))
}

/// The same rows as text and as a sheet are the same book, but for where they stand.
#[test]
fn a_sheet_reads_as_text_does() {
    let bytes = book_with(|sheet| {
        row(sheet, 2, "sealer", 185.5);
        row(sheet, 4, "primer", 0.1 + 0.2);
    });
    let (book, said) = read(&bytes, Some("Spring 2026"));
    assert_eq!(said, "");
    let text = "item,pack,pack_unit,price,currency,supplier,valid_until,taxed\n\
                sealer,5,gal,185.5,USD,Mill Street Yard,2026-12-31,no\n\
                primer,5,gal,0.3,USD,Mill Street Yard,2026-12-31,no\n";
    let mut sources = Sources::new();
    let file = sources.add("prices.csv", text);
    let (same, _) = price_book(&sources, file, &Units::standard());
    let plain = |book: PriceBook| -> Vec<String> {
        let offers = book.offers.into_iter();
        let words = offers.map(|offer| {
            format!(
                "{} {:?} {} {} {:?} {:?}",
                offer.item,
                offer.pack,
                offer.price.to_price_text(),
                offer.supplier,
                offer.valid_until,
                offer.terms
            )
        });
        words.collect()
    };
    assert_eq!(plain(book.unwrap()), plain(same.unwrap()));
}

#[test]
fn every_error_names_its_cell() {
    let bytes = book_with(|sheet| {
        row(sheet, 2, "sealer", 185.5);
        row(sheet, 3, "primer", -1.0);
        row(sheet, 6, "release", 96.0);
        sheet.write(6, 5, "DOLLARS").unwrap();
        row(sheet, 7, "", 96.0);
        row(sheet, 8, "sealer", 96.0);
        row(sheet, 9, "colour", 54.0);
        sheet.write(9, 3, "galon").unwrap();
        row(sheet, 10, "lath", 54.0);
        sheet.write(10, 8, "perhaps").unwrap();
    });
    insta::assert_snapshot!(read(&bytes, Some("Spring 2026")).1);
}

#[test]
fn what_is_no_price_book_is_told() {
    let empty = |name: &str| {
        let mut book = Workbook::new();
        let sheet = book.add_worksheet();
        sheet.set_name("Prices").unwrap();
        if !name.is_empty() {
            sheet.write(0, 0, name).unwrap();
        }
        book.save_to_buffer().unwrap()
    };
    let far = book_with(|sheet| {
        row(sheet, 2, "sealer", 185.5);
        sheet.write(1_000_000, 2, "x").unwrap();
    });
    let stray = book_with(|sheet| {
        row(sheet, 2, "sealer", 185.5);
        sheet.write(2, 11, "ask").unwrap();
    });
    let twice = book_with(|sheet| {
        sheet.write(1, 9, "price").unwrap();
    });
    let said = [
        read(b"item,price\n", None).1,
        read(&[], None).1,
        read(&empty(""), None).1,
        read(&empty("item"), None).1,
        read(&empty("item"), Some("Price")).1,
        read(&far, Some("Spring 2026")).1,
        read(&stray, Some("Spring 2026")).1,
        read(&twice, Some("Spring 2026")).1,
    ];
    insta::assert_snapshot!(said.join("\n\n"));
}

/// A few kilobytes that unpack to more than is taken.
#[test]
fn a_workbook_that_unpacks_without_end_is_refused() {
    use std::io::{Cursor, Write};
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    archive.start_file("xl/sharedStrings.xml", options).unwrap();
    let block = vec![b' '; 1 << 20];
    for _ in 0..300 {
        archive.write_all(&block).unwrap();
    }
    let bytes = archive.finish().unwrap().into_inner();
    assert!(bytes.len() < 1 << 20);
    let said = read(&bytes, None).1;
    assert!(said.contains("it holds more than 256 MB"), "{said}");
}

#[test]
fn columns_have_their_letters() {
    let letters: Vec<String> = [0, 25, 26, 51, 701, 702].map(super::letters).into();
    assert_eq!(letters, ["A", "Z", "AA", "AZ", "ZZ", "AAA"]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever a file holds, it is read or refused.
    #[test]
    fn damaged_workbooks_are_read_or_refused(at in any::<prop::sample::Index>(), put in any::<u8>()) {
        let mut bytes = book_with(|sheet| row(sheet, 2, "sealer", 185.5));
        let at = at.index(bytes.len());
        bytes[at] ^= put | 1;
        let (book, said) = read(&bytes, Some("Spring 2026"));
        prop_assert!(book.is_some() != said.starts_with('E') || said.starts_with('W'));
    }
}
