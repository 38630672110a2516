//! The conditions under which work goes on: of the whole site, and of a structure.

use super::site::Site;
use super::values::{Values, twice};
use crate::contract::SITE;
use crate::job::Structure;
use parge_base::{Code, Diagnostic, Span, suggest};
use parge_grammar::ast::Conditions;
use std::collections::BTreeMap;

/// Kinds of conditions with the word that holds.
type Words = BTreeMap<String, String>;

impl Values<'_> {
    /// The structures with the conditions that hold there: their own words before those of the
    /// site.
    pub(super) fn structures(&mut self, of_site: &[&Conditions]) -> Vec<Structure> {
        let site: std::rc::Rc<Site<'_>> = self.site.clone();
        let mut general = Words::new();
        for conditions in of_site {
            self.conditions(conditions, &mut general);
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
            }
        };
        site.standings.iter().map(structure).collect()
    }

    /// Takes over the words of one block, after holding them against the pack's table.
    fn conditions(&mut self, conditions: &Conditions, words: &mut Words) {
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        for (kind, word) in conditions {
            if let Some(first) = seen.insert(&kind.node, kind.span) {
                self.diagnostics.push(twice("condition", kind, first));
            }
            let tables = self.tables;
            let kinds = tables.keys(SITE, &[]).unwrap_or_default();
            let known = tables.keys(SITE, &[&kind.node]).unwrap_or_default();
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
