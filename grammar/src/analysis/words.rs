//! All words of the language, each explained in a line with its right form.

mod blocks;
mod sizes;
mod values;

use super::sketch::Block;

/// Where a word of the language stands. The same word can stand in several places and mean
/// something else in each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Home {
    /// It begins a statement at the top of a plan.
    Plan,
    /// Behind the name of a structure or template.
    Head,
    /// A setting of the job.
    Job,
    /// A line of the weather block.
    Weather,
    /// A term of the bid.
    Bid,
    /// A setting of a finish.
    Finish,
    /// A member of a structure or template.
    Body,
    /// A member of a face.
    Face,
    /// A change of an alternate.
    Alternate,
    /// What an alternate changes of a structure.
    Change,
    /// A shape.
    Shape,
    /// A word between the sizes of a shape.
    Size,
    /// Behind the size of a face or an opening.
    Detail,
    /// The sides of an opening.
    Side,
    /// One of the words that a setting has the choice of.
    Choice,
    /// A function.
    Function,
    /// What is measured of a face or structure.
    Property,
}

impl Home {
    /// Where the members of a block stand. None where the words are not the language's.
    pub(super) fn of(block: Block) -> Option<Self> {
        Some(match block {
            Block::Job => Self::Job,
            Block::Weather => Self::Weather,
            Block::Bid => Self::Bid,
            Block::Finish => Self::Finish,
            Block::Body => Self::Body,
            Block::Face => Self::Face,
            Block::Alternate => Self::Alternate,
            Block::Change => Self::Change,
            Block::Conditions | Block::Crew | Block::Unknown => return None,
        })
    }
}

/// A word of the language with what it means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Explained {
    /// The word.
    pub word: &'static str,
    /// Where it stands.
    pub home: Home,
    /// What it says, in one line.
    pub meaning: &'static str,
    /// Its right form, as an example.
    pub form: &'static str,
}

const fn row(
    home: Home,
    word: &'static str,
    meaning: &'static str,
    form: &'static str,
) -> Explained {
    Explained {
        word,
        home,
        meaning,
        form,
    }
}

/// All words of the language.
pub(super) fn all() -> impl Iterator<Item = &'static Explained> {
    let tables = [
        blocks::PLAN,
        blocks::JOB,
        blocks::FINISH,
        blocks::STRUCTURE,
        sizes::SHAPES,
        sizes::BETWEEN,
        sizes::BEHIND,
        values::CHOICES,
        values::FUNCTIONS,
        values::PROPERTIES,
    ];
    tables.into_iter().flatten()
}

/// A word as it stands somewhere.
pub(super) fn find(word: &str, home: Home) -> Option<&'static Explained> {
    all().find(|explained| explained.word == word && explained.home == home)
}

/// The words that stand somewhere.
pub(super) fn at(home: Home) -> impl Iterator<Item = &'static Explained> {
    all().filter(move |explained| explained.home == home)
}
