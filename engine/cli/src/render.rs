//! Draws diagnostics on the terminal.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use parge_base::{Diagnostic, Label, Severity, Sources};
use std::io::{self, Write};

/// Draws diagnostics with the lines that they concern, and a closing count.
pub(crate) fn diagnostics(
    err: &mut dyn Write,
    sources: &Sources,
    diagnostics: &[Diagnostic],
    colour: bool,
    width: u16,
) -> io::Result<()> {
    let renderer = if colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let renderer = renderer.term_width(usize::from(width));
    for diagnostic in diagnostics {
        writeln!(err, "{}\n", renderer.render(&[group(sources, diagnostic)]))?;
    }
    let count = |severity| {
        diagnostics
            .iter()
            .filter(|d| d.severity() == severity)
            .count()
    };
    let (errors, warnings) = (count(Severity::Error), count(Severity::Warning));
    if errors + warnings > 0 {
        writeln!(
            err,
            "{}, {}",
            plural(errors, "error"),
            plural(warnings, "warning")
        )?;
    }
    Ok(())
}

fn plural(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

fn group<'a>(sources: &'a Sources, diagnostic: &'a Diagnostic) -> Group<'a> {
    let level = match diagnostic.severity() {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let mut group = Group::with_title(
        level
            .primary_title(&diagnostic.message)
            .id(diagnostic.code.id()),
    );
    let mut left: Vec<(usize, &Label)> = diagnostic.labels.iter().enumerate().collect();
    while let Some((_, first)) = left.first() {
        let file = first.span.file;
        let (here, elsewhere): (Vec<_>, Vec<_>) = left
            .into_iter()
            .partition(|(_, label)| label.span.file == file);
        group = group.element(snippet(sources, &here));
        left = elsewhere;
    }
    group.element(Level::HELP.message(&diagnostic.help))
}

/// The lines of one file from the first label to the last; the renderer folds what lies between.
fn snippet<'a>(
    sources: &'a Sources,
    labels: &[(usize, &'a Label)],
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let spans = || labels.iter().map(|(_, label)| label.span);
    let all = spans().reduce(parge_base::Span::to);
    let Some(all) = all else {
        return Snippet::source("");
    };
    let text = sources.text(all.file);
    let start = text
        .get(..all.start as usize)
        .and_then(|before| before.rfind('\n'))
        .map_or(0, |at| at + 1);
    let end = text
        .get(all.end as usize..)
        .and_then(|after| after.find('\n'))
        .map_or(text.len(), |at| all.end as usize + at);
    let annotations = labels.iter().map(|(number, label)| {
        let kind = if *number == 0 {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        let range = label.span.range();
        let annotation = kind.span(range.start - start..range.end.max(range.start) - start);
        annotation.label((!label.text.is_empty()).then_some(label.text.as_str()))
    });
    Snippet::source(text.get(start..end).unwrap_or(""))
        .path(sources.name(all.file))
        .line_start(sources.place(all.file, start as u32).line)
        .annotations(annotations)
}
