//! The rows of one table, one by one: each gets its verdict, and goes into the running sums.

use super::decide::Kind;
use super::roles::Roles;
use super::row::{Cells, Trouble};
use super::running::Running;
use super::setup::Setup;
use super::{Import, Verdict};
use crate::columns::Role;
use compact_str::CompactString;
use rayon::prelude::*;

/// So many rows are read before their turn.
const AHEAD: usize = 512;
/// Room is made for so many rows at first, since they may all be notes.
const MOST_ROOM: usize = 1 << 17;

/// So few rows are not worth another core.
const FEW: usize = 64;

/// What faces are under at the moment.
#[derive(Debug, Clone, Default)]
pub(super) struct Under {
    /// The heading above, without its number.
    pub(super) heading: Option<CompactString>,
    /// How often what stands under it is there.
    pub(super) times: u32,
    /// The structure that a column named last.
    pub(super) structure: Option<CompactString>,
    /// The face above, to which openings belong.
    pub(super) face: Option<usize>,
}

/// Reads the rows of a table.
pub(super) struct TableReader<'a> {
    pub(super) setup: &'a Setup<'a>,
    pub(super) roles: &'a Roles<'a>,
    pub(super) out: &'a mut Import,
    pub(super) number: usize,
    pub(super) under: Under,
    pub(super) running: Running,
}

impl<'a> TableReader<'a> {
    pub(super) fn new(setup: &'a Setup<'a>, roles: &'a Roles<'a>, out: &'a mut Import) -> Self {
        let title = setup.table.title.as_ref().map(|(_, text)| text.into());
        // Above the only table stands the title of the sheet; above one of several, its own.
        let heading = title.filter(|_| !setup.is_alone);
        Self {
            number: out.tables.len() - 1,
            setup,
            roles,
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
        // Room for all at once: what grows bit by bit is copied again and again.
        let room = self.setup.table.rows.len().min(MOST_ROOM);
        self.out.rows.reserve(room);
        self.out.faces.reserve(room);
        let (setup, roles) = (self.setup, self.roles);
        let read = |number: &usize| {
            let row = setup.sheet.rows.get(*number)?;
            let mut cells = Cells::new(setup, roles, row);
            cells.read_ahead();
            Some(cells)
        };
        let mut blocks = setup.table.rows.chunks(AHEAD);
        let mut ahead = |cells: &mut Vec<Option<Cells<'a>>>| {
            let rows = blocks.next().unwrap_or_default().par_iter();
            rows.with_min_len(FEW).map(read).collect_into_vec(cells);
        };
        let (mut block, mut next) = (Vec::new(), Vec::new());
        ahead(&mut next);
        let mut place = 0;
        while !next.is_empty() {
            std::mem::swap(&mut block, &mut next);
            // While the rows of a block get their verdicts, one after the other, those of the next
            // are read.
            rayon::join(
                || {
                    for cells in &mut block {
                        if let Some(cells) = cells.as_mut().filter(|cells| !cells.is_empty()) {
                            self.row(cells, place);
                        }
                        place += 1;
                    }
                },
                || ahead(&mut next),
            );
        }
    }

    /// One row: its verdict, and what it adds to the sums.
    fn row(&mut self, cells: &mut Cells<'_>, place: usize) {
        let judged = self.judge(cells, place);
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
        self.add_up(&figures, &verdict);
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
            Kind::Words => self.heading(cells, place),
            Kind::Opening => self.opening(cells),
            Kind::Face => self.face(cells),
        }
    }
}
