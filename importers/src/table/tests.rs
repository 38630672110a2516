use super::*;
use crate::columns::Words;
use crate::grid::open;

fn tables(csv: &str) -> Found {
    let book = open("sheet.csv", csv.as_bytes()).unwrap();
    find(0, &book.sheets[0], &Words::default(), &|_| false)
}

fn heads(table: &Table) -> String {
    let heads = table.heads.iter().map(Head::shown);
    heads.collect::<Vec<_>>().join("|")
}

#[test]
fn a_table_under_titles() {
    let found = tables("Beech Lane,,\n,,\nWall,L (ft),H (ft)\nA,10,8\nB,12,8\n");
    assert_eq!(found.tables.len(), 1);
    assert_eq!(heads(&found.tables[0]), "Wall|L (ft)|H (ft)");
    assert_eq!(found.tables[0].rows.len(), 2);
    assert_eq!(found.above.len(), 1);
}

#[test]
fn a_row_of_units_belongs_to_the_header() {
    let found = tables("Wall,Length,Height\n,(ft),(in)\nA,10,96\n");
    assert_eq!(heads(&found.tables[0]), "Wall|Length / (ft)|Height / (in)");
    assert_eq!(found.tables[0].rows.len(), 1);
}

#[test]
fn a_header_after_a_page_break_and_another_table() {
    let found = tables("Wall,L,H\nA,10,8\nWall,L,H\nB,10,8\nHall,,\nWall,Area,Qty\nC,80,1\n");
    assert_eq!(found.tables.len(), 2);
    assert_eq!(found.tables[0].repeated, [2]);
    assert_eq!(found.tables[0].rows.len(), 2);
    assert_eq!(found.tables[1].title, Some((4, "Hall".to_owned())));
}

#[test]
fn tables_beside_each_other() {
    let found = tables("Wall,L,H,,Wall,L,H\nA,10,8,,B,12,8\n");
    assert_eq!(found.tables.len(), 2);
    assert_eq!(found.tables[1].columns, 4..=u32::MAX);
}

#[test]
fn rows_of_a_table_are_no_headers() {
    let found = tables("Wall,L,H,Remarks\nA,10,8,door opening\nSide wall,,,size to be confirmed\n");
    assert_eq!(found.tables.len(), 1);
    assert_eq!(found.tables[0].rows.len(), 2);
}

/// On the first page the cells of a header are merged, on the second they are not.
#[test]
fn a_header_of_two_rows_is_repeated_word_for_word() {
    let csv = "Ref,Wall size,,Openings,\n,L,H,W,H\nA,10,8,3,7\nRef,Wall size,,Openings,\n,L,H,W,H\nB,12,8,,\n";
    let mut book = open("sheet.csv", csv.as_bytes()).unwrap();
    let merged = [(1, 2), (3, 4)].map(|(first, last)| crate::grid::Merged {
        first: (0, first),
        last: (0, last),
    });
    book.sheets[0].merged = merged.into();
    let found = find(0, &book.sheets[0], &Words::default(), &|_| false);
    assert_eq!(found.tables.len(), 1);
    assert_eq!(found.tables[0].repeated, [3, 4]);
    assert_eq!(found.tables[0].rows.len(), 2);
}
