//! A JSON object written member by member, laid out as `serde_json` lays out the whole of it: so that
//! lines of its longest lists can be made elsewhere, on all cores.

use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::{Formatter, PrettyFormatter};
use std::fs::File;
use std::io::{self, Read, Seek, Write};

/// An object that is being written.
pub(super) struct Document<W> {
    to: W,
    is_empty: bool,
}

impl<W: Write> Document<W> {
    /// Begins the object.
    pub(super) fn begin(mut to: W) -> io::Result<Self> {
        to.write_all(b"{")?;
        Ok(Self { to, is_empty: true })
    }

    /// Writes a member.
    pub(super) fn member(&mut self, name: &str, value: &impl Serialize) -> io::Result<()> {
        self.name(name)?;
        write_within(1, value, &mut self.to)
    }

    /// Writes a member that is a list, whose lines come in pieces.
    pub(super) fn list(
        &mut self,
        name: &str,
        pieces: impl FnOnce(&mut List<'_, W>) -> io::Result<()>,
    ) -> io::Result<()> {
        self.name(name)?;
        self.to.write_all(b"[")?;
        let mut list = List {
            to: &mut self.to,
            is_empty: true,
        };
        pieces(&mut list)?;
        let is_empty = list.is_empty;
        self.to.write_all(if is_empty { b"]" } else { b"\n  ]" })
    }

    /// Ends the object.
    pub(super) fn end(mut self) -> io::Result<()> {
        let end: &[u8] = if self.is_empty { b"}" } else { b"\n}" };
        self.to.write_all(end)?;
        self.to.flush()
    }

    fn name(&mut self, name: &str) -> io::Result<()> {
        let between: &[u8] = if self.is_empty { b"\n  " } else { b",\n  " };
        self.is_empty = false;
        self.to.write_all(between)?;
        write_within(1, &name, &mut self.to)?;
        self.to.write_all(b": ")
    }
}

/// A list within the object, being written.
pub(super) struct List<'d, W> {
    to: &'d mut W,
    is_empty: bool,
}

impl<W: Write> List<'_, W> {
    /// Writes some lines.
    pub(super) fn lines(&mut self, lines: &Lines) -> io::Result<()> {
        // Each line begins with the comma behind the line before it.
        let skipped = usize::from(self.is_empty).min(lines.0.len());
        self.is_empty &= lines.0.is_empty();
        self.to
            .write_all(lines.0.get(skipped..).unwrap_or_default())
    }

    /// Writes lines that were put aside.
    pub(super) fn put_aside(&mut self, aside: Aside) -> io::Result<()> {
        let mut file = aside.0;
        file.rewind()?;
        if self.is_empty {
            self.is_empty = file.read(&mut [0])? == 0;
        }
        io::copy(&mut file, self.to)?;
        Ok(())
    }
}

/// Lines of a list, ready to be written.
#[derive(Default)]
pub(super) struct Lines(Vec<u8>);

impl Lines {
    /// Adds a line.
    pub(super) fn push(&mut self, line: &impl Serialize) -> io::Result<()> {
        self.0.extend_from_slice(b",\n    ");
        write_within(2, line, &mut self.0)
    }
}

/// Lines that come before their place: kept in a file that nobody else sees, which is gone with them.
pub(super) struct Aside(File);

impl Aside {
    pub(super) fn new() -> io::Result<Self> {
        tempfile::tempfile().map(Self)
    }

    /// Keeps some lines.
    pub(super) fn lines(&mut self, lines: &Lines) -> io::Result<()> {
        self.0.write_all(&lines.0)
    }
}

/// Writes a value that stands in so many objects and lists.
fn write_within(depth: usize, value: &impl Serialize, to: &mut impl Write) -> io::Result<()> {
    let mut layout = PrettyFormatter::new();
    for _ in 0..depth {
        layout.begin_array(&mut io::sink())?;
    }
    value.serialize(&mut Serializer::with_formatter(to, layout))?;
    Ok(())
}

#[cfg(test)]
mod tests;
