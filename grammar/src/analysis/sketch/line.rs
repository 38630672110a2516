//! A line or head, token by token.

use super::{Block, Sketch, Slot, Sought, Thing, ThingKind, Use};
use crate::analysis::token::{Kind, Tokens};
use crate::analysis::words::Home;
use std::ops::Range;

/// Words that may follow a size, so that no bare name is one of them.
const RESERVED: [&str; 11] = [
    "x", "face", "finish", "on", "opening", "to", "at", "count", "reveal", "sweep", "rise",
];

/// A token with its place in the whole text.
#[derive(Debug, Clone)]
pub(super) struct Piece<'t> {
    pub kind: Kind,
    pub text: &'t str,
    pub at: Range<usize>,
}

/// What a line ends with: a block behind it belongs to that.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Last {
    pub block: Option<Block>,
    pub thing: Option<usize>,
}

impl Last {
    pub(super) fn block(block: Block) -> Self {
        Self {
            block: Some(block),
            thing: None,
        }
    }

    pub(super) fn owned(block: Block, thing: Option<usize>) -> Self {
        Self {
            block: Some(block),
            thing,
        }
    }
}

/// A reader of one line.
pub(super) struct Line<'t, 's> {
    pieces: Vec<Piece<'t>>,
    next: usize,
    start: usize,
    pub sketch: &'s mut Sketch,
    /// Whether what could follow at the end is asked for.
    pub live: bool,
    /// The structure or template in whose block the line stands.
    pub body: Option<usize>,
    /// What the block belongs to in which the line stands.
    pub owner: Option<usize>,
}

impl<'t, 's> Line<'t, 's> {
    pub(super) fn new(text: &'t str, range: Range<usize>, sketch: &'s mut Sketch) -> Self {
        let base = range.start;
        let tokens = Tokens::new(text.get(range).unwrap_or(""));
        let pieces = tokens
            .filter(|token| token.kind != Kind::Comment)
            .map(|token| Piece {
                kind: token.kind,
                text: token.text,
                at: base + token.start..base + token.start + token.text.len(),
            });
        Self {
            pieces: pieces.collect(),
            next: 0,
            start: base,
            sketch,
            live: false,
            body: None,
            owner: None,
        }
    }

    // ---- Tokens ------------------------------------------------------------------------------

    pub(super) fn peek(&self) -> Option<&Piece<'t>> {
        self.pieces.get(self.next)
    }

    pub(super) fn peek_kind(&self) -> Option<Kind> {
        self.peek().map(|piece| piece.kind)
    }

    pub(super) fn peek_second(&self) -> Option<Kind> {
        self.pieces.get(self.next + 1).map(|piece| piece.kind)
    }

    /// The word that comes next.
    pub(super) fn peek_word(&self) -> Option<&'t str> {
        let piece = self.peek()?;
        (piece.kind == Kind::Word).then_some(piece.text)
    }

    pub(super) fn skip(&mut self) {
        self.next += 1;
    }

    pub(super) fn eat(&mut self, kind: Kind) -> bool {
        let fits = self.peek_kind() == Some(kind);
        self.next += usize::from(fits);
        fits
    }

    pub(super) fn at_end(&self) -> bool {
        self.next >= self.pieces.len()
    }

    /// Where the next token begins.
    pub(super) fn here(&self) -> usize {
        self.peek()
            .map_or_else(|| self.read_to(), |piece| piece.at.start)
    }

    /// Where the last token that was read ends.
    pub(super) fn read_to(&self) -> usize {
        let last = self
            .next
            .checked_sub(1)
            .and_then(|last| self.pieces.get(last));
        last.or(self.pieces.last())
            .map_or(self.start, |piece| piece.at.end)
    }

    pub(super) fn was(&self, kind: Kind) -> bool {
        let last = self
            .next
            .checked_sub(1)
            .and_then(|last| self.pieces.get(last));
        last.is_some_and(|piece| piece.kind == kind)
    }

    // ---- Words of the language -----------------------------------------------------------------

    /// Takes one of some words, which are also what could stand here.
    pub(super) fn word(
        &mut self,
        home: Home,
        words: &'static [&'static str],
    ) -> Option<&'static str> {
        self.offer(Slot::Words(home, words));
        let word = self.peek_word()?;
        let known = words.iter().find(|known| **known == word)?;
        self.mark(home);
        Some(known)
    }

    /// Takes the next token as a word of the language.
    pub(super) fn mark(&mut self, home: Home) {
        if let Some(piece) = self.peek() {
            let at = piece.at.clone();
            self.sketch.words.push(super::Marked { at, home });
        }
        self.skip();
    }

    // ---- What could follow ---------------------------------------------------------------------

    /// Notes what may stand here, at the end; something else may as well.
    pub(super) fn offer(&mut self, slot: Slot) {
        if self.live && self.at_end() {
            self.sketch.slots.push(slot);
        }
    }

    /// Notes what must stand here, at the end.
    pub(super) fn need(&mut self, slot: Slot) {
        self.offer(slot);
        self.close();
    }

    /// Says that nothing else can stand here, at the end.
    pub(super) fn close(&mut self) {
        if self.at_end() {
            self.live = false;
        }
    }

    // ---- Names ---------------------------------------------------------------------------------

    /// A name, quoted or not.
    pub(super) fn name(&mut self) -> Option<(String, Range<usize>)> {
        let piece = self.peek()?;
        let found = (piece.name()?, piece.at.clone());
        self.skip();
        Some(found)
    }

    /// Passes over a name that leads nowhere: a word of a pack, a colour.
    pub(super) fn free_name(&mut self, slot: Slot) -> Option<String> {
        self.need(slot);
        self.name().map(|(name, _)| name)
    }

    /// Passes over a quoted text.
    pub(super) fn text(&mut self) {
        self.close();
        self.eat(Kind::Text);
    }

    /// Takes a name that is used.
    pub(super) fn used(&mut self, sought: Sought, slot: Slot) -> Option<String> {
        self.need(slot);
        let (name, at) = self.name()?;
        self.note_use(name.clone(), at, sought);
        Some(name)
    }

    /// Notes a use and returns its number.
    pub(super) fn note_use(&mut self, name: String, at: Range<usize>, sought: Sought) -> usize {
        let body = self.body;
        self.sketch.uses.push(Use {
            name,
            at,
            sought,
            body,
        });
        self.sketch.uses.len() - 1
    }

    /// Takes the name of something new. Its statement begins at an offset.
    pub(super) fn defined(
        &mut self,
        kind: ThingKind,
        start: usize,
        parent: Option<usize>,
    ) -> Option<usize> {
        self.close();
        let (name, at) = self.name()?;
        let span = start..at.end;
        self.sketch.things.push(Thing {
            kind,
            name,
            at,
            head: span.clone(),
            span,
            parent,
            from: None,
        });
        Some(self.sketch.things.len() - 1)
    }

    /// Ends the statement of something behind the last token that was read.
    pub(super) fn ends_here(&mut self, thing: Option<usize>) {
        let end = self.read_to();
        if let Some(thing) = thing.and_then(|thing| self.sketch.things.get_mut(thing)) {
            thing.head.end = end;
            thing.span.end = end;
        }
    }
}

impl Piece<'_> {
    /// The name that a token is.
    fn name(&self) -> Option<String> {
        match self.kind {
            Kind::Word if !RESERVED.contains(&self.text) => Some(self.text.to_owned()),
            Kind::Text => Some(unquoted(self.text)),
            _ => None,
        }
    }
}

/// What a quoted text says. The second quote may be missing.
fn unquoted(written: &str) -> String {
    let mut text = String::with_capacity(written.len());
    let mut letters = written.chars().skip(1);
    while let Some(letter) = letters.next() {
        match letter {
            '"' => break,
            '\\' => text.extend(letters.next()),
            _ => text.push(letter),
        }
    }
    text
}
