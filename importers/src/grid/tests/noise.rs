//! Changed bytes of the committed sheets: whatever comes of them, nothing panics, and what is read
//! gets its verdicts.

use super::super::open::open;
use crate::faces::import;
use crate::profile::Profile;
use std::io::{Cursor, Read, Write};
use std::path::Path;
use zip::write::{SimpleFileOptions, ZipWriter};

/// How many changes are made to each file.
const CHANGES: u64 = 24;

/// Numbers that look random and are the same on every machine (Knuth's MMIX constants).
pub(in crate::grid) struct Dice(u64);

impl Dice {
    pub(in crate::grid) fn of(seed: u64) -> Self {
        Self(seed)
    }

    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides.max(1)
    }
}

/// The sheets of the end-to-end tests.
pub(in crate::grid) fn corpus() -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/importers/sheets");
    let mut files: Vec<(String, Vec<u8>)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read(path).unwrap())
        })
        .collect();
    let text = "Wall;L (m);H (m);Nos\nA;2,5;3;1\nless door;0,9;2,1;1\nTotal;;;2\n";
    files.push(("text.csv".to_owned(), text.as_bytes().to_vec()));
    files.sort();
    files
}

fn change(bytes: &mut Vec<u8>, dice: &mut Dice) {
    for _ in 0..=dice.roll(6) {
        let at = dice.roll(bytes.len());
        match dice.roll(4) {
            0 => bytes.truncate(at.max(1)),
            1 => {
                let end = (at + dice.roll(64)).min(bytes.len());
                let part = bytes[at..end].to_vec();
                bytes.splice(at..at, part);
            }
            2 => {
                let end = (at + dice.roll(16)).min(bytes.len());
                bytes.drain(at..end);
            }
            _ => bytes[at] = dice.roll(256) as u8,
        }
        if bytes.is_empty() {
            bytes.push(0);
        }
    }
}

/// The same archive with the bytes of one part changed, so that its sums are right.
pub(in crate::grid) fn changed_inside(bytes: &[u8], dice: &mut Dice) -> Option<Vec<u8>> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).ok()?;
    let chosen = dice.roll(archive.len());
    let mut out = ZipWriter::new(Cursor::new(Vec::new()));
    for number in 0..archive.len() {
        let mut part = archive.by_index(number).ok()?;
        let name = part.name().ok()?.into_owned();
        let mut inside = Vec::new();
        part.read_to_end(&mut inside).ok()?;
        if number == chosen && !inside.is_empty() {
            change(&mut inside, dice);
        }
        out.start_file(name, SimpleFileOptions::default()).ok()?;
        out.write_all(&inside).ok()?;
    }
    Some(out.finish().ok()?.into_inner())
}

#[test]
fn no_change_of_bytes_is_too_much() {
    let mut dice = Dice::of(7);
    let (mut opened, mut refused) = (0, 0);
    for (name, bytes) in corpus() {
        for round in 0..CHANGES {
            let changed = match round % 2 {
                0 => changed_inside(&bytes, &mut dice),
                _ => None,
            };
            let changed = changed.unwrap_or_else(|| {
                let mut changed = bytes.clone();
                change(&mut changed, &mut dice);
                changed
            });
            match open(&name, &changed) {
                Ok(book) => {
                    opened += 1;
                    let read = import(&book, &Profile::default());
                    let rows: usize = book.sheets.iter().map(|sheet| sheet.rows.len()).sum();
                    // Hidden sheets wait for an answer; of the others every row has a verdict.
                    let waits = read
                        .questions
                        .iter()
                        .any(|question| question.key == "hidden");
                    assert!(waits || read.rows.len() >= rows, "{name}, {round}");
                }
                Err(error) => {
                    refused += 1;
                    assert!(!error.help.is_empty());
                }
            }
        }
    }
    assert!(
        opened > 20 && refused > 20,
        "{opened} were read, {refused} refused"
    );
}
