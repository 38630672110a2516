use super::*;
use crate::workbook::style::{self, Look, Styles};
use flate2::read::DeflateDecoder;
use rust_xlsxwriter::Workbook;
use std::io::{Cursor, Read};
use zip::ZipArchive;

fn unpacked(bytes: &[u8]) -> String {
    let mut text = String::new();
    DeflateDecoder::new(bytes)
        .read_to_string(&mut text)
        .unwrap();
    text
}

/// Rows as they stand in the file.
fn rows(write: impl Fn(&mut RowText)) -> String {
    let mut text = RowText::new();
    write(&mut text);
    let mut bytes = Vec::new();
    for part in [
        text.packed(),
        Packing::new().last().map_err(XlsxError::from),
    ] {
        part.unwrap().copy(None, &mut bytes).unwrap();
    }
    unpacked(&bytes)
}

#[test]
fn a_row_holds_its_cells_in_the_order_of_columns_and_the_last_of_each() {
    let styles = Styles::of_tables();
    let plain = styles.style(style::body(Look::Text));
    let number = plain.number.unwrap();
    let said = rows(|rows| {
        rows.words(4, 2, "a < b & c", &plain).unwrap();
        rows.blank(4, 0, &plain).unwrap();
        rows.number(4, 27, 0.5, &plain).unwrap();
        rows.blank(4, 3, &plain).unwrap();
        rows.formula(4, 3, "IF(A1>0,1,0)", 1.0, &plain).unwrap();
        rows.end_row(4, Some(30)).unwrap();
        rows.end_row(5, None).unwrap();
        rows.words(6, 0, " _x0041_ _x1_ ", &plain).unwrap();
        rows.words(6, 1, "", &plain).unwrap();
        rows.end_row(6, None).unwrap();
    });
    let wanted = "<row r=\"5\" ht=\"30\" customHeight=\"1\"><c r=\"A5\" s=\"#\"/>\
        <c r=\"C5\" s=\"#\" t=\"inlineStr\"><is><t>a &lt; b &amp; c</t></is></c>\
        <c r=\"D5\" s=\"#\"><f>IF(A1&gt;0,1,0)</f><v>1</v></c>\
        <c r=\"AB5\" s=\"#\"><v>0.5</v></c></row>\
        <row r=\"7\"><c r=\"A7\" s=\"#\" t=\"inlineStr\"><is>\
        <t xml:space=\"preserve\"> _x005F_x0041_ _x1_ </t></is></c><c r=\"B7\" s=\"#\"/></row>";
    assert_eq!(said, wanted.replace('#', &number.to_string()));
}

#[test]
fn what_is_no_number_and_a_format_of_its_own_are_refused() {
    let styles = Styles::of_tables();
    let plain = styles.style(style::body(Look::Text));
    let own = styles.style(style::body(Look::Text).set_bold());
    let mut rows = RowText::new();
    assert!(rows.number(0, 0, f64::NAN, &plain).is_err());
    assert!(rows.formula(0, 0, "1/0", f64::INFINITY, &plain).is_err());
    assert!(rows.blank(0, 0, &own).is_err());
}

/// The numbers that rows write for formats are those that the writer gives them.
#[test]
fn the_writer_numbers_the_formats_of_tables_as_rows_do() {
    let styles = Styles::of_tables();
    let mut book = Workbook::new();
    styles.register(&mut book);
    let sheet = book.add_worksheet();
    let looks = [
        Look::Text,
        Look::Count,
        Look::Written,
        Look::Figure,
        Look::Rate,
        Look::Mark,
    ];
    let looks = looks
        .into_iter()
        .chain([Look::Date])
        .chain((0..=4).map(Look::Decimals));
    let of = |look| {
        [
            style::body(look),
            style::input(look),
            style::total(look),
            style::head(look),
        ]
    };
    let mut formats: Vec<_> = looks.rev().flat_map(of).collect();
    formats.push(style::fact_name().set_bold());
    formats.push(style::body(Look::Text).set_indent(1));
    for (row, format) in (0..).zip(&formats) {
        sheet.write_blank(row, 0, format).unwrap();
    }
    let made = book.save_to_buffer().unwrap();
    let mut made = ZipArchive::new(Cursor::new(made)).unwrap();
    let mut text = String::new();
    let mut part = made.by_name("xl/worksheets/sheet1.xml").unwrap();
    part.read_to_string(&mut text).unwrap();
    for (row, format) in (1..).zip(formats) {
        let number = styles.style(format).number.unwrap();
        let cell = format!("<c r=\"A{row}\" s=\"{number}\"/>");
        assert!(text.contains(&cell), "{cell}");
    }
}

#[test]
fn packed_texts_behind_each_other_are_one_packed_text() {
    let mut sum = Crc::new();
    let (mut bytes, mut whole) = (Vec::new(), String::new());
    let pieces = ["first ".repeat(90_000), String::new(), "second".repeat(7)];
    for (number, piece) in pieces.iter().enumerate() {
        let mut packing = Packing::new();
        packing.write(piece).unwrap();
        let packed = match number == pieces.len() - 1 {
            true => packing.last(),
            false => packing.open(),
        };
        let packed = packed.unwrap();
        assert_eq!(packed.length, piece.len() as u64);
        sum.combine(&packed.sum);
        packed.copy(None, &mut bytes).unwrap();
        whole.push_str(piece);
    }
    assert!(unpacked(&bytes) == whole);
    let mut direct = Crc::new();
    direct.update(whole.as_bytes());
    assert_eq!(sum.sum(), direct.sum());
}

/// The first fault of the lines is told, on however many cores they are written.
#[test]
fn the_first_fault_of_the_lines_is_told() {
    let mut body = Body::default();
    let write = |_: &mut RowText, lines: Range<usize>| match lines.start {
        0 => Ok(()),
        start => Err(XlsxError::ParameterError(start.to_string())),
    };
    let fault = body.write(4, 5 * PART, 3, write).unwrap_err();
    assert!(fault.to_string().contains(&PART.to_string()), "{fault}");
}

/// The parts of a very long sheet wait in a file, in whatever order they were made.
#[test]
fn parts_that_wait_in_a_file_are_those_that_are_held() {
    let plain = Styles::of_tables().style(style::body(Look::Count));
    let text_of = |lines: usize| {
        let mut body = Body::default();
        let write = |rows: &mut RowText, lines: Range<usize>| {
            lines.into_iter().try_for_each(|line| {
                rows.number(line as u32, 0, line as f64, &plain)?;
                rows.end_row(line as u32, None)
            })
        };
        body.write(0, lines, 1, write).unwrap();
        let mut waiting = body.waiting.take();
        assert_eq!(waiting.is_some(), lines >= VERY_LONG);
        let mut bytes = Vec::new();
        let last = Packing::new().last().unwrap();
        for part in body.parts.iter().chain([&last]) {
            part.copy(waiting.as_mut(), &mut bytes).unwrap();
        }
        unpacked(&bytes)
    };
    let (long, very_long) = (text_of(VERY_LONG - 1), text_of(VERY_LONG));
    let last = very_long.strip_prefix(long.as_str()).unwrap();
    assert!(last.starts_with(&format!("<row r=\"{VERY_LONG}\">")));
}
