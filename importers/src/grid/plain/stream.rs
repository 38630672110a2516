//! The rows of a part, read in blocks while it is still unpacked.

use super::row::{self, Rows};
use super::{Read, begins_rows, hidden_around};
use crate::grid::bounds::Used;
use crate::grid::container::Takes;
use crate::grid::hidden::Hidden;
use memchr::memmem;
use rayon::Scope;
use std::mem;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::Sender;
use std::sync::{Mutex, PoisonError};

/// The tags around the rows of a sheet.
const START: &[u8] = b"<sheetData>";
const END: &[u8] = b"</sheetData>";
/// What a row begins with; one without a number is not written plainly.
const ROW: &[u8] = b"<row ";
/// How much of a sheet is read at a time on one core, in bytes.
pub(super) const BLOCK: usize = 256 << 10;
/// How many blocks may wait for each other core, so that few are in memory.
const WAITING: usize = 2;

/// What is counted of a part while its blocks are read.
pub(in crate::grid) struct Counts<'u> {
    /// What was counted of all parts.
    used: &'u Mutex<Used>,
    /// Blocks that wait for a core, or are read on one.
    waiting: AtomicUsize,
    /// A block is not written plainly, or all parts hold too much.
    gives_up: AtomicBool,
}

impl<'u> Counts<'u> {
    /// Nothing yet of a part, of which what it holds is counted with that of others.
    pub(in crate::grid) fn new(used: &'u Mutex<Used>) -> Self {
        Self {
            used,
            waiting: AtomicUsize::new(0),
            gives_up: AtomicBool::new(false),
        }
    }

    /// Counts what a block holds, so that a file with too much is given up before its end.
    fn count(&self, block: &Used) -> Option<()> {
        let mut used = self.used.lock().unwrap_or_else(PoisonError::into_inner);
        *used = used.and(block)?;
        Some(())
    }

    /// The rows of a block; `None` where they are not written plainly, or are too many.
    pub(super) fn rows(&self, block: &[u8], read: &Read) -> Option<Rows> {
        let text = std::str::from_utf8(block).ok();
        let rows = text.and_then(|text| row::rows(text, read));
        let rows = rows.filter(|rows| self.count(&rows.used).is_some());
        if rows.is_none() {
            self.gives_up.store(true, Ordering::Relaxed);
        }
        rows
    }
}

/// What was read of a block: the number of its part, its own in the part, and its rows where they
/// are written plainly.
pub(in crate::grid) type BlockRead = (usize, usize, Option<Rows>);

/// The rows of so many parts, each as far as it is written plainly.
pub(in crate::grid) fn together(mut found: Vec<BlockRead>, parts: usize) -> Vec<Option<Rows>> {
    found.sort_unstable_by_key(|(part, block, _)| (*part, *block));
    let mut counts = vec![0; parts];
    for (part, _, rows) in &found {
        if let (Some(count), Some(rows)) = (counts.get_mut(*part), rows) {
            *count += rows.rows.len();
        }
    }
    let all = counts
        .into_iter()
        .map(|count| Some(Rows::with_capacity(count)));
    let mut all: Vec<Option<Rows>> = all.collect();
    for (part, _, rows) in found {
        if let Some(own) = all.get_mut(part) {
            *own = own.take().and_then(|own| own.and(rows?));
        }
    }
    all
}

/// A part as it comes.
pub(in crate::grid) struct Stream<'r, 's> {
    scope: &'r Scope<'s>,
    read: &'s Read,
    counts: &'s Counts<'s>,
    /// The number of the part, and where its blocks go.
    to: (usize, Sender<BlockRead>),
    /// The number of the next block.
    next: usize,
    /// What stands up to the rows, once they have begun.
    before: Option<Vec<u8>>,
    bytes: Vec<u8>,
    taken: usize,
    /// How much of what was taken was searched for a place to divide it.
    searched: usize,
    /// How much more may be taken.
    room: usize,
}

impl<'r, 's> Stream<'r, 's> {
    /// Nothing yet of a part with a number, and of no more than some bytes.
    pub(in crate::grid) fn new(
        scope: &'r Scope<'s>,
        (read, counts): (&'s Read, &'s Counts<'s>),
        to: (usize, Sender<BlockRead>),
        room: usize,
    ) -> Self {
        Self {
            scope,
            read,
            counts,
            to,
            next: 0,
            before: None,
            bytes: vec![0; BLOCK],
            taken: 0,
            searched: 0,
            room,
        }
    }

    /// What is hidden around the rows, where it is written plainly, and how much room is left. The
    /// part is whole.
    pub(in crate::grid) fn end(mut self) -> (Option<Hidden>, usize) {
        let hidden = self.last_block();
        (hidden, self.room)
    }

    fn last_block(&mut self) -> Option<Hidden> {
        if self.before.is_none() {
            self.begin();
        }
        let before = self.before.take()?;
        let mut rows = mem::take(&mut self.bytes);
        rows.truncate(self.taken);
        let at = memmem::rfind(&rows, END)?;
        let behind = rows.split_off(at);
        self.found(&rows);
        hidden_around(&before, &behind).filter(|_| !self.gives_up())
    }

    fn gives_up(&self) -> bool {
        self.counts.gives_up.load(Ordering::Relaxed)
    }

    fn give_up(&self) {
        self.counts.gives_up.store(true, Ordering::Relaxed);
    }

    /// Puts what stands up to the rows aside, if they have begun.
    fn begin(&mut self) {
        let from = self.searched.saturating_sub(START.len());
        let taken = self.bytes.get(from..self.taken).unwrap_or_default();
        let Some(at) = memmem::find(taken, START) else {
            return;
        };
        let end = from + at + START.len();
        let before = self.bytes.get(..end).unwrap_or_default().to_vec();
        if !std::str::from_utf8(&before).is_ok_and(begins_rows) {
            self.give_up();
        }
        self.before = Some(before);
        self.bytes.copy_within(end..self.taken, 0);
        (self.taken, self.searched) = (self.taken - end, 0);
    }

    /// Makes room for more: by giving whole rows away, or for a longer row.
    fn make_room(&mut self) {
        if self.before.is_none() {
            self.begin();
        }
        if self.gives_up() {
            self.taken = 0;
        }
        if self.taken < self.bytes.len() {
            return;
        }
        let from = self.searched.saturating_sub(ROW.len()).max(1);
        let taken = self.bytes.get(from..self.taken).unwrap_or_default();
        match memmem::rfind(taken, ROW).filter(|_| self.before.is_some()) {
            Some(at) => self.divide(from + at),
            None => {
                self.searched = self.taken;
                self.bytes.resize(2 * self.bytes.len(), 0);
            }
        }
    }

    /// Reads the rows up to a place, here if all cores are at work.
    fn divide(&mut self, at: usize) {
        let tail = self.bytes.get(at..self.taken).unwrap_or_default();
        let mut next = vec![0; BLOCK.max(2 * tail.len())];
        if let Some(front) = next.get_mut(..tail.len()) {
            front.copy_from_slice(tail);
        }
        (self.taken, self.searched) = (tail.len(), tail.len());
        let mut block = mem::replace(&mut self.bytes, next);
        block.truncate(at);
        let most = WAITING * (rayon::current_num_threads() - 1);
        if self.counts.waiting.load(Ordering::Relaxed) >= most {
            return self.found(&block);
        }
        let (read, counts, number) = (self.read, self.counts, self.number());
        let to = self.to.1.clone();
        counts.waiting.fetch_add(1, Ordering::Relaxed);
        self.scope.spawn(move |_| {
            send(&to, number, counts.rows(&block, read));
            counts.waiting.fetch_sub(1, Ordering::Relaxed);
        });
    }

    /// Reads a block here.
    fn found(&mut self, block: &[u8]) {
        let number = self.number();
        send(&self.to.1, number, self.counts.rows(block, self.read));
    }

    /// The number of a block.
    fn number(&mut self) -> (usize, usize) {
        self.next += 1;
        (self.to.0, self.next)
    }
}

fn send(to: &Sender<BlockRead>, (part, block): (usize, usize), rows: Option<Rows>) {
    // Nobody waits any more where the file is refused.
    let _ = to.send((part, block, rows));
}

impl Takes for Stream<'_, '_> {
    fn room(&mut self) -> &mut [u8] {
        if self.taken == self.bytes.len() {
            self.make_room();
        }
        self.bytes.get_mut(self.taken..).unwrap_or_default()
    }

    fn took(&mut self, count: usize) {
        match self.room.checked_sub(count) {
            Some(room) => self.room = room,
            None => self.give_up(),
        }
        self.taken += count;
    }
}
