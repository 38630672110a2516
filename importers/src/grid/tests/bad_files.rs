//! Files that were cut off, made to do harm, or are something else.

use super::super::container::look_into_within;
use super::*;
use std::io::{Cursor, Write};
use zip::write::{SimpleFileOptions, ZipWriter};

/// A zip archive of parts.
pub(in crate::grid) fn zipped(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        archive
            .start_file(*name, SimpleFileOptions::default())
            .unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

fn workbook(fill: impl FnOnce(&mut rust_xlsxwriter::Workbook)) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    fill(&mut book);
    book.save_to_buffer().unwrap()
}

fn said(name: &str, bytes: &[u8]) -> String {
    match open(name, bytes) {
        Ok(book) => format!("{name} is read: {} sheets", book.sheets.len()),
        Err(error) => format!("{name}: {} | {}", error.message, error.help),
    }
}

#[test]
fn each_is_refused_in_words() {
    let good = workbook(|book| {
        book.add_worksheet().write_string(0, 0, "Wall").unwrap();
    });
    let locked: Vec<u8> = b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"
        .iter()
        .copied()
        .chain("EncryptedPackage".encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    let entity = b"<?xml version=\"1.0\"?><!DOCTYPE a [<!ENTITY b \"bb\">]><workbook/>";
    let table = "<office:document-content><table:table table:name=\"a\"><table:table-row \
                 table:number-rows-repeated=\"1048576\"><table:table-cell office:value-type=\"float\" \
                 office:value=\"1\" table:number-columns-repeated=\"16384\"/></table:table-row></table:table>\
                 </office:document-content>";
    let ods: &[(&str, &[u8])] = &[
        (
            "mimetype",
            b"application/vnd.oasis.opendocument.spreadsheet",
        ),
        ("content.xml", table.as_bytes()),
    ];
    let cases: [(&str, Vec<u8>); 14] = [
        ("empty.xlsx", Vec::new()),
        ("cut.xlsx", good[..good.len() / 2].to_vec()),
        (
            "cut.xls",
            b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1 cut off".to_vec(),
        ),
        ("locked.xlsx", locked),
        ("entities.xlsx", zipped(&[("xl/workbook.xml", entity)])),
        (
            "macros.xlsx",
            zipped(&[("xl/workbook.xml", b"<a/>"), ("xl/vbaProject.bin", b"x")]),
        ),
        ("other.xlsx", zipped(&[("word/document.xml", b"<a/>")])),
        (
            "hollow.xlsx",
            zipped(&[("xl/workbook.xml", b"<workbook/>")]),
        ),
        ("repeated.ods", zipped(ods)),
        ("picture.csv", b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec()),
        ("named.csv", good.clone()),
        (
            "page.xls",
            b"<html><table><tr><td>Wall</td></tr></table></html>".to_vec(),
        ),
        ("paper.xlsx", b"%PDF-1.7 a drawing".to_vec()),
        (
            "quote.csv",
            b"Wall,L (m),H (m)\nA,3,2\n\"B,4,2\nC,3,2\n".to_vec(),
        ),
    ];
    let all = cases.map(|(name, bytes)| said(name, &bytes)).join("\n");
    insta::assert_snapshot!(all);
}

#[test]
fn what_unpacks_without_end_is_refused_at_a_bound() {
    let zeros = vec![b' '; 3 << 20];
    let bomb = zipped(&[("xl/workbook.xml", &zeros)]);
    assert!(bomb.len() < 1 << 20);
    let error = look_into_within(&bomb, 1 << 20).unwrap_err();
    assert!(
        error.message.contains("more than can be unpacked"),
        "{error:?}"
    );
}

#[test]
fn far_cells_and_many_columns_take_no_room() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        sheet.write_string(0, 0, "first").unwrap();
        sheet.write_string(1_048_575, 16_383, "last").unwrap();
    });
    assert_eq!(read("far.xlsx", &bytes), ["A1=first", "XFD1048576=last"]);
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        for column in 0..16_384 {
            sheet.write_number(0, column, 1).unwrap();
        }
    });
    assert_eq!(read("wide.xlsx", &bytes).len(), 16_384);
}

#[test]
fn rows_without_anything_are_no_rows() {
    let bytes = workbook(|book| {
        let sheet = book.add_worksheet();
        let format = rust_xlsxwriter::Format::new().set_bold();
        for row in 0..100_000 {
            sheet.write_blank(row, 0, &format).unwrap();
        }
        sheet.write_number(100_000, 0, 1).unwrap();
    });
    assert_eq!(read("rows.xlsx", &bytes), ["A100001=1"]);
}

#[test]
fn names_that_are_defined_in_a_circle_do_nothing() {
    let bytes = workbook(|book| {
        book.add_worksheet().write_number(0, 0, 1).unwrap();
        book.define_name("one", "=two").unwrap();
        book.define_name("two", "=one").unwrap();
    });
    assert_eq!(read("names.xlsx", &bytes), ["A1=1"]);
}
