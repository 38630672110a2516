//! Edits of a text, applied all at once.

use super::Key;
use super::parts::{FaceParts, Faces};
use std::collections::BTreeMap;

/// Edits of one text, none of which overlaps another.
pub(super) struct Edits<'t> {
    text: &'t str,
    /// What is replaced: from, to, by what.
    edits: Vec<(usize, usize, String)>,
    /// Faces of structures that the text does not have, under the heads of these.
    structures: BTreeMap<String, Vec<String>>,
}

impl<'t> Edits<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Self {
            text,
            edits: Vec::new(),
            structures: BTreeMap::new(),
        }
    }

    pub(super) fn replace(&mut self, (start, end): (usize, usize), by: &str) {
        self.edits.push((start, end, by.to_owned()));
    }

    pub(super) fn insert(&mut self, at: usize, text: &str) {
        self.edits.push((at, at, text.to_owned()));
    }

    /// Adds an opening to a face, which may have no block yet.
    pub(super) fn insert_into(&mut self, face: &FaceParts, opening: &str) {
        match face.block_end > face.end {
            true => self.insert(face.block_end - 1, &format!("\n{opening}\n")),
            false => self.insert(face.end, &format!(" {{\n{opening}\n}}")),
        }
    }

    /// Adds a face to its structure, which may not be there yet.
    pub(super) fn add_face(&mut self, own: &Faces, (structure, _): &Key, face: &FaceParts) {
        let there = own.iter().find(|((name, _), _)| name == structure);
        match there {
            Some((_, beside)) => self.insert(beside.structure_end, &format!("\n{}\n", face.text)),
            None => {
                let faces = self.structures.entry(face.head.clone()).or_default();
                faces.push(face.text.clone());
            }
        }
    }

    /// The text with all edits.
    pub(super) fn applied(mut self) -> String {
        self.edits.sort_by_key(|(start, end, _)| (*start, *end));
        let (mut out, mut at) = (String::new(), 0);
        for (start, end, by) in &self.edits {
            out += self.text.get(at..(*start).max(at)).unwrap_or("");
            out += by;
            at = (*end).max(at);
        }
        out += self.text.get(at..).unwrap_or("");
        for (head, faces) in &self.structures {
            out += &format!("\n{head} {{\n{}\n}}\n", faces.join("\n"));
        }
        out
    }
}
