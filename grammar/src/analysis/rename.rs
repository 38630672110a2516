//! Giving something another name.

use super::Analysis;
use super::names::{Index, Names};
use super::sketch::{Sketch, ThingKind};
use crate::ast::Statement;
use crate::parse;
use std::ops::Range;

/// A text to be put in the place of another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    /// What is replaced.
    pub range: Range<usize>,
    /// What is put there.
    pub text: String,
}

/// Why something cannot get a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refusal {
    /// Nothing is named at the offset.
    NothingThere,
    /// It can be no name: it is empty, or a value's and no plain word.
    NoName,
    /// The name is taken, or one of the places would mean something else by it.
    Taken,
}

impl Analysis {
    /// The edits that give what is named at an offset another name, in the order of the text.
    /// The name is put in quotes where it must be, and where the old one was.
    ///
    /// # Errors
    ///
    /// Where the name is none or would change what the plan says.
    pub fn rename(&self, offset: usize, name: &str) -> Result<Vec<Edit>, Refusal> {
        let thing = self.names.at(&self.sketch, self.clipped(offset));
        let thing = thing.ok_or(Refusal::NothingThere)?;
        let kind = self.sketch.things.get(thing).map(|thing| thing.kind);
        let bare_only = matches!(kind, Some(ThingKind::Let | ThingKind::Parameter));
        let text = written(self.file, name, bare_only).ok_or(Refusal::NoName)?;
        if !self.keeps_its_meaning(thing, name) {
            return Err(Refusal::Taken);
        }
        let places = self.names.places(&self.sketch, thing, true).into_iter();
        let edit = |range: Range<usize>| {
            // A name in quotes stays so: some are in quotes always.
            let was_quoted = self.slice(range.clone()).starts_with('"');
            let text = if was_quoted {
                quoted(name)
            } else {
                text.clone()
            };
            Edit { range, text }
        };
        Ok(places.map(edit).collect())
    }

    /// Whether every use means the same thing when a thing has another name.
    fn keeps_its_meaning(&self, thing: usize, name: &str) -> bool {
        let mut renamed: Sketch = self.sketch.clone();
        let Some(changed) = renamed.things.get_mut(thing) else {
            return false;
        };
        let old = std::mem::replace(&mut changed.name, name.to_owned());
        let (kind, parent) = (changed.kind, changed.parent);
        let is_taken = self
            .sketch
            .things
            .iter()
            .enumerate()
            .any(|(number, other)| {
                number != thing
                    && other.kind == kind
                    && other.parent == parent
                    && other.name == name
            });
        if is_taken {
            return false;
        }
        for (number, used) in renamed.uses.iter_mut().enumerate() {
            if self.names.meant(number) == Some(thing) {
                used.name = name.to_owned();
            }
        }
        if kind == ThingKind::Template {
            let made = renamed.things.iter_mut();
            for made in made.filter(|made| made.from.as_deref() == Some(&old)) {
                made.from = Some(name.to_owned());
            }
        }
        // What led nowhere may lead somewhere now: that takes nothing from the plan.
        let after = Names::of(&renamed);
        let mut numbers = 0..renamed.uses.len();
        numbers.all(|number| {
            let before = self.names.meant(number);
            before.is_none() || before == after.meant(number)
        })
    }

    /// What the plan defines, to be looked up.
    pub(super) fn index(&self) -> Index<'_> {
        Index::of(&self.sketch.things)
    }
}

/// A name as it is written in a plan: in quotes where it is no plain word. None where it can be
/// no name.
fn written(file: parge_base::FileId, name: &str, bare_only: bool) -> Option<String> {
    // The parser knows best which words are taken.
    let parsed = parse(file, &format!("parge 1\nlet {name} = 1\n"));
    let bare = parsed.diagnostics.is_empty()
        && matches!(parsed.plan.statements.as_slice(), [Statement::Let(read)] if read.name.node == name);
    if bare {
        return Some(name.to_owned());
    }
    let fits = !name.trim().is_empty() && !name.contains(['\n', '\r']);
    (fits && !bare_only).then(|| quoted(name))
}

/// A name in quotes.
pub(super) fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('\\', "\\\\").replace('"', "\\\""))
}
