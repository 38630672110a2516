//! Finding rule packs: by name among those in the program, or by path.

use crate::files::{ReadError, read_bytes};
use parge_base::{Code, Diagnostic, suggest};
use parge_rules::PackFiles;
use std::fs;
use std::path::{Path, PathBuf};

/// The largest file of a pack, in bytes.
const MAX_FILE: u64 = 4 << 20;
/// The most files of a pack.
const MAX_FILES: usize = 500;

/// A pack by the word that the job uses: a name means a pack of the program, or else a folder
/// of that name beside the plan; anything with a `/`, or beginning with `.`, is a path from the
/// plan's folder.
pub(crate) fn find(word: &str, folder: &Path) -> Result<PackFiles, Diagnostic> {
    let is_path = word.contains(['/', '\\']) || word.starts_with('.');
    if !is_path && let Some(files) = parge_standard_packs::find(word) {
        return Ok(files);
    }
    let path = folder.join(word);
    if path.join(PackFiles::MANIFEST).is_file() {
        return read(&path, word);
    }
    let message = format!("there is no rule pack `{word}`");
    let help = if is_path {
        format!(
            "a pack is a folder with {} in it; the path starts from the plan's folder",
            PackFiles::MANIFEST
        )
    } else {
        suggest::help_for(word, parge_standard_packs::names())
    };
    Err(Diagnostic::new(Code::PackNotFound, message, help))
}

fn read(path: &Path, name: &str) -> Result<PackFiles, Diagnostic> {
    let mut files = PackFiles {
        folder: name.to_owned(),
        ..PackFiles::default()
    };
    add(
        &mut files,
        &path.join(PackFiles::MANIFEST),
        PackFiles::MANIFEST.to_owned(),
    )?;
    for (folder, ending) in [("scripts", "rhai"), ("tables", "csv")] {
        for file in listed(&path.join(folder), ending) {
            let Some(file_name) = file.file_name().and_then(|name| name.to_str()) else {
                continue;
            };
            let inside = format!("{folder}/{file_name}");
            add(&mut files, &file, inside)?;
        }
    }
    Ok(files)
}

/// The plain files of a folder with an ending. Links are passed over: what they point to may
/// lie outside the pack.
fn listed(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let plain = entries.filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()));
    let paths = plain.map(|entry| entry.path());
    paths
        .filter(|path| path.extension().is_some_and(|found| found == ending))
        .take(MAX_FILES)
        .collect()
}

fn add(files: &mut PackFiles, path: &Path, inside: String) -> Result<(), Diagnostic> {
    let wrong = |reason: String| {
        let message = format!("{}/{inside} cannot be read: {reason}", files.folder);
        Diagnostic::new(
            Code::CannotRead,
            message,
            "a pack holds plain text files of moderate size, in UTF-8",
        )
    };
    let bytes = read_bytes(path, MAX_FILE).map_err(|error| match error {
        ReadError::TooLarge => wrong("it is too large".into()),
        ReadError::Io(error) => wrong(error.to_string()),
    })?;
    let text = String::from_utf8(bytes).map_err(|_| wrong("it is not UTF-8 text".into()))?;
    files.texts.insert(inside, text);
    Ok(())
}
