//! Mistakes of a text as a whole.

use parge_base::{Code, Diagnostic, FileId, Span};

pub(crate) fn empty(file: FileId) -> Diagnostic {
    Diagnostic::new(
        Code::EmptyPlan,
        "the plan is empty",
        "begin with the line `parge 1`, then a job such as `job \"Entry court\" { crew 3 }`",
    )
    .at(Span::new(file, 0, 0), "nothing stands here")
}

pub(crate) fn too_large(file: FileId, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::TooLarge,
        format!("the plan is longer than {limit} bytes"),
        "write one job a file",
    )
    .at(Span::new(file, 0, 0), "")
}

pub(crate) fn too_many_statements(place: Span, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::TooLarge,
        format!("the plan has {limit} statements and lines or more; what follows is not read"),
        "write one job a file",
    )
    .at(place, "reading stopped here")
}

pub(crate) fn too_many(file: FileId, end: usize, limit: usize) -> Diagnostic {
    Diagnostic::new(
        Code::Syntax,
        format!("there are more than {limit} mistakes; the rest is not shown"),
        "put the first ones right and try again; a plan is plain text that begins with `parge 1`",
    )
    .at(Span::new(file, end, end), "")
}
