//! `alternate "…" { … }`

use super::Reader;
use super::line::Kind;
use crate::ast::{Alternate, AlternateChange, Name};
use crate::errors::{samples, statements};
use crate::outline::{Block, Item};
use crate::syntax::{Pair, Rule};
use parge_base::Span;

/// A structure that an alternate changes, whose block has not come yet.
struct Changed {
    /// `None` where the name is no good, which is told.
    name: Option<Name>,
    span: Span,
}

impl Reader<'_> {
    pub(super) fn alternate(&self, item: &Item) -> Option<Alternate> {
        let name = if item.broken {
            None
        } else {
            self.head_name(Rule::alternate_head, item)
        };
        let changes = self.changes(&self.need_block(item)?.items);
        Some(Alternate {
            name: name?,
            changes,
            span: self.span_of(item.head.clone()),
        })
    }

    pub(super) fn changes(&self, items: &[Item]) -> Vec<AlternateChange> {
        let mut changes = Vec::new();
        for item in items {
            self.change_item(item, &mut changes);
        }
        changes
    }

    /// One line; a block behind it belongs to the last structure of the line.
    fn change_item(&self, item: &Item, changes: &mut Vec<AlternateChange>) {
        let mut last: Option<Changed> = None;
        let good = !item.broken
            && self.line(Kind::Alternate, item.head.clone(), |pair| {
                if let Some(changed) = last.take() {
                    self.report(statements::change_without_block(
                        changed.span,
                        samples::CHANGE,
                    ));
                }
                last = self.change(pair, changes);
            });
        match (last, &item.block) {
            (Some(changed), Some(block)) => {
                let finish = self.changed_finish(block, changed.span);
                let change = changed.name.zip(finish);
                changes.extend(
                    change.map(|(structure, finish)| AlternateChange::Finish { structure, finish }),
                );
            }
            (Some(changed), None) if good => self.report(statements::change_without_block(
                changed.span,
                samples::CHANGE,
            )),
            (None, Some(_)) if good => self.no_block(item),
            // What is wrong within is told even so.
            (None, Some(block)) => drop(self.finishes(block)),
            (_, None) => {}
        }
    }

    fn change(&self, pair: Pair<'_>, changes: &mut Vec<AlternateChange>) -> Option<Changed> {
        let (rule, span) = (pair.as_rule(), self.span(&pair));
        let name = self.name(pair);
        if rule == Rule::change {
            return Some(Changed { name, span });
        }
        changes.extend(name.map(AlternateChange::Omit));
        None
    }

    /// The one finish that a structure gets.
    fn changed_finish(&self, block: &Block, structure: Span) -> Option<Name> {
        let before = self.found.borrow().len();
        let finishes = self.finishes(block);
        let told = self.found.borrow().len() > before;
        match finishes.as_slice() {
            [] if told => {}
            [] => self.report(statements::nothing_changed(structure)),
            [_] => {}
            [first, second, ..] => {
                self.report(statements::second_finish(first.span, second.span));
            }
        }
        finishes.into_iter().next()
    }

    fn finishes(&self, block: &Block) -> Vec<Name> {
        let mut finishes = Vec::new();
        self.plain_lines(Kind::Change, &block.items, |pair| {
            finishes.extend(self.name(pair));
        });
        finishes
    }
}
