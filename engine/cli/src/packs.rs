//! Finding rule packs: by name among those in the program, or by path; and the packs under them.

use crate::origin::{Origin, plain};
use parge_base::{Code, Diagnostic, Sources, Span, suggest};
use parge_rules::{PackFiles, extends};
use std::path::{Path, PathBuf};

/// The largest file of a pack, in bytes.
const MAX_FILE: u64 = 4 << 20;
/// The most files of a pack.
const MAX_FILES: usize = 500;
/// The most packs that may rest on each other.
const MAX_LAYERS: usize = 8;

/// A pack that was read.
struct Found {
    files: PackFiles,
    place: Place,
}

/// Where a pack stands.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Place {
    /// In the program, by its name.
    Program(String),
    /// In a folder; the path starts where the plan's paths do.
    Folder(PathBuf),
}

impl Place {
    fn words(&self) -> String {
        match self {
            Self::Program(name) => format!("`{name}`"),
            Self::Folder(path) => format!("`{}`", path.display()),
        }
    }
}

/// A pack by the word that the job uses, with the packs that it rests on, the lowest first. What
/// is wrong with a pack under it is shown in the manifest that asks for it.
pub(crate) fn find(
    word: &str,
    origin: &Origin,
    sources: &mut Sources,
) -> Result<Vec<PackFiles>, Diagnostic> {
    let mut chain = vec![asked_for(word, origin)?];
    while let Some(base) = chain.last().and_then(|top| under(top, &chain, origin)) {
        match base {
            Ok(base) => chain.push(base),
            Err((diagnostic, range)) => {
                let Some(top) = chain.pop() else { break };
                let name = format!("{}/{}", top.files.folder, PackFiles::MANIFEST);
                let text = top.files.texts.get(PackFiles::MANIFEST).cloned();
                let file = sources.add(name, text.unwrap_or_default());
                let span = Span::new(file, range.start, range.end);
                return Err(diagnostic.at(span, ""));
            }
        }
    }
    Ok(chain.into_iter().rev().map(|found| found.files).collect())
}

/// A pack that the tests of another name: a name means a pack of the program, and a path starts
/// from the folder of the pack that is tested.
pub(crate) fn find_beside(
    word: &str,
    tested: &str,
    origin: &Origin,
    sources: &mut Sources,
) -> Result<Vec<PackFiles>, Diagnostic> {
    if is_of_the_program(word) {
        return find(word, origin, sources);
    }
    if !is_path(word) || is_of_the_program(tested) {
        let near = suggest::help_for(word, parge_standard_packs::names());
        let help = format!("{near} (a pack in a folder is named by its path, such as `../{word}`)");
        return Err(not_found(word, help));
    }
    let path = Path::new(".").join(plain(&Path::new(tested).join(word)));
    find(&path.display().to_string(), origin, sources)
}

/// A pack or what is wrong with it, and where in the manifest over it it is asked for.
type Under = Result<Found, (Diagnostic, std::ops::Range<usize>)>;

/// The pack that the last one of a chain extends, if it does.
fn under(top: &Found, chain: &[Found], origin: &Origin) -> Option<Under> {
    let (word, range) = extends(top.files.texts.get(PackFiles::MANIFEST)?)?;
    let base = base(&word, &top.place, origin).and_then(|base| {
        let first = chain.iter().position(|found| found.place == base.place);
        match first {
            Some(first) => Err(circle(chain.get(first..).unwrap_or(chain))),
            None if chain.len() == MAX_LAYERS => Err(too_many()),
            None => Ok(base),
        }
    });
    Some(base.map_err(|diagnostic| (diagnostic, range)))
}

fn circle(packs: &[Found]) -> Diagnostic {
    let packs = packs.iter().chain(packs.first());
    let packs: Vec<String> = packs.map(|found| found.place.words()).collect();
    let message = format!(
        "packs extend each other in a circle: {}",
        packs.join(" extends ")
    );
    let help = "take this line out of the pack that the other is to rest on";
    Diagnostic::new(Code::PackCircle, message, help)
}

fn too_many() -> Diagnostic {
    let message = format!("more than {MAX_LAYERS} packs rest on each other");
    let help = "put the rows and rules of some of them into one pack";
    Diagnostic::new(Code::PackCircle, message, help)
}

/// Whether a word is a path: it has a `/`, or begins with `.`.
fn is_path(word: &str) -> bool {
    word.contains(['/', '\\']) || word.starts_with('.')
}

/// A pack by the word that the job uses: a name means a pack of the program, or else a folder
/// of that name beside the plan; a path starts from the plan's folder.
fn asked_for(word: &str, origin: &Origin) -> Result<Found, Diagnostic> {
    if !is_path(word)
        && let Some(found) = of_the_program(word)
    {
        return Ok(found);
    }
    let path = Path::new(word);
    if origin.is_file(&path.join(PackFiles::MANIFEST)) {
        return Ok(Found {
            files: read(path, word, origin)?,
            place: Place::Folder(plain(path)),
        });
    }
    let help = if is_path(word) {
        format!(
            "a pack is a folder with {} in it; a path in a plan starts from the plan's folder",
            PackFiles::MANIFEST
        )
    } else {
        suggest::help_for(word, parge_standard_packs::names())
    };
    Err(not_found(word, help))
}

/// A pack by the word that the pack over it uses: a name means a pack of the program, and a path
/// starts from that pack's folder.
fn base(word: &str, over: &Place, origin: &Origin) -> Result<Found, Diagnostic> {
    if !is_path(word) {
        let help = || {
            let near = suggest::help_for(word, parge_standard_packs::names());
            format!("{near} (a pack in a folder is named by its path, such as `../{word}`)")
        };
        return of_the_program(word).ok_or_else(|| not_found(word, help()));
    }
    // A pack of the program has no folder that a path could start from.
    let path = match over {
        Place::Folder(folder) => Some(plain(&folder.join(word))),
        Place::Program(_) => None,
    };
    let path = path.filter(|path| origin.is_file(&path.join(PackFiles::MANIFEST)));
    let Some(path) = path else {
        let help = format!(
            "a pack is a folder with {} in it; the path starts from the folder of the pack that extends it",
            PackFiles::MANIFEST
        );
        return Err(not_found(word, help));
    };
    let shown = match path.as_os_str().is_empty() {
        true => ".".to_owned(),
        false => path.display().to_string(),
    };
    Ok(Found {
        files: read(&path, &shown, origin)?,
        place: Place::Folder(path),
    })
}

/// Whether a word means a pack of the program.
pub(crate) fn is_of_the_program(word: &str) -> bool {
    !is_path(word) && parge_standard_packs::names().contains(&word)
}

fn of_the_program(name: &str) -> Option<Found> {
    let files = parge_standard_packs::find(name)?;
    let place = Place::Program(name.to_owned());
    Some(Found { files, place })
}

fn not_found(word: &str, help: String) -> Diagnostic {
    let message = format!("there is no rule pack `{word}`");
    Diagnostic::new(Code::PackNotFound, message, help)
}

/// The folder of a pack that holds its tests.
const TESTS: &str = "tests";

/// The tests of a pack, by the names to show for their files: of the pack itself, not of those
/// under it, whose numbers it may have replaced. They are read only when they are asked for, so
/// that no estimate fails for a test.
pub(crate) fn tests(word: &str, origin: &Origin) -> Result<Vec<(String, String)>, Diagnostic> {
    if is_of_the_program(word) {
        let files = parge_standard_packs::find(word).unwrap_or_default();
        let texts = files.texts.into_iter();
        let is_test = |path: &str| path.starts_with("tests/") && path.ends_with(".toml");
        return Ok(texts
            .filter(|(path, _)| is_test(path))
            .map(|(path, text)| (format!("{word}/{path}"), text))
            .collect());
    }
    let folder = Path::new(word).join(TESTS);
    let shown = format!("{}/{TESTS}", origin.shown(word));
    let mut names = listed(&folder, &shown, "toml", origin)?;
    names.sort();
    let read = |name: String| {
        let shown = format!("{shown}/{name}");
        let text = text(&folder.join(name), &shown, origin)?;
        Ok((shown, text))
    };
    names.into_iter().map(read).collect()
}

fn read(path: &Path, name: &str, origin: &Origin) -> Result<PackFiles, Diagnostic> {
    let name = &origin.shown(name);
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

#[cfg(test)]
mod tests;
