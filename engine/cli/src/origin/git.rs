//! Asking the program `git`. Its arguments never pass through a shell, it is told to take paths
//! as they are, and nothing is asked of it that would run a hook or a filter of the repository.

use crate::files::Unread;
use std::ffi::OsStr;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The program, by its name.
#[derive(Debug, Clone)]
pub(super) struct Git(&'static str);

impl Default for Git {
    fn default() -> Self {
        Self("git")
    }
}

/// A folder on the disk as a place in a repository.
pub(super) struct Place {
    /// The top folder of the repository.
    pub(super) top: PathBuf,
    /// The folder from there, with `/` between folders; empty for the top itself.
    pub(super) inside: String,
}

/// What stands at a path of a revision.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    File,
    Folder,
    Link,
    /// Another repository.
    Other,
}

/// A line of a listing.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub(super) kind: Kind,
    /// The hash of its content.
    pub(super) object: String,
    /// In bytes; nothing for what is no file.
    pub(super) size: u64,
    /// From the top of the repository.
    pub(super) path: String,
}

/// Variables that would make git look at another repository than the plan's.
const MISLEADING: [&str; 6] = [
    "GIT_DIR",
    "GIT_WORK_TREE",
    "GIT_INDEX_FILE",
    "GIT_PREFIX",
    "GIT_COMMON_DIR",
    "GIT_NAMESPACE",
];

impl Git {
    /// The repository that a folder lies in.
    pub(super) fn place(&self, folder: &Path) -> Result<Place, Unread> {
        let ask = |what: &str| {
            let output = self.run(folder, ["rev-parse", what])?;
            match output.status.success() {
                true => Ok(String::from_utf8_lossy(&output.stdout)
                    .trim_end_matches(['\n', '\r'])
                    .to_owned()),
                false => Err(no_repository(folder, &output)),
            }
        };
        Ok(Place {
            top: PathBuf::from(ask("--show-toplevel")?),
            inside: ask("--show-prefix")?.trim_end_matches('/').to_owned(),
        })
    }

    /// The hash of the commit that a revision means.
    pub(super) fn commit(&self, top: &Path, revision: &str) -> Result<String, Unread> {
        if revision.is_empty() {
            let reason = "no revision stands before the colon".to_owned();
            return Err(Unread::because(reason, "name one, as in `HEAD:job.parge`"));
        }
        let unknown = || {
            let reason = format!("the repository has no revision `{revision}`");
            let help = "name a branch, a tag or a hash, such as `git log --oneline` shows";
            Unread::because(reason, help)
        };
        // Git would take it for an option.
        if revision.starts_with('-') {
            return Err(unknown());
        }
        let revision = format!("{revision}^{{commit}}");
        let output = self.run(top, ["rev-parse", "--verify", "--quiet", &revision])?;
        let hash = String::from_utf8_lossy(&output.stdout).trim().to_owned();
        let found = output.status.success() && hash.bytes().all(|byte| byte.is_ascii_hexdigit());
        if found { Ok(hash) } else { Err(unknown()) }
    }

    /// The entry at a path, or those of a folder whose path ends with `/`.
    pub(super) fn entries(
        &self,
        top: &Path,
        commit: &str,
        path: &str,
    ) -> Result<Vec<Entry>, Unread> {
        let list = ["ls-tree", "-z", "-l", "--full-tree", commit, "--", path];
        let output = self.run(top, list)?;
        if !output.status.success() {
            return Err(failed(&output));
        }
        let listing = String::from_utf8_lossy(&output.stdout);
        Ok(listing.split('\0').filter_map(entry).collect())
    }

    /// A file's content, as it was committed.
    pub(super) fn blob(&self, top: &Path, object: &str) -> Result<Vec<u8>, Unread> {
        let output = self.run(top, ["cat-file", "blob", object])?;
        match output.status.success() {
            true => Ok(output.stdout),
            false => Err(failed(&output)),
        }
    }

    fn run(
        &self,
        folder: &Path,
        arguments: impl IntoIterator<Item = impl AsRef<OsStr>>,
    ) -> Result<Output, Unread> {
        let mut command = Command::new(self.0);
        command
            .args(["--no-pager", "--no-optional-locks", "--literal-pathspecs"])
            .arg("-C")
            .arg(folder)
            .args(arguments)
            .env("LC_ALL", "C")
            // A clone that left files out must not fetch them behind the estimator's back.
            .env("GIT_NO_LAZY_FETCH", "1")
            .env("GIT_TERMINAL_PROMPT", "0")
            .stdin(Stdio::null());
        for name in MISLEADING {
            command.env_remove(name);
        }
        command.output().map_err(|error| match error.kind() {
            io::ErrorKind::NotFound => {
                let reason = "the program `git` is not there to look it up".to_owned();
                let help = "install git, or compare two plans on the disk";
                Unread::because(reason, help)
            }
            _ => {
                let reason = format!("the program `git` cannot be run: {error}");
                Unread::because(reason, "check how git is installed")
            }
        })
    }
}

fn no_repository(folder: &Path, output: &Output) -> Unread {
    if !String::from_utf8_lossy(&output.stderr).contains("not a git repository") {
        return failed(output);
    }
    let reason = format!("{} lies in no git repository", folder.display());
    let help = "name a plan in the folder of a repository, or compare two plans on the disk";
    Unread::because(reason, help)
}

/// What git itself says is wrong.
fn failed(output: &Output) -> Unread {
    let said = String::from_utf8_lossy(&output.stderr);
    let said = said.lines().next().unwrap_or("nothing").trim();
    let reason = format!("git says `{}`", said.trim_start_matches("fatal: "));
    Unread::because(
        reason,
        "mend the repository, or compare two plans on the disk",
    )
}

/// `100644 blob HASH    SIZE<tab>PATH`
fn entry(line: &str) -> Option<Entry> {
    let (facts, path) = line.split_once('\t')?;
    let mut facts = facts.split_ascii_whitespace();
    let (mode, kind, object, size) = (facts.next()?, facts.next()?, facts.next()?, facts.next()?);
    let kind = match (mode, kind) {
        ("120000", _) => Kind::Link,
        (_, "blob") => Kind::File,
        (_, "tree") => Kind::Folder,
        _ => Kind::Other,
    };
    Some(Entry {
        kind,
        object: object.to_owned(),
        size: size.parse().unwrap_or(0),
        path: path.to_owned(),
    })
}

#[cfg(test)]
mod tests;
