//! The property of the fuzz target, over its corpus and what is made of it. `cargo fuzz` goes
//! on from here for as long as it is let; see DEVELOPERS.md.

use super::quick::reads_alike;
use crate::{fmt::format, parse};
use proptest::prelude::*;
use std::fs;
use std::path::Path;

#[path = "../../fuzz/property.rs"]
mod property;

/// Longer pieces take their time in a build without optimization, and show nothing more.
const LONGEST: usize = 2000;

/// The corpus, by the names of its files.
fn corpus() -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus/plan");
    let files = fs::read_dir(folder).unwrap().map(|entry| {
        let entry = entry.unwrap();
        let name = entry.file_name().to_string_lossy().into_owned();
        (name, fs::read(entry.path()).unwrap())
    });
    let mut files: Vec<_> = files.collect();
    files.sort();
    files
}

#[test]
fn the_corpus_is_borne() {
    let files = corpus();
    assert!(files.len() >= 15, "only {} files were found", files.len());
    for (name, bytes) in files {
        if let Ok(text) = std::str::from_utf8(&bytes) {
            let held = std::panic::catch_unwind(|| property::holds(text));
            assert!(held.is_ok(), "{name}");
        }
    }
}

/// What is done to a piece of the corpus. Places are shares of its length.
#[derive(Debug, Clone)]
enum Change {
    Set(f64, u8),
    Insert(f64, Vec<u8>),
    Delete(f64, usize),
    Repeat(f64, usize),
    Splice(f64, usize, f64),
}

/// Bytes and pieces with a meaning of their own, beside any byte at all.
const PIECES: [&str; 24] = [
    "{",
    "}",
    "(",
    ")",
    "\"",
    "#",
    "\n",
    "\r",
    "\r\n",
    "\\",
    "\0",
    "\u{FEFF}",
    "\u{200B}",
    "\u{202E}",
    "\u{FE0F}",
    "\t",
    "\u{A0}",
    "\u{2028}",
    "9999999999",
    "1e9",
    "×",
    "½",
    " let ",
    "\nlet ",
];

fn change() -> impl Strategy<Value = Change> {
    let place = 0.0..1.0;
    let piece = proptest::sample::select(PIECES.to_vec()).prop_map(|piece| piece.into());
    let bytes = prop_oneof![3 => piece, 1 => proptest::collection::vec(any::<u8>(), 1..4)];
    prop_oneof![
        (place.clone(), any::<u8>()).prop_map(|(at, byte)| Change::Set(at, byte)),
        (place.clone(), bytes).prop_map(|(at, bytes)| Change::Insert(at, bytes)),
        (place.clone(), 1..40usize).prop_map(|(at, length)| Change::Delete(at, length)),
        (place.clone(), 1..40usize).prop_map(|(at, length)| Change::Repeat(at, length)),
        (place.clone(), any::<usize>(), place)
            .prop_map(|(at, other, from)| Change::Splice(at, other, from)),
    ]
}

fn changed(mut bytes: Vec<u8>, changes: &[Change], files: &[(String, Vec<u8>)]) -> Vec<u8> {
    let place = |share: f64, length: usize| (share * length as f64) as usize;
    for change in changes {
        let length = bytes.len();
        let end = |at: usize, wide: usize| (at + wide).min(length);
        match change {
            Change::Set(at, byte) => {
                if let Some(old) = bytes.get_mut(place(*at, length)) {
                    *old = *byte;
                }
            }
            Change::Insert(at, piece) => {
                let at = place(*at, length);
                bytes.splice(at..at, piece.iter().copied());
            }
            Change::Delete(at, wide) => {
                let at = place(*at, length);
                bytes.drain(at..end(at, *wide));
            }
            Change::Repeat(at, wide) => {
                let at = place(*at, length);
                let piece = bytes[at..end(at, *wide)].repeat(3);
                bytes.splice(at..at, piece);
            }
            Change::Splice(at, other, from) => {
                let other = &files[other % files.len()].1;
                bytes.truncate(place(*at, length));
                bytes.extend(&other[place(*from, other.len())..]);
            }
        }
    }
    bytes.truncate(LONGEST);
    bytes
}

/// The files do not change while the test runs.
pub(super) fn files() -> &'static [(String, Vec<u8>)] {
    static FILES: std::sync::OnceLock<Vec<(String, Vec<u8>)>> = std::sync::OnceLock::new();
    FILES.get_or_init(corpus)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn a_corpus_changed_anywhere_is_borne(
        which in any::<usize>(),
        start in 0.0..1.0,
        changes in proptest::collection::vec(change(), 1..5),
    ) {
        let file = &files()[which % files().len()].1;
        // Of a long file any part, so that all of it comes in turn.
        let start = (start * file.len().saturating_sub(LONGEST) as f64) as usize;
        let piece = file.iter().skip(start).take(LONGEST).copied().collect();
        let bytes = changed(piece, &changes, files());
        // Where a letter was cut the rest is still worth reading.
        let text = String::from_utf8_lossy(&bytes);
        property::holds(&text);
        reads_alike(&text);
    }
}
