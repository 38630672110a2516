//! Heads of the statements at the top.

use super::line::{Last, Line};
use super::{Block, Pack, Slot, Sought, ThingKind};
use crate::analysis::token::Kind;
use crate::analysis::words::{self, Home};

impl Line<'_, '_> {
    /// Reads a statement without its block.
    pub(super) fn statement(&mut self) -> Last {
        let start = self.here();
        let Some(word) = self.peek_word() else {
            return Last::default();
        };
        if words::find(word, Home::Plan).is_none() {
            return Last::default();
        }
        self.mark(Home::Plan);
        match word {
            "let" => self.let_line(start),
            "job" => self.named(start, ThingKind::Job, Block::Job),
            "finish" => self.named(start, ThingKind::Finish, Block::Finish),
            "alternate" => self.named(start, ThingKind::Alternate, Block::Alternate),
            "structure" => self.structure(start),
            "template" => self.template(start),
            _ => Last::default(),
        }
    }

    fn let_line(&mut self, start: usize) -> Last {
        let thing = self.defined(ThingKind::Let, start, None);
        self.close();
        if self.eat(Kind::Equals) {
            self.expression();
        }
        self.ends_here(thing);
        Last::default()
    }

    fn named(&mut self, start: usize, kind: ThingKind, block: Block) -> Last {
        let thing = self.defined(kind, start, None);
        Last::owned(block, thing)
    }

    fn structure(&mut self, start: usize) -> Last {
        let thing = self.defined(ThingKind::Structure, start, None);
        while let Some(word) = self.word(Home::Head, &["on", "from"]) {
            if word == "on" {
                self.free_name(Slot::Pack(Pack::Substrate));
                continue;
            }
            let from = self.used(Sought::Template, Slot::Template);
            if let Some(thing) = thing.and_then(|thing| self.sketch.things.get_mut(thing)) {
                thing.from = from;
            }
            if self.peek_kind() == Some(Kind::OpenParen) {
                self.expression();
            }
        }
        self.ends_here(thing);
        Last::owned(Block::Body, thing)
    }

    fn template(&mut self, start: usize) -> Last {
        let thing = self.defined(ThingKind::Template, start, None);
        if self.eat(Kind::OpenParen) {
            self.parameters(thing);
        }
        if self.word(Home::Head, &["on"]).is_some() {
            self.free_name(Slot::Pack(Pack::Substrate));
        }
        self.ends_here(thing);
        Last::owned(Block::Body, thing)
    }

    fn parameters(&mut self, template: Option<usize>) {
        while matches!(self.peek_kind(), Some(Kind::Word | Kind::Comma)) {
            let start = self.here();
            if !self.eat(Kind::Comma)
                && self
                    .defined(ThingKind::Parameter, start, template)
                    .is_none()
            {
                self.skip();
            }
        }
        self.close();
        self.eat(Kind::CloseParen);
    }
}
