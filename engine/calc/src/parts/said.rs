//! What the parts of a job say, as the whole of it would say it.

use super::Survey;
use parge_base::{Code, Diagnostic, Span};
use parge_grammar::ast::Statement;
use std::collections::{BTreeSet, HashMap};

/// What was said so far.
pub(super) struct Said {
    /// Where names are defined around the parts.
    defined: BTreeSet<Span>,
    all: Vec<Diagnostic>,
    /// What is not used, by its place, with the number of the parts that say so.
    unused: HashMap<Span, (Diagnostic, usize)>,
    parts: usize,
}

impl Said {
    /// Begins with what was said of the job without its faces.
    pub(super) fn new(survey: &Survey, said: Vec<Diagnostic>) -> Self {
        let defined = survey.plan().statements.iter().filter_map(|of| match of {
            Statement::Let(item) => Some(item.name.span),
            Statement::Finish(finish) => Some(finish.name.span),
            Statement::Template(template) => Some(template.name.span),
            _ => None,
        });
        Self {
            defined: defined.collect(),
            all: said,
            unused: HashMap::new(),
            parts: 0,
        }
    }

    /// Adds what a part says. `None` where a measuring rule warns of something: it does so once for
    /// all faces that it is true of.
    pub(super) fn add(&mut self, said: Vec<Diagnostic>) -> Option<()> {
        self.parts += 1;
        for said in said {
            let place = said.span().filter(|place| self.defined.contains(place));
            match (said.code, place) {
                (Code::RuleWarning, _) => return None,
                (Code::UnusedName | Code::UnusedFinish, Some(place)) => {
                    let (_, times) = self.unused.entry(place).or_insert((said, 0));
                    *times += 1;
                }
                _ => self.all.push(said),
            }
        }
        Some(())
    }

    /// All that is true of the whole: what no part uses is not used.
    pub(super) fn all(self) -> Vec<Diagnostic> {
        let everywhere = self.unused.into_values();
        let unused = everywhere.filter(|(_, times)| *times == self.parts);
        let mut all = self.all;
        all.extend(unused.map(|(said, _)| said));
        all
    }
}
