//! A text that is taken off bit by bit from its front.

use std::borrow::Cow;

/// More attributes than office programs write to one element.
const MOST_ATTRIBUTES: usize = 16;

/// What is left of a text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cut<'a>(&'a str);

/// How a tag ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tag {
    /// Its element goes on.
    Open,
    /// Its element is empty.
    Closed,
}

impl<'a> Cut<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self(text)
    }

    pub(super) fn is_at_end(self) -> bool {
        self.0.is_empty()
    }

    /// Takes a word off, if it stands in front.
    pub(super) fn eat(&mut self, word: &str) -> bool {
        let rest = self.0.strip_prefix(word);
        self.0 = rest.unwrap_or(self.0);
        rest.is_some()
    }

    /// Takes off what stands before a mark, which is one of ASCII. `None` where there is none.
    pub(super) fn until(&mut self, mark: u8) -> Option<&'a str> {
        let at = self.0.bytes().position(|byte| byte == mark)?;
        let (before, rest) = self.0.split_at_checked(at)?;
        self.0 = rest;
        Some(before)
    }

    /// Takes off everything up to the end of a word.
    pub(super) fn skip_past(&mut self, word: &str) -> Option<&'a str> {
        let (before, rest) = self.0.split_once(word)?;
        self.0 = rest;
        Some(before)
    }

    /// Takes off the rest of a tag behind its name, as office programs write it: every attribute
    /// once, behind a blank, in double quotes, and without anything to be resolved.
    pub(super) fn attributes(&mut self, mut look: impl FnMut(&'a str, &'a str)) -> Option<Tag> {
        let mut names = [""; MOST_ATTRIBUTES];
        for known in 0..=MOST_ATTRIBUTES {
            let has_blank = self.eat(" ");
            if self.eat(">") {
                return Some(Tag::Open);
            }
            if self.eat("/>") {
                return Some(Tag::Closed);
            }
            let name = self.until(b'=')?;
            if !has_blank || !is_name(name) || names.iter().take(known).any(|own| *own == name) {
                return None;
            }
            *names.get_mut(known)? = name;
            let value = self.eat("=\"").then(|| self.until(b'"'))??;
            if !self.eat("\"") || value.bytes().any(|byte| matches!(byte, b'<' | b'>' | b'&')) {
                return None;
            }
            look(name, value);
        }
        None
    }
}

fn is_name(name: &str) -> bool {
    let is_part = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b':' | b'_');
    !name.is_empty() && name.bytes().all(is_part)
}

/// The words of a text with what stands for `&`, `<` and the like; `None` where anything else has to
/// be resolved.
pub(super) fn resolved(text: &str) -> Option<Cow<'_, str>> {
    if text.contains('\r') {
        return None;
    }
    let mut parts = text.split('&');
    let first = parts.next()?;
    if first.len() == text.len() {
        return Some(Cow::Borrowed(text));
    }
    let mut words = first.to_owned();
    for part in parts {
        let (entity, rest) = part.split_once(';')?;
        words.push(match entity {
            "amp" => '&',
            "lt" => '<',
            "gt" => '>',
            "quot" => '"',
            "apos" => '\'',
            _ => return None,
        });
        words.push_str(rest);
    }
    Some(Cow::Owned(words))
}

/// The words in an element of a text, read as spreadsheets have them: with blanks around them only
/// where these are to be kept. The tag was opened; `None` where it is not written plainly.
pub(super) fn words<'a>(cut: &mut Cut<'a>) -> Option<Cow<'a, str>> {
    let mut keeps_blanks = false;
    let mut is_known = true;
    let tag = cut.attributes(|name, value| {
        is_known &= name == "xml:space";
        keeps_blanks = value == "preserve";
    })?;
    if !is_known {
        return None;
    }
    if tag == Tag::Closed {
        return Some(Cow::Borrowed(""));
    }
    let text = cut.until(b'<')?;
    if !cut.eat("</t>") || text.contains("_x") {
        return None;
    }
    let words = resolved(text)?;
    let blank = [' ', '\t', '\r', '\n'];
    Some(match (keeps_blanks, words) {
        (true, words) => words,
        (false, Cow::Borrowed(words)) => Cow::Borrowed(words.trim_matches(blank)),
        (false, Cow::Owned(words)) => Cow::Owned(words.trim_matches(blank).to_owned()),
    })
}
