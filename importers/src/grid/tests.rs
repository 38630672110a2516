use super::*;

#[test]
fn columns_have_letters() {
    for (column, name) in [
        (0, "A"),
        (25, "Z"),
        (26, "AA"),
        (701, "ZZ"),
        (16_383, "XFD"),
    ] {
        assert_eq!(letters(column), name);
        assert_eq!(column_of(name), Some(column));
    }
    assert_eq!(column_of("A1"), None);
    assert_eq!(column_of(""), None);
}

mod bad_files;
pub(super) mod noise;

pub(super) use bad_files::zipped;

fn read(name: &str, bytes: &[u8]) -> Vec<String> {
    let book = open(name, bytes).unwrap();
    let cells = book
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.rows)
        .flat_map(|row| {
            let number = row.number;
            row.cells
                .iter()
                .map(move |cell| format!("{}{}={}", letters(cell.column), number + 1, cell.content))
        });
    cells.collect()
}

#[test]
fn text_of_every_encoding_and_separator() {
    let text = "Wand;Länge (m)\nA;2,5\n";
    let wanted = ["A1=Wand", "B1=Länge (m)", "A2=A", "B2=2,5"];
    let wide = |bytes: fn(u16) -> [u8; 2], mark: bool| {
        let mark = mark.then_some('\u{feff}').into_iter();
        let all: String = mark.chain(text.chars()).collect();
        all.encode_utf16().flat_map(bytes).collect::<Vec<u8>>()
    };
    let (latin, ..) = encoding_rs::WINDOWS_1252.encode(text);
    for bytes in [
        text.as_bytes().to_vec(),
        format!("\u{feff}{text}").into_bytes(),
        latin.into_owned(),
        wide(u16::to_le_bytes, true),
        wide(u16::to_be_bytes, true),
        wide(u16::to_le_bytes, false),
        wide(u16::to_be_bytes, false),
    ] {
        assert_eq!(read("a.csv", &bytes), wanted);
    }
    assert_eq!(read("a.tsv", b"Wall\tL\nA\t2.5\n").len(), 4);
    // A line is a row of the sheet, also behind empty ones.
    assert_eq!(
        read("a.csv", b"\n\nWall,L\n\nA,2\n"),
        ["A3=Wall", "B3=L", "A5=A", "B5=2"]
    );
}

#[test]
fn what_offices_hide_is_seen() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let struck = rust_xlsxwriter::Format::new().set_font_strikethrough();
    let metres = rust_xlsxwriter::Format::new().set_num_format("0.00\" m\"");
    sheet.write_string(0, 0, "Wall").unwrap();
    sheet.write_string_with_format(1, 0, "A", &struck).unwrap();
    sheet.write_number_with_format(1, 2, 2.5, &metres).unwrap();
    sheet
        .write_formula(
            2,
            2,
            rust_xlsxwriter::Formula::new("=SUM(C2:C2)").set_result("2.5"),
        )
        .unwrap();
    sheet.merge_range(4, 0, 4, 3, "Hall", &metres).unwrap();
    sheet.set_row_hidden(1).unwrap();
    sheet.set_column_hidden(2).unwrap();
    let book = open("a.xlsx", &book.save_to_buffer().unwrap()).unwrap();
    let sheet = &book.sheets[0];
    let [_, hidden, total, _] = sheet.rows.as_slice() else {
        panic!("{sheet:?}");
    };
    assert!(hidden.hidden && hidden.cells[0].struck);
    assert_eq!(hidden.cells[1].format.as_deref(), Some("0.00\" m\""));
    assert!(sheet.hidden_columns.contains(&2));
    assert_eq!(total.cells[0].formula.as_deref(), Some("SUM(C2:C2)"));
    assert_eq!(total.cells[0].content, Content::Number(2.5));
    assert_eq!(
        sheet.merged,
        [Merged {
            first: (4, 0),
            last: (4, 3)
        }]
    );
}

/// A sheet in a format that no library of spreadsheets writes, made by `tests/importers/make_xlsb.py`,
/// and the same as LibreOffice saves it: what is seen of both is the same.
#[test]
fn other_formats_show_what_is_hidden_struck_and_merged() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/importers/sheets");
    let open = |name: &str| open(name, &std::fs::read(folder.join(name)).unwrap()).unwrap();
    let (binary, ods) = (open("panels.xlsb"), open("panels.ods"));
    for book in [&binary, &ods] {
        let sheet = &book.sheets[0];
        let marked = |of: fn(&Row) -> bool| -> Vec<u32> {
            let rows = sheet.rows.iter().filter(|row| of(row));
            rows.map(|row| row.number).collect()
        };
        assert_eq!(sheet.name, "Panels");
        assert_eq!(marked(|row| row.hidden), [4], "{:?}", book.kind);
        assert_eq!(marked(|row| row.cells.iter().any(|cell| cell.struck)), [5]);
        assert_eq!(
            sheet.hidden_columns.iter().copied().collect::<Vec<_>>(),
            [5]
        );
        let area = Merged {
            first: (0, 0),
            last: (0, 5),
        };
        assert_eq!(sheet.merged, [area]);
        assert_eq!(
            sheet.rows[2].cell(4).unwrap().content,
            Content::Number(16.875)
        );
    }
    let sheet = &binary.sheets[0];
    assert_eq!(
        sheet.rows[2].cell(2).unwrap().format.as_deref(),
        Some("0.00\" m\"")
    );
    assert_eq!(
        sheet.rows[2].cell(4).unwrap().formula.as_deref(),
        Some("B3*C3*D3")
    );
    assert_eq!(
        sheet.rows[6].cell(1).unwrap().content,
        Content::Fault("#REF!".into())
    );
}

/// `=IF(A2="","",B2*C2)` in rows that wait to be filled in says nothing, and is no formula without a
/// result.
#[test]
fn a_formula_that_shows_nothing_is_no_cell() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_string(0, 0, "Wall").unwrap();
    let formula = rust_xlsxwriter::Formula::new("=IF(A1=1,1,2)").set_result("shown");
    sheet.write_formula(1, 0, formula).unwrap();
    let bytes = book.save_to_buffer().unwrap();
    assert_eq!(read("a.xlsx", &bytes), ["A1=Wall", "A2=shown"]);
    let empty = with_part(&bytes, "xl/worksheets/sheet1.xml", |text| {
        text.replace("<v>shown</v>", "<v></v>")
    });
    assert_eq!(read("a.xlsx", &empty), ["A1=Wall"]);
}

/// An archive with one of its parts changed.
fn with_part(bytes: &[u8], name: &str, change: impl Fn(&str) -> String) -> Vec<u8> {
    use std::io::{Cursor, Read, Write};
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut changed = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for number in 0..archive.len() {
        let mut part = archive.by_index(number).unwrap();
        let own = part.name().unwrap().into_owned();
        let mut text = Vec::new();
        part.read_to_end(&mut text).unwrap();
        if own == name {
            text = change(&String::from_utf8(text).unwrap()).into_bytes();
        }
        let options = zip::write::SimpleFileOptions::default();
        changed.start_file(own, options).unwrap();
        changed.write_all(&text).unwrap();
    }
    changed.finish().unwrap().into_inner()
}

/// Sheets have many cells, and few have a formula or a format.
#[test]
fn cells_are_small() {
    assert!(size_of::<Cell>() <= 48, "{}", size_of::<Cell>());
}
