//! Cells laid out in rows while they are read.

use super::{Cell, Row};

/// Rows as they come: files have their cells in order, and need not.
#[derive(Debug, Default)]
pub(super) struct Laid {
    rows: Vec<Row>,
    /// Some cell stands before one that came earlier, or is that one again.
    mixed_up: bool,
}

impl Laid {
    /// Adds a cell behind those that came.
    pub(super) fn put(&mut self, number: u32, cell: Cell) {
        let last = self.rows.last_mut();
        self.mixed_up |= last.as_ref().is_some_and(|last| {
            let behind = last.cells.last().is_none_or(|own| own.column < cell.column);
            number < last.number || number == last.number && !behind
        });
        match last {
            Some(row) if row.number == number => row.cells.push(cell),
            last => {
                // Most rows are as long as the one above.
                let mut cells = Vec::with_capacity(last.map_or(1, |row| row.cells.len()));
                cells.push(cell);
                self.rows.push(Row {
                    number,
                    hidden: false,
                    cells,
                });
            }
        }
    }

    /// The rows in their order, the cells of each by column. Of two cells in one place the later
    /// one stands.
    pub(super) fn rows(self) -> Vec<Row> {
        if !self.mixed_up {
            return self.rows;
        }
        let rows = self.rows.into_iter();
        let cells = rows.flat_map(|row| row.cells.into_iter().map(move |cell| (row.number, cell)));
        let mut cells: Vec<(u32, Cell)> = cells.collect();
        cells.sort_by_key(|(row, cell)| (*row, cell.column));
        // The first of two neighbours is kept, and the later one is to be.
        cells.reverse();
        cells.dedup_by_key(|(row, cell)| (*row, cell.column));
        let mut sorted = Self::default();
        for (row, cell) in cells.into_iter().rev() {
            sorted.put(row, cell);
        }
        sorted.rows
    }
}

#[cfg(test)]
mod tests;
