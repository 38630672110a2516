//! Writes lines in the one layout there is.

use super::fill::{Fill, LIMIT, width};
use super::spacing::{Piece, pieces};
use super::token::Kind;
use super::tree::{Body, Entry, Member, What};

/// How much deeper the members of a block stand.
const STEP: usize = 2;

/// What stands between the members of a block on one line.
const BETWEEN: &str = "  ";

/// Writes a whole plan.
pub(super) fn write(plan: &[Entry<'_>]) -> String {
    let mut out = String::new();
    let mut behind_version = false;
    for (at, entry) in plan.iter().enumerate() {
        if at > 0 && (entry.spaced || behind_version) {
            out.push('\n');
        }
        write_entry(&mut out, entry, 0);
        behind_version = is_version(entry);
    }
    out
}

fn is_version(entry: &Entry<'_>) -> bool {
    match &entry.what {
        What::Comment(_) => false,
        What::Member(member) => member
            .tokens
            .first()
            .is_some_and(|first| first.text == "parge"),
    }
}

fn write_entry(out: &mut String, entry: &Entry<'_>, indent: usize) {
    match &entry.what {
        What::Comment(comment) => {
            out.extend(std::iter::repeat_n(' ', indent));
            out.push_str(comment);
        }
        What::Member(member) => write_member(out, member, indent),
    }
    out.push('\n');
}

fn write_member(out: &mut String, member: &Member<'_>, indent: usize) {
    let head = pieces(&member.tokens);
    match &member.block {
        None => Fill::new(out, indent).head(&head, 0),
        Some(block) => match one_line(&head, block, LIMIT.saturating_sub(indent)) {
            Some(line) => {
                out.extend(std::iter::repeat_n(' ', indent));
                out.push_str(&line);
            }
            None => write_block(out, &head, block, indent),
        },
    }
    end_line(out, member.comment);
}

fn write_block(out: &mut String, head: &[Piece<'_>], block: &Body<'_>, indent: usize) {
    if block.entries.is_empty() && block.comment.is_none() {
        Fill::new(out, indent).head(head, " {}".len());
        out.push_str(" {}");
        return;
    }
    Fill::new(out, indent).head(head, " {".len());
    out.push_str(" {");
    end_line(out, block.comment);
    out.push('\n');
    for (at, entry) in block.entries.iter().enumerate() {
        if at > 0 && entry.spaced {
            out.push('\n');
        }
        write_entry(out, entry, indent + STEP);
    }
    out.extend(std::iter::repeat_n(' ', indent));
    out.push('}');
}

fn end_line(out: &mut String, comment: Option<&str>) {
    if let Some(comment) = comment {
        out.push_str("  ");
        out.push_str(comment);
    }
}

/// A member with its block on one line, if the writer had the block so, it holds no comment, and
/// the line is no wider than `room`.
fn one_line(head: &[Piece<'_>], block: &Body<'_>, room: usize) -> Option<String> {
    if !block.one_line || block.comment.is_some() {
        return None;
    }
    let mut line = plain(head, room)?;
    if block.entries.is_empty() {
        return (line.chars().count() + " {}".len() <= room).then(|| line + " {}");
    }
    line.push_str(" { ");
    for (at, entry) in block.entries.iter().enumerate() {
        let What::Member(member) = &entry.what else {
            return None;
        };
        if member.comment.is_some() {
            return None;
        }
        if at > 0 {
            line.push_str(BETWEEN);
        }
        let left = room.checked_sub(line.chars().count())?;
        let head = pieces(&member.tokens);
        line += &match &member.block {
            Some(block) => one_line(&head, block, left)?,
            None => plain(&head, left)?,
        };
    }
    line.push_str(" }");
    (line.chars().count() <= room).then_some(line)
}

/// A head on one line.
fn plain(head: &[Piece<'_>], room: usize) -> Option<String> {
    let broken = head.iter().any(|piece| piece.token.kind == Kind::Comment);
    if broken || width(head) > room {
        return None;
    }
    let mut line = String::new();
    for (at, piece) in head.iter().enumerate() {
        if piece.blank && at > 0 {
            line.push(' ');
        }
        line.push_str(piece.token.text);
    }
    Some(line)
}
