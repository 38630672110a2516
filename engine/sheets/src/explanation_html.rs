//! An explanation as a page: one file, nested parts to be folded, nothing that runs.

use crate::explained::{entry_figure, formula, stands};
use crate::seal;
use crate::text::escape;
use parge_base::Sources;
use parge_calc::explain::{Entry, Outline};
use parge_calc::job::{Job, UnitSystem};
use std::collections::BTreeSet;

/// The deepest level that is written; a plan can be deeper than a reader goes.
const DEEPEST: usize = 60;

/// Levels that are open when the page is.
const OPEN: usize = 2;

const MARK: &str = "<!-- parge explain ";
const END: &str = " -->\n";

const STYLE: &str = "\
body { font: 16px/1.45 Georgia, serif; color: #222; max-width: 60em; margin: 2em auto; padding: 0 1em }
h1 { font-size: 1.4em; margin: 0 0 .2em }
.job, .place, .note { color: #666 }
.place, .note { font-size: .85em }
.value { font-weight: bold; white-space: nowrap }
.formula { margin: .1em 0 .2em 1.2em; font-style: italic }
details, .leaf { margin: .15em 0 .15em 1.2em; border-left: 1px solid #ddd; padding-left: .6em }
summary { cursor: pointer }
a { color: #345 }
@media print { body { font-size: 11px; margin: 0 }
summary { list-style: none } .leaf { break-inside: avoid-page }
details::details-content { content-visibility: visible; block-size: auto } }
";

/// An explanation as a page of HTML.
pub fn explanation_html(outline: &Outline, job: &Job, sources: &Sources) -> String {
    let title = escape(&outline.figure);
    let name = escape(&job.name);
    let mut page = Page {
        outline,
        sources,
        system: job.units,
        seen: BTreeSet::new(),
        text: format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width\">\n\
             <title>{title}, {name}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n\
             <h1>{title}</h1>\n<p class=\"job\">{name}</p>\n"
        ),
    };
    page.entry(0, 0);
    page.text.push_str("</body>\n</html>\n");
    let print = seal::fingerprint(page.text.as_bytes());
    format!("{}{MARK}{print:016x}{END}", page.text)
}

/// Whether a page is one that [`explanation_html`] wrote and nobody has changed.
pub(crate) fn is_explanation_html(bytes: &[u8]) -> bool {
    let length = MARK.len() + 16 + END.len();
    let Some((page, end)) = bytes
        .len()
        .checked_sub(length)
        .and_then(|at| bytes.split_at_checked(at))
    else {
        return false;
    };
    end == format!("{MARK}{:016x}{END}", seal::fingerprint(page)).as_bytes()
}

struct Page<'a> {
    outline: &'a Outline,
    sources: &'a Sources,
    system: UnitSystem,
    seen: BTreeSet<usize>,
    text: String,
}

impl Page<'_> {
    fn entry(&mut self, number: usize, level: usize) {
        let Some(entry) = self.outline.entries.get(number) else {
            return;
        };
        let head = self.head(entry);
        if entry.terms.is_empty() {
            self.text += &format!("<div class=\"leaf\">{head}</div>\n");
        } else if !self.seen.insert(number) {
            self.text += &format!(
                "<div class=\"leaf\">{head} <a href=\"#e{number}\">explained above</a></div>\n"
            );
        } else {
            let open = if level < OPEN { " open" } else { "" };
            self.text += &format!("<details id=\"e{number}\"{open}><summary>{head}</summary>\n");
            let formula = escape(&formula(self.outline, entry, self.system));
            if !formula.is_empty() {
                self.text += &format!("<p class=\"formula\">= {formula}</p>\n");
            }
            if level < DEEPEST {
                for term in &entry.terms {
                    self.entry(*term, level + 1);
                }
            }
            self.text += "</details>\n";
        }
    }

    fn head(&self, entry: &Entry) -> String {
        let value = escape(&entry_figure(entry, self.system).text());
        let mut head = match entry.name.as_str() {
            "" => format!("<span class=\"value\">{value}</span>"),
            name => format!("{} <span class=\"value\">{value}</span>", escape(name)),
        };
        let stands = stands(entry, self.sources);
        for (class, text) in [
            ("place", stands.as_str()),
            ("note", entry.note.as_deref().unwrap_or("")),
        ] {
            if !text.is_empty() {
                head += &format!(" <span class=\"{class}\">{}</span>", escape(text));
            }
        }
        head
    }
}

#[cfg(test)]
mod tests;
