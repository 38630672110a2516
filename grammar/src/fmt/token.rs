//! The tokens of a plan, without loss: what lies between two of them is blanks and line ends.
//!
//! Where the parser would tell two tokens apart and this scan does not, they stay together as
//! they were written, which is always safe. It never cuts what the parser takes as one.

use super::number;

/// What a token is, as far as the layout asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A word or a bare name.
    Word,
    /// A number with its unit: `22`, `3/4in`, `12'-6"`, `2026-05-11`.
    Number,
    /// A text in quotes.
    Text,
    /// `x` or `×` between two sizes.
    Times,
    /// `+ - * / ^`
    Sign,
    /// `=`
    Equals,
    /// `,`
    Comma,
    /// `.`, as in `street.area`.
    Dot,
    /// `(`
    OpenParen,
    /// `)`
    CloseParen,
    /// `{`
    OpenBrace,
    /// `}`
    CloseBrace,
    /// From `#` to the end of the line, without blanks at its end.
    Comment,
    /// A mark that the language does not have yet.
    Other,
}

/// A token with what stood before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Token<'t> {
    pub kind: Kind,
    /// As written.
    pub text: &'t str,
    /// The offset of its first byte.
    pub start: usize,
    /// Line ends since the token before it; two or more leave an empty line between.
    pub lines: usize,
    /// Whether a blank or a line end stands before it.
    pub apart: bool,
}

/// The tokens of a text from its start to its end.
#[derive(Debug, Clone)]
pub(crate) struct Tokens<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Tokens<'t> {
    pub(crate) fn new(text: &'t str) -> Self {
        let rest = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        Self {
            text,
            at: text.len() - rest.len(),
        }
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or("")
    }

    /// Passes over blanks, and counts the line ends among them.
    fn skip_blanks(&mut self) -> usize {
        let rest = self.rest();
        let blanks = rest.len() - rest.trim_start().len();
        let blanks = rest.get(..blanks).unwrap_or("");
        self.at += blanks.len();
        let lone = blanks.matches('\r').count() - blanks.matches("\r\n").count();
        blanks.matches('\n').count() + lone
    }
}

impl<'t> Iterator for Tokens<'t> {
    type Item = Token<'t>;

    fn next(&mut self) -> Option<Token<'t>> {
        let before = self.at;
        let lines = self.skip_blanks();
        let rest = self.rest();
        let first = rest.chars().next()?;
        let (kind, length) = match first {
            '#' => (Kind::Comment, line_length(rest)),
            '"' => (Kind::Text, text_length(rest)),
            '0'..='9' => (Kind::Number, number::length(rest)),
            '{' => (Kind::OpenBrace, 1),
            '}' => (Kind::CloseBrace, 1),
            '(' => (Kind::OpenParen, 1),
            ')' => (Kind::CloseParen, 1),
            ',' => (Kind::Comma, 1),
            '.' => (Kind::Dot, 1),
            '=' => (Kind::Equals, 1),
            '+' | '-' | '*' | '/' | '^' => (Kind::Sign, 1),
            '×' => (Kind::Times, '×'.len_utf8()),
            'x' if is_times(rest) => (Kind::Times, 1),
            _ if is_word(first) => (Kind::Word, word_length(rest)),
            _ => (Kind::Other, first.len_utf8()),
        };
        let start = self.at;
        let text = rest.get(..length).unwrap_or(rest);
        self.at += text.len();
        Some(Token {
            kind,
            text: if kind == Kind::Comment {
                text.trim_end()
            } else {
                text
            },
            start,
            lines,
            apart: start > before,
        })
    }
}

/// Whether an `x` stands between two sizes instead of beginning a name.
pub(crate) fn is_times(rest: &str) -> bool {
    let mut behind = rest.chars().skip(1);
    rest.starts_with('x')
        && behind
            .next()
            .is_none_or(|next| next.is_ascii_digit() || !is_word(next))
}

/// Whether a letter can stand in a word. Looser than the parser, so that nothing is cut that
/// belongs together.
pub(crate) fn is_word(letter: char) -> bool {
    match letter {
        '×' | '′' | '″' | '°' => false,
        _ if letter.is_ascii() => letter.is_ascii_alphanumeric() || letter == '_',
        _ => !letter.is_whitespace(),
    }
}

/// The bytes of the word at the start of a text.
pub(crate) fn word_length(rest: &str) -> usize {
    rest.find(|letter| !is_word(letter)).unwrap_or(rest.len())
}

fn line_length(rest: &str) -> usize {
    rest.find(['\n', '\r']).unwrap_or(rest.len())
}

/// The bytes of a quoted text with both quotes. It ends with its line at the latest.
fn text_length(rest: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in rest.char_indices().skip(1) {
        match letter {
            '\n' | '\r' => return at,
            '"' if !escaped => return at + 1,
            _ => escaped = letter == '\\' && !escaped,
        }
    }
    rest.len()
}
