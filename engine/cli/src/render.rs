//! Draws diagnostics on the terminal.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use parge_base::{Diagnostic, Label, Severity, Sources, Span};
use std::io::{self, Write};
use std::ops::Range;

/// The most diagnostics that are drawn: nobody reads on, and drawing takes time.
const MAX_DRAWN: usize = 200;

/// The longest stretch of text that is drawn around a place, in bytes. Lines that long were
/// written by no one, and a picture of one shows nothing.
const MAX_STRETCH: usize = 4096;

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
    for diagnostic in diagnostics.iter().take(MAX_DRAWN) {
        writeln!(err, "{}\n", renderer.render(&[group(sources, diagnostic)]))?;
    }
    if let Some(more) = diagnostics
        .len()
        .checked_sub(MAX_DRAWN)
        .filter(|more| *more > 0)
    {
        writeln!(err, "{more} more are not shown: mend these first\n")?;
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

/// So many of something.
pub(crate) fn plural(count: usize, word: &str) -> String {
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
/// Where that is too much to draw, a stretch around the first label.
fn snippet<'a>(
    sources: &'a Sources,
    labels: &[(usize, &'a Label)],
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let Some((_, first)) = labels.first() else {
        return Snippet::source("");
    };
    let text = sources.text(first.span.file);
    let all = labels
        .iter()
        .map(|(_, label)| label.span)
        .fold(first.span, Span::to);
    let lines = lines_around(text, all.range());
    let (stretch, labels) = match lines.len() <= MAX_STRETCH {
        true => (lines, labels),
        false => (
            stretch_around(text, first.span.range()),
            labels.get(..1).unwrap_or(labels),
        ),
    };
    let annotations = labels.iter().map(|(number, label)| {
        let kind = if *number == 0 {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        let inside =
            |at: usize| boundary(text, at.clamp(stretch.start, stretch.end)) - stretch.start;
        let range = label.span.range();
        let annotation = kind.span(inside(range.start)..inside(range.end.max(range.start)));
        annotation.label((!label.text.is_empty()).then_some(label.text.as_str()))
    });
    Snippet::source(text.get(stretch.clone()).unwrap_or(""))
        .path(sources.name(first.span.file))
        .line_start(sources.place(first.span.file, stretch.start as u32).line)
        .annotations(annotations)
}

/// The whole lines that a range touches.
fn lines_around(text: &str, range: Range<usize>) -> Range<usize> {
    let (start, end) = (boundary(text, range.start), boundary(text, range.end));
    let before = text
        .get(..start)
        .and_then(|before| before.rfind('\n'))
        .map_or(0, |at| at + 1);
    let after = text
        .get(end..)
        .and_then(|after| after.find('\n'))
        .map_or(text.len(), |at| end + at);
    before..after
}

/// A part of the line on which a range begins.
fn stretch_around(text: &str, range: Range<usize>) -> Range<usize> {
    const BESIDE: usize = 120;
    let line = lines_around(text, range.start..range.start);
    let start = boundary(text, range.start.saturating_sub(BESIDE)).max(line.start);
    let end = boundary(text, range.start + BESIDE).min(line.end);
    start..end.max(start)
}

/// The last boundary between letters at or before an offset.
fn boundary(text: &str, at: usize) -> usize {
    let at = at.min(text.len());
    (0..=at)
        .rev()
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(0)
}
