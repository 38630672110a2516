//! The plans of a folder and of the folders in it.

use parge_base::{Code, Diagnostic};
use std::fs::{self, DirEntry};
use std::io;
use std::path::{Path, PathBuf};

/// What the name of a plan ends in.
const ENDING: &str = "parge";

/// A file that may be a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PlanFile {
    /// Where it is.
    pub(super) path: PathBuf,
    /// Its path from the folder of all.
    pub(super) inside: PathBuf,
}

impl PlanFile {
    /// Its path from the folder of all, with `/` between folders on every machine.
    pub(super) fn name(&self) -> String {
        let parts = self.inside.components();
        let parts = parts.map(|part| part.as_os_str().to_string_lossy().into_owned());
        parts.collect::<Vec<_>>().join("/")
    }
}

/// The plans in a folder and below, in the order of their paths. Folders that links lead to are not
/// looked through, since they may lead back, nor are hidden ones. `shown` is the folder as it was
/// asked for; what is said is of folders that cannot be read.
pub(super) fn plans(root: &Path, shown: &Path) -> (Vec<PlanFile>, Vec<Diagnostic>) {
    let (mut plans, mut said) = (Vec::new(), Vec::new());
    let mut folders = vec![PathBuf::new()];
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(root.join(&folder)).and_then(|entries| entries.collect());
        match entries {
            Ok(entries) => sort_out(entries, root, &folder, &mut folders, &mut plans),
            Err(error) => said.push(unread(&shown.join(folder), &error)),
        }
    }
    plans.sort_by(|a: &PlanFile, b: &PlanFile| a.inside.cmp(&b.inside));
    (plans, said)
}

fn sort_out(
    entries: Vec<DirEntry>,
    root: &Path,
    folder: &Path,
    folders: &mut Vec<PathBuf>,
    plans: &mut Vec<PlanFile>,
) {
    for entry in entries {
        let inside = folder.join(entry.file_name());
        let is_hidden = entry.file_name().to_string_lossy().starts_with('.');
        if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            folders.extend((!is_hidden).then_some(inside));
            continue;
        }
        let path = root.join(&inside);
        let is_plan = inside.extension().is_some_and(|ending| ending == ENDING);
        if is_plan && !is_hidden && !path.is_dir() {
            plans.push(PlanFile { path, inside });
        }
    }
}

fn unread(folder: &Path, error: &io::Error) -> Diagnostic {
    let message = format!("the folder {} cannot be read: {error}", folder.display());
    let help = "ask for permission to read it, or move its plans elsewhere";
    Diagnostic::new(Code::CannotRead, message, help)
}
