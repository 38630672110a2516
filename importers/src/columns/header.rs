//! Headers: their words, and the unit that stands beside them.

use crate::cells::{LengthUnit, whole_unit};
use crate::cells::{UnitWord, unit_in_words};

/// The header of a column.
#[derive(Debug, Clone, PartialEq)]
pub struct Head {
    /// The column from 0.
    pub column: u32,
    /// What stands over it, in a row above, over several columns.
    pub over: Option<String>,
    /// Its own text; empty where it has none.
    pub text: String,
}

impl Head {
    /// Its texts as one.
    pub fn shown(&self) -> String {
        match &self.over {
            Some(over) if self.text.is_empty() => over.clone(),
            Some(over) => format!("{over} / {}", self.text),
            None => self.text.clone(),
        }
    }
}

/// Small letters, one blank between words, no points.
pub(super) fn normal(text: &str) -> String {
    let mut text = text.to_lowercase();
    text.retain(|ch| ch != '.');
    let parts = text.split(|ch: char| ch.is_whitespace() || matches!(ch, ':' | '_' | '*'));
    let mut words = String::with_capacity(text.len());
    for word in parts.filter(|word| !word.is_empty() && *word != "-") {
        if !words.is_empty() {
            words.push(' ');
        }
        words += word;
    }
    words
}

/// Whether a text begins with these words.
pub(super) fn starts_with_words(text: &str, words: &str) -> bool {
    text.strip_prefix(words)
        .is_some_and(|rest| !rest.starts_with(|ch: char| ch.is_alphabetic() || ch == '/'))
}

/// The words of a header without its unit, and the unit: `Height (in)`, `Ht, ft`, `Width in mm`,
/// `SF`. A header that is nothing but a unit keeps its word.
pub fn header_words(text: &str) -> (String, Option<UnitWord>) {
    let whole = normal(text);
    if let Some(unit) = unit_of(&whole) {
        return (whole, Some(unit));
    }
    for (open, close) in [('(', ')'), ('[', ']')] {
        if let Some((before, rest)) = text.split_once(open)
            && let Some((inside, behind)) = rest.split_once(close)
            && let Some(unit) = unit_of(&normal(inside))
        {
            return (normal(&format!("{before} {behind}")), Some(unit));
        }
    }
    for mark in [',', '/', '-', '\n'] {
        if let Some((before, behind)) = text.rsplit_once(mark)
            && let Some(unit) = unit_of(&normal(behind))
        {
            return (normal(before), Some(unit));
        }
    }
    for last in [2, 1] {
        let words: Vec<&str> = whole.split(' ').collect();
        if words.len() > last
            && let Some((before, behind)) = words.split_at_checked(words.len() - last)
            && let Some(unit) = unit_of(&behind.join(" "))
        {
            let before = before.join(" ");
            let before = before.strip_suffix(" in").unwrap_or(&before);
            return (before.to_owned(), Some(unit));
        }
    }
    (whole, None)
}

/// The unit that is all of a text, a count left aside: `No` is a word before it is a unit.
fn unit_of(text: &str) -> Option<UnitWord> {
    whole_unit(text).filter(|unit| *unit != UnitWord::Each)
}

/// The units that a note on the sheet names: of lengths, and of areas.
pub(crate) fn units_of_note(text: &str) -> (Option<LengthUnit>, Option<LengthUnit>) {
    match unit_in_words(text) {
        Some(UnitWord::Length(unit)) => (Some(unit), None),
        Some(UnitWord::Area(unit)) => (None, Some(unit)),
        _ => (None, None),
    }
}
