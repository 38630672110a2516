//! What a bid says beside quantities and prices: alternates, allowances, exclusions, notes and
//! terms.

use super::values::{Values, twice};
use crate::job::{Allowance, Alternate, AlternateChange, BidContent};
use parge_base::{Code, Diagnostic, Span, suggest};
use parge_grammar::ast::{self, Statement};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

impl<'p> Values<'p> {
    /// The content of the bid, in the order of the plan.
    pub(super) fn content(&mut self) -> BidContent {
        let mut content = BidContent::default();
        let mut alternates: BTreeMap<&str, Span> = BTreeMap::new();
        let mut allowances: BTreeMap<&str, Span> = BTreeMap::new();
        for statement in &self.plan.statements {
            match statement {
                Statement::Alternate(alternate) => {
                    self.once("alternate", &alternate.name, &mut alternates);
                    content.alternates.extend(self.alternate(alternate));
                }
                Statement::Allowance(allowance) => {
                    self.once("allowance", &allowance.name, &mut allowances);
                    content.allowances.extend(self.allowance(allowance));
                }
                Statement::Exclude(text) => content.exclusions.push(text.node.clone()),
                Statement::Note(text) => content.notes.push(text.node.clone()),
                Statement::Terms(text) => content.terms.push(text.node.clone()),
                _ => {}
            }
        }
        content
    }

    fn once(&mut self, kind: &str, name: &'p ast::Name, seen: &mut BTreeMap<&'p str, Span>) {
        if let Some(first) = seen.insert(&name.node, name.span) {
            self.diagnostics.push(twice(kind, name, first));
        }
    }

    fn alternate(&mut self, alternate: &'p ast::Alternate) -> Option<Alternate> {
        if alternate.changes.is_empty() && self.plan.damaged.is_empty() {
            let message = format!("alternate `{}` changes nothing", alternate.name.node);
            let help =
                "say what it changes: `structure \"Name\" { finish bark }` or `omit \"Name\"`";
            self.diagnostics.push(
                Diagnostic::new(Code::MissingSetting, message, help).at(alternate.name.span, ""),
            );
        }
        let mut seen: BTreeMap<usize, Span> = BTreeMap::new();
        let changes: Vec<_> = alternate
            .changes
            .iter()
            .map(|change| self.alternate_change(change, &mut seen))
            .collect();
        Some(Alternate {
            name: alternate.name.node.clone(),
            changes: changes.into_iter().collect::<Option<_>>()?,
            span: alternate.span,
        })
    }

    fn alternate_change(
        &mut self,
        change: &'p ast::AlternateChange,
        seen: &mut BTreeMap<usize, Span>,
    ) -> Option<AlternateChange> {
        let (name, finish) = match change {
            ast::AlternateChange::Finish { structure, finish } => (structure, Some(finish)),
            ast::AlternateChange::Omit(structure) => (structure, None),
        };
        let number = finish.map(|finish| self.finish_number(finish));
        let structure = self.named_structure(name)?;
        if let Some(first) = seen.insert(structure, name.span) {
            let message = format!("the alternate changes `{}` twice", name.node);
            let help = "keep the one that holds";
            let diagnostic = Diagnostic::new(Code::SettingTwice, message, help);
            self.diagnostics.push(
                diagnostic
                    .at(name.span, "again here")
                    .at(first, "first here"),
            );
        }
        Some(match number {
            Some(finish) => AlternateChange::Finish {
                structure,
                finish: finish?,
            },
            None => AlternateChange::Omit(structure),
        })
    }

    pub(super) fn named_structure(&mut self, name: &ast::Name) -> Option<usize> {
        let found = self.site.structure(&name.node);
        if found.is_none() && !self.told(&name.node) {
            let message = format!("no structure is called `{}`", name.node);
            let help = suggest::help_for(&name.node, self.site.structure_names());
            self.diagnostics
                .push(Diagnostic::new(Code::UnknownName, message, help).at(name.span, ""));
        }
        found
    }

    fn allowance(&mut self, allowance: &ast::Allowance) -> Option<Allowance> {
        let amount = allowance.amount.node;
        if amount.amount() <= Decimal::ZERO {
            let message = format!("allowance `{}` is nothing", allowance.name.node);
            let help = "write a sum above zero, such as `850 USD`, or remove the line";
            self.diagnostics.push(
                Diagnostic::new(Code::OutOfRange, message, help).at(allowance.amount.span, ""),
            );
            return None;
        }
        Some(Allowance {
            name: allowance.name.node.clone(),
            amount,
            span: allowance.amount.span,
        })
    }
}

#[cfg(test)]
mod tests;
