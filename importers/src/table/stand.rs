//! What stands where, merged cells seen.

use crate::grid::{Merged, Row, Sheet};

/// The merged cells over several columns that a place lies in, where they begin in that row.
pub(super) fn first_of_merged(sheet: &Sheet, row: u32, column: u32) -> Option<Merged> {
    let over = sheet
        .merged
        .iter()
        .copied()
        .find(|area| area.first.0 == row && (area.first.1..=area.last.1).contains(&column));
    over.filter(|area| area.last.1 > area.first.1)
}

/// The text of a place; of merged cells the one they show.
pub(super) fn text_at<'s>(sheet: &Sheet, row: &'s Row, column: u32) -> Option<&'s str> {
    let own = row.cell(column).and_then(|cell| cell.text());
    own.or_else(|| {
        let area = first_of_merged(sheet, row.number, column)?;
        row.cell(area.first.1).and_then(|cell| cell.text())
    })
}

/// The columns that merged cells of a row cover.
pub(super) fn covered(sheet: &Sheet, row: u32) -> Vec<u32> {
    let areas = sheet.merged.iter().filter(|area| area.first.0 == row);
    // A title over everything is no header of each column.
    let few = areas.filter(|area| area.last.1.saturating_sub(area.first.1) < 64);
    few.flat_map(|area| area.first.1..=area.last.1).collect()
}
