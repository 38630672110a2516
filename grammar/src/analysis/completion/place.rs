//! Where something is to be put in.

use crate::analysis::token::{Kind, Tokens};
use std::ops::Range;

/// The part of a word that a proposal replaces; empty where none is begun.
pub(super) struct Place(pub Range<usize>);

impl Place {
    /// The place at an offset. None where nothing can be proposed.
    pub(super) fn find(text: &str, offset: usize) -> Option<Self> {
        for token in Tokens::new(text) {
            let end = token.start + token.text.len();
            if token.start >= offset {
                break;
            }
            match token.kind {
                Kind::Comment if !has_line_end(text, token.start..offset) => return None,
                _ if end < offset => {}
                Kind::Word => return Some(Self(token.start..end)),
                // A proposal directly behind one of these would become a part of it.
                Kind::Number | Kind::Times | Kind::Text => return None,
                _ => {}
            }
        }
        Some(Self(offset..offset))
    }
}

fn has_line_end(text: &str, range: Range<usize>) -> bool {
    text.get(range)
        .is_none_or(|text| text.contains(['\n', '\r']))
}
