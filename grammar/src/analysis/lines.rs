//! Places in a text as editors count them: lines, and columns in UTF-16 units, both from 0.

/// A place by line and column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Position {
    /// Line, from 0.
    pub line: u32,
    /// Column in UTF-16 units, from 0.
    pub column: u32,
}

/// Where the lines of a text begin. A line ends with a line feed, a carriage return, or both.
#[derive(Debug, Clone)]
pub(super) struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    pub(super) fn of(text: &str) -> Self {
        let bytes = text.as_bytes();
        let ends = bytes.iter().enumerate().filter(|(at, byte)| match byte {
            b'\n' => true,
            b'\r' => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        });
        let starts = std::iter::once(0).chain(ends.map(|(at, _)| at + 1));
        Self {
            starts: starts.collect(),
        }
    }

    /// The place of an offset. One inside of a character counts as its start, one beyond the end
    /// as the end.
    pub(super) fn position(&self, text: &str, offset: usize) -> Position {
        let offset = boundary(text, offset);
        let line = self.starts.partition_point(|start| *start <= offset);
        let line = line.saturating_sub(1);
        let start = self.starts.get(line).copied().unwrap_or(0);
        let before = text.get(start..offset).unwrap_or("");
        let column = before.trim_end_matches('\r').encode_utf16().count();
        Position {
            line: clip(line),
            column: clip(column),
        }
    }

    /// The offset of a place. A column beyond the end of its line counts as that end, and a line
    /// beyond the last one as the end of the text.
    pub(super) fn offset(&self, text: &str, position: Position) -> usize {
        let line = position.line as usize;
        let Some(start) = self.starts.get(line).copied() else {
            return text.len();
        };
        let end = self.starts.get(line + 1).copied().unwrap_or(text.len());
        let line = text.get(start..end).unwrap_or("");
        let line = line.trim_end_matches(['\n', '\r']);
        let mut left = position.column as usize;
        for (at, letter) in line.char_indices() {
            // A column inside of a pair of units counts as its start.
            if left < letter.len_utf16() {
                return start + at;
            }
            left -= letter.len_utf16();
        }
        start + line.len()
    }
}

/// The offset of a character, from one that may lie inside of it or beyond the text.
pub(super) fn boundary(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

fn clip(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
