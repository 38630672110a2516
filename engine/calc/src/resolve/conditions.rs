//! The conditions under which work goes on: of the whole site, and of a structure.

use super::site::Site;
use super::values::{Values, twice};
use crate::contract::SITE;
use crate::job::Structure;
use parge_base::{Code, Diagnostic, Span, suggest};
use parge_grammar::ast::{self, Conditions, JobSetting};
use std::collections::BTreeMap;

/// Kinds of conditions with the word that holds.
type Words = BTreeMap<String, String>;

impl<'p> Values<'p> {
    /// Looks at the conditions of the site and of the structures, whose own words come before
    /// those of the site.
    pub(super) fn look_at_conditions(&mut self, job: Option<&ast::Job>) {
        let site: std::rc::Rc<Site<'_>> = self.site.clone();
        let mut general = Words::new();
        for setting in job.into_iter().flat_map(|job| &job.settings) {
            if let JobSetting::Conditions(conditions) = &setting.node {
                self.conditions(conditions, &mut general);
            }
        }
        let structure = |standing: &super::site::Standing<'_>| {
            let mut words = general.clone();
            for conditions in &standing.conditions {
                self.conditions(conditions, &mut words);
            }
            Structure {
                name: standing.name.node.clone(),
                span: standing.name.span,
                from_template: standing.template.is_some(),
                conditions: words.into_iter().collect(),
                after: Vec::new(),
            }
        };
        self.structures = site.standings.iter().map(structure).collect();
    }

    /// The kinds of conditions that the packs know, or the words of a kind.
    fn known(&self, keys: &[&str]) -> Vec<&'p str> {
        let packs = [Some(self.packs.rules), self.packs.measuring];
        let tables = packs.into_iter().flatten().map(|pack| pack.tables());
        tables
            .flat_map(|tables| tables.keys(SITE, keys).unwrap_or_default())
            .collect()
    }

    /// Takes over the words of one block, after holding them against the pack's table.
    fn conditions(&mut self, conditions: &Conditions, words: &mut Words) {
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        for (kind, word) in conditions {
            if let Some(first) = seen.insert(&kind.node, kind.span) {
                self.diagnostics.push(twice("condition", kind, first));
            }
            let kinds = self.known(&[]);
            let known = self.known(&[&kind.node]);
            let (message, help, at) = if !kinds.contains(&kind.node.as_str()) {
                let message = format!("the rule pack has no condition `{}`", kind.node);
                let help = match kinds.is_empty() {
                    true => format!("add its rows to table `{SITE}` of the pack"),
                    false => suggest::help_for(&kind.node, kinds),
                };
                (message, help, kind.span)
            } else if !known.contains(&word.node.as_str()) {
                let message = format!("`{}` does not know `{}`", kind.node, word.node);
                (message, suggest::help_for(&word.node, known), word.span)
            } else {
                words.insert(kind.node.clone(), word.node.clone());
                continue;
            };
            self.diagnostics
                .push(Diagnostic::new(Code::UnknownWord, message, help).at(at, ""));
        }
    }
}

#[cfg(test)]
mod tests;
