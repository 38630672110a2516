//! Foreseen mistakes in the heads of structures and templates, in edges and alternates, and in
//! what stands for a size.

use super::samples::FROM;
use super::shown::shown;
use super::{Failure, samples, statements, words};
use crate::read::line::Kind;
use crate::syntax::Rule;
use parge_base::{Code, Diagnostic};

impl Failure<'_> {
    /// Templates, where they are made and where they are used.
    pub(super) fn bad_template(&self) -> Option<Diagnostic> {
        if self.block.is_some() {
            return None;
        }
        match self.first_word() {
            "structure" => self.bad_use(),
            "template" => self.bad_parameters(),
            _ => None,
        }
    }

    fn bad_use(&self) -> Option<Diagnostic> {
        let range = self.token(self.at);
        let token = self.slice(range.clone());
        let read = self.slice(self.range.start..self.at);
        let behind = self.slice(range.end..self.range.end);
        let second = read.split_whitespace().nth(1);
        let (message, help) = if second == Some("from") {
            let message = "the name of the structure is missing before `from`".to_owned();
            (message, format!("write it as in `{FROM}`"))
        } else if token == "from" && read.contains(" on ") {
            let message = "`from` stands behind `on`".to_owned();
            let help = format!("write the template first, as in `{FROM} on wood`");
            (message, help)
        } else if read.contains(" from ")
            && !read.contains(')')
            && (starts_value(token) || token == ",")
            && self.expects(Rule::EOI)
        {
            let message = "the values of a template stand in brackets".to_owned();
            (message, format!("write them as in `{FROM}`"))
        } else if behind.starts_with('(') && self.expects(Rule::kw_from) {
            let message = format!("`from` is missing before {}", shown(token));
            (message, format!("write it as in `{FROM}`"))
        } else {
            return None;
        };
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), ""))
    }

    fn bad_parameters(&self) -> Option<Diagnostic> {
        let range = self.token(self.at);
        let token = self.slice(range.clone());
        let read = self.slice(self.range.start..self.at);
        let rest = self.slice(self.at..self.range.end);
        let in_brackets = read.contains('(') && !read.contains(')');
        let message = if in_brackets && (starts_value(token) || token == "=") {
            "a template has names in its brackets; their values stand where it is used"
        } else if !read.contains('(') && rest.contains(',') {
            "the names of a template's values stand in brackets"
        } else {
            return None;
        };
        let help = format!("write `template bay(width, high) on block {{ … }}`, and then `{FROM}`");
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), ""))
    }

    /// `.5ft`, and `18. + 2`
    pub(super) fn bad_point(&self) -> Option<Diagnostic> {
        let before = self.slice(self.range.start..self.at);
        let point = match before.strip_suffix('.') {
            Some(_) => self.at - 1,
            None => self.at,
        };
        let before = self.slice(self.range.start..point);
        let behind = self.slice(point..self.range.end).strip_prefix('.')?;
        if before.ends_with(|letter: char| letter.is_ascii_digit()) && point == self.at {
            let whole = |letter: char| letter.is_alphanumeric();
            let start = before.trim_end_matches(whole).len();
            let span = self.span(self.range.start + start..point + 1);
            let help = format!("write `{}`", before.get(start..).unwrap_or(""));
            let message = "a point stands behind a number, and no digit behind the point";
            return Some(Diagnostic::new(Code::BadNumber, message, help).at(span, ""));
        }
        let joined = before.ends_with(|letter: char| letter.is_alphanumeric() || letter == '_');
        if joined || !behind.starts_with(|letter: char| letter.is_ascii_digit()) {
            return None;
        }
        let number = self.token(point + 1);
        let help = format!("write `0.{}`", self.slice(number.clone()));
        let message = "a number begins with a digit";
        let span = self.span(point..number.end);
        Some(Diagnostic::new(Code::BadNumber, message, help).at(span, ""))
    }

    /// `Entry planter.area`
    pub(super) fn unquoted_measure(&self) -> Option<Diagnostic> {
        let is_text = matches!(
            self.first_word(),
            "client" | "site" | "rules" | "prices" | "forecast"
        );
        if is_text || self.block.is_none() && self.first_word() != "let" {
            return None;
        }
        let token = self.token(self.at);
        let dot = match self.slice(token.clone()) {
            "." => token.start,
            _ if self.slice(token.end..self.range.end).starts_with('.') => token.end,
            _ => return None,
        };
        let before = self.slice(self.range.start..dot);
        let start = before.rfind(' ')?;
        let start = before
            .get(..start)?
            .rfind([' ', '(', ','])
            .map_or(0, |at| at + 1);
        let name = before.get(start..)?;
        let is_name = |word: &str| word.starts_with(char::is_alphabetic);
        if !name.split(' ').all(is_name) || self.expects(Rule::property) {
            return None;
        }
        let help = format!("write `\"{name}\".` and what of it is meant, such as `area`");
        let message = "a name of several words stands in quotes";
        let span = self.span(self.range.start + start..dot);
        Some(Diagnostic::new(Code::Syntax, message, help).at(span, ""))
    }

    /// A name in quotes where a size should be.
    pub(super) fn bare_quoted(&self) -> Option<Diagnostic> {
        let read = self.slice(self.range.start..self.at).trim_end();
        if !self.expects(Rule::dot) || self.expects(Rule::EOI) {
            return None;
        }
        let start = read.strip_suffix('"')?.rfind('"')?;
        let name = read.get(start..)?;
        let message = format!("{} is a name and no size", shown(name));
        let inside = name.trim_matches('"');
        let help = if inside.starts_with(|letter: char| letter.is_ascii_digit()) {
            format!("write `{inside}` without quotes")
        } else {
            format!(
                "say what of it is meant, as in `{name}.area`; the name of a `let` stands without \
                 quotes"
            )
        };
        let span = self.span(self.range.start + start..self.range.start + read.len());
        Some(Diagnostic::new(Code::Syntax, message, help).at(span, ""))
    }

    /// `edge cap count 2`
    pub(super) fn edge_without_length(&self) -> Option<Diagnostic> {
        let in_body = matches!(self.block, Some(Kind::Structure | Kind::Face));
        let read = self.slice(self.range.start..self.at).trim_end();
        let begun = read.ends_with(|letter: char| letter.is_alphanumeric() || letter == '"');
        let counted = read.split_whitespace().next_back() == Some("count");
        let missing = words::list(&self.expected);
        if !in_body
            || self.first_word() != "edge"
            || !begun
            || counted
            || missing.as_deref() != Some("a size or number")
        {
            return None;
        }
        let help = format!("write kind and length, as in `{}`", self.sample());
        let message = "the length of the edge is missing";
        let range = self.token(self.at);
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), "belongs here"))
    }

    /// `structure "Entry planter" finish bark` in an alternate.
    pub(super) fn change_without_block(&self) -> Option<Diagnostic> {
        let token = self.slice(self.token(self.at));
        if self.block != Some(Kind::Alternate) || self.first_word() != "structure" {
            return None;
        }
        let read = self.slice(self.range.start..self.at).trim_end();
        let span = self.span(self.range.start..self.range.start + read.len());
        (token == "finish").then(|| statements::change_without_block(span, samples::CHANGE))
    }
}

fn starts_value(token: &str) -> bool {
    token.starts_with(|letter: char| letter.is_ascii_digit() || letter == '"' || letter == '-')
}
