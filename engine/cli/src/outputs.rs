//! Files that a command writes: refused where they cannot be meant, and written all or none.

use crate::files::{self, read_bytes};
use parge_base::{Code, Diagnostic};
use parge_sheets::is_untouched_file;
use std::fs::File;
use std::path::{Path, PathBuf};

/// A file to be written.
pub(crate) struct Output {
    /// Where.
    pub(crate) path: PathBuf,
    /// What.
    pub(crate) bytes: Vec<u8>,
}

/// The largest file that is looked at to see whether it may be replaced.
const MAX_OUTPUT: u64 = 1 << 30;

/// A file that writes itself: for what grows with the job, and is not held as a whole.
pub(crate) struct Written<'w> {
    /// Where.
    pub(crate) path: PathBuf,
    /// Writes it into an empty file.
    pub(crate) write: Box<files::Write<'w>>,
}

/// Writes files, unless one of them is a file that was read, or one that the program did not
/// write or that was changed since; `force` allows the last two.
pub(crate) fn write(
    outputs: &[Output],
    read: &[PathBuf],
    is_untouched: impl Fn(&[u8]) -> bool,
    force: bool,
) -> Result<(), Diagnostic> {
    // A file that cannot be read is not known to be the program's own.
    let own = |path: &Path| read_bytes(path, MAX_OUTPUT).is_ok_and(|bytes| is_untouched(&bytes));
    let paths: Vec<&Path> = outputs.iter().map(|output| &*output.path).collect();
    may_be_written(&paths, read, own, force)?;
    let files = outputs
        .iter()
        .map(|Output { path, bytes }| (&**path, &**bytes));
    files::write_all_whole(&files.collect::<Vec<_>>())
}

/// The same for files that write themselves; `is_untouched` looks at what is there by its path.
pub(crate) fn write_each(
    outputs: &[Written<'_>],
    read: &[PathBuf],
    is_untouched: impl Fn(&Path) -> bool,
    force: bool,
) -> Result<(), Diagnostic> {
    let paths: Vec<&Path> = outputs.iter().map(|output| &*output.path).collect();
    may_be_written(&paths, read, is_untouched, force)?;
    files::write_each_whole(
        outputs
            .iter()
            .map(|Written { path, write }| (path.as_path(), &**write)),
    )
}

/// Whether nothing stands against writing files at these paths.
fn may_be_written(
    paths: &[&Path],
    read: &[PathBuf],
    is_untouched: impl Fn(&Path) -> bool,
    force: bool,
) -> Result<(), Diagnostic> {
    for (at, path) in paths.iter().enumerate() {
        let same = |other: &Path| same_file(path, other);
        let refuse = |why: &str| {
            let message = format!("{} {why}", path.display());
            let help = "give the output another name";
            Err(Diagnostic::new(Code::CannotWrite, message, help))
        };
        if paths.iter().take(at).any(|other| same(other)) {
            return refuse("cannot be two outputs at once");
        }
        if read.iter().any(|read| same(read)) {
            return refuse("is what the figures are read from");
        }
    }
    for path in paths {
        if !force && path.exists() && !is_untouched(path) {
            let message = format!(
                "{} is there already, and was not left as this program wrote it",
                path.display()
            );
            let help = "choose another name, or add `--force` to replace it";
            return Err(Diagnostic::new(Code::AlreadyThere, message, help));
        }
    }
    Ok(())
}

/// Whether a file is an output of this program that nobody has changed: a workbook, or an
/// estimate as JSON. It is looked at in pieces.
pub(crate) fn is_untouched(path: &Path) -> bool {
    // Opening a pipe or a device could wait for ever.
    let opened = path.is_file().then(|| File::open(path));
    opened.is_some_and(|file| file.is_ok_and(|mut file| is_untouched_file(&mut file)))
}

/// Whether a file holds exactly these bytes.
pub(crate) fn holds(path: &Path, bytes: &[u8]) -> bool {
    read_bytes(path, bytes.len() as u64).is_ok_and(|there| there == bytes)
}

/// The path of a workbook, which must be named as one.
pub(crate) fn workbook_path(path: &Path, folder: &Path) -> Result<PathBuf, Diagnostic> {
    named(
        path,
        folder,
        "xlsx",
        "name the workbook as one, such as `-o bid.xlsx`",
    )
}

/// The path of a file, which must have the ending of its kind.
pub(crate) fn named(
    path: &Path,
    folder: &Path,
    kind: &str,
    help: &str,
) -> Result<PathBuf, Diagnostic> {
    let ending = path.extension();
    if ending.is_none_or(|ending| !ending.eq_ignore_ascii_case(kind)) {
        let message = format!("{} does not end in .{kind}", path.display());
        return Err(Diagnostic::new(Code::CannotWrite, message, help));
    }
    Ok(folder.join(path))
}

/// Whether two paths mean one file, by whatever names.
pub(crate) fn same_file(a: &Path, b: &Path) -> bool {
    let real = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    real(a) == real(b)
}
