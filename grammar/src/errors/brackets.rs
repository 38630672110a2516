//! Mistakes in braces, brackets and quotes.

use super::shown::shown;
use parge_base::{Code, Diagnostic, Span};

pub(crate) fn unclosed_text(span: Span) -> Diagnostic {
    Diagnostic::new(
        Code::UnclosedText,
        "the quoted text is not closed",
        "write `\"` behind the text, on the same line, as in `\"Entry planter\"`",
    )
    .at(span, "begins here and runs to the end of the line")
}

pub(crate) fn unclosed_block(brace: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Unclosed,
        "the block is not closed",
        "write `}` behind the last line of the block, as in `finish bark { technique carve }`",
    )
    .at(brace, "no `}` closes this")
}

pub(crate) fn unclosed_paren(bracket: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Unclosed,
        "the bracket is not closed",
        "write `)` behind what belongs together, as in `(0ft, 4ft)`",
    )
    .at(bracket, "no `)` closes this")
}

pub(crate) fn stray_brace(brace: Span) -> Diagnostic {
    Diagnostic::new(
        Code::StrayBrace,
        "the `}` closes nothing",
        "delete it, or write the `{` that it closes, as in `finish bark { technique carve }`",
    )
    .at(brace, "no block is open here")
}

pub(crate) fn headless_block(brace: Span) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        "a block stands without a statement before it",
        "say what the block is of, as in `finish bark { technique carve }`",
    )
    .at(brace, "belongs to nothing")
}

/// `head` is the statement as written.
pub(crate) fn missing_brace(span: Span, head: &str) -> Diagnostic {
    let example = match head.split([' ', '\t']).next() {
        Some("job") => "`job \"Entry court\" { crew 3 }`",
        Some("template") => "`template bay(width, high) on block { … }`",
        Some("alternate") => {
            "`alternate \"Carve the planter\" { structure \"Entry planter\" { finish bark } }`"
        }
        Some("structure") => "`structure \"Entry planter\" on block { … }`",
        _ => "`finish bark { technique carve }`",
    };
    Diagnostic::new(
        Code::Syntax,
        format!("the `{{` is missing behind {}", shown(head)),
        format!("write what belongs to it in braces, as in {example}"),
    )
    .at(span, "`{` belongs behind this")
}

pub(crate) fn blocks_too_deep(brace: Span, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::TooDeep,
        format!("more than {limit} blocks stand in each other"),
        "close blocks before the next one begins, as in `finish bark { technique carve }`",
    )
    .at(brace, "one too many")
}

pub(crate) fn parens_too_deep(bracket: Span, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::TooDeep,
        format!("more than {limit} brackets stand in each other"),
        "give a part of the calculation a name, as in `let part = (a + b) * c`",
    )
    .at(bracket, "one too many")
}
