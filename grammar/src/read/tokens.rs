//! What the parser library alone makes of a text: the floor under reading it.

use super::Reader;
use super::line::Kind;
use crate::outline::Item;
use crate::syntax::Rule;

impl Reader<'_> {
    /// How many members the library finds in the heads and lines of an item; they are dropped.
    pub(crate) fn tokens(&self, item: &Item) -> usize {
        let start = self.word_of(item);
        let (head, block) = match start {
            "let" => (Rule::let_head, None),
            "job" => (Rule::job_head, Some(Kind::Job)),
            "finish" => (Rule::finish_head, Some(Kind::Finish)),
            "template" => (Rule::template_head, Some(Kind::Structure)),
            "structure" => (Rule::structure_head, Some(Kind::Structure)),
            _ => (Rule::version_head, None),
        };
        let lines = item.block.iter().flat_map(|block| &block.items);
        let of_lines = block.map_or(0, |kind| {
            lines.map(|line| self.tokens_of_line(kind, line)).sum()
        });
        self.nodes(head, item) + of_lines
    }

    fn tokens_of_line(&self, kind: Kind, item: &Item) -> usize {
        let inner = match (kind, self.word_of(item)) {
            (Kind::Structure, _) => Kind::Face,
            (Kind::Job, "bid") => Kind::Bid,
            (Kind::Job, "crew") => Kind::Crew,
            (Kind::Job, "conditions") => Kind::Conditions,
            _ => Kind::Weather,
        };
        let lines = item.block.iter().flat_map(|block| &block.items);
        let of_lines: usize = lines.map(|line| self.tokens_of_line(inner, line)).sum();
        self.nodes(kind.line(), item) + of_lines
    }

    fn nodes(&self, rule: Rule, item: &Item) -> usize {
        self.parse(rule, item.head.clone())
            .map_or(0, |pairs| pairs.len())
    }
}
