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
mod noise;

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
