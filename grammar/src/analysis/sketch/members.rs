//! Lines of blocks. Several members may stand on one line.

use super::line::{Last, Line};
use super::{Block, Pack, Slot, Sought, ThingKind};
use crate::analysis::token::Kind;
use crate::analysis::words::{self, Home};

/// What can stand behind `workdays`.
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

impl Line<'_, '_> {
    /// Reads the members of one line.
    pub(super) fn members(&mut self, block: Block) -> Last {
        let mut last = Last::default();
        while !self.at_end() {
            let start = self.here();
            match self.peek_word().filter(|word| begins(block, word)) {
                Some(word) => last = self.member(block, word, start),
                None if block == Block::Crew && self.peek_kind() == Some(Kind::Text) => {
                    self.skip();
                    self.expression();
                }
                None => self.skip(),
            }
        }
        // Behind a face, an opening or an edge it would read as a detail of that.
        if !matches!(last.block, Some(Block::Face | Block::Unknown)) {
            self.offer(Slot::Member(block));
        }
        last
    }

    fn member(&mut self, block: Block, word: &str, start: usize) -> Last {
        match Home::of(block) {
            Some(home) => self.mark(home),
            None => self.skip(),
        }
        match block {
            Block::Job => return self.job_setting(word),
            Block::Weather => self.expression(),
            Block::Bid => self.bid_term(word),
            Block::Conditions => self.condition(word),
            Block::Crew => self.expression(),
            Block::Finish => self.finish_setting(word),
            Block::Body => return self.body_member(word, start),
            Block::Face => return self.face_member(word, start),
            Block::Alternate => return self.change(word),
            Block::Change => {
                self.used(Sought::Finish, Slot::Finish);
            }
            Block::Unknown => {}
        }
        Last::default()
    }

    fn job_setting(&mut self, word: &str) -> Last {
        match word {
            "weather" => {
                self.eat(Kind::Number);
                return Last::block(Block::Weather);
            }
            "bid" => return Last::block(Block::Bid),
            "conditions" => return Last::block(Block::Conditions),
            "client" | "site" | "rules" | "prices" | "forecast" => self.text(),
            "crew" => {
                self.expression();
                return Last::block(Block::Crew);
            }
            "hours" | "travel" => self.expression(),
            "valid" => {
                self.expression();
                if self.word(Home::Choice, &["days", "day"]).is_none() {
                    self.close();
                }
            }
            "workdays" => {
                self.choice(&WEEKDAYS);
                while self.word(Home::Choice, &WEEKDAYS).is_some() {}
            }
            "holidays" | "weather_days" => self.days(),
            "units" => self.choice(&["us", "metric"]),
            "measure" => self.choice(&["net"]),
            _ => {
                self.close();
                self.eat(Kind::Number);
            }
        }
        Last::default()
    }

    fn days(&mut self) {
        loop {
            self.close();
            self.eat(Kind::Number);
            if !self.eat(Kind::Comma) {
                return;
            }
        }
    }

    /// One of some words, which must stand here.
    fn choice(&mut self, words: &'static [&'static str]) {
        if self.word(Home::Choice, words).is_none() {
            self.close();
            self.name();
        }
    }

    fn bid_term(&mut self, word: &str) {
        match word {
            "profit" => self.choice(&["markup", "margin"]),
            "minimum" => return self.amount(),
            "round" => {
                self.word(Home::Choice, &["up"]);
                self.choice(&["to"]);
                return self.amount();
            }
            _ => {}
        }
        self.expression();
        if word == "tax" && self.word(Home::Choice, &["on"]).is_some() {
            self.choice(&["materials", "total"]);
        } else if word == "tax" {
            self.close();
        }
    }

    /// A number and a currency.
    fn amount(&mut self) {
        self.close();
        if self.eat(Kind::Number) {
            self.eat(Kind::Word);
        }
    }

    fn condition(&mut self, word: &str) {
        self.free_name(Slot::Pack(Pack::ConditionWord(word.to_owned())));
    }

    fn finish_setting(&mut self, word: &str) {
        match word {
            "technique" => {
                self.free_name(Slot::Pack(Pack::Technique));
            }
            "colours" | "colors" => self.colours(),
            "sealer" => {
                self.free_name(Slot::Pack(Pack::Sealer));
                if self.eat(Kind::Comma) {
                    self.expression();
                    if self.word(Home::Choice, &["coats", "coat"]).is_none() {
                        self.close();
                    }
                }
            }
            _ => self.expression(),
        }
    }

    fn colours(&mut self) {
        loop {
            self.close();
            self.name();
            self.expression();
            if !self.eat(Kind::Comma) {
                return;
            }
        }
    }

    fn body_member(&mut self, word: &str, start: usize) -> Last {
        match word {
            "face" => return self.face(start),
            "conditions" => return Last::block(Block::Conditions),
            "finish" => {
                self.used(Sought::Finish, Slot::Finish);
            }
            "edge" => return self.edge(),
            "after" => self.before(),
            _ => self.expression(),
        }
        Last::default()
    }

    /// The structures that must be done before.
    fn before(&mut self) {
        loop {
            self.used(Sought::Structure, Slot::Structure);
            if !self.eat(Kind::Comma) {
                return;
            }
        }
    }

    fn edge(&mut self) -> Last {
        self.free_name(Slot::Pack(Pack::Edge));
        self.expression();
        if self.word(Home::Detail, &["count"]).is_some() {
            self.expression();
        }
        Last::block(Block::Unknown)
    }

    fn face(&mut self, start: usize) -> Last {
        let face = self.defined(ThingKind::Face, start, self.owner);
        self.shape();
        self.face_details();
        self.ends_here(face);
        Last::owned(Block::Face, face)
    }

    fn face_details(&mut self) {
        loop {
            self.offer(Slot::Finish);
            match self.word(Home::Detail, &["on", "count", "at", "from"]) {
                Some("from") => {
                    self.name();
                }
                Some("on") => {
                    self.free_name(Slot::Pack(Pack::Substrate));
                }
                Some(_) => self.expression(),
                // A bare name is a finish.
                None => match self.peek_word() {
                    Some(word) if begins(Block::Body, word) => return,
                    None if self.peek_kind() != Some(Kind::Text) => return,
                    _ => match self.name() {
                        Some((name, at)) => {
                            self.note_use(name, at, Sought::Finish);
                        }
                        None => return,
                    },
                },
            }
        }
    }

    fn face_member(&mut self, word: &str, start: usize) -> Last {
        if word == "edge" {
            return self.edge();
        }
        let opening = self.defined(ThingKind::Opening, start, self.owner);
        self.shape();
        loop {
            match self.word(Home::Detail, &["reveal", "count", "finish", "from"]) {
                Some("reveal") => {
                    self.expression();
                    if self.word(Home::Detail, &["on"]).is_some() {
                        self.sides();
                    }
                }
                Some("finish") => {
                    self.used(Sought::Finish, Slot::Finish);
                }
                Some("from") => {
                    self.name();
                }
                Some(_) => self.expression(),
                None => break,
            }
        }
        self.ends_here(opening);
        Last::owned(Block::Unknown, opening)
    }

    /// The sides of an opening that have a reveal.
    fn sides(&mut self) {
        loop {
            if self.word(Home::Side, &["top", "bottom", "sides"]).is_none() {
                self.close();
                return;
            }
            if !self.eat(Kind::Comma) {
                return;
            }
        }
    }

    fn change(&mut self, word: &str) -> Last {
        self.used(Sought::Structure, Slot::Structure);
        match word {
            "structure" => Last::block(Block::Change),
            _ => Last::default(),
        }
    }
}

/// Whether a word begins a member of a block.
fn begins(block: Block, word: &str) -> bool {
    match block {
        // Their words are the pack's and the price book's.
        Block::Conditions | Block::Crew => true,
        _ => Home::of(block).is_some_and(|home| words::find(word, home).is_some()),
    }
}
