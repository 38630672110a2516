use super::*;
use crate::testing::{files, loaded, rule};

fn row(table: &str, keys: &[&str], value: &str, unit: &str) -> NewRow {
    NewRow {
        table: table.to_owned(),
        key_columns: vec!["of".to_owned(), "what".to_owned()],
        keys: keys.iter().map(|key| (*key).to_owned()).collect(),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: "own jobs: 7 jobs, 2025-03-02 to 2026-08-14; before 0.5".to_owned(),
    }
}

/// The texts of the pack with a table of mixes, with rows written into it.
fn written(mixes: &str, rows: &[NewRow]) -> BTreeMap<String, String> {
    let mut files = files(&rule("1"));
    let path = "tables/mixes.csv".to_owned();
    files.texts.insert(path, mixes.to_owned());
    let (pack, sources) = loaded(&files).unwrap();
    pack.with_rows(rows, &sources).unwrap()
}

#[test]
fn what_is_not_changed_stays_to_the_last_letter() {
    let mixes = "item,value,unit,source,note\r\n\r\nwaste , 10,%,common practice,\"as, it is\"\r\n\
                 yield,1/2,ft3/bag,company,\"of 60 tubs, weighed\"\r\nlimit,1,in,ASTM C926,";
    let rows = [
        row("mixes", &["yield"], "0.482", "ft3/bag"),
        row("mixes", &["air"], "2", "%"),
    ];
    insta::assert_snapshot!(written(mixes, &rows)["tables/mixes.csv"].replace('\r', "<CR>"));
}

#[test]
fn a_table_that_is_not_there_begins_with_its_header() {
    let rows = [row("spread", &["factor", "mixes.yield"], "4.1", "%")];
    let texts = written(
        "item,value,unit,source,note\nyield,0.5,ft3/bag,company,\n",
        &rows,
    );
    assert_eq!(
        texts["tables/spread.csv"],
        "of,what,value,unit,source,note\nfactor,mixes.yield,4.1,%,\
         \"own jobs: 7 jobs, 2025-03-02 to 2026-08-14; before 0.5\",\n"
    );
}
