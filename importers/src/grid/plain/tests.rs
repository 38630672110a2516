//! What is read here is what calamine reads.

use super::super::ahead::{Ahead, look_into};
use super::super::tests::noise::{Dice, changed_inside, corpus};
use super::super::workbook::xlsx;
use super::super::{Content, Kind, Sheet, letters};
use super::Read;
use super::stream::{BLOCK, Counts};
use parge_base::Diagnostic;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;

/// A workbook read here, where it is written plainly, and by calamine alone.
fn both(bytes: &[u8], ahead: Option<Ahead>) -> [Option<Result<Vec<Sheet>, Diagnostic>>; 2] {
    // What the reader stumbles over is dealt with where files are opened.
    [ahead, None].map(|ahead| catch_unwind(AssertUnwindSafe(|| xlsx(bytes, ahead))).ok())
}

/// How many sheets of a workbook are read here.
fn plain_ones(bytes: &[u8]) -> usize {
    let (_, ahead) = look_into(bytes).unwrap();
    ahead.map_or(0, |ahead| ahead.sheets().1.len())
}

#[test]
fn sheets_are_read_as_calamine_reads_them() {
    let mut plain = 0;
    for (name, bytes) in corpus() {
        if let Ok((Kind::Xlsx, ahead)) = look_into(&bytes) {
            let [here, there] = both(&bytes, ahead);
            assert_eq!(here, there, "{name}");
            plain += plain_ones(&bytes);
        }
    }
    assert!(plain > 5, "{plain}");
}

#[test]
fn changed_sheets_are_read_as_calamine_reads_them() {
    let mut dice = Dice::of(11);
    for (name, bytes) in corpus() {
        for round in 0..40 {
            let Some(changed) = changed_inside(&bytes, &mut dice) else {
                continue;
            };
            if let Ok((Kind::Xlsx, ahead)) = look_into(&changed) {
                let [here, there] = both(&changed, ahead);
                assert_eq!(here, there, "{name}, {round}");
            }
        }
    }
}

/// A workbook of one sheet with these rows and texts.
fn book(rows: &str, strings: &str) -> Vec<u8> {
    book_with(rows, strings, "", "")
}

/// The same with more columns before the rows, and more merged cells behind them.
fn book_with(rows: &str, strings: &str, columns: &str, merged: &str) -> Vec<u8> {
    let space = "http://schemas.openxmlformats.org";
    let documents = format!("{space}/officeDocument/2006/relationships");
    let main = format!("{space}/spreadsheetml/2006/main");
    let relation = |kind: &str, target: &str| {
        format!(
            r#"<Relationships xmlns="{space}/package/2006/relationships"><Relationship Id="r1" Type="{documents}/{kind}" Target="{target}"/></Relationships>"#
        )
    };
    let parts = [
        ("[Content_Types].xml", "<Types/>".to_owned()),
        ("_rels/.rels", relation("officeDocument", "xl/workbook.xml")),
        (
            "xl/_rels/workbook.xml.rels",
            relation("worksheet", "worksheets/sheet1.xml"),
        ),
        (
            "xl/workbook.xml",
            format!(
                r#"<workbook xmlns="{main}" xmlns:r="{documents}"><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>"#
            ),
        ),
        (
            "xl/styles.xml",
            r#"<styleSheet><numFmts><numFmt numFmtId="164" formatCode="0.0&quot; m&quot;"/></numFmts><fonts><font/><font><strike/></font></fonts><cellXfs><xf numFmtId="0" fontId="0"/><xf numFmtId="164" fontId="0"/><xf numFmtId="14" fontId="0"/><xf numFmtId="2" fontId="1"/><xf numFmtId="30" fontId="0"/></cellXfs></styleSheet>"#.to_owned(),
        ),
        ("xl/sharedStrings.xml", strings.to_owned()),
        (
            "xl/worksheets/sheet1.xml",
            format!(
                r#"<?xml version="1.0"?><worksheet xmlns="{main}"><cols><col min="2" max="3" hidden="1"/>{columns}</cols><sheetData>{rows}</sheetData><mergeCells count="1"><mergeCell ref="A1:B1"/>{merged}</mergeCells></worksheet>"#
            ),
        ),
    ];
    let parts: Vec<(&str, &[u8])> = parts
        .iter()
        .map(|(name, text)| (*name, text.as_bytes()))
        .collect();
    super::super::tests::zipped(&parts)
}

const STRINGS: &str = r#"<?xml version="1.0"?>
<sst uniqueCount="3"><si><t>Wall &amp; door</t></si><si><t xml:space="preserve"> so </t></si><si><r><rPr><b/></rPr><t>two </t></r><r><t>parts</t></r></si><si/></sst>"#;

/// Rows, and whether they are read here.
const ROWS: [(&str, bool); 34] = [
    ("", true),
    (r#"<row r="1"/>"#, true),
    (
        r#"<row r="1" hidden="1" x14ac:dyDescent="0.2"><c r="A1"><v>1</v></c></row>"#,
        true,
    ),
    (
        r#"<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c><c r="D1" t="s"><v>3</v></c></row>"#,
        true,
    ),
    (r#"<row r="1"><c r="A1" t="s"><v>4</v></c></row>"#, false),
    (
        r#"<row r="2"><c r="A2"/><c r="C2" s="1"><v>2.50</v></c><c r="D2" s="3"><v>-1e-3</v></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2" s="2"><v>45000</v></c></row>"#,
        false,
    ),
    (
        r#"<row r="2"><c r="A2" s="4"><v>45000</v></c></row>"#,
        false,
    ),
    (r#"<row r="2"><c r="A2" s="9"><v>45000</v></c></row>"#, true),
    (
        r#"<row r="2"><c r="A2" s="2" t="s"><v>0</v></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2" t="n"><v></v></c><c r="B2"><v/></c><c r="C2"></c></row>"#,
        true,
    ),
    (r#"<row r="2"><c r="A2"><v> 5 </v></c></row>"#, false),
    (r#"<row r="2"><c r="A2"><v>1,5</v></c></row>"#, false),
    (r#"<row r="2"><c r="A2"><v>1e999</v></c></row>"#, false),
    (
        r#"<row r="2"><c r="A2" t="b"><v>1</v></c><c r="B2" t="e"><v>#REF!</v></c></row>"#,
        true,
    ),
    (r#"<row r="2"><c r="A2" t="b"><v>2</v></c></row>"#, false),
    (
        r#"<row r="2"><c r="A2" t="str"><f>A1&amp;"x"</f><v>a &lt; b</v></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2" t="str"><v>a_x000D_b</v></c></row>"#,
        false,
    ),
    (
        r#"<row r="2"><c r="A2" t="str"><v>a&#65;b</v></c></row>"#,
        false,
    ),
    (
        r#"<row r="2"><c r="A2"><f>SUM(B2:C2)</f></c><c r="B2" t="str"><f>B1</f><v></v></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2"><f t="shared" ref="A2:A3" si="0">B2*2</f><v>4</v></c></row><row r="3"><c r="A3"><f t="shared" si="0"/><v>5</v></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2"><f t="shared" ref="A3:A2" si="0">B2*2</f><v>4</v></c></row>"#,
        false,
    ),
    (
        r#"<row r="2"><c r="A2"><f t="array" ref="A2">B2</f><v>4</v></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2" t="inlineStr"><is><t>in &quot;line&quot;</t></is></c></row>"#,
        true,
    ),
    (
        r#"<row r="2"><c r="A2" t="inlineStr"><v>1</v></c></row>"#,
        false,
    ),
    (r#"<row r="2"><c><v>1</v></c></row>"#, false),
    (r#"<row><c r="A1"><v>1</v></c></row>"#, false),
    (
        r#"<row r="2"><c r="B2"><v>1</v></c><c r="A2"><v>2</v></c></row>"#,
        false,
    ),
    (
        r#"<row r="3"><c r="A3"><v>1</v></c></row><row r="2"><c r="A2"><v>2</v></c></row>"#,
        false,
    ),
    (r#"<row r="3"><c r="A4"><v>1</v></c></row>"#, false),
    (r#"<row r="3"> <c r="A3"><v>1</v></c></row>"#, false),
    (
        r#"<row r="3"><c r="A3"><v>1</v><!-- so --></c></row>"#,
        false,
    ),
    (r#"<row r="3"><c r="A3" r="B3"><v>1</v></c></row>"#, false),
    (
        r#"<row r="3"><c r="A3" t="d"><v>2020-01-01</v></c></row>"#,
        false,
    ),
];

#[test]
fn each_way_to_write_a_cell_is_read_alike() {
    for (rows, is_plain) in ROWS {
        let bytes = book(rows, STRINGS);
        let (_, ahead) = look_into(&bytes).unwrap();
        let [here, there] = both(&bytes, ahead);
        assert_eq!(here, there, "{rows}");
        assert_eq!(plain_ones(&bytes), usize::from(is_plain), "{rows}");
    }
}

#[test]
fn what_is_hidden_struck_through_or_merged_stays_so() {
    let (rows, _) = ROWS[5];
    let bytes = book(&rows.replace("r=\"2\"", "r=\"2\" hidden=\"true\""), STRINGS);
    let (_, ahead) = look_into(&bytes).unwrap();
    let [Some(Ok(sheets)), _] = both(&bytes, ahead) else {
        panic!("it cannot be read");
    };
    let sheet = &sheets[0];
    assert_eq!(sheet.hidden_columns, [1, 2].into());
    assert_eq!(sheet.merged.len(), 1);
    let [row] = sheet.rows.as_slice() else {
        panic!("{:?}", sheet.rows);
    };
    assert!(row.hidden && row.cells[1].struck && !row.cells[0].struck);
    assert_eq!(row.cells[0].format.as_deref(), Some("0.0\" m\""));
    assert_eq!(row.cells[1].content, Content::Number(-0.001));
}

#[test]
fn texts_that_are_not_plain_are_left_to_calamine() {
    let rows = r#"<row r="1"><c r="A1" t="s"><v>0</v></c></row>"#;
    for strings in [
        "<sst><si><t>a&#65;</t></si></sst>",
        "<sst><si><t>a</t><rPh><t>b</t></rPh></si></sst>",
        "<sst><si><t>a_x0041_</t></si></sst>",
        "<sst><!-- <si> --><si><t>a</t></si></sst>",
        "<sst><si><t>a\r\nb</t></si></sst>",
    ] {
        let bytes = book(rows, strings);
        let (_, ahead) = look_into(&bytes).unwrap();
        let [here, there] = both(&bytes, ahead);
        assert_eq!(here, there, "{strings}");
        assert_eq!(plain_ones(&bytes), 0, "{strings}");
    }
}

#[test]
fn what_is_longer_than_a_block_is_read_alike() {
    let cells = |row: u32| -> String {
        let cell = |column| format!(r#"<c r="{}{row}"><v>{column}.25</v></c>"#, letters(column));
        (0..16_384).map(cell).collect()
    };
    let long: String = [1, 2, 4]
        .map(|row| format!(r#"<row r="{row}">{}</row>"#, cells(row)))
        .concat();
    assert!(long.len() > 3 * BLOCK);
    let merged = r#"<mergeCell ref="A1:B1"/>"#.repeat(BLOCK / 10);
    let columns = r#"<col min="2" max="3" hidden="1"/>"#.repeat(BLOCK / 10);
    for (rows, before, behind) in [
        (long.as_str(), "", ""),
        (ROWS[5].0, "", merged.as_str()),
        (ROWS[5].0, columns.as_str(), ""),
        (long.as_str(), columns.as_str(), merged.as_str()),
    ] {
        let bytes = book_with(rows, STRINGS, before, behind);
        let (_, ahead) = look_into(&bytes).unwrap();
        let [here, there] = both(&bytes, ahead);
        assert_eq!(here, there);
        assert_eq!(plain_ones(&bytes), 1);
    }
}

#[test]
fn long_sheets_are_read_in_blocks() {
    let row =
        |number: usize| format!(r#"<row r="{number}"><c r="A{number}"><v>{number}</v></c></row>"#);
    let rows: String = (1..=20_000).map(row).collect();
    assert!(rows.len() > 3 * BLOCK);
    let bytes = book(&rows, STRINGS);
    let (_, ahead) = look_into(&bytes).unwrap();
    let [here, there] = both(&bytes, ahead);
    assert_eq!(here, there);
    assert_eq!(plain_ones(&bytes), 1);
}

/// What all blocks of all parts hold is counted as they are read, so that no more of it is held at a
/// time than is read in the end.
#[test]
fn texts_are_counted_over_all_blocks_of_all_parts() {
    let text = "a".repeat(5_000);
    let strings = format!("<sst><si><t>{text}</t></si></sst>");
    let read = Read::of(Some(strings.as_bytes()), Vec::new()).unwrap();
    let row = |row: usize| format!(r#"<row r="{row}"><c r="A{row}" t="s"><v>0</v></c></row>"#);
    let block: String = (1..=5_000).map(row).collect();
    let used = Mutex::default();
    let [first, second] = [Counts::new(&used), Counts::new(&used)];
    assert!(first.rows(block.as_bytes(), &read).is_some());
    assert!(second.rows(block.as_bytes(), &read).is_none());
    assert!(first.rows(block.as_bytes(), &read).is_none());
}
