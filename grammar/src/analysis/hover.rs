//! What a name, a word or a number at a place means.

mod other_system;

use super::names::touches;
use super::sketch::Thing;
use super::words;
use super::{Analysis, ThingKind};
use std::ops::Range;

/// The longest statement shown, in bytes.
const MAX_SHOWN: usize = 400;

/// A short text in Markdown, and what it is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hover {
    /// What is explained.
    pub range: Range<usize>,
    /// The explanation, in Markdown.
    pub markdown: String,
}

impl Analysis {
    /// What stands at an offset: for a name the statement that defines it, for a word of the
    /// language its meaning and right form, for a size the same size in the other system.
    pub fn hover(&self, offset: usize) -> Option<Hover> {
        let offset = self.clipped(offset);
        self.hover_name(offset)
            .or_else(|| self.hover_word(offset))
            .or_else(|| self.hover_number(offset))
    }

    fn hover_name(&self, offset: usize) -> Option<Hover> {
        let (range, thing) = self.names.named_at(&self.sketch, offset)?;
        let thing = self.sketch.things.get(thing?)?;
        let markdown = match thing.kind {
            ThingKind::Parameter => self.parameter(thing)?,
            _ => {
                let mut markdown = code(self.slice(thing.head.clone()));
                if let Some(home) = self.parent_of(thing) {
                    markdown.push_str(&format!("\n\nin {}", inline(self.slice(home.at.clone()))));
                }
                markdown
            }
        };
        Some(Hover { range, markdown })
    }

    fn parent_of(&self, thing: &Thing) -> Option<&Thing> {
        self.sketch.things.get(thing.parent?)
    }

    fn parameter(&self, parameter: &Thing) -> Option<String> {
        let template = self.parent_of(parameter)?;
        let head = code(self.slice(template.head.clone()));
        let name = inline(&parameter.name);
        Some(format!(
            "{head}\n\n{name} is given by each structure that is made from it"
        ))
    }

    fn hover_word(&self, offset: usize) -> Option<Hover> {
        let marked = self.sketch.words.iter();
        let marked = marked.filter(|marked| touches(&marked.at, offset));
        // Behind a word may stand another one directly: `2ft x(…)`.
        let marked = marked.max_by_key(|marked| marked.at.start)?;
        let word = match self.slice(marked.at.clone()) {
            "×" => "x",
            word => word,
        };
        let explained = words::find(word, marked.home)?;
        let (meaning, form) = (explained.meaning, code(explained.form));
        Some(Hover {
            range: marked.at.clone(),
            markdown: format!("**{word}**: {meaning}\n\n{form}"),
        })
    }

    fn hover_number(&self, offset: usize) -> Option<Hover> {
        let range = other_system::size_at(&self.text, offset)?;
        let markdown = other_system::same_size(self.file, self.slice(range.clone()))?;
        Some(Hover { range, markdown })
    }
}

/// A piece of a plan as a block of code.
fn code(plan: &str) -> String {
    let shown = plan
        .get(..super::lines::boundary(plan, MAX_SHOWN))
        .unwrap_or("");
    let more = if shown.len() < plan.len() { " …" } else { "" };
    let fence = "`".repeat(longest_ticks(shown).max(2) + 1);
    format!("{fence}parge\n{shown}{more}\n{fence}")
}

/// A piece of a plan within a line.
fn inline(plan: &str) -> String {
    let ticks = "`".repeat(longest_ticks(plan) + 1);
    let gap = if ticks.len() > 1 { " " } else { "" };
    format!("{ticks}{gap}{plan}{gap}{ticks}")
}

/// How many backticks stand together at most.
fn longest_ticks(text: &str) -> usize {
    let others = text.split(|letter| letter != '`');
    others.map(str::len).max().unwrap_or(0)
}
