//! What the columns of a table are, each with the reason for taking it so.

mod header;
mod recognise;
mod role;
mod words;

pub(crate) use header::units_of_note;
pub use header::{Head, header_words};
pub(crate) use recognise::pair_feet_and_inches;
pub use recognise::{Column, Content, Recognised, recognise};
pub use role::{Role, Subject};
pub use words::{RowWord, RowWords, Words};

/// What a text may be the header of, whatever stands under it. Headers are short: a sentence that
/// has a known word in it is none.
pub(crate) fn roles_of_header(text: &str, words: &Words) -> Vec<Role> {
    let (own, unit) = header_words(text);
    let exact = words.exact(&own);
    if !exact.is_empty() {
        return exact;
    }
    if own.split(' ').count() > 3 || own.starts_with(|ch: char| ch.is_ascii_digit()) {
        return Vec::new();
    }
    let within: Vec<Role> = words
        .within(&own, |_| true)
        .into_iter()
        .map(|(_, role)| role)
        .collect();
    // `Wall 3` is a face, not a header of faces.
    let says_measure = within.iter().any(|role| role.is_measure()) || unit.is_some();
    if says_measure { within } else { Vec::new() }
}

#[cfg(test)]
mod tests;
