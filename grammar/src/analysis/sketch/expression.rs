//! Expressions: only the names in them matter here.

use super::line::Line;
use super::{Slot, Sought};
use crate::analysis::token::Kind;
use crate::analysis::words::{self, Home};

impl Line<'_, '_> {
    /// Passes over an expression, as far as it is one.
    ///
    /// Brackets are counted instead of followed, so that no text is too deep.
    pub(super) fn expression(&mut self) {
        let mut depth = 0_usize;
        let mut wanted = true;
        while let Some(kind) = self.peek_kind() {
            match (wanted, kind) {
                (true, Kind::Sign) => self.skip(),
                (_, Kind::OpenParen) if wanted => {
                    depth += 1;
                    self.skip();
                }
                (true, Kind::Number) => {
                    self.skip();
                    wanted = false;
                }
                (true, Kind::Word | Kind::Text) => match self.operand(depth > 0) {
                    Some(calls) => {
                        depth += usize::from(calls);
                        wanted = calls;
                    }
                    None => break,
                },
                (false, Kind::Sign) => {
                    self.skip();
                    wanted = true;
                }
                // `12ft 6in` is one number in two tokens.
                (false, Kind::Number) if self.was(Kind::Number) => self.skip(),
                (_, Kind::Comma) if depth > 0 => {
                    self.skip();
                    wanted = true;
                }
                (_, Kind::CloseParen) if depth > 0 => {
                    depth -= 1;
                    self.skip();
                    wanted = false;
                }
                _ => break,
            }
        }
        if wanted {
            self.need(Slot::Expression);
        } else if depth > 0 {
            self.close();
        }
    }

    /// A name in an expression. Says whether it calls a function, whose brackets are then open.
    fn operand(&mut self, in_brackets: bool) -> Option<bool> {
        let second = self.peek_second();
        if second == Some(Kind::Dot) {
            self.path()?;
            return Some(false);
        }
        match self.peek_kind() {
            Some(Kind::Word) if second == Some(Kind::OpenParen) => {
                self.mark(Home::Function);
                self.skip();
                return Some(true);
            }
            // Half a path; elsewhere a quoted text is no part of the expression.
            Some(Kind::Text) if !in_brackets => return None,
            _ => {}
        }
        let of = match self.peek_kind() {
            Some(Kind::Text) => Sought::Place,
            _ => Sought::Value,
        };
        let (name, at) = self.name()?;
        self.note_use(name, at, of);
        Some(false)
    }

    /// `"Entry planter".street.area`: everything before the last dot is the name of a place.
    fn path(&mut self) -> Option<()> {
        let (mut name, mut at) = self.name()?;
        let mut of = Sought::Place;
        while self.eat(Kind::Dot) {
            let place = self.note_use(name, at, of);
            of = Sought::FaceOf(place);
            self.need(Slot::Property(place));
            if self.peek_second() != Some(Kind::Dot) {
                self.property();
                return Some(());
            }
            (name, at) = self.name()?;
        }
        Some(())
    }

    fn property(&mut self) {
        match self.peek_word() {
            Some(word) if words::find(word, Home::Property).is_some() => self.mark(Home::Property),
            Some(_) => self.skip(),
            None => {}
        }
    }
}
