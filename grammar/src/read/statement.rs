//! Statements at the top of a plan.

use super::Reader;
use super::line::word;
use crate::ast::{Let, Name, Statement};
use crate::errors::shown::is_hidden;
use crate::errors::statements;
use crate::outline::{Block, Item, TOP_WORDS};
use crate::syntax::Rule;
use parge_base::Spanned;
use parge_base::suggest::nearest;

/// The one version of the language there is.
const VERSION: u32 = 1;

/// How far into a statement that is no good its word and name are looked for.
const MOST_LETTERS: usize = 4096;

impl<'a> Reader<'a> {
    /// Reads the version line, which stands first, and returns the items after it.
    pub(crate) fn version<'i>(&self, items: &'i [Item]) -> (Option<Spanned<u32>>, &'i [Item]) {
        let Some((first, rest)) = items.split_first() else {
            return (None, items);
        };
        let start = self.word_of(first);
        if start == "parge" {
            return (self.version_line(first), rest);
        }
        let range = first.head.start..first.head.start + start.len().max(1);
        let range = if self.source.text.is_char_boundary(range.end) {
            range
        } else {
            first.head.clone()
        };
        self.report(statements::no_version(self.span_of(range)));
        let misspelt = nearest(start, TOP_WORDS) == Some("parge");
        (None, if misspelt { rest } else { items })
    }

    fn version_line(&self, item: &Item) -> Option<Spanned<u32>> {
        self.no_block(item);
        if item.broken {
            return None;
        }
        let span = self.span_of(item.head.clone());
        let pairs = self.parse(Rule::version_head, item.head.clone()).ok();
        let number = pairs.and_then(|pairs| pairs.into_iter().next_back());
        let read = number.and_then(|pair| {
            let number = pair.as_str().parse().ok()?;
            Some(Spanned::new(number, self.span(&pair)))
        });
        match &read {
            Some(version) if version.node == VERSION => {}
            Some(version) => self.report(statements::other_version(version.span, version.node)),
            None => self.report(statements::bad_version(span)),
        }
        read
    }

    /// Reads one statement after the version line.
    pub(crate) fn statement(&self, item: &Item) -> Option<Statement> {
        let start = self.word_of(item);
        if !TOP_WORDS.contains(&start) {
            self.unknown_statement(item, start);
            return None;
        }
        match start {
            "parge" => {
                self.report(statements::second_version(self.span_of(item.head.clone())));
                None
            }
            "let" => self.let_line(item).map(Statement::Let),
            "job" => self.job(item).map(Statement::Job),
            "finish" => self.finish(item).map(Statement::Finish),
            "template" => self.template(item).map(Statement::Template),
            "include" => self
                .one_text(Rule::include_head, item)
                .map(Statement::Include),
            "alternate" => self.alternate(item).map(Statement::Alternate),
            "allowance" => self.allowance(item).map(Statement::Allowance),
            "exclude" => self
                .one_text(Rule::exclude_head, item)
                .map(Statement::Exclude),
            "note" => self.one_text(Rule::note_head, item).map(Statement::Note),
            "terms" => self.one_text(Rule::terms_head, item).map(Statement::Terms),
            _ => self.structure(item).map(Statement::Structure),
        }
    }

    /// Reports a statement that is none. What it was most likely meant to be decides how its
    /// block is read, for the mistakes in there only.
    fn unknown_statement(&self, item: &Item, start: &str) {
        if !item.broken {
            self.report(statements::unknown(self.source, &item.head, start));
        }
        match (nearest(start, TOP_WORDS), &item.block) {
            (Some("job"), Some(block)) => drop(self.job_settings(&block.items)),
            (Some("finish"), Some(block)) => drop(self.finish_settings(&block.items)),
            (Some("structure" | "template"), Some(block)) => drop(self.body(&block.items)),
            (Some("alternate"), Some(block)) => drop(self.changes(&block.items)),
            _ => {}
        }
    }

    fn let_line(&self, item: &Item) -> Option<Let> {
        self.no_block(item);
        if item.broken {
            return None;
        }
        let mut pairs = self.head(Rule::let_head, item.head.clone())?.into_iter();
        let name = pairs.find(|pair| pair.as_rule() == Rule::let_name)?;
        let name = Name::new(name.as_str().to_owned(), self.span(&name));
        let value = self.expr(pairs.find(|pair| pair.as_rule() == Rule::expr)?)?;
        Some(Let { name, value })
    }

    /// The block of a statement that must have one.
    pub(super) fn need_block<'i>(&self, item: &'i Item) -> Option<&'i Block> {
        if item.block.is_none() && !item.broken {
            let words = self.text(item.head.clone());
            self.report(crate::errors::brackets::missing_brace(
                self.span_of(item.head.clone()),
                words,
            ));
        }
        item.block.as_ref()
    }

    /// Reports the block of a statement that takes none.
    pub(super) fn no_block(&self, item: &Item) {
        if let Some(block) = &item.block
            && !item.broken
        {
            let span = self.span_of(block.open..block.open + 1);
            self.report(statements::needless_block(span, self.word_of(item)));
        }
    }

    /// The first word of a statement and the name behind it, read loosely: for a statement that
    /// may be no good.
    pub(crate) fn names(&self, item: &Item) -> (String, String) {
        let head = self.text(item.head.clone());
        // A name with a character that cannot be seen was meant to be the name without it.
        let seen: String;
        let head = if item.broken {
            let letters = head.chars().take(MOST_LETTERS);
            seen = letters.filter(|letter| !is_hidden(*letter)).collect();
            seen.as_str()
        } else {
            head
        };
        let first = word(head);
        let rest = head.get(first.len()..).unwrap_or("").trim_start();
        let name = match rest.strip_prefix('"') {
            // No name goes on behind its line, however the lines of this file end.
            Some(quoted) => quoted.split(['"', '\n', '\r']).next().unwrap_or(quoted),
            None => word(rest),
        };
        (first.to_owned(), name.to_owned())
    }

    pub(super) fn word_of(&self, item: &Item) -> &'a str {
        word(self.text(item.head.clone()))
    }
}
