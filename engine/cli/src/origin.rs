//! Where a plan, its price book and its rule pack are read from: the disk, or a revision of a
//! git repository.

mod git;

use crate::files::{self, Unread};
use git::{Entry, Git, Kind};
use parge_base::{Diagnostic, FileId, Sources};
use std::path::{Component, Path, PathBuf};
use std::{fs, io};

/// What paths in a plan start from.
#[derive(Debug, Clone)]
pub(crate) enum Origin {
    /// A folder on the disk.
    Disk(PathBuf),
    /// A folder in a revision.
    Revision(Revision),
}

/// A folder in a revision of a repository.
#[derive(Debug, Clone)]
pub(crate) struct Revision {
    git: Git,
    /// The top folder of the repository on the disk.
    top: PathBuf,
    /// The hash of the commit: what is read stays the same while a branch moves on.
    commit: String,
    /// The revision as it was asked for.
    asked: String,
    /// From the top of the repository, with `/` between folders.
    folder: String,
}

/// A member of a folder.
pub(crate) struct Member {
    /// Its name.
    pub(crate) name: String,
    /// Whether it is a plain file, and no folder or link.
    pub(crate) is_file: bool,
}

impl Origin {
    /// A plan by the word that a command has for it: a file on the disk, or `REV:PLAN` of a
    /// repository. A file of that name wins. With the origin comes the plan's name in it.
    pub(crate) fn of_word(word: &Path, from: &Path) -> Result<(Self, PathBuf), Diagnostic> {
        let full = from.join(word);
        let split = word.to_str().and_then(revision_and_path);
        match split.filter(|_| !full.exists()) {
            Some((revision, path)) => {
                let found = Revision::find(Git::default(), revision, path, from);
                let (revision, name) =
                    found.map_err(|unread| files::unread(unread, &word.to_string_lossy()))?;
                Ok((Self::Revision(revision), name))
            }
            None => Ok(Self::of_file(&full)),
        }
    }

    /// A file on the disk: its folder, and its name there.
    pub(crate) fn of_file(path: &Path) -> (Self, PathBuf) {
        let folder = path.parent().map(Path::to_owned).unwrap_or_default();
        let name = path.file_name().map_or(path.as_os_str(), |name| name);
        (Self::Disk(folder), PathBuf::from(name))
    }

    /// The name to show for a file that the plan names.
    pub(crate) fn shown(&self, name: &str) -> String {
        match self {
            Self::Revision(revision) if revision.inside(Path::new(name)).is_some() => {
                format!("{}:{name}", revision.asked)
            }
            _ => name.to_owned(),
        }
    }

    /// The file on the disk that a path means; none for one in a revision.
    pub(crate) fn on_disk(&self, path: &Path) -> Option<PathBuf> {
        match self {
            Self::Disk(folder) => Some(folder.join(path)),
            Self::Revision(revision) => match revision.inside(path) {
                Some(_) => None,
                None => Some(revision.top.join(&revision.folder).join(path)),
            },
        }
    }

    /// Reads a text into the sources under the name to show for it.
    pub(crate) fn read_text(
        &self,
        path: &Path,
        shown: &str,
        sources: &mut Sources,
    ) -> Result<FileId, Diagnostic> {
        let bytes = self.read(path, files::MAX_TEXT_BYTES);
        files::add_text(bytes, shown, sources)
    }

    /// Reads a file of at most `limit` bytes.
    pub(crate) fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Unread> {
        match (self.on_disk(path), self) {
            (None, Self::Revision(revision)) => revision.read(path, limit),
            (disk, _) => Ok(files::read_bytes(&disk.unwrap_or_default(), limit)?),
        }
    }

    /// Whether there is such a file.
    pub(crate) fn is_file(&self, path: &Path) -> bool {
        match (self.on_disk(path), self) {
            (None, Self::Revision(revision)) => revision
                .entry(path)
                .is_ok_and(|entry| entry.kind == Kind::File),
            (disk, _) => disk.is_some_and(|path| path.is_file()),
        }
    }

    /// The members of a folder; none where there is nothing of that name. An error says
    /// what is wrong with the folder, behind its name.
    pub(crate) fn members(&self, folder: &Path) -> Result<Vec<Member>, String> {
        match (self.on_disk(folder), self) {
            (None, Self::Revision(revision)) => revision.members(folder),
            (disk, _) => members_on_disk(&disk.unwrap_or_default()),
        }
    }
}

fn members_on_disk(folder: &Path) -> Result<Vec<Member>, String> {
    match fs::symlink_metadata(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Ok(kind) if kind.is_dir() => {}
        _ => return Err("is no plain folder".to_owned()),
    }
    let member = |entry: io::Result<fs::DirEntry>| {
        let entry = entry?;
        Ok(Member {
            name: entry.file_name().to_string_lossy().into_owned(),
            is_file: entry.file_type().is_ok_and(|kind| kind.is_file()),
        })
    };
    let entries = fs::read_dir(folder).and_then(|entries| entries.map(member).collect());
    entries.map_err(|error: io::Error| format!("cannot be read: {error}"))
}

impl Revision {
    /// The revision, and the plan's name in its folder. The plan's path starts from the folder
    /// that the program runs in, as all paths do, or else, as git has it, from the top of the
    /// repository.
    fn find(git: Git, asked: &str, path: &str, from: &Path) -> Result<(Self, PathBuf), Unread> {
        let full = plain(&from.join(path));
        let folder = full
            .ancestors()
            .skip(1)
            .find(|folder| folder.is_dir())
            .unwrap_or(from);
        let place = git.place(folder)?;
        let commit = git.commit(&place.top, asked)?;
        let rest = full.strip_prefix(folder).unwrap_or(Path::new(path));
        let revision = Self {
            git,
            top: place.top,
            commit,
            asked: asked.to_owned(),
            folder: place.inside,
        };
        let from_here = revision.inside(rest).unwrap_or_default();
        let there = |inside: &str| revision.lookup(inside).map(|entry| entry.is_some());
        let inside = match slashed(Path::new(path)) {
            Some(from_top) if !there(&from_here)? && there(&from_top)? => from_top,
            _ => from_here,
        };
        let (folder, name) = inside.rsplit_once('/').unwrap_or(("", &inside));
        let name = PathBuf::from(name);
        let folder = folder.to_owned();
        Ok((Self { folder, ..revision }, name))
    }

    /// The place in the repository that a path from the folder means; none for one outside.
    fn inside(&self, path: &Path) -> Option<String> {
        if path.is_absolute() {
            return slashed(path.strip_prefix(&self.top).ok()?);
        }
        slashed(&Path::new(&self.folder).join(path))
    }

    fn lookup(&self, inside: &str) -> Result<Option<Entry>, Unread> {
        // The top folder itself has no entry.
        if inside.is_empty() {
            return Ok(None);
        }
        let found = self.git.entries(&self.top, &self.commit, inside)?;
        Ok(found.into_iter().find(|entry| entry.path == inside))
    }

    fn entry(&self, path: &Path) -> Result<Entry, Unread> {
        let inside = self.inside(path).unwrap_or_default();
        self.lookup(&inside)?.ok_or_else(|| {
            let reason = format!("`{inside}` is not in revision `{}`", self.asked);
            Unread::because(
                reason,
                "check the path, and that the file was committed by then",
            )
        })
    }

    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Unread> {
        let entry = self.entry(path)?;
        let what = match entry.kind {
            Kind::File if entry.size > limit => return Err(Unread::TooLarge),
            Kind::File => return self.git.blob(&self.top, &entry.object),
            Kind::Link => "a link, and links in a revision are not followed",
            Kind::Folder => "a folder",
            Kind::Other => "no plain file",
        };
        let reason = format!("in revision `{}` it is {what}", self.asked);
        Err(Unread::because(reason, "name a plain file"))
    }

    fn members(&self, folder: &Path) -> Result<Vec<Member>, String> {
        let wrong = |unread: Unread| format!("cannot be read: {}", unread.reason());
        let inside = self.inside(folder).unwrap_or_default();
        match self.lookup(&inside).map_err(wrong)? {
            None => return Ok(Vec::new()),
            Some(entry) if entry.kind == Kind::Folder => {}
            Some(_) => return Err("is no plain folder".to_owned()),
        }
        let inside = format!("{inside}/");
        let found = self.git.entries(&self.top, &self.commit, &inside);
        let member = |entry: Entry| Member {
            name: entry.path.trim_start_matches(&inside).to_owned(),
            is_file: entry.kind == Kind::File,
        };
        Ok(found.map_err(wrong)?.into_iter().map(member).collect())
    }
}

/// `REV` and `PLAN` of `REV:PLAN`. As git has it, a colon inside braces is part of the revision:
/// `HEAD@{12:30}:job.parge`.
fn revision_and_path(word: &str) -> Option<(&str, &str)> {
    let mut depth = 0_usize;
    for (at, letter) in word.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            ':' if depth == 0 => return Some((word.get(..at)?, word.get(at + 1..)?)),
            _ => {}
        }
    }
    None
}

/// A path without `.` and `..`, as far as it goes without asking the disk.
pub(crate) fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if plain.file_name().is_some() => {
                plain.pop();
            }
            part => plain.push(part),
        }
    }
    plain
}

/// A path from the top of a repository as git writes it; none for one that leads out of it.
fn slashed(path: &Path) -> Option<String> {
    let mut parts = Vec::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::Normal(name) => parts.push(name.to_str()?),
            Component::ParentDir => {
                parts.pop()?;
            }
            Component::RootDir | Component::Prefix(_) => return None,
        }
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests;
