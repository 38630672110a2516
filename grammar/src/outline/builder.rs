//! Builds the items from the marks.

use super::marks::{Kind, Mark, Marks, TOP_WORDS};
use super::pairs::Unpaired;
use super::unseen::{self, Place};
use super::{Block, Item, MAX_BLOCKS, MAX_ITEMS, MAX_PARENS};
use crate::MAX_DIAGNOSTICS;
use crate::errors::{brackets, whole_text};
use parge_base::{Diagnostic, FileId, Span};
use std::ops::Range;

/// How far back a statement is looked for that a brace without partner may belong to.
const LOOK_BACK: usize = 256;

/// Statements of the top that take no block.
const WITHOUT_BLOCK: [&str; 7] = [
    "parge",
    "let",
    "include",
    "allowance",
    "exclude",
    "note",
    "terms",
];

/// Statements of the top that take one.
const WITH_BLOCK: [&str; 5] = ["job", "finish", "structure", "template", "alternate"];

/// A block whose end has not come yet.
struct Frame {
    /// The statement that the block belongs to.
    head: Pending,
    open: usize,
    /// Whether nothing closes it.
    unpaired: bool,
    /// The items before it in the block around it.
    before: Vec<Item>,
}

/// The statement being read.
#[derive(Default, Clone)]
struct Pending {
    head: Option<Range<usize>>,
    broken: bool,
}

/// Blocks nested deeper than is read are passed over by counting braces.
#[derive(Default)]
struct Skip {
    depth: usize,
}

pub(super) struct Builder<'a> {
    file: FileId,
    text: &'a str,
    /// Where in the text it begins.
    start: usize,
    unpaired: &'a Unpaired,
    frames: Vec<Frame>,
    items: Vec<Item>,
    /// How many items there are, those in blocks among them.
    count: usize,
    pending: Pending,
    parens: usize,
    /// Whether all brackets so far had partners.
    paired: bool,
    /// Whether no character of the text needs to be looked at by itself.
    all_seen: bool,
    skip: Skip,
    /// The end of the last `}` without partner: a run of them is one mistake.
    stray_end: Option<usize>,
    found: Vec<Diagnostic>,
}

impl<'a> Builder<'a> {
    pub(super) fn new(file: FileId, text: &'a str, start: usize, unpaired: &'a Unpaired) -> Self {
        let outlined = text.as_bytes().get(start..).unwrap_or_default();
        Self {
            file,
            text,
            start,
            unpaired,
            frames: Vec::new(),
            items: Vec::new(),
            count: 0,
            pending: Pending::default(),
            parens: 0,
            paired: true,
            all_seen: all_seen(outlined),
            skip: Skip::default(),
            stray_end: None,
            found: Vec::new(),
        }
    }

    pub(super) fn run(mut self, found: &mut Vec<Diagnostic>) -> Vec<Item> {
        self.read();
        found.append(&mut self.found);
        self.items
    }

    /// The items of a text without a mistake in its brackets and quotes, where it was expected that all
    /// brackets have partners.
    pub(super) fn run_if_good(mut self) -> Option<Vec<Item>> {
        self.read();
        (self.paired && self.found.is_empty()).then_some(self.items)
    }

    fn read(&mut self) {
        let mut end = self.start;
        for mark in Marks::from(self.text, self.start) {
            self.between(end..mark.range.start);
            end = mark.range.end;
            self.take(&mark);
            if self.count >= MAX_ITEMS {
                self.give_up(end);
                end = self.text.len();
                break;
            }
        }
        self.between(end..self.text.len());
        self.end_item();
        self.close_all();
    }

    /// Ends the outline in the middle of the text. That blocks are open there is no mistake.
    fn give_up(&mut self, at: usize) {
        let place = self.span(&(at..at));
        self.note(whole_text::too_many_statements(place, MAX_ITEMS));
        for frame in &mut self.frames {
            frame.unpaired = false;
        }
    }

    /// Looks through the comments and blanks between two marks.
    fn between(&mut self, range: Range<usize>) {
        if !self.all_seen
            && let Some(unseen) = unseen::find(self.file, self.text, &range, Place::Comment)
        {
            self.note(unseen);
        }
    }

    /// A statement with a character that cannot be seen is not read: what it seems to say is not
    /// what it says.
    fn see(&mut self, range: &Range<usize>, place: Place) {
        if !self.all_seen
            && let Some(unseen) = unseen::find(self.file, self.text, range, place)
        {
            self.report(unseen);
        }
    }

    fn take(&mut self, mark: &Mark) {
        match mark.kind {
            Kind::LineEnd { top } => self.line_end(top),
            Kind::Open if self.skip.depth > 0 => self.skip.depth += 1,
            Kind::Close if self.skip.depth > 0 => self.leave_skipped(),
            _ if self.skip.depth > 0 => {}
            Kind::Open => self.open(mark.range.start),
            Kind::Close => self.close(mark.range.clone()),
            Kind::OpenParen => self.open_paren(&mark.range),
            Kind::CloseParen => {
                self.parens = self.parens.saturating_sub(1);
                self.extend(&mark.range);
            }
            Kind::Quote { closed } => {
                self.extend(&mark.range);
                if !closed {
                    self.report(brackets::unclosed_text(self.span(&mark.range)));
                }
                self.see(&mark.range, Place::Quote);
            }
            Kind::Text => {
                self.extend(&mark.range);
                self.see(&mark.range, Place::Text);
            }
        }
    }

    fn line_end(&mut self, top: bool) {
        if top {
            self.end_parens();
            self.end_item();
            if self.frames.first().is_some_and(|frame| frame.unpaired) {
                self.close_all();
            }
        } else if self.skip.depth == 0 && self.parens == 0 && !self.goes_on() {
            self.end_item();
        }
    }

    /// Whether the line ends in the middle of a statement.
    fn goes_on(&self) -> bool {
        let last = self
            .pending
            .head
            .as_ref()
            .and_then(|head| head.end.checked_sub(1));
        let last = last.and_then(|at| self.text.as_bytes().get(at));
        last.is_some_and(|byte| b",+-*/^=".contains(byte))
    }

    fn open(&mut self, at: usize) {
        self.end_parens();
        if self.pending.head.is_none() {
            self.take_back_head(at);
        }
        if self.frames.len() == MAX_BLOCKS {
            self.skip.depth = 1;
            self.pending.broken = true;
            self.note(brackets::blocks_too_deep(
                self.span(&(at..at + 1)),
                MAX_BLOCKS,
            ));
            return;
        }
        let unpaired = self.unpaired.has_brace(at);
        let head = std::mem::take(&mut self.pending);
        let before = std::mem::take(&mut self.items);
        self.frames.push(Frame {
            head,
            open: at,
            unpaired,
            before,
        });
    }

    /// A `{` at the start of a line belongs to the statement before it, if that has no block.
    fn take_back_head(&mut self, at: usize) {
        let text = self.text;
        let takes =
            |item: &Item| item.block.is_none() && !WITHOUT_BLOCK.contains(&first_word(text, item));
        if let Some(Item { head, broken, .. }) = self.items.pop_if(|item| takes(item)) {
            self.pending = Pending {
                head: Some(head),
                broken,
            };
            return;
        }
        self.pending.head = Some(at..at);
        let told = self.frames.iter().any(|frame| frame.head.broken);
        if told {
            self.pending.broken = true;
        } else {
            self.report(brackets::headless_block(self.span(&(at..at + 1))));
        }
    }

    fn close(&mut self, range: Range<usize>) {
        self.end_parens();
        self.end_item();
        match self.frames.pop() {
            Some(frame) => self.end_block(frame, Some(range.start)),
            None => self.stray(range),
        }
    }

    fn end_block(&mut self, frame: Frame, close: Option<usize>) {
        let mut items = std::mem::replace(&mut self.items, frame.before);
        // Most blocks are short, and each face may have one.
        items.shrink_to_fit();
        let head = frame.head.head.unwrap_or(frame.open..frame.open);
        let block = Some(Block {
            open: frame.open,
            close,
            items,
        });
        self.count += 1;
        self.items.push(Item {
            head,
            block,
            broken: frame.head.broken,
        });
    }

    /// Ends all open blocks where the text, or the statement of the top around them, ends.
    fn close_all(&mut self) {
        let too_deep = std::mem::take(&mut self.skip).depth > 0;
        self.paired &= self.frames.is_empty() && !too_deep;
        while let Some(frame) = self.frames.pop() {
            if frame.unpaired && !too_deep {
                self.note(brackets::unclosed_block(
                    self.span(&(frame.open..frame.open + 1)),
                ));
            }
            self.end_block(frame, None);
        }
    }

    fn stray(&mut self, range: Range<usize>) {
        let run = self
            .stray_end
            .and_then(|end| self.text.get(end..range.start));
        let repeated = run.is_some_and(|between| between.trim().is_empty());
        self.stray_end = Some(range.end);
        if !repeated && !self.adopt(range.start) {
            self.note(brackets::stray_brace(self.span(&range)));
        }
    }

    /// Where the `{` of a statement is missing, its lines and its `}` still show what was meant.
    fn adopt(&mut self, close: usize) -> bool {
        let lines = self.items.iter().rev().take(LOOK_BACK);
        // Within a structure a `finish` begins lines as well, and within an alternate a
        // `structure`. What begins at the margin is the likelier statement of the top.
        let at_margin = lines
            .clone()
            .position(|item| self.is_top(item) && self.is_at_margin(item));
        let Some(back) = at_margin.or_else(|| lines.clone().position(|item| self.is_top(item)))
        else {
            return false;
        };
        let at = self.items.len() - 1 - back;
        let lines = self.items.split_off(at + 1);
        let text = self.text;
        let Some(item) = self
            .items
            .last_mut()
            .filter(|item| item.block.is_none() && WITH_BLOCK.contains(&first_word(text, item)))
        else {
            self.items.extend(lines);
            return false;
        };
        let open = item.head.end;
        item.block = Some(Block {
            open,
            close: Some(close),
            items: lines,
        });
        let told = std::mem::replace(&mut item.broken, true);
        let head = item.head.clone();
        if !told {
            let words = self.text.get(head.clone()).unwrap_or("").to_owned();
            self.note(brackets::missing_brace(self.span(&head), &words));
        }
        true
    }

    fn is_top(&self, item: &Item) -> bool {
        TOP_WORDS.contains(&first_word(self.text, item))
    }

    fn is_at_margin(&self, item: &Item) -> bool {
        let before = self.text.get(..item.head.start).unwrap_or("");
        before.is_empty() || before.ends_with(['\n', '\r'])
    }

    fn open_paren(&mut self, range: &Range<usize>) {
        self.extend(range);
        if self.unpaired.has_paren(range.start) {
            self.report(brackets::unclosed_paren(self.span(range)));
            return;
        }
        self.parens += 1;
        if self.parens == MAX_PARENS + 1 {
            self.report(brackets::parens_too_deep(self.span(range), MAX_PARENS));
        }
    }

    /// No bracket reaches over a brace or into the next statement.
    fn end_parens(&mut self) {
        self.paired &= self.parens == 0;
        self.parens = 0;
    }

    fn leave_skipped(&mut self) {
        self.skip.depth -= 1;
        if self.skip.depth == 0 {
            self.end_item();
        }
    }

    fn extend(&mut self, range: &Range<usize>) {
        let start = self
            .pending
            .head
            .as_ref()
            .map_or(range.start, |head| head.start);
        self.pending.head = Some(start..range.end);
    }

    fn end_item(&mut self) {
        self.end_parens();
        let Pending { head, broken } = std::mem::take(&mut self.pending);
        if let Some(head) = head {
            self.count += 1;
            self.items.push(Item {
                head,
                block: None,
                broken,
            });
        }
    }

    /// Reports a mistake in the statement being read, the first one only.
    fn report(&mut self, diagnostic: Diagnostic) {
        if !std::mem::replace(&mut self.pending.broken, true) {
            self.note(diagnostic);
        }
    }

    fn note(&mut self, diagnostic: Diagnostic) {
        // One more than are shown, so that it is known that there are more.
        if self.found.len() <= MAX_DIAGNOSTICS {
            self.found.push(diagnostic);
        }
    }

    fn span(&self, range: &Range<usize>) -> Span {
        Span::new(self.file, range.start, range.end)
    }
}

/// Whether every byte is a letter that is seen, or a plain blank; many bytes at a time.
fn all_seen(text: &[u8]) -> bool {
    let is_seen = |byte: &u8| matches!(byte, b' '..=b'~' | b'\n' | b'\r' | b'\t');
    let mut chunks = text.chunks(256);
    chunks.all(|chunk| chunk.iter().fold(true, |seen, byte| seen & is_seen(byte)))
}

fn first_word<'t>(text: &'t str, item: &Item) -> &'t str {
    let head = text.get(item.head.clone()).unwrap_or("");
    head.split([' ', '\t', '"', '\r', '\n'])
        .next()
        .unwrap_or("")
}
