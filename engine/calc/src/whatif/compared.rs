//! The estimate as it is beside the one with what is set.

use super::present::{Present, factors};
use super::{Basis, Input, Set, Whose};
use crate::change::{Both, Change, Changes, Part, compare};
use crate::crew::class_item;
use crate::price::{Estimate, LABOUR_ITEM, offer_of};
use crate::takeoff::Caution;
use parge_base::{Diagnostic, Severity};
use parge_rules::Cell;

/// An input that was set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetLine {
    /// The name by which it is set.
    pub name: String,
    /// What it says, in words; empty where it was not stated.
    pub old: String,
    /// What it says then.
    pub new: String,
    /// Whether both are the same.
    pub same: bool,
    /// Whether any figure of the two estimates rests on it.
    pub used: bool,
}

/// Two estimates of one plan: as it is, and with what is set.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What is set, in the order of the command.
    pub sets: Vec<SetLine>,
    /// What changed. The lines of what is set are not among its lines.
    pub changes: Changes,
    /// Cautions that only one of the two gives.
    pub cautions: Both<Vec<Caution>>,
    /// What is said of only one of the two: warnings, and lines without a price.
    pub said: Both<Vec<Diagnostic>>,
}

/// One of the two: what it rests on, and what is said of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side<'s> {
    basis: &'s Basis,
    estimate: &'s Estimate,
}

/// Compares an estimate with the one that has some inputs set, each with what it rests on and what
/// was said of it.
pub fn compared(
    sets: &[Set],
    bases: Both<&Basis>,
    estimates: Both<&Estimate>,
    said: Both<&[Diagnostic]>,
) -> Compared {
    let sides = Both {
        old: Side {
            basis: bases.old,
            estimate: estimates.old,
        },
        new: Side {
            basis: bases.new,
            estimate: estimates.new,
        },
    };
    let mut changes = compare(estimates.old, estimates.new);
    let told = |line: &Change| {
        let caution = line.part == Part::Rules && line.what.starts_with("caution ");
        caution || sets.iter().any(|set| is_of(line, &set.input, bases.old))
    };
    changes.lines.retain(|line| !told(line));
    let cautions = estimates.map(|estimate| estimate.takeoff.cautions.as_slice());
    Compared {
        sets: sets.iter().map(|set| line(&set.input, sides)).collect(),
        changes,
        cautions: only(cautions, |a, b| a.key == b.key && a.text == b.text),
        // Places differ where what is set stands in the command.
        said: only(said, |a, b| a.code == b.code && a.message == b.message),
    }
}

impl Compared {
    /// Whether a line of the estimate with what is set has no price, or something is wrong with it
    /// that leaves its figures.
    pub fn any_error(&self) -> bool {
        let mut said = self.said.new.iter();
        said.any(|said| said.severity() == Severity::Error)
    }
}

fn line(input: &Input, sides: Both<Side<'_>>) -> SetLine {
    let present = sides.map(|side| Present::of(input, side.basis, side.estimate));
    let same = match (&present.old, &present.new) {
        (Some(old), Some(new)) => old.same(new),
        _ => false,
    };
    let words = |present: Option<Present>| present.map_or(String::new(), |present| present.words);
    SetLine {
        name: input.to_string(),
        old: words(present.old),
        new: words(present.new),
        same,
        used: [sides.old, sides.new].iter().any(|side| side.uses(input)),
    }
}

impl<'s> Side<'s> {
    /// Whether a figure of the estimate rests on an input. What a plan states and nothing uses is
    /// warned about as such.
    fn uses(self, input: &Input) -> bool {
        match input {
            Input::Row { whose, table, keys } => match self.cell(*whose, table, keys) {
                Some(Cell::Factor(factor)) => {
                    let mut used = factors(self.estimate).into_iter();
                    used.any(|used| used.span == factor.span)
                }
                // Texts leave no trace in a figure.
                Some(Cell::Text(..)) => true,
                None => false,
            },
            Input::Price(item) | Input::Pack(item) => self.buys(item),
            Input::Bid(_) | Input::Let(_) | Input::Crew(_) => true,
        }
    }

    fn cell(self, whose: Whose, table: &str, keys: &[String]) -> Option<&'s Cell> {
        let row = self.basis.row(whose, table, keys);
        row.map(|row| &row.cell)
    }

    /// Whether a line is priced by the row of an item.
    fn buys(self, item: &str) -> bool {
        let lines = self.estimate.materials.iter();
        let mut offers = lines.filter_map(|line| offer_of(&self.basis.book, &line.material.item));
        let classes = &self.estimate.classes;
        let of_class = || classes.iter().any(|class| class_item(&class.name) == item);
        let of_all = item == LABOUR_ITEM && classes.is_empty() && !self.estimate.labour.is_empty();
        offers.any(|offer| offer.item == item) || of_all || of_class()
    }
}

/// Whether a line of what changed says only that an input was set.
fn is_of(line: &Change, input: &Input, basis: &Basis) -> bool {
    match (input, &line.part) {
        (Input::Row { whose, table, keys }, Part::Rules) => {
            let cell = basis.row(*whose, table, keys).map(|row| &row.cell);
            matches!(cell, Some(Cell::Factor(factor)) if factor.name == line.what)
        }
        // `sealer/matte` may be sold by the row `sealer`.
        (Input::Price(item) | Input::Pack(item), Part::Price { item: of, .. }) => {
            of == item || offer_of(&basis.book, of).is_some_and(|offer| offer.item == *item)
        }
        (Input::Bid(term), Part::Job) => line.what == *term,
        (Input::Crew(_), Part::Job) => line.what == "crew",
        _ => false,
    }
}

/// Those that only one side has.
fn only<T: Clone>(both: Both<&[T]>, same: impl Fn(&T, &T) -> bool) -> Both<Vec<T>> {
    let missing = |of: &[T], there: &[T]| -> Vec<T> {
        let gone = of.iter().filter(|a| !there.iter().any(|b| same(a, b)));
        gone.cloned().collect()
    };
    Both {
        old: missing(both.old, both.new),
        new: missing(both.new, both.old),
    }
}
