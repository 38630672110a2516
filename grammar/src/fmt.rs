//! The one layout of a plan.
//!
//! - The version line stands first, with an empty line behind it.
//! - Statements begin at the left margin; what stands in a block is indented by two blanks.
//! - A block that was written on one line stays there while it fits 100 columns and holds no
//!   comment, with two blanks between its members. Any other block has one member a line.
//! - One blank stands between words, around an operator and behind a comma; none inside brackets,
//!   and none behind the sign of a number. Nothing is lined up in columns, so that a change of
//!   one line shows as one line.
//! - A statement that was broken over lines is joined. Where it does not fit 100 columns it is
//!   broken behind commas and operators, and goes on four blanks deeper.
//! - A comment on a line of its own is indented as what follows it; one at the end of a line
//!   stays there, behind two blanks. One between a head and its `{` moves behind the brace.
//! - Any number of empty lines becomes one; those at the start and end of a block or of the plan,
//!   and those inside a statement, go.
//! - Lines end with a line feed. Names, numbers and quoted texts stay as written.
//!
//! It works on the text and not on the tree: the outline gives statements, lines and blocks, and
//! a scan for tokens the rest. A statement that is new to the language is laid out as the others.

mod fill;
mod layout;
mod members;
pub(crate) mod number;
mod same;
mod spacing;
pub(crate) mod token;
mod tree;

use crate::outline::outline;
use crate::parse;
use parge_base::diagnostic::any_error;
use parge_base::{Code, Diagnostic, FileId, Span};

/// Lays out a plan text, known as `file`. What it returns says exactly what `text` says, with the
/// same comments, and is not changed by being laid out again.
///
/// # Errors
///
/// The mistakes of a text that cannot be read; it is not laid out. Should the layout ever say
/// something else than the text, that is found out here and is the error, so that nobody writes
/// it over the plan.
pub fn format(file: FileId, text: &str) -> Result<String, Vec<Diagnostic>> {
    let parsed = parse(file, text);
    if any_error(&parsed.diagnostics) {
        return Err(parsed.diagnostics);
    }
    let items = outline(file, text, &mut Vec::new());
    // Names may be words of the language, so that two members look like three. Then all lines
    // are left whole.
    for cut_members in [true, false] {
        let laid_out = layout::write(&tree::read(text, &items, cut_members));
        let again = parse(file, &laid_out);
        if again.diagnostics.is_empty()
            && same::plans(&parsed.plan, &again.plan)
            && tree::comments(text).eq(tree::comments(&laid_out))
        {
            return Ok(laid_out);
        }
    }
    Err(vec![not_the_same(file)])
}

fn not_the_same(file: FileId) -> Diagnostic {
    Diagnostic::new(
        Code::CannotWrite,
        "the plan cannot be laid out without changing what it says, so it is left as it is",
        "go on with the plan as it is; please report this with the plan",
    )
    .at(Span::new(file, 0, 0), "")
}

#[cfg(test)]
mod tests;
