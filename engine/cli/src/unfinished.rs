//! Files that are being written. Each stands beside its place under a name of its own until it is
//! whole, and is gone if it never is: also when the run is interrupted.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use tempfile::NamedTempFile;

/// What the names of these files begin with.
const PREFIX: &str = ".parge-";

/// The exit code of an interrupted run, which shells know as that.
const INTERRUPTED: i32 = 130;

/// The names of all such files of the run.
static NAMES: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());

fn names() -> MutexGuard<'static, BTreeSet<PathBuf>> {
    NAMES.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A file that is not whole yet.
pub(crate) struct Unfinished {
    file: NamedTempFile,
    name: Name,
}

impl Unfinished {
    /// An empty file in the folder of a path.
    pub(crate) fn beside(path: &Path) -> io::Result<Self> {
        let folder = path.parent().filter(|folder| *folder != Path::new(""));
        // Held until the name is known, so that no interruption comes between the two.
        let mut names = names();
        let file = tempfile::Builder::new()
            .prefix(PREFIX)
            .tempfile_in(folder.unwrap_or(Path::new(".")))?;
        let name = Name(file.path().to_owned());
        names.insert(name.0.clone());
        Ok(Self { file, name })
    }

    /// What is written to.
    pub(crate) fn file(&mut self) -> &mut File {
        self.file.as_file_mut()
    }

    /// Sees to it that all of it is on the disk, and that others may read it.
    pub(crate) fn finish(&mut self) -> io::Result<()> {
        self.file.as_file().sync_all()?;
        share(self.file.path())
    }

    /// Puts the file into its place.
    pub(crate) fn take_place(self, path: &Path) -> io::Result<()> {
        let Self { file, name } = self;
        let moved = file.persist(path);
        drop(name);
        moved.map(drop).map_err(|error| error.error)
    }
}

/// A name in the list, for as long as a file has it.
struct Name(PathBuf);

impl Drop for Name {
    fn drop(&mut self) {
        names().remove(&self.0);
    }
}

/// Ends the program at once where somebody asks it to stop: what is whole stays, and what is not is
/// removed. Exit code 130.
pub fn interrupted() -> ! {
    // Held to the end, so that no other file is begun.
    let names = names();
    for name in names.iter() {
        // One that just took its place is not there under this name, and stays.
        let _ = fs::remove_file(name);
    }
    std::process::exit(INTERRUPTED)
}

/// A temporary file is private to its owner; what becomes of it is an ordinary file.
#[cfg(unix)]
fn share(path: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn share(_: &Path) -> io::Result<()> {
    Ok(())
}
