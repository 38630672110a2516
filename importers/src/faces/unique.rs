//! Names of faces, each of which stands once in its structure.

use super::import::doubt;
use super::{FaceRead, Import, Sizes};
use compact_str::format_compact;
use rayon::prelude::*;
use std::borrow::Cow;
use std::collections::HashMap;
use std::hash::{DefaultHasher, Hasher};

/// Gives faces of one name in one structure different names, however their letters are capitalized.
pub(super) fn unique(out: &mut Import) {
    let marks: Vec<u64> = out.faces.par_iter().map(mark).collect();
    let repeated = repeated(&marks);
    if repeated.is_empty() {
        return;
    }
    // How often a name was met, and the number of the face that has it first.
    let mut seen: HashMap<(String, String), (usize, usize)> = HashMap::new();
    let mut remarks = Vec::new();
    let may_repeat = |mark: &u64| repeated.binary_search(mark).is_ok();
    let marked = marks.iter().enumerate();
    for (number, _) in marked.filter(|(_, mark)| may_repeat(mark)) {
        let (before, own) = out.faces.split_at_mut(number);
        let Some(face) = own.first_mut() else {
            continue;
        };
        let name = (lower(&face.structure), lower(&face.name));
        let (times, first) = seen.entry(name).or_insert((0, number));
        *times += 1;
        if let Some(first) = before.get(*first) {
            let text = match same_sizes(&first.sizes, &face.sizes) {
                true => format!("face `{}` stands twice with the same sizes", face.name),
                false => format!(
                    "two faces of `{}` are called `{}`",
                    face.structure, face.name
                ),
            };
            let help = "see whether it was counted twice; the second has a number behind its name";
            remarks.push(doubt(face.at, text, help));
            face.name = format_compact!("{} ({times})", face.name);
        }
    }
    out.remarks.append(&mut remarks);
}

/// A mark that faces of one name in one structure share, and of others hardly any.
fn mark(face: &FaceRead) -> u64 {
    let mut hasher = DefaultHasher::new();
    for text in [&face.structure, &face.name] {
        hash_lower(text, &mut hasher);
    }
    hasher.finish()
}

/// Hashes a text in small letters, piece by piece on the stack.
fn hash_lower(text: &str, hasher: &mut DefaultHasher) {
    const PIECE: usize = 32;
    let text = match text.is_ascii() {
        true => Cow::Borrowed(text),
        false => Cow::Owned(lower(text)),
    };
    for piece in text.as_bytes().chunks(PIECE) {
        let mut letters = [0; PIECE];
        for (letter, own) in letters.iter_mut().zip(piece) {
            *letter = own.to_ascii_lowercase();
        }
        hasher.write(letters.get(..piece.len()).unwrap_or(piece));
    }
    hasher.write_u8(u8::MAX);
}

fn lower(text: &str) -> String {
    text.to_lowercase()
}

/// The marks that stand several times, in their order.
fn repeated(marks: &[u64]) -> Vec<u64> {
    let mut sorted = marks.to_vec();
    sorted.par_sort_unstable();
    let pairs = sorted.iter().zip(sorted.iter().skip(1));
    let mut repeated: Vec<u64> = pairs.filter(|(a, b)| a == b).map(|(a, _)| *a).collect();
    repeated.dedup();
    repeated
}

fn same_sizes(a: &Sizes, b: &Sizes) -> bool {
    use Sizes::{Area, Rect};
    match (a, b) {
        (Rect(a, b), Rect(c, d)) => a.size() == c.size() && b.size() == d.size(),
        (Area { area: a, .. }, Area { area: b, .. }) => a.size() == b.size(),
        _ => false,
    }
}

#[cfg(test)]
mod tests;
