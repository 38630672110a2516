//! What could be written at a place.

mod place;

use super::names::Index;
use super::sketch::{Block, Pack, Sketch, Slot, Thing, ThingKind};
use super::words::{self, Explained, Home};
use super::{Analysis, rename};
use place::Place;
use std::collections::BTreeSet;
use std::ops::Range;

/// What kind of thing is proposed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CompletionKind {
    /// A word of the language.
    Keyword,
    /// A shape.
    Shape,
    /// A function.
    Function,
    /// What is measured of a face or structure.
    Property,
    /// A word of the rule pack.
    PackWord,
    /// Something that the plan defines.
    Name(ThingKind),
}

/// A proposal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Completion {
    /// What is shown.
    pub label: String,
    /// What it is.
    pub kind: CompletionKind,
    /// What is put in, in place of `replaces`.
    pub insert: String,
    /// A line about it.
    pub detail: String,
    /// The part of a word that is there already.
    pub replaces: Range<usize>,
}

/// The words of a rule pack, as far as a plan may say them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PackWords {
    /// What can stand behind `technique`.
    pub techniques: Vec<String>,
    /// What can stand behind `on`.
    pub substrates: Vec<String>,
    /// What can stand behind `sealer`.
    pub sealers: Vec<String>,
    /// What can stand behind `edge`.
    pub edges: Vec<String>,
    /// The kinds of conditions, each with its words.
    pub conditions: Vec<(String, Vec<String>)>,
}

impl Analysis {
    /// What could be written at an offset, with words of a rule pack where one says them. Nothing
    /// is proposed within comments and quoted texts, nor directly behind a number.
    ///
    /// A word that is begun there is no filter: editors have their own.
    pub fn completions(&self, offset: usize, pack: &PackWords) -> Vec<Completion> {
        let Some(Place(replaces)) = Place::find(&self.text, self.clipped(offset)) else {
            return Vec::new();
        };
        let before = Sketch::up_to_a_cut(self.slice(0..replaces.start));
        let index = self.index();
        let mut proposals = Proposals {
            analysis: self,
            index: &index,
            before: &before,
            replaces,
            told: BTreeSet::new(),
            list: Vec::new(),
        };
        for slot in &before.slots {
            proposals.fill(slot, pack);
        }
        proposals.list
    }
}

/// The proposals for one place.
struct Proposals<'a> {
    analysis: &'a Analysis,
    index: &'a Index<'a>,
    /// The sketch up to the place.
    before: &'a Sketch,
    replaces: Range<usize>,
    told: BTreeSet<(CompletionKind, String)>,
    list: Vec<Completion>,
}

impl Proposals<'_> {
    fn fill(&mut self, slot: &Slot, pack: &PackWords) {
        match slot {
            Slot::Statement => self.words_at(Home::Plan, CompletionKind::Keyword),
            Slot::Member(Block::Conditions) => self.pack_words(&Pack::Condition, pack),
            Slot::Member(block) => {
                if let Some(home) = Home::of(*block) {
                    self.words_at(home, CompletionKind::Keyword);
                }
            }
            Slot::Shape => self.words_at(Home::Shape, CompletionKind::Shape),
            Slot::Words(home, words) => {
                let words = words.iter().filter_map(|word| words::find(word, *home));
                words.for_each(|word| self.word(word, CompletionKind::Keyword));
            }
            Slot::Expression => self.expression(),
            Slot::Property(used) => self.property(*used),
            Slot::Finish => self.all(ThingKind::Finish),
            Slot::Template => self.all(ThingKind::Template),
            Slot::Structure => self.all(ThingKind::Structure),
            Slot::Pack(list) => self.pack_words(list, pack),
        }
    }

    fn words_at(&mut self, home: Home, kind: CompletionKind) {
        words::at(home).for_each(|word| self.word(word, kind));
    }

    fn word(&mut self, word: &Explained, kind: CompletionKind) {
        self.add(
            word.word,
            kind,
            word.word.to_owned(),
            word.meaning.to_owned(),
        );
    }

    fn pack_words(&mut self, list: &Pack, pack: &PackWords) {
        let conditions = pack.conditions.iter();
        let (words, detail): (Vec<&String>, _) = match list {
            Pack::Technique => (
                pack.techniques.iter().collect(),
                "technique of the rule pack",
            ),
            Pack::Substrate => (
                pack.substrates.iter().collect(),
                "substrate of the rule pack",
            ),
            Pack::Sealer => (pack.sealers.iter().collect(), "sealer of the rule pack"),
            Pack::Edge => (pack.edges.iter().collect(), "edge work of the rule pack"),
            Pack::Condition => (
                conditions.map(|(kind, _)| kind).collect(),
                "condition of the rule pack",
            ),
            Pack::ConditionWord(kind) => (
                conditions
                    .filter(|(other, _)| other == kind)
                    .flat_map(|(_, words)| words)
                    .collect(),
                "condition of the rule pack",
            ),
        };
        for word in words {
            let insert = as_name(word);
            self.add(word, CompletionKind::PackWord, insert, detail.to_owned());
        }
    }

    /// Everything an operand can be. What is nearest comes first.
    fn expression(&mut self) {
        let body = self.body();
        let things = self.analysis.sketch.things.iter().enumerate();
        let things: Vec<(usize, &Thing)> = things.collect();
        for (_, thing) in &things {
            if thing.kind == ThingKind::Parameter && thing.parent.is_some() && thing.parent == body
            {
                self.thing(thing);
            }
        }
        for (_, thing) in &things {
            // The `let` that is being written cannot stand for itself.
            if thing.kind == ThingKind::Let && !self.is_being_written(thing) {
                self.thing(thing);
            }
        }
        for (number, thing) in &things {
            let place = matches!(thing.kind, ThingKind::Face | ThingKind::Structure);
            if place && self.index.place(body, &thing.name) == Some(*number) {
                self.thing(thing);
            }
        }
        for word in words::at(Home::Function) {
            let insert = format!("{}(", word.word);
            self.add(
                word.word,
                CompletionKind::Function,
                insert,
                word.meaning.to_owned(),
            );
        }
    }

    /// What is measured of a place; a structure has faces as well.
    fn property(&mut self, used: usize) {
        self.words_at(Home::Property, CompletionKind::Property);
        let Some(used) = self.before.uses.get(used) else {
            return;
        };
        let analysis = self.analysis;
        let same = analysis
            .sketch
            .uses
            .iter()
            .position(|other| other.at == used.at);
        let Some(place) = same.and_then(|used| analysis.names.meant(used)) else {
            return;
        };
        for face in self.index.faces_of(place) {
            if let Some(face) = analysis.sketch.things.get(face) {
                self.thing(face);
            }
        }
    }

    /// The structure or template around the place, in the sketch of the whole text.
    fn body(&self) -> Option<usize> {
        let body = self.before.things.get(self.before.last_body?)?;
        let mut things = self.analysis.sketch.things.iter();
        things.position(|thing| thing.kind == body.kind && thing.at == body.at)
    }

    fn is_being_written(&self, thing: &Thing) -> bool {
        let last = self.before.things.last();
        last.is_some_and(|last| last.kind == ThingKind::Let && last.at == thing.at)
    }

    fn all(&mut self, kind: ThingKind) {
        let analysis = self.analysis;
        let things = analysis.sketch.things.iter();
        things
            .filter(|thing| thing.kind == kind)
            .for_each(|thing| self.thing(thing));
    }

    fn thing(&mut self, thing: &Thing) {
        // What is being written is no proposal for itself.
        if thing.at.start == self.replaces.start {
            return;
        }
        let written = self.analysis.slice(thing.at.clone());
        let whole = !written.starts_with('"') || rename::quoted(&thing.name) == written;
        let insert = if whole {
            written.to_owned()
        } else {
            rename::quoted(&thing.name)
        };
        let head = self.analysis.slice(thing.head.clone());
        let detail = head.split_whitespace().collect::<Vec<_>>().join(" ");
        self.add(
            &thing.name,
            CompletionKind::Name(thing.kind),
            insert,
            short(&detail),
        );
    }

    fn add(&mut self, label: &str, kind: CompletionKind, insert: String, detail: String) {
        if self.told.insert((kind, label.to_owned())) {
            self.list.push(Completion {
                label: label.to_owned(),
                kind,
                insert,
                detail,
                replaces: self.replaces.clone(),
            });
        }
    }
}

/// A word of a pack as a name; packs have words such as `small-face`.
fn as_name(word: &str) -> String {
    let bare = word.starts_with(|first: char| first.is_ascii_alphabetic())
        && word
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || byte == b'_');
    if bare {
        word.to_owned()
    } else {
        rename::quoted(word)
    }
}

/// The beginning of a line.
fn short(line: &str) -> String {
    const MOST: usize = 80;
    match line.char_indices().nth(MOST) {
        Some((at, _)) => format!("{} …", line.get(..at).unwrap_or("")),
        None => line.to_owned(),
    }
}
