//! Finding rule packs: by name among those in the program, or by path.

use crate::origin::Origin;
use parge_base::{Code, Diagnostic, suggest};
use parge_rules::PackFiles;
use std::path::Path;

/// The largest file of a pack, in bytes.
const MAX_FILE: u64 = 4 << 20;
/// The most files of a pack.
const MAX_FILES: usize = 500;

/// A pack by the word that the job uses: a name means a pack of the program, or else a folder
/// of that name beside the plan; anything with a `/`, or beginning with `.`, is a path from the
/// plan's folder.
pub(crate) fn find(word: &str, origin: &Origin) -> Result<PackFiles, Diagnostic> {
    let is_path = word.contains(['/', '\\']) || word.starts_with('.');
    if !is_path && let Some(files) = parge_standard_packs::find(word) {
        return Ok(files);
    }
    let path = Path::new(word);
    if origin.is_file(&path.join(PackFiles::MANIFEST)) {
        return read(path, word, origin);
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

fn read(path: &Path, name: &str, origin: &Origin) -> Result<PackFiles, Diagnostic> {
    let mut files = PackFiles {
        folder: name.to_owned(),
        ..PackFiles::default()
    };
    let mut inside = vec![PackFiles::MANIFEST.to_owned()];
    for (folder, ending) in [("scripts", "rhai"), ("tables", "csv")] {
        let names = listed(
            &path.join(folder),
            &format!("{name}/{folder}"),
            ending,
            origin,
        )?;
        inside.extend(names.into_iter().map(|file| format!("{folder}/{file}")));
    }
    for inside in inside {
        let text = text(&path.join(&inside), &format!("{name}/{inside}"), origin)?;
        files.texts.insert(inside, text);
    }
    Ok(files)
}

/// The names of the files of a pack's folder; none where there is no folder. Whatever is not a
/// plain file with the ending is refused: a script passed over is figures passed over. Links are
/// refused too, since what they point to may lie outside the pack.
fn listed(
    folder: &Path,
    shown: &str,
    ending: &str,
    origin: &Origin,
) -> Result<Vec<String>, Diagnostic> {
    let wrong = |message: String| {
        let help = format!("keep only plain files named `….{ending}` in this folder");
        Diagnostic::new(Code::CannotRead, message, help)
    };
    let members = origin
        .members(folder)
        .map_err(|reason| wrong(format!("{shown} {reason}")))?;
    let mut names = Vec::new();
    for member in members {
        let name = member.name;
        // Editors and file managers leave hidden files behind; they are no part of the pack.
        if name.starts_with('.') {
            continue;
        }
        if !member.is_file || !name.ends_with(&format!(".{ending}")) {
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

fn text(path: &Path, shown: &str, origin: &Origin) -> Result<String, Diagnostic> {
    let wrong = |reason: String| {
        let message = format!("{shown} cannot be read: {reason}");
        let help = "a pack holds plain text files of moderate size, in UTF-8";
        Diagnostic::new(Code::CannotRead, message, help)
    };
    let bytes = origin.read(path, MAX_FILE);
    let bytes = bytes.map_err(|unread| wrong(unread.reason()))?;
    String::from_utf8(bytes).map_err(|_| wrong("it is not UTF-8 text".into()))
}
