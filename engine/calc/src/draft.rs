//! A plan that is being edited: what an editor shows beside the text after every change of it.
//!
//! A structure knows nothing of its neighbours, unless an expression says so. So after an edit
//! within the block of one structure only that structure is read, resolved, measured and taken off
//! anew, and put in the place of what it was; all else stands. Any other edit, and one of a structure
//! that is tied to another, has the whole plan evaluated. Either way the figures are those of the whole
//! text, to the bit.
//!
//! What the job takes as a whole, its days and its price rest on all faces together, so they are
//! reckoned when they are asked for ([`Draft::price`]). Warnings are told by the stages themselves
//! ([`crate::stages`]), which the program runs; a draft tells the mistakes that keep figures away.

mod again;
mod places;
mod standing;

use crate::contract::Packs;
use crate::pool::Sums;
use crate::price::{Price, Status};
use crate::takeoff::Taken;
use again::Kept;
use parge_base::forecast::Forecast;
use parge_base::prices::PriceBook;
use parge_base::{Diagnostic, FileId, Quantity, Sources};
use parge_grammar::ast::Plan;
use standing::Standing;
use std::fmt;
use std::ops::Range;

/// What a draft rests on, beside its text.
#[derive(Clone, Copy)]
pub struct RestsOn<'p> {
    /// The packs that the plan names.
    pub packs: Packs<'p>,
    /// Its price book.
    pub book: &'p PriceBook,
    /// The weather of days, where the plan names a file with it.
    pub forecast: Option<&'p Forecast>,
    /// Puts the statements of included files in the place of `include`; what is wrong with those
    /// files is for whoever reads them to tell.
    pub joined: &'p (dyn Fn(Plan) -> Plan + Sync),
}

/// A place that is none of a text: beyond its end, or within a letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoPlace;

impl fmt::Display for NoPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the place of the edit is none of the text")
    }
}

impl std::error::Error for NoPlace {}

/// What a draft says of a face.
#[derive(Debug, Clone, Copy)]
pub struct DraftFace<'d> {
    /// The name of its structure.
    pub structure: &'d str,
    /// Its name.
    pub name: &'d str,
    /// How many equal faces there are.
    pub count: u32,
    /// What is coated of one.
    pub net: Quantity,
    /// What all of them take.
    pub takes: &'d Taken,
}

/// A plan that is being edited, with its figures.
pub struct Draft<'p> {
    on: RestsOn<'p>,
    file: FileId,
    /// The file that a structure is read as when it is read by itself.
    aside: FileId,
    text: String,
    /// The figures, of the text but for what stands open; none where a mistake keeps them away.
    standing: Option<Standing<'p>>,
    /// The statement whose mistakes keep the figures from being those of the text.
    open: Option<usize>,
    mistakes: Vec<Diagnostic>,
}

impl<'p> Draft<'p> {
    /// Evaluates a whole text, which is known by a name.
    pub fn new(sources: &mut Sources, name: &str, text: String, on: RestsOn<'p>) -> Self {
        let mut draft = Self {
            on,
            file: sources.add(name, text.as_str()),
            aside: sources.add(name, ""),
            text,
            standing: None,
            open: None,
            mistakes: Vec::new(),
        };
        draft.evaluate();
        draft
    }

    /// Puts another text in the place of a part of this one, given in bytes, and evaluates what that
    /// changes.
    pub fn edit(&mut self, place: Range<usize>, with: &str) -> Result<(), NoPlace> {
        if self.text.get(place.clone()).is_none() {
            return Err(NoPlace);
        }
        let around = self.around(&place);
        self.text.replace_range(place.clone(), with);
        let Some((standing, statement)) = self.standing.as_mut().zip(around) else {
            self.evaluate();
            return Ok(());
        };
        standing.places.change(statement, place.len(), with.len());
        let own = standing.places.of(statement);
        let text = self.text.get(own).unwrap_or_default();
        match standing.again(&self.on, self.aside, statement, text) {
            Ok(()) => {
                self.open = None;
                self.mistakes.clear();
            }
            Err(Kept::Mistakes(mut said)) => {
                let files = [self.file, self.aside];
                said.iter_mut()
                    .for_each(|said| standing.places.point(files, statement, said));
                self.open = Some(statement);
                self.mistakes = said;
            }
            Err(Kept::Tied) => self.evaluate(),
        }
        Ok(())
    }

    /// The text as it is now.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The mistakes that keep figures away, with their places in the text as it is now: all of
    /// them after an evaluation of the whole, those of the edited structure after an edit there.
    pub fn mistakes(&self) -> &[Diagnostic] {
        &self.mistakes
    }

    /// What faces and linear work take together, of each item and phase; none while there is a
    /// mistake. What the job takes as a whole is not among it.
    pub fn sums(&self) -> Option<&Sums> {
        self.without_mistake().map(|standing| &standing.sums)
    }

    /// The faces in the order of the plan; none while there is a mistake.
    pub fn faces(&self) -> impl Iterator<Item = DraftFace<'_>> {
        self.without_mistake().into_iter().flat_map(Standing::faces)
    }

    /// Reckons the price, with all that the job takes as a whole, and says whether every line has
    /// one. None while there is a mistake, and where an amount outgrows what can be written.
    pub fn price(&mut self) -> Option<(Price, Status)> {
        self.without_mistake()?;
        let on = self.on;
        let standing = self.standing.as_mut()?;
        parge_rules::with_stack(|| standing.price(&on))
    }

    fn without_mistake(&self) -> Option<&Standing<'p>> {
        let standing = self.standing.as_ref();
        standing.filter(|_| self.mistakes.is_empty())
    }

    /// The statement within which a place lies, if an edit there can leave all others alone.
    fn around(&self, place: &Range<usize>) -> Option<usize> {
        let standing = self.standing.as_ref()?;
        let around = standing.places.around(place)?;
        let others_are_fine = self.open.is_none_or(|open| open == around);
        (others_are_fine && !standing.has_outgrown()).then_some(around)
    }

    fn evaluate(&mut self) {
        let (on, file, text) = (self.on, self.file, self.text.as_str());
        let evaluated = parge_rules::with_stack(|| Standing::of(&on, file, text));
        self.open = None;
        (self.standing, self.mistakes) = match evaluated {
            Ok(standing) => (Some(standing), Vec::new()),
            Err(mistakes) => (None, mistakes),
        };
    }
}

#[cfg(test)]
mod tests;
