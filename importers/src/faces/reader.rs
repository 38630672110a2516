//! The rows of one table, one by one: each gets its verdict, and goes into the running sums.

use super::ahead::Ahead;
use super::decide::Kind;
use super::row::{Cells, Trouble};
use super::running::Running;
use super::setup::Setup;
use super::{Import, Verdict};
use crate::columns::{Column, Role};
use rayon::prelude::*;

/// So many rows are read before their turn.
const AHEAD: usize = 1_024;

/// What faces are under at the moment.
#[derive(Debug, Clone, Default)]
pub(super) struct Under {
    /// The heading above, without its number.
    pub(super) heading: Option<String>,
    /// How often what stands under it is there.
    pub(super) times: u32,
    /// The structure that a column named last.
    pub(super) structure: Option<String>,
    /// The face above, to which openings belong.
    pub(super) face: Option<usize>,
}

/// Reads the rows of a table.
pub(super) struct TableReader<'a> {
    pub(super) setup: &'a Setup<'a>,
    pub(super) columns: Vec<Column>,
    pub(super) out: &'a mut Import,
    pub(super) number: usize,
    pub(super) under: Under,
    pub(super) running: Running,
}

impl<'a> TableReader<'a> {
    pub(super) fn new(setup: &'a Setup<'a>, columns: Vec<Column>, out: &'a mut Import) -> Self {
        let title = setup.table.title.as_ref().map(|(_, text)| text.clone());
        // Above the only table stands the title of the sheet; above one of several, its own.
        let heading = title.filter(|_| !setup.is_alone);
        Self {
            number: out.tables.len() - 1,
            setup,
            columns,
            out,
            under: Under {
                heading,
                times: 1,
                ..Under::default()
            },
            running: Running::default(),
        }
    }

    /// Gives every row its verdict.
    pub(super) fn read(&mut self) {
        self.out.keep_headers(self.setup.table);
        let (setup, columns) = (self.setup, self.columns.clone());
        let row = |number: &usize| setup.sheet.rows.get(*number);
        let ahead = |block: &[usize]| -> Vec<Ahead> {
            let rows = block.par_iter().map(row);
            rows.map(|row| row.map(|row| Cells::new(setup, &columns, row).read_ahead()))
                .map(Option::unwrap_or_default)
                .collect()
        };
        let mut blocks = setup.table.rows.chunks(AHEAD);
        let mut next = blocks.next().map(|block| (block, ahead(block)));
        let mut place = 0;
        while let Some((block, read)) = next {
            // While the rows of a block get their verdicts, one after the other, those of the next
            // are read.
            (_, next) = rayon::join(
                || {
                    for (row, ahead) in block.iter().map(row).zip(read) {
                        let cells = row.map(|row| Cells::new(setup, &columns, row));
                        if let Some(mut cells) = cells
                            && cells.cells().next().is_some()
                        {
                            cells.ahead = ahead;
                            self.row(cells, place);
                        }
                        place += 1;
                    }
                },
                || blocks.next().map(|block| (block, ahead(block))),
            );
        }
    }

    /// One row: its verdict, and what it adds to the sums.
    fn row(&mut self, mut cells: Cells<'_>, place: usize) {
        let judged = self.judge(&mut cells, place);
        let verdict = self.out.settled(judged);
        self.out.remarks.append(&mut cells.remarks);
        if matches!(verdict, Verdict::Rejected(_)) {
            cells.keep_area();
            // What is cut out of a face that is not taken over is not cut out of the one above it.
            if matches!(cells.kind(), Ok(Kind::Face)) {
                self.under.face = None;
            }
        }
        let figures = std::mem::take(&mut cells.figures);
        self.running.add_text(&cells.as_text);
        let (stated, made) = self.with_area(&figures, &verdict);
        self.running
            .add((&stated, &made), &verdict, self.under.times);
        self.out.keep(
            self.setup.table,
            cells.row.number,
            verdict,
            figures,
            self.under.times,
        );
    }

    fn judge(&mut self, cells: &mut Cells<'_>, place: usize) -> Result<Verdict, Trouble> {
        if let Some(why) = cells.left_out()? {
            // What it states is kept for the sums of what is not taken over.
            let _ = cells
                .billed()
                .and_then(|_| cells.sizes())
                .and_then(|_| cells.area(Role::Area));
            cells.remarks.clear();
            return Err(Trouble::Reject(why));
        }
        match cells.known_kind()? {
            Kind::Note => Ok(Verdict::Note),
            Kind::Total => Ok(self.total(cells, place)),
            Kind::Words(text) => self.heading(cells, place, text),
            Kind::Opening => self.opening(cells),
            Kind::Face => self.face(cells),
        }
    }
}
