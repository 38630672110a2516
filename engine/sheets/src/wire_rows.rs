//! Lists of the JSON whose lines are made while they are written; see [`crate::wire`].

use serde::{Serialize, Serializer};
use std::fmt;

/// A list that nobody holds: each of its lines is made when it is written, and gone when the next
/// one is. A job of a hundred thousand faces is written in the room of one.
pub struct Rows<'a, T>(Box<Begin<'a, T>>);

type Begin<'a, T> = dyn Fn() -> Box<dyn Iterator<Item = T> + 'a> + 'a;

impl<'a, T: 'a> Rows<'a, T> {
    /// The lines that `begin` makes, anew each time the list is written.
    pub(crate) fn of<I>(begin: impl Fn() -> I + 'a) -> Self
    where
        I: Iterator<Item = T> + 'a,
    {
        Self(Box::new(move || Box::new(begin())))
    }
}

impl<T: Serialize> Serialize for Rows<'_, T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0())
    }
}

impl<T> fmt::Debug for Rows<'_, T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Rows")
    }
}

#[cfg(test)]
mod tests;
