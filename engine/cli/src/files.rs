//! Reading and writing files. What is written is whole or absent.

use crate::unfinished::Unfinished;
use parge_base::{Code, Diagnostic, FileId, Sources, Span};
use rayon::prelude::*;
use std::fs::{self, File};
use std::io::{self, Read, Write as _};
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
    let file = File::open(path).map_err(ReadError::Io)?;
    // Room for all of it at once, and one byte more, so that its end is met without growing.
    let room = kind.len().min(limit) + 1;
    let mut bytes = Vec::with_capacity(usize::try_from(room).unwrap_or_default());
    file.take(limit + 1)
        .read_to_end(&mut bytes)
        .map_err(ReadError::Io)?;
    if bytes.len() as u64 > limit {
        Err(ReadError::TooLarge)
    } else {
        Ok(bytes)
    }
}

/// Why a file was not written.
pub(crate) enum Unwritten {
    /// The disk would not have it.
    Io(io::Error),
    /// It could not be made, and what to say of it.
    Said(Diagnostic),
}

impl From<io::Error> for Unwritten {
    fn from(error: io::Error) -> Self {
        Self::Io(error)
    }
}

/// Writes the content of a file into an empty one.
pub(crate) type Write<'w> = dyn Fn(&mut File) -> Result<(), Unwritten> + 'w;

/// Writes a file beside its place and renames it only when it is whole.
pub(crate) fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Diagnostic> {
    write_all_whole(&[(path, bytes)])
}

/// Writes several files so that none takes its place before all of them are whole: beside each other,
/// since most of the time the disk is waited for.
pub(crate) fn write_all_whole(files: &[(&Path, &[u8])]) -> Result<(), Diagnostic> {
    let write = |bytes: &[u8], file: &mut File| Ok(file.write_all(bytes)?);
    let whole = files.par_iter().map(|(path, bytes)| {
        let file = whole_beside(path, &|file| write(bytes, file))?;
        Ok((*path, file))
    });
    // Whichever is done first, the first of the list that failed is told.
    let whole: Vec<Result<(&Path, Unfinished), Diagnostic>> = whole.collect();
    take_places(whole.into_iter().collect::<Result<_, _>>()?)
}

/// The same for files that write themselves, one after another.
pub(crate) fn write_each_whole<'f>(
    files: impl Iterator<Item = (&'f Path, &'f Write<'f>)>,
) -> Result<(), Diagnostic> {
    let whole = files.map(|(path, write)| Ok((path, whole_beside(path, write)?)));
    take_places(whole.collect::<Result<_, _>>()?)
}

fn take_places(whole: Vec<(&Path, Unfinished)>) -> Result<(), Diagnostic> {
    for (path, file) in whole {
        file.take_place(path)
            .map_err(|error| cannot_write(path, &error))?;
    }
    Ok(())
}

fn whole_beside(path: &Path, write: &Write<'_>) -> Result<Unfinished, Diagnostic> {
    beside(path, write).map_err(|why| match why {
        Unwritten::Io(error) => cannot_write(path, &error),
        Unwritten::Said(diagnostic) => diagnostic,
    })
}

fn beside(path: &Path, write: &Write<'_>) -> Result<Unfinished, Unwritten> {
    let mut unfinished = Unfinished::beside(path)?;
    write(unfinished.file())?;
    unfinished.finish()?;
    Ok(unfinished)
}

/// What to say of a file or folder that could not be written.
pub(crate) fn cannot_write(path: &Path, error: &io::Error) -> Diagnostic {
    let message = format!("{} cannot be written: {error}", path.display());
    let help = "check that the folder is there, may be written to, and has room";
    Diagnostic::new(Code::CannotWrite, message, help)
}
