//! A text that is taken off bit by bit from its front.

use crate::grid::column_of;
use std::borrow::Cow;

/// More attributes than office programs write to one element.
const MOST_ATTRIBUTES: usize = 16;
/// The most digits of a number that is surely exact as a whole one.
const MOST_DIGITS: usize = 15;
/// The powers of ten for as many decimals.
const TENS: [f64; MOST_DIGITS + 1] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
];

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
            let is_part = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b':' | b'_');
            let name = self.run(is_part)?;
            let is_known = names.iter().take(known).any(|own| *own == name);
            if !has_blank || name.is_empty() || is_known || !self.eat("=\"") {
                return None;
            }
            *names.get_mut(known)? = name;
            let value = self.run(|byte| !matches!(byte, b'"' | b'<' | b'>' | b'&'))?;
            if !self.eat("\"") {
                return None;
            }
            look(name, value);
        }
        None
    }

    /// Takes off what is of a kind, up to a byte of ASCII that is not. `None` where there is none.
    fn run(&mut self, is_of: impl Fn(u8) -> bool) -> Option<&'a str> {
        let at = self.0.bytes().position(|byte| !is_of(byte))?;
        let (run, rest) = self.0.split_at_checked(at)?;
        self.0 = rest;
        Some(run)
    }

    /// Takes off a number of at most seven digits.
    pub(super) fn digits(&mut self) -> Option<u32> {
        let (mut value, mut length) = (0, 0);
        for byte in self.0.bytes().take_while(u8::is_ascii_digit).take(7) {
            value = value * 10 + u32::from(byte - b'0');
            length += 1;
        }
        self.0 = self.0.get(length..)?;
        (length > 0).then_some(value)
    }

    /// Takes off the letters of a column, counted from 0.
    pub(super) fn column(&mut self) -> Option<u32> {
        column_of(self.run(|byte| byte.is_ascii_uppercase())?)
    }

    /// Takes off a number of few digits without a power. Its digits as a whole number and the power
    /// of ten by which that is divided are both exact, so the one division rounds as reading the
    /// text would.
    pub(super) fn number(&mut self) -> Option<f64> {
        let mut rest = *self;
        let is_below = rest.eat("-");
        let (mut digits, mut value, mut point) = (0_usize, 0_u64, None);
        let mut length = 0;
        for byte in rest.0.bytes() {
            match byte {
                b'0'..=b'9' => {
                    value = value * 10 + u64::from(byte - b'0');
                    digits += 1;
                }
                b'.' if point.is_none() && digits > 0 => point = Some(digits),
                _ => break,
            }
            if digits > MOST_DIGITS {
                return None;
            }
            length += 1;
        }
        let decimals = digits - point.unwrap_or(digits);
        let is_whole = digits > 0 && (point.is_none() || decimals > 0);
        let value = value as f64 / TENS.get(decimals)?;
        self.0 = rest.0.get(length..).filter(|_| is_whole)?;
        Some(if is_below { -value } else { value })
    }
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

#[cfg(test)]
mod tests;
