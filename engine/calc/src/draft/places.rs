//! Where the statements of a text stand while it is edited.

use parge_base::{Diagnostic, FileId, Span};
use std::ops::Range;

/// What stands before a structure that is read by itself.
pub(super) const HEAD: &str = "parge 1\n";

#[derive(Debug)]
struct Place {
    /// When the whole text was evaluated.
    was: Range<usize>,
    now: Range<usize>,
    /// Whether it is a structure.
    is_structure: bool,
}

/// The statements of a text, in its order.
#[derive(Debug)]
pub(super) struct Places(Vec<Place>);

impl Places {
    /// As they stand when the whole text is evaluated.
    pub(super) fn new(text: &str, statements: Vec<Range<usize>>) -> Self {
        let places = statements.into_iter().map(|place| Place {
            is_structure: text
                .get(place.clone())
                .is_some_and(|text| text.starts_with("structure")),
            was: place.clone(),
            now: place,
        });
        Self(places.collect())
    }

    /// The structure within which a part of the text lies, with a letter of it on both sides.
    pub(super) fn around(&self, part: &Range<usize>) -> Option<usize> {
        let before = self.0.partition_point(|place| place.now.start < part.start);
        let number = before.checked_sub(1)?;
        let place = self.0.get(number)?;
        (place.is_structure && part.end < place.now.end).then_some(number)
    }

    /// Where a statement stands now.
    pub(super) fn of(&self, statement: usize) -> Range<usize> {
        self.0
            .get(statement)
            .map_or(0..0, |place| place.now.clone())
    }

    /// Which structure of the text a statement is, from 0.
    pub(super) fn structure(&self, statement: usize) -> usize {
        let before = self.0.iter().take(statement);
        before.filter(|place| place.is_structure).count()
    }

    /// Notes that a part of a statement had another length.
    pub(super) fn change(&mut self, statement: usize, before: usize, now: usize) {
        for (number, place) in self.0.iter_mut().enumerate().skip(statement) {
            if number > statement {
                place.now.start = place.now.start + now - before;
            }
            place.now.end = place.now.end + now - before;
        }
    }

    /// Points what was said of a statement that was read aside, or of the text as it was, into the text
    /// as it is now.
    pub(super) fn point(
        &self,
        [text, aside]: [FileId; 2],
        statement: usize,
        said: &mut Diagnostic,
    ) {
        for label in &mut said.labels {
            let span = label.span;
            let start = if span.file == aside {
                (self.of(statement).start + span.range().start).checked_sub(HEAD.len())
            } else if span.file == text {
                Some(self.moved(span.range().start))
            } else {
                continue;
            };
            let start = start.unwrap_or_default();
            label.span = Span::new(text, start, start + span.range().len());
        }
    }

    fn moved(&self, was: usize) -> usize {
        let before = self.0.partition_point(|place| place.was.start <= was);
        let place = before.checked_sub(1).and_then(|number| self.0.get(number));
        place.map_or(was, |place| place.now.start + (was - place.was.start))
    }
}

#[cfg(test)]
mod tests;
