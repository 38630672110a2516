//! Mistakes in the estimator's words.
//!
//! The parser tells where it stopped and what could have stood there. [`Failure`] turns that into
//! a diagnostic: first by the mistakes that are foreseen, each with its own message, and
//! otherwise by naming what is in the way and showing the right form.

pub(crate) mod brackets;
mod foreseen;
mod foreseen_heads;
pub(crate) mod letters;
pub(crate) mod literals;
pub(crate) mod money;
pub(crate) mod samples;
pub(crate) mod shown;
pub(crate) mod statements;
pub(crate) mod whole_text;
pub(crate) mod words;

use crate::read::MAX_HEAD;
use crate::read::expression::MAX_DEPTH;
use crate::read::line::{Kind, word};
use crate::syntax::Rule;
use parge_base::{Code, Diagnostic, FileId, Span};
use shown::shown;
use std::ops::Range;

/// A statement or member that could not be read.
pub(crate) struct Failure<'a> {
    pub file: FileId,
    /// The whole text.
    pub text: &'a str,
    /// The block it stands in; none for the head of a statement at the top.
    pub block: Option<Kind>,
    /// From its start to the end of its line.
    pub range: Range<usize>,
    /// Where reading stopped.
    pub at: usize,
    /// What could have stood there.
    pub expected: Vec<Rule>,
    /// Whether reading stopped for want of stack.
    pub exhausted: bool,
}

impl Failure<'_> {
    /// What to tell the user.
    pub(crate) fn diagnostic(&self) -> Diagnostic {
        if self.range.len() > MAX_HEAD {
            return statements::too_long(self.span(self.range.start..self.range.start), MAX_HEAD);
        }
        if self.exhausted {
            return statements::expression_too_deep(self.span(self.range.clone()), MAX_DEPTH);
        }
        self.odd_letter()
            .or_else(|| self.unknown_member())
            .or_else(|| self.odd_setting())
            .or_else(|| self.bad_let())
            .or_else(|| self.bad_template())
            .or_else(|| self.bad_point())
            .or_else(|| self.bare_quoted())
            .or_else(|| self.unquoted_measure())
            .or_else(|| self.edge_without_length())
            .or_else(|| self.change_without_block())
            .or_else(|| self.missing_between())
            .or_else(|| self.missing_quotes())
            .or_else(|| self.hyphened_name())
            .or_else(|| self.bad_shape())
            .or_else(|| self.taken_word())
            .or_else(|| self.other_cross())
            .or_else(|| self.comma_in_number())
            .or_else(|| self.misspelt_word())
            .or_else(|| self.finish_of_opening())
            .unwrap_or_else(|| self.in_general())
    }

    fn in_general(&self) -> Diagnostic {
        let range = self.token(self.at);
        let token = self.slice(range.clone());
        let missing = match (self.expects(Rule::EOI), self.expects(Rule::comma)) {
            (false, _) => words::list(&self.expected),
            (true, true) if !token.is_empty() => Some("`,`".to_owned()),
            (true, _) => None,
        };
        let message = match (missing, token.is_empty()) {
            (Some(missing), true) => {
                format!("{missing} is missing behind {}", shown(self.last_word()))
            }
            (Some(missing), false) => format!("{missing} is missing before {}", shown(token)),
            (None, true) => format!("something is missing behind {}", shown(self.last_word())),
            (None, false) => format!("{} cannot stand here", shown(token)),
        };
        let help = if self.expects(Rule::property) {
            "name the face or structure and what of it is meant, as in `street.area`".to_owned()
        } else {
            format!("write it as in `{}`", self.sample())
        };
        Diagnostic::new(Code::Syntax, message, help).at(self.span(range), "")
    }

    /// The right form of what was most likely meant.
    fn sample(&self) -> String {
        let first = self.first_word();
        let end = self.token(self.at).end;
        let mut read = self.slice(self.range.start..end).split_whitespace();
        let shape = read.find_map(samples::shape);
        match (self.block, shape) {
            (Some(Kind::Structure | Kind::Face), _) if first == "edge" => {
                "edge cap 22ft count 2".to_owned()
            }
            (Some(Kind::Face), Some(shape)) if shape.starts_with("rect") => {
                "opening vent rect 12in x 8in reveal 4in".to_owned()
            }
            (Some(Kind::Alternate), _) if first == "structure" => samples::CHANGE.to_owned(),
            (Some(Kind::Conditions), _) => "access tight".to_owned(),
            (Some(Kind::Change), _) => "finish bark".to_owned(),
            (Some(Kind::Structure), Some(shape)) => format!("face street {shape} drystone"),
            (Some(Kind::Face), Some(shape)) => format!("opening vent {shape} reveal 4in"),
            (Some(Kind::Structure), _) if first == "finish" => "finish drystone".to_owned(),
            (Some(block), _) => {
                let known = block.words().contains(&first);
                let first = if known {
                    first
                } else {
                    block.words().first().copied().unwrap_or("")
                };
                samples::of(first).unwrap_or_default().to_owned()
            }
            (None, _) if self.slice(self.range.start..end).contains(" from") => {
                samples::FROM.to_owned()
            }
            (None, _) => samples::of(first)
                .unwrap_or("let height = 2ft 8in")
                .to_owned(),
        }
    }

    /// The last word before the place, for a message at the end of a line.
    fn last_word(&self) -> &str {
        let read = self.slice(self.range.start..self.at).trim_end();
        let quoted = read.strip_suffix('"').and_then(|inside| {
            let inch = inside.ends_with(|letter: char| letter.is_ascii_digit());
            let start = inside.rfind('"').filter(|_| !inch)?;
            read.get(start..)
        });
        quoted.unwrap_or_else(|| read.split_whitespace().next_back().unwrap_or(""))
    }

    fn first_word(&self) -> &str {
        word(self.slice(self.range.start..self.range.end))
    }

    /// The text from a place that a reader would take as one: a word, a number with its unit, a
    /// quoted text or a single sign. Empty at the end of the line.
    fn token(&self, at: usize) -> Range<usize> {
        let rest = self.slice(at..self.range.end);
        let whole = |letter: char| letter.is_alphanumeric() || letter == '_';
        let length = match rest.chars().next() {
            None => 0,
            Some('"') => rest
                .get(1..)
                .and_then(|rest| rest.find('"'))
                .map_or(1, |n| n + 2),
            Some(first) if first.is_ascii_digit() => rest
                .find(|letter| !whole(letter) && !"./'\"′″%°²³".contains(letter))
                .unwrap_or(rest.len()),
            Some(first) if whole(first) => rest.find(|letter| !whole(letter)).unwrap_or(rest.len()),
            Some(first) => first.len_utf8(),
        };
        if length == 0 {
            // Directly behind the last sign, not behind the blanks or on the next line.
            let read = self.slice(self.range.start..self.at).trim_end();
            let end = self.range.start + read.len();
            return end..end;
        }
        at..at + length
    }

    fn expects(&self, rule: Rule) -> bool {
        self.expected.contains(&rule)
    }

    fn slice(&self, range: Range<usize>) -> &str {
        self.text.get(range).unwrap_or("")
    }

    fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.file, range.start, range.end)
    }
}
