//! From the rows of tables to faces. Every row with anything in it gets exactly one verdict.

mod ahead;
mod areas;
mod blocks;
mod decide;
mod decimal;
mod face_row;
mod heading;
mod import;
mod keep;
mod left_out;
mod openings;
mod reader;
mod roles;
mod row;
mod running;
mod seen;
mod setup;
mod shown;
mod sizes;
mod stated;
mod totals;
mod unique;
mod units;

pub use import::import;
pub(crate) use import::{doubt, tables};
pub(crate) use roles::Roles;
pub(crate) use row::{Cells, Trouble};
pub(crate) use setup::Setup;
pub(crate) use shown::rounded;

use crate::cells::Figure;
use crate::columns::{Column, Role};
use crate::grid::At;
use crate::price_list::OfferRead;
use crate::profile::Are;
use compact_str::CompactString;
use smallvec::SmallVec;

/// So many rows or faces one core goes through at a time.
const BLOCK: usize = 4_096;

/// All that was made of a file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Import {
    /// The tables that were found.
    pub tables: Vec<TableRead>,
    /// Every row with anything in it, once for each table beside others.
    pub rows: Vec<RowRead>,
    /// The faces.
    pub faces: Vec<FaceRead>,
    /// The offers of a price list.
    pub offers: Vec<OfferRead>,
    /// Totals of the sheet, each held against the rows it adds up.
    pub totals: Vec<TotalRead>,
    /// What has to be answered before a plan is made.
    pub questions: Vec<Question>,
    /// What should be looked at.
    pub remarks: Vec<Remark>,
    /// What was taken for granted, beside the columns, with the reason.
    pub guesses: Vec<Guess>,
}

/// A table with what its columns are taken for.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRead {
    /// The number of its sheet.
    pub sheet: usize,
    /// The first row of its header, from 0.
    pub row: u32,
    /// Its columns.
    pub columns: Vec<Column>,
}

/// The figures of a row with the roles of their columns: mostly few.
pub type RowFigures = SmallVec<[(Role, f64); 3]>;

/// What became of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowRead {
    /// The number of its sheet.
    pub sheet: usize,
    /// The row from 0.
    pub row: u32,
    /// The first column of its table.
    pub from_column: u32,
    /// What became of it.
    pub verdict: Verdict,
    /// The figures of its cells, with the sizes they have in base units; counts are plain numbers.
    pub figures: RowFigures,
    /// How often the block is there that it stands in.
    pub times: u32,
}

/// What became of a row: one of these, and no other.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// A face, by its number in [`Import::faces`].
    Face(usize),
    /// An opening: the number of its face, and its own there.
    Opening(usize, usize),
    /// An offer of a price list, by its number in [`Import::offers`].
    Offer(usize),
    /// It names what follows, or heads columns.
    Heading(String),
    /// It adds up others: its number in [`Import::totals`]; none where it states no figure.
    Total(Option<usize>),
    /// Words for people.
    Note,
    /// It is not taken over, and why.
    Rejected(String),
}

impl Verdict {
    /// In a word.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Face(_) => "face",
            Self::Opening(..) => "opening",
            Self::Offer(_) => "offer",
            Self::Heading(_) => "heading",
            Self::Total(_) => "total",
            Self::Note => "note",
            Self::Rejected(_) => "rejected",
        }
    }
}

/// A face with the cells that it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceRead {
    /// What it belongs to.
    pub structure: CompactString,
    /// Its name, which no other face of the structure has.
    pub name: CompactString,
    /// Its sizes.
    pub sizes: Sizes,
    /// How many equal ones there are.
    pub count: u32,
    /// How often the block is there that it stands in; the count has it already.
    pub times: u32,
    /// Its finish, where the row names one.
    pub finish: Option<String>,
    /// What it is built of, where the row says so.
    pub substrate: Option<String>,
    /// Its openings.
    pub openings: Vec<OpeningRead>,
    /// The cell that names it.
    pub at: At,
    /// The area that the row states, and whether it says that openings are off.
    pub stated: Vec<(Role, Figure)>,
    /// Whether its size is an area that openings are off already.
    pub is_net: bool,
    /// The number of its table.
    pub table: usize,
}

/// The sizes of a face.
#[derive(Debug, Clone, PartialEq)]
pub enum Sizes {
    /// Level and upright size.
    Rect(Figure, Figure),
    /// An area, of one or of all equal ones, with the one size that is known beside it.
    Area {
        /// The area.
        area: Figure,
        /// Of what.
        of: Are,
        /// The size beside it; the other follows from both.
        side: Side,
    },
}

/// The one size of a face that is known beside its area.
#[derive(Debug, Clone, PartialEq)]
pub enum Side {
    /// The height that was answered for faces that state none.
    Answered(Figure),
    /// The height that the row states.
    High(Figure),
    /// The length that the row states.
    Long(Figure),
}

/// An opening in one face.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningRead {
    /// Its name, which no other opening of the face has.
    pub name: String,
    /// Its sizes.
    pub sizes: OpeningSizes,
    /// How many there are in one face.
    pub count: u32,
    /// The depth of its reveal.
    pub reveal: Option<Figure>,
    /// The areas that its row states beside the sizes, each with the column that states it.
    pub stated: Vec<(Role, Figure)>,
    /// The cell that it comes from.
    pub at: At,
}

/// The sizes of an opening.
#[derive(Debug, Clone, PartialEq)]
pub enum OpeningSizes {
    /// Level and upright size.
    Rect(Figure, Figure),
    /// An area alone, to be divided by so many equal faces.
    Area(Figure, u32),
}

impl FaceRead {
    /// The area of one face in square metres, openings not taken off.
    pub fn gross(&self) -> f64 {
        match &self.sizes {
            Sizes::Rect(level, upright) => level.size() * upright.size(),
            Sizes::Area {
                area,
                of: Are::Each,
                ..
            } => area.size(),
            Sizes::Area {
                area, of: Are::All, ..
            } => area.size() / f64::from(self.count),
        }
    }

    /// What openings take from one face, in square metres.
    pub fn deducted(&self) -> f64 {
        self.openings.iter().map(OpeningRead::area).sum()
    }
}

impl OpeningRead {
    /// The area of all equal ones in one face, in square metres.
    pub fn area(&self) -> f64 {
        let one = match &self.sizes {
            OpeningSizes::Rect(level, upright) => level.size() * upright.size(),
            OpeningSizes::Area(area, faces) => area.size() / f64::from(*faces),
        };
        one * f64::from(self.count)
    }
}

/// A total of the sheet beside what its rows add up to.
#[derive(Debug, Clone, PartialEq)]
pub struct TotalRead {
    /// The cell.
    pub at: At,
    /// What it totals.
    pub role: Role,
    /// What it states, in base units.
    pub stated: f64,
    /// What the rows add up to.
    pub found: f64,
    /// Which rows were added.
    pub of: String,
    /// Whether both agree, to the digits that are written.
    pub agrees: bool,
    /// The reading with which alone it agrees, where its words and its place speak of another.
    pub only: Option<String>,
}

/// What has to be answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// The key of the answer: `hidden`, `column.Rooms!E`.
    pub key: String,
    /// The question.
    pub text: String,
    /// Answers with what they mean; empty where the answer is a value of its own.
    pub choices: Vec<(String, String)>,
    /// Where it comes up first.
    pub at: At,
}

/// How much a remark weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Figures of the sheet do not agree with each other.
    Contradiction,
    /// Something that should be looked at.
    Doubt,
}

/// Something about a cell or a row that should be looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// How much it weighs.
    pub weight: Weight,
    /// Where.
    pub at: At,
    /// What it is.
    pub text: String,
    /// What to do.
    pub help: String,
}

/// What was taken for granted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Guess {
    /// What.
    pub what: String,
    /// Why.
    pub reason: String,
}

#[cfg(test)]
mod tests;
