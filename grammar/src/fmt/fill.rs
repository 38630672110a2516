//! Puts a head on one line, or on several where it is too long.

use super::spacing::Piece;
use super::token::Kind;

/// The columns of a line.
pub(super) const LIMIT: usize = 100;

/// How much deeper the lines of a head stand after its first.
const CONTINUED: usize = 4;

/// Lines being filled with one head.
pub(super) struct Fill<'o> {
    out: &'o mut String,
    /// Columns used of the current line.
    column: usize,
    /// Where further lines begin.
    indent: usize,
    /// What the next piece meets.
    state: State,
    /// The most brackets around a place where the line may be broken.
    deepest: usize,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    /// Nothing stands on the line yet.
    Fresh,
    /// The line must go on.
    Bound,
    /// The line may be broken here.
    Free,
    /// A comment ended the line.
    Ended,
}

impl<'o> Fill<'o> {
    /// Begins at an indent that is not written yet.
    pub(super) fn new(out: &'o mut String, indent: usize) -> Self {
        out.extend(std::iter::repeat_n(' ', indent));
        Self {
            out,
            column: indent,
            indent: indent + CONTINUED,
            state: State::Fresh,
            deepest: 0,
        }
    }

    /// Writes a head. `tail` is the width of what will follow on its last line.
    pub(super) fn head(mut self, pieces: &[Piece<'_>], tail: usize) {
        let deepest = pieces.iter().filter_map(|piece| piece.break_after).max();
        self.deepest = deepest.unwrap_or(0);
        let is_comment = |piece: &Piece<'_>| piece.token.kind == Kind::Comment;
        let mut rest = pieces;
        while let Some(at) = rest.iter().position(is_comment) {
            let (before, after) = rest.split_at(at);
            self.put(before, 0, 0);
            if let Some((comment, after)) = after.split_first() {
                self.comment(comment);
                rest = after;
            }
        }
        self.put(rest, 0, tail);
    }

    fn comment(&mut self, comment: &Piece<'_>) {
        if comment.token.lines > 0 {
            self.new_line();
        } else {
            self.out.push_str("  ");
        }
        self.out.push_str(comment.token.text);
        self.state = State::Ended;
    }

    /// Writes pieces that may be broken where they stand in `depth` brackets. What is too wide
    /// even so is broken further inside.
    fn put(&mut self, pieces: &[Piece<'_>], depth: usize, tail: usize) {
        let mut parts = pieces
            .split_inclusive(|piece| piece.break_after == Some(depth))
            .peekable();
        while let Some(part) = parts.next() {
            let tail = if parts.peek().is_some() { 0 } else { tail };
            let width = width(part) + tail;
            if self.state == State::Ended {
                self.new_line();
            }
            if self.column + self.blank(part) + width <= LIMIT {
                self.write(part);
            } else if self.state == State::Free && self.indent + width <= LIMIT {
                self.new_line();
                self.write(part);
            } else if depth < self.deepest {
                self.put(part, depth + 1, tail);
            } else {
                if self.state == State::Free {
                    self.new_line();
                }
                self.write(part);
            }
            if part.last().is_some_and(|last| last.break_after.is_some()) {
                self.state = State::Free;
            }
        }
    }

    fn blank(&self, part: &[Piece<'_>]) -> usize {
        let wanted = part.first().is_some_and(|first| first.blank);
        usize::from(wanted && self.state != State::Fresh)
    }

    fn write(&mut self, part: &[Piece<'_>]) {
        for piece in part {
            if piece.blank && self.state != State::Fresh {
                self.out.push(' ');
                self.column += 1;
            }
            self.out.push_str(piece.token.text);
            self.column += piece.width();
            self.state = State::Bound;
        }
    }

    fn new_line(&mut self) {
        self.out.push('\n');
        self.out.extend(std::iter::repeat_n(' ', self.indent));
        self.column = self.indent;
        self.state = State::Fresh;
    }
}

/// Columns of pieces with the blanks between them.
pub(super) fn width(pieces: &[Piece<'_>]) -> usize {
    let blanks = pieces.iter().skip(1).filter(|piece| piece.blank).count();
    blanks + pieces.iter().map(Piece::width).sum::<usize>()
}
