//! Finding rule packs: by name among those in the program, or by path.

use crate::files::{ReadError, read_bytes};
use parge_base::{Code, Diagnostic, suggest};
use parge_rules::PackFiles;
use std::fs;
use std::io;
use std::path::Path;

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
        for file in listed(&path.join(folder), &format!("{name}/{folder}"), ending)? {
            let inside = format!("{folder}/{file}");
            add(&mut files, &path.join(&inside), inside)?;
        }
    }
    Ok(files)
}

/// The names of the files of a pack's folder; none where there is no folder. Whatever is not a
/// plain file with the ending is refused: a script passed over is figures passed over. Links are
/// refused too, since what they point to may lie outside the pack.
fn listed(folder: &Path, shown: &str, ending: &str) -> Result<Vec<String>, Diagnostic> {
    let wrong = |message: String| {
        let help = format!("keep only plain files named `….{ending}` in this folder");
        Diagnostic::new(Code::CannotRead, message, help)
    };
    match fs::symlink_metadata(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Ok(kind) if kind.is_dir() => {}
        _ => return Err(wrong(format!("{shown} is no plain folder"))),
    }
    let unreadable = |error: io::Error| wrong(format!("{shown} cannot be read: {error}"));
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let entry = entry.map_err(unreadable)?;
        let name = entry.file_name().to_string_lossy().into_owned();
        // Editors and file managers leave hidden files behind; they are no part of the pack.
        if name.starts_with('.') {
            continue;
        }
        let plain = entry.file_type().is_ok_and(|kind| kind.is_file());
        if !plain || !name.ends_with(&format!(".{ending}")) {
            return Err(wrong(format!(
                "{shown}/{name} is no plain file that ends in .{ending}"
            )));
        }
        names.push(name);
        if names.len() > MAX_FILES {
            return Err(wrong(format!("{shown} holds more than {MAX_FILES} files")));
        }
    }
    Ok(names)
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
