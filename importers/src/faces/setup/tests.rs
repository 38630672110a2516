use super::*;
use proptest::prelude::*;

fn cell(content: &Option<String>, number: u8) -> Cell {
    Cell {
        column: 0,
        content: match content {
            Some(text) => crate::grid::Content::Text(text.as_str().into()),
            None => crate::grid::Content::Number(f64::from(number)),
        },
        formula: None,
        struck: false,
        format: None,
    }
}

fn counted_cells(cells: &[Cell]) -> Counting {
    let mut counting = Counting::default();
    cells.iter().for_each(|cell| counting.cell(cell));
    counting
}

proptest! {
    #[test]
    fn blocks_of_rows_count_as_all_rows_do(
        contents in prop::collection::vec((prop::option::weighted(0.3, "[0-3a. ]{1,3}"), 0_u8..4), 0..12),
        at in any::<prop::sample::Index>(),
    ) {
        let cells: Vec<Cell> = contents.iter().map(|(text, number)| cell(text, *number)).collect();
        let (above, below) = cells.split_at(at.index(cells.len() + 1));
        let mut blocks = counted_cells(above);
        blocks.and(counted_cells(below));
        let (blocks, whole) = (blocks.holds(), counted_cells(&cells).holds());
        prop_assert_eq!(blocks.content, whole.content);
        prop_assert_eq!(blocks.has_text, whole.has_text);
    }

    #[test]
    fn no_number_is_taken_for_words(text in "[-+.0-9einfatyINFNATY]{0,8}|\\PC{0,4}") {
        let wanted: Option<f64> = text.trim_end_matches('.').parse().ok();
        let found = number_in(&text);
        prop_assert_eq!(found.map(f64::to_bits), wanted.map(f64::to_bits));
    }
}
