//! Reading and writing files. What is written is whole or absent.

use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use std::fs;
use std::io::{self, Read, Write};
use std::path::Path;

/// The longest text file that is read, in bytes.
pub(crate) const MAX_TEXT_BYTES: u64 = 256 << 20;

/// Reads a text file into the sources under the name to show for it.
pub(crate) fn read_text(
    path: &Path,
    name: &str,
    sources: &mut Sources,
) -> Result<FileId, Diagnostic> {
    let bytes = read_bytes(path, MAX_TEXT_BYTES);
    add_text(bytes.map_err(Unread::from), name, sources)
}

/// Adds a text, read from wherever, to the sources under the name to show for it.
pub(crate) fn add_text(
    bytes: Result<Vec<u8>, Unread>,
    name: &str,
    sources: &mut Sources,
) -> Result<FileId, Diagnostic> {
    let bytes = bytes.map_err(|why| unread(why, name))?;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(sources.add(name, text)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let file = sources.add(name, text);
            let help = "save the file as UTF-8 in the text editor, then try again";
            let message = format!("{name} is not UTF-8 text");
            Err(Diagnostic::new(Code::NotUtf8, message, help).at(
                Span::new(file, at, at + '\u{fffd}'.len_utf8()),
                "this cannot be read",
            ))
        }
    }
}

/// Why a file could not be read, in words.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Unread {
    /// It is larger than is read.
    TooLarge,
    /// Anything else, and what to do.
    Because { reason: String, help: &'static str },
}

impl Unread {
    /// A reason, and what to do.
    pub(crate) fn because(reason: String, help: &'static str) -> Self {
        Self::Because { reason, help }
    }

    /// The reason alone.
    pub(crate) fn reason(self) -> String {
        match self {
            Self::TooLarge => "it is too large".to_owned(),
            Self::Because { reason, .. } => reason,
        }
    }
}

impl From<ReadError> for Unread {
    fn from(error: ReadError) -> Self {
        let error = match error {
            ReadError::TooLarge => return Self::TooLarge,
            ReadError::Io(error) => error,
        };
        let (reason, help) = match error.kind() {
            io::ErrorKind::NotFound => ("it is not there", "check the name and the folder"),
            io::ErrorKind::PermissionDenied => (
                "reading it is not permitted",
                "ask for permission to read it",
            ),
            io::ErrorKind::IsADirectory => ("it is a folder", "name a file in it"),
            io::ErrorKind::InvalidInput => ("it is no plain file", "name a plain file"),
            _ => return Self::because(error.to_string(), "check the file and the disk"),
        };
        Self::because(reason.to_owned(), help)
    }
}

/// What to say of a text that could not be read.
pub(crate) fn unread(why: Unread, name: &str) -> Diagnostic {
    match why {
        Unread::TooLarge => {
            let message = format!("{name} is larger than {} MB", MAX_TEXT_BYTES >> 20);
            Diagnostic::new(Code::TooLarge, message, "divide it into several files")
        }
        Unread::Because { reason, help } => {
            let message = format!("{name} cannot be read: {reason}");
            Diagnostic::new(Code::CannotRead, message, help)
        }
    }
}

/// Why bytes could not be read.
pub(crate) enum ReadError {
    TooLarge,
    Io(io::Error),
}

/// Reads a file that is no larger than `limit` bytes.
pub(crate) fn read_bytes(path: &Path, limit: u64) -> Result<Vec<u8>, ReadError> {
    // Opening a pipe or a device could wait for ever.
    let kind = fs::metadata(path).map_err(ReadError::Io)?;
    if !kind.is_file() {
        let kind = if kind.is_dir() {
            io::ErrorKind::IsADirectory
        } else {
            io::ErrorKind::InvalidInput
        };
        return Err(ReadError::Io(kind.into()));
    }
    let file = fs::File::open(path).map_err(ReadError::Io)?;
    let mut bytes = Vec::new();
    file.take(limit + 1)
        .read_to_end(&mut bytes)
        .map_err(ReadError::Io)?;
    if bytes.len() as u64 > limit {
        Err(ReadError::TooLarge)
    } else {
        Ok(bytes)
    }
}

/// Writes a file beside its place and renames it only when it is whole.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Diagnostic> {
    write_all_whole(&[(path, bytes)])
}

/// Writes several files so that none takes its place before all of them are whole.
pub(crate) fn write_all_whole(files: &[(&Path, &[u8])]) -> Result<(), Diagnostic> {
    let cannot = |path: &Path, error: &io::Error| {
        let message = format!("{} cannot be written: {error}", path.display());
        let help = "check that the folder is there, may be written to, and has room";
        Diagnostic::new(Code::CannotWrite, message, help)
    };
    let mut whole = Vec::new();
    for (path, bytes) in files {
        whole.push((
            path,
            beside(path, bytes).map_err(|error| cannot(path, &error))?,
        ));
    }
    for (path, file) in whole {
        file.persist(path)
            .map_err(|error| cannot(path, &error.error))?;
    }
    Ok(())
}

fn beside(path: &Path, bytes: &[u8]) -> io::Result<tempfile::NamedTempFile> {
    let named = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let mut file = tempfile::NamedTempFile::new_in(named.unwrap_or(Path::new(".")))?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    share(file.path())?;
    Ok(file)
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
