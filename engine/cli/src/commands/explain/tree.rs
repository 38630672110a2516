//! An explanation as a tree on the terminal.

use crate::table::visible;
use parge_base::Sources;
use parge_calc::explain::{Entry, Outline, Value};
use parge_calc::job::UnitSystem;
use parge_sheets::explained::{called, entry_figure, figure, formula, stands};
use std::collections::BTreeSet;

/// The deepest level that is drawn: nobody follows further, and a plan can be deeper.
const DEEPEST: usize = 60;
/// Levels beneath a step of the price that are drawn unless told otherwise: all that a total
/// rests on is the whole job.
const PRICE_DEPTH: usize = 2;
/// Contributions that are drawn one by one; what is less than these is added up.
const SHOWN: usize = 6;
/// The narrowest column of text.
const NARROWEST: usize = 30;

/// What it takes to draw.
pub(super) struct Tree<'a> {
    pub(super) outline: &'a Outline,
    pub(super) sources: &'a Sources,
    pub(super) system: UnitSystem,
    pub(super) width: usize,
    pub(super) all: bool,
}

/// Where an entry is drawn.
struct Branch<'b> {
    /// What stands before its first line.
    first: String,
    /// What stands before its further lines and its own branches.
    rest: &'b str,
    level: usize,
}

struct Drawn {
    text: String,
    depth: usize,
    seen: BTreeSet<usize>,
    /// Whether something is left out that another level would show.
    cut: bool,
}

impl Tree<'_> {
    /// The whole tree.
    pub(super) fn text(&self, depth: Option<usize>) -> String {
        let usual = if self.outline.figure.starts_with("price.") && !self.all {
            PRICE_DEPTH
        } else {
            DEEPEST
        };
        let mut drawn = Drawn {
            text: format!("{}\n", visible(&self.outline.figure)),
            depth: depth.unwrap_or(usual).min(DEEPEST),
            seen: BTreeSet::new(),
            cut: false,
        };
        let branch = Branch {
            first: String::new(),
            rest: "",
            level: 0,
        };
        self.entry(0, &branch, &mut drawn);
        if drawn.cut {
            drawn.text += "\nMore stands beneath what ends in …: --depth N goes further down.\n";
        }
        drawn.text
    }

    fn entry(&self, number: usize, branch: &Branch<'_>, drawn: &mut Drawn) {
        let Some(entry) = self.outline.entries.get(number) else {
            return;
        };
        let value = entry_figure(entry, self.system).text();
        let known = !entry.terms.is_empty() && !drawn.seen.insert(number);
        let folded = entry.alike && !self.all && !entry.terms.is_empty();
        let deeper = branch.level < drawn.depth;
        let mut head = self.head(entry, &value);
        if !entry.terms.is_empty() && !known && !folded && !deeper {
            head += " …";
            drawn.cut = true;
        }
        if known {
            head += " (as above)";
        }
        self.line(
            &branch.first,
            branch.rest,
            &head,
            &self.remark(entry),
            drawn,
        );
        let open = !known && !folded;
        if open && deeper && !entry.formula.is_empty() {
            let before = format!("{}│ ", branch.rest);
            let text = format!("= {}", visible(&formula(self.outline, entry, self.system)));
            self.line(&before, &before, &text, "", drawn);
        }
        if open && deeper {
            self.terms(entry, branch, drawn);
        }
        // What was not drawn in full may be drawn where it is met again.
        if !known && (folded || !deeper) {
            drawn.seen.remove(&number);
        }
    }

    fn terms(&self, entry: &Entry, branch: &Branch<'_>, drawn: &mut Drawn) {
        let many = entry.contributions && !self.all && entry.terms.len() > SHOWN + 1;
        let terms = self.different(&entry.terms);
        let shown = if many { SHOWN } else { terms.len() };
        let (shown, hidden) = terms.split_at(shown.min(terms.len()));
        for (at, term) in shown.iter().enumerate() {
            let last = at + 1 == shown.len() && hidden.is_empty();
            let (turn, bar) = if last {
                ("└ ", "  ")
            } else {
                ("├ ", "│ ")
            };
            let rest = format!("{}{bar}", branch.rest);
            let below = Branch {
                first: format!("{}{turn}", branch.rest),
                rest: &rest,
                level: branch.level + 1,
            };
            self.entry(*term, &below, drawn);
        }
        if let Some(together) = self.outline.together(hidden) {
            let text = self.hidden(hidden, together);
            let before = format!("{}└ ", branch.rest);
            let rest = format!("{}  ", branch.rest);
            self.line(&before, &rest, &text, "", drawn);
        }
    }

    /// The entries without those that would be drawn just as one before them: a size that a
    /// line states twice.
    fn different(&self, terms: &[usize]) -> Vec<usize> {
        let mut seen = BTreeSet::new();
        let new = |number: &&usize| {
            let entry = self.outline.entries.get(**number);
            let bare = entry.filter(|entry| entry.name.is_empty() && entry.terms.is_empty());
            bare.is_none_or(|entry| {
                let figure = entry_figure(entry, self.system).text();
                seen.insert((figure, stands(entry, self.sources)))
            })
        };
        terms.iter().filter(new).copied().collect()
    }

    fn hidden(&self, hidden: &[usize], together: Value) -> String {
        let first = hidden
            .first()
            .and_then(|number| self.outline.entries.get(*number));
        let unit = first.and_then(|entry| entry.unit.as_ref());
        let value = figure(together, unit, self.system).text();
        format!(
            "and {} more, together {value} (--all shows them)",
            hidden.len()
        )
    }

    fn head(&self, entry: &Entry, value: &str) -> String {
        if entry.name.is_empty() {
            return value.to_owned();
        }
        format!("{}: {value}", visible(&called(entry, self.system)))
    }

    /// Where an entry stands, who says so, and what is said of it.
    fn remark(&self, entry: &Entry) -> String {
        let stands = stands(entry, self.sources);
        let note = entry.note.as_deref().unwrap_or("");
        let both: Vec<&str> = [stands.as_str(), note]
            .into_iter()
            .filter(|text| !text.is_empty())
            .collect();
        visible(&both.join("; "))
    }

    /// A line with its remark at its end where that fits, or else on a line of its own.
    fn line(&self, first: &str, rest: &str, text: &str, remark: &str, drawn: &mut Drawn) {
        let room = self
            .width
            .saturating_sub(first.chars().count())
            .max(NARROWEST);
        let fits = text.chars().count() + remark.chars().count() + 3 <= room;
        let mut lines = if fits && !remark.is_empty() {
            vec![format!("{text} [{remark}]")]
        } else {
            wrapped(text, room)
        };
        if !fits && !remark.is_empty() {
            lines.extend(wrapped(&format!("  [{remark}]"), room));
        }
        for (at, line) in lines.iter().enumerate() {
            let before = if at == 0 { first } else { rest };
            drawn.text += format!("{before}{line}").trim_end();
            drawn.text.push('\n');
        }
    }
}

/// A text in lines of at most so many letters, broken at blanks; further lines are indented as
/// the first, and a little more.
pub(crate) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let indent: String = text.chars().take_while(|letter| *letter == ' ').collect();
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let full = line.chars().count() + 1 + word.chars().count() > width;
        if full && !line.trim().is_empty() {
            lines.push(std::mem::take(&mut line));
            line = format!("{indent}  ");
        } else if line.is_empty() {
            line.clone_from(&indent);
        }
        if !line.trim().is_empty() {
            line.push(' ');
        }
        line += word;
    }
    lines.push(line);
    lines
}
