//! A plan as the layout sees it: lines with their blocks and comments.

use super::members::cut;
use super::token::{Kind, Token, Tokens};
use crate::outline::{Block, Item};
use std::iter::Peekable;

/// Something with lines of its own.
#[derive(Debug)]
pub(super) struct Entry<'t> {
    /// Whether an empty line stands before it.
    pub spaced: bool,
    pub what: What<'t>,
}

#[derive(Debug)]
pub(super) enum What<'t> {
    /// A comment on a line of its own.
    Comment(&'t str),
    Member(Member<'t>),
}

/// A statement or a member of a block.
#[derive(Debug)]
pub(super) struct Member<'t> {
    /// Its head, with the comments within.
    pub tokens: Vec<Token<'t>>,
    pub block: Option<Body<'t>>,
    /// The comment at the end of its last line.
    pub comment: Option<&'t str>,
}

/// What stands between two braces.
#[derive(Debug, Default)]
pub(super) struct Body<'t> {
    /// Whether the writer put it on one line.
    pub one_line: bool,
    /// The comment behind `{`.
    pub comment: Option<&'t str>,
    pub entries: Vec<Entry<'t>>,
}

/// Reads a whole text by its outline. `cut_members` says whether members on one line are told
/// apart.
pub(super) fn read<'t>(text: &'t str, items: &[Item], cut_members: bool) -> Vec<Entry<'t>> {
    let mut reader = Reader {
        text,
        tokens: Tokens::new(text).peekable(),
        cut_members,
    };
    let mut plan = Body::default();
    reader.fill(&mut plan, items, text.len(), "");
    // There is no brace that a comment at the start could stand behind.
    let first = plan.comment.map(|comment| Entry {
        spaced: false,
        what: What::Comment(comment),
    });
    first.into_iter().chain(plan.entries).collect()
}

/// The comments of a text in their order.
pub(super) fn comments(text: &str) -> impl Iterator<Item = &str> {
    let comments = Tokens::new(text).filter(|token| token.kind == Kind::Comment);
    comments.map(|token| token.text)
}

struct Reader<'t> {
    text: &'t str,
    tokens: Peekable<Tokens<'t>>,
    cut_members: bool,
}

impl<'t> Reader<'t> {
    /// Reads the items of a block and the comments among them, up to its end.
    fn fill(&mut self, body: &mut Body<'t>, items: &[Item], end: usize, opener: &str) {
        for item in items {
            self.comments(body, item.head.start);
            let head = self.until(item.head.end);
            self.members(body, &head, item, opener);
        }
        self.comments(body, end);
    }

    /// Takes the comments before an offset. One that ends the line of what stands before it
    /// stays there.
    fn comments(&mut self, body: &mut Body<'t>, end: usize) {
        for token in self.until(end) {
            let place = match body.entries.last_mut().map(|last| &mut last.what) {
                Some(What::Member(member)) => Some(&mut member.comment),
                Some(What::Comment(_)) => None,
                None => Some(&mut body.comment),
            };
            match place {
                Some(place @ None) if token.lines == 0 => *place = Some(token.text),
                _ => body.entries.push(Entry {
                    spaced: token.lines > 1,
                    what: What::Comment(token.text),
                }),
            }
        }
    }

    /// Adds the members of one line; a block belongs to the last of them.
    fn members(&mut self, body: &mut Body<'t>, head: &[Token<'t>], item: &Item, opener: &str) {
        let cuts = if self.cut_members {
            cut(opener, head)
        } else {
            vec![head]
        };
        for tokens in cuts {
            // A line of nothing but blanks that only the parser knows is an empty line.
            let Some(first) = tokens.first() else {
                continue;
            };
            body.entries.push(Entry {
                spaced: first.lines > 1,
                what: What::Member(Member {
                    tokens: tokens.to_vec(),
                    block: None,
                    comment: None,
                }),
            });
        }
        if let Some(block) = &item.block
            && let Some(Entry {
                what: What::Member(last),
                ..
            }) = body.entries.last_mut()
        {
            let word = last.tokens.first().map_or("", |first| first.text);
            last.block = Some(self.body(block, word));
        }
    }

    fn body(&mut self, block: &Block, opener: &str) -> Body<'t> {
        let close = block.close.unwrap_or(self.text.len());
        let inside = self.text.get(block.open..close).unwrap_or("");
        let mut body = Body {
            one_line: !inside.contains(['\n', '\r']),
            ..Body::default()
        };
        // A comment between the head and its brace moves behind the brace.
        self.comments(&mut body, block.open);
        self.tokens.next();
        self.fill(&mut body, &block.items, close, opener);
        self.tokens.next();
        body
    }

    /// The tokens before an offset.
    fn until(&mut self, end: usize) -> Vec<Token<'t>> {
        let mut taken = Vec::new();
        while let Some(token) = self.tokens.next_if(|token| token.start < end) {
            taken.push(token);
        }
        taken
    }
}
