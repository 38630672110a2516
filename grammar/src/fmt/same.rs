//! Whether two plans say the same.

use crate::ast::{Plan, Statement};
use std::fmt::{self, Write};
use std::hash::{DefaultHasher, Hasher};

/// Whether two plans say the same, wherever it stands in their texts.
pub(super) fn plans(one: &Plan, other: &Plan) -> bool {
    one.version == other.version
        && one.damaged == other.damaged
        && one.statements.len() == other.statements.len()
        && one
            .statements
            .iter()
            .zip(&other.statements)
            .all(|(one, other)| statements(one, other))
}

/// Faces and openings hold a bare place, by which equal ones would differ.
fn statements(one: &Statement, other: &Statement) -> bool {
    one == other || told(one) == told(other)
}

/// What a statement says, places left out, as one number.
fn told(statement: &Statement) -> u64 {
    let mut told = Told::default();
    // Writing into a hash cannot fail.
    let _ = write!(told, "{statement:?}");
    told.hasher.finish()
}

#[derive(Default)]
struct Told {
    hasher: DefaultHasher,
    /// What is kept of the piece being written.
    kept: Vec<u8>,
    /// How many bytes of the start of a place are met.
    met: usize,
}

/// How a place begins; its first letter does not come again in it.
const PLACE: &[u8] = b"Span { file: FileId(";

impl Write for Told {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.kept.clear();
        for &byte in text.as_bytes() {
            if self.met == PLACE.len() {
                self.met = if byte == b'}' { 0 } else { self.met };
                continue;
            }
            self.kept.push(byte);
            self.met = if PLACE.get(self.met) == Some(&byte) {
                self.met + 1
            } else {
                usize::from(PLACE.first() == Some(&byte))
            };
        }
        self.hasher.write(&self.kept);
        Ok(())
    }
}
