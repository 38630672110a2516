use super::*;
use crate::grid::Content;
use proptest::prelude::*;
use std::collections::BTreeMap;

fn cell(column: u32, number: usize) -> Cell {
    Cell {
        column,
        content: Content::Number(number as f64),
        formula: None,
        struck: false,
        format: None,
    }
}

proptest! {
    /// In whatever order cells come: by rows and columns, the last of each place.
    #[test]
    fn cells_stand_in_order(places in prop::collection::vec((0_u32..6, 0_u32..6), 0..40)) {
        let (mut laid, mut by_place) = (Laid::default(), BTreeMap::new());
        for (number, (row, column)) in places.into_iter().enumerate() {
            laid.put(row, cell(column, number));
            by_place.insert((row, column), number);
        }
        let rows = laid.rows();
        let numbers: Vec<u32> = rows.iter().map(|row| row.number).collect();
        prop_assert!(numbers.is_sorted_by(|one, next| one < next));
        let found = rows.iter().flat_map(|row| row.cells.iter().map(|own| (row.number, own)));
        let found: Vec<(u32, Cell)> = found.map(|(row, own)| (row, own.clone())).collect();
        let wanted = by_place.into_iter().map(|((row, column), number)| (row, cell(column, number)));
        prop_assert_eq!(found, wanted.collect::<Vec<_>>());
    }
}
