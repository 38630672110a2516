//! The sketch of a plan: which names it defines and uses, read from the outline and the tokens.
//!
//! The parser drops what it cannot read, and a plan in an editor is mostly half-written. So the
//! sketch goes its own way over the same outline: it takes each line as far as it makes sense and
//! passes over what does not. Where the parser finds no mistake, both find the same names, which
//! a test holds.

mod expression;
mod line;
mod members;
mod shape;
mod statement;
mod walk;

use super::words::Home;
use std::ops::Range;

/// What a name in a plan stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ThingKind {
    /// `job "…"`
    Job,
    /// `let name = …`
    Let,
    /// `finish name { … }`
    Finish,
    /// `template name(…) { … }`
    Template,
    /// A name between the brackets of a template.
    Parameter,
    /// `structure "…" { … }`
    Structure,
    /// `face name …`
    Face,
    /// `opening name …`
    Opening,
    /// `alternate "…" { … }`
    Alternate,
}

/// Something with a name.
#[derive(Debug, Clone)]
pub(super) struct Thing {
    pub kind: ThingKind,
    pub name: String,
    /// Its name as written, with quotes where it has them.
    pub at: Range<usize>,
    /// Its statement without the block.
    pub head: Range<usize>,
    /// Its statement with the block.
    pub span: Range<usize>,
    /// What it stands in: a face in its structure, an opening in its face.
    pub parent: Option<usize>,
    /// The template that a structure is made from.
    pub from: Option<String>,
}

/// A place where a name is used.
#[derive(Debug, Clone)]
pub(super) struct Use {
    pub name: String,
    pub at: Range<usize>,
    pub sought: Sought,
    /// The structure or template in whose block it stands.
    pub body: Option<usize>,
}

/// What kind of thing a use asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sought {
    /// A `let`, or a parameter.
    Value,
    Finish,
    Template,
    Structure,
    /// A face or a structure, before a dot.
    Place,
    /// A face of what an earlier use, by its number, stands for.
    FaceOf(usize),
}

/// A word of the language as it is used somewhere.
#[derive(Debug, Clone)]
pub(super) struct Marked {
    pub at: Range<usize>,
    pub home: Home,
}

/// What stands between a pair of braces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Block {
    Job,
    Weather,
    Bid,
    Conditions,
    Crew,
    Finish,
    /// Of a structure or a template.
    Body,
    Face,
    Alternate,
    /// Of a structure in an alternate.
    Change,
    /// Of a statement that is none.
    Unknown,
}

/// What could stand at the end of a text that was cut off for this question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Slot {
    Statement,
    Member(Block),
    Shape,
    Expression,
    /// What is behind the dot after a use, by its number.
    Property(usize),
    Finish,
    Template,
    Structure,
    Words(Home, &'static [&'static str]),
    Pack(Pack),
}

/// The lists of words that a rule pack has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Pack {
    Technique,
    Substrate,
    Sealer,
    Edge,
    Condition,
    /// What a condition can be.
    ConditionWord(String),
}

/// The sketch of one text.
#[derive(Debug, Clone, Default)]
pub(super) struct Sketch {
    pub things: Vec<Thing>,
    /// In the order of the text.
    pub uses: Vec<Use>,
    /// In the order of the text.
    pub words: Vec<Marked>,
    /// What could follow at the end; filled only for a text that was cut off.
    pub slots: Vec<Slot>,
    /// The structure or template in whose block the end of a cut text stands.
    pub last_body: Option<usize>,
}

impl Sketch {
    /// The sketch of a whole text.
    pub(super) fn of(text: &str) -> Self {
        walk::walk(text, false)
    }

    /// The sketch of a text that was cut off where something is to be put in.
    pub(super) fn up_to_a_cut(text: &str) -> Self {
        walk::walk(text, true)
    }
}
