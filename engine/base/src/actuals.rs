//! What a job used, as a record states it, and the lines of an estimate that a record fills in.
//!
//! A reader turns names and units of a record into those of [`Lines`]; a name that none of them has
//! stays as it was written, and whoever compares says that it matches no line.

use crate::money::{Currency, Money};
use crate::prices::PackSize;
use crate::quantity::Quantity;
use crate::source::Span;
use crate::unit::{Unit, Units};
use jiff::civil::Date;

/// Where something stands in a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// The line, or the text of the row or cell.
    pub span: Span,
    /// The cell or row in words, where it comes from a sheet; else empty.
    pub words: String,
}

/// What priced a job: short fingerprints of its plan, its rules and its prices.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Fingerprint<T> {
    /// Of the plan, with what it includes, and of its weather of days.
    pub plan: T,
    /// Of the rule pack with the packs under it, and of the pack that measures.
    pub rules: T,
    /// Of the price book.
    pub prices: T,
}

/// A pack and its version, as a record states it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PackStated {
    /// The pack's name.
    pub name: String,
    /// Its version, and the packs that it rests on with theirs: `1.0 on vertical-concrete 0.2.0`.
    pub version: String,
    /// Where.
    pub place: Written,
}

/// A price that was paid.
#[derive(Debug, Clone, PartialEq)]
pub struct Paid {
    /// The price of one pack, or of an hour.
    pub price: Money,
    /// What that pack holds.
    pub pack: PackSize,
}

/// So much of an item.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialUsed {
    /// The item, as the estimate names it where a line of it matches.
    pub item: String,
    /// How much; not below nothing.
    pub amount: Quantity,
    /// The unit in which it was written, to show the amount of what matches no line.
    pub unit: Unit,
    /// What a pack cost, where it is stated.
    pub paid: Option<Paid>,
    /// Where.
    pub place: Written,
}

/// Of what in a job hours were worked.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Scope {
    /// Of all that the phase is worked on.
    Whole,
    /// Of a structure, by name.
    Structure(String),
    /// Of what belongs to no structure: the job as a whole, and its days.
    Job,
}

/// So much time of one person.
#[derive(Debug, Clone, PartialEq)]
pub struct HoursWorked {
    /// The phase, as the estimate names it where a line of it matches.
    pub phase: String,
    /// Of what.
    pub scope: Scope,
    /// How long; not below nothing.
    pub time: Quantity,
    /// What an hour cost before burden, where it is stated.
    pub wage: Option<Money>,
    /// Where.
    pub place: Written,
}

/// An area as it was built.
#[derive(Debug, Clone, PartialEq)]
pub struct AreaBuilt {
    /// The structure, by name.
    pub structure: String,
    /// The face, where it is of one; all its equal faces together.
    pub face: Option<String>,
    /// What was coated, without openings and with reveals.
    pub area: Quantity,
    /// Where.
    pub place: Written,
}

/// A sentence of whoever was there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// The day, where one is named.
    pub day: Option<Date>,
    /// The words.
    pub text: String,
    /// Where.
    pub place: Written,
}

/// The record of one job. What it does not state is none, and never nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Actuals {
    /// The job's name, and where it stands.
    pub job: Option<(String, Written)>,
    /// What priced the job, as far as it is stated, each with its place.
    pub priced: Fingerprint<Option<(String, Written)>>,
    /// The packs that priced it.
    pub packs: Vec<PackStated>,
    /// The first day on site.
    pub first_day: Option<Date>,
    /// The last day on site.
    pub last_day: Option<Date>,
    /// Days on which work went on, with halves and the like.
    pub days: Option<f64>,
    /// Materials, each item once.
    pub materials: Vec<MaterialUsed>,
    /// Hours, each phase once for a structure, or once as a whole.
    pub hours: Vec<HoursWorked>,
    /// Areas, each face at most once.
    pub areas: Vec<AreaBuilt>,
    /// The weather, in words.
    pub weather: Vec<Remark>,
    /// Whatever else is to be known.
    pub remarks: Vec<Remark>,
    /// The whole record: where to point for what it lacks.
    pub span: Span,
}

/// An item of an estimate.
#[derive(Debug, Clone, PartialEq)]
pub struct ItemLine {
    /// The item.
    pub item: String,
    /// What it is, in words.
    pub description: String,
    /// The unit of its need.
    pub unit: Unit,
    /// The pack that it was priced by, where it has a price.
    pub pack: Option<PackSize>,
}

/// A phase of an estimate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhaseLine {
    /// The phase.
    pub phase: String,
    /// What is done, in words.
    pub description: String,
    /// The structures that it is worked on, by name.
    pub structures: Vec<String>,
    /// Whether some of it belongs to no structure.
    pub of_job: bool,
}

/// A structure of an estimate with its faces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StructureLine {
    /// The structure.
    pub name: String,
    /// Its faces.
    pub faces: Vec<String>,
}

/// The lines of an estimate that a record can fill in.
#[derive(Debug, Clone)]
pub struct Lines {
    /// The job.
    pub job: String,
    /// The currency of its prices.
    pub currency: Currency,
    /// The units in force.
    pub units: Units,
    /// Its items.
    pub items: Vec<ItemLine>,
    /// Its phases.
    pub phases: Vec<PhaseLine>,
    /// Its structures.
    pub structures: Vec<StructureLine>,
}

impl Lines {
    /// An item by its name or by what it is in words, in any letters and with blanks for hyphens.
    pub fn item(&self, name: &str) -> Option<&ItemLine> {
        let named = |line: &&ItemLine| same(&line.item, name);
        let worded = |line: &&ItemLine| same(&line.description, name);
        let mut lines = self.items.iter();
        lines.find(named).or_else(|| self.items.iter().find(worded))
    }

    /// A phase, under the same terms.
    pub fn phase(&self, name: &str) -> Option<&PhaseLine> {
        let named = |line: &&PhaseLine| same(&line.phase, name);
        let worded = |line: &&PhaseLine| same(&line.description, name);
        let mut lines = self.phases.iter();
        lines
            .find(named)
            .or_else(|| self.phases.iter().find(worded))
    }

    /// A structure by its name, under the same terms.
    pub fn structure(&self, name: &str) -> Option<&StructureLine> {
        self.structures.iter().find(|line| same(&line.name, name))
    }
}

/// Whether two names are the same to whoever writes by hand: in any letters, and with blanks for
/// hyphens.
fn same(a: &str, b: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let words = text.split(|ch: char| ch.is_whitespace() || ch == '-');
        let words = words.filter(|word| !word.is_empty());
        words.map(str::to_lowercase).collect()
    };
    words(a) == words(b)
}

#[cfg(test)]
mod tests;
