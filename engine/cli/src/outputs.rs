//! Files that a command writes: refused where they cannot be meant, and written all or none.

use crate::files::{read_bytes, write_all_whole};
use parge_base::{Code, Diagnostic};
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

/// Writes files, unless one of them is a file that was read, or one that the program did not
/// write or that was changed since; `force` allows the last two.
pub(crate) fn write(
    outputs: &[Output],
    read: &[PathBuf],
    is_untouched: impl Fn(&[u8]) -> bool,
    force: bool,
) -> Result<(), Diagnostic> {
    for (at, Output { path, .. }) in outputs.iter().enumerate() {
        let same = |other: &Path| same_file(path, other);
        let refuse = |why: &str| {
            let message = format!("{} {why}", path.display());
            let help = "give the output another name";
            Err(Diagnostic::new(Code::CannotWrite, message, help))
        };
        if outputs.iter().take(at).any(|other| same(&other.path)) {
            return refuse("cannot be two outputs at once");
        }
        if read.iter().any(|read| same(read)) {
            return refuse("is what the figures are read from");
        }
    }
    for Output { path, .. } in outputs {
        // A file that cannot be read is not known to be the program's own.
        let own = || read_bytes(path, MAX_OUTPUT).is_ok_and(|bytes| is_untouched(&bytes));
        if !force && path.exists() && !own() {
            let message = format!(
                "{} is there already, and was not left as this program wrote it",
                path.display()
            );
            let help = "choose another name, or add `--force` to replace it";
            return Err(Diagnostic::new(Code::AlreadyThere, message, help));
        }
    }
    let files: Vec<(&Path, &[u8])> = outputs
        .iter()
        .map(|output| (output.path.as_path(), output.bytes.as_slice()))
        .collect();
    write_all_whole(&files)
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
fn same_file(a: &Path, b: &Path) -> bool {
    let real = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    real(a) == real(b)
}
