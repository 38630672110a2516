//! Words beside what is in a cell.

use std::ops::Deref;
use std::sync::Arc;

/// A formula or a number format. Few cells have one, so it takes one word of memory, and many that
/// have one have the same, so they share it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note(Arc<Box<str>>);

impl From<String> for Note {
    fn from(words: String) -> Self {
        Self(Arc::new(words.into()))
    }
}

impl Deref for Note {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}
