//! The mistakes that are foreseen, each with its own words.

use super::shown::shown;
use super::{Failure, letters, literals, samples, statements, words};
use crate::outline::TOP_WORDS;
use crate::read::line::{Kind, word};
use crate::syntax::Rule;
use jiff::civil::Date;
use parge_base::suggest::{help_for, nearest};
use parge_base::{Code, Diagnostic};

/// Words that may follow the shape of a face or an opening.
const DETAILS: [&str; 5] = ["count", "on", "at", "reveal", "from"];

/// The same for the length of an edge.
const EDGE_DETAILS: [&str; 1] = ["count"];

/// The same for an opening, where a finish has its word.
const OPENING_DETAILS: [&str; 4] = ["count", "reveal", "finish", "from"];

impl Failure<'_> {
    pub(super) fn odd_letter(&self) -> Option<Diagnostic> {
        if self.at < self.range.end {
            return letters::odd_letter(self.file, self.text, self.at);
        }
        None
    }

    /// A member that begins with no word of its block.
    pub(super) fn unknown_member(&self) -> Option<Diagnostic> {
        let block = self.block?;
        let first = self.first_word();
        if block == Kind::Conditions {
            let range = self.token(self.at);
            return Some(statements::no_pair(self.span(range)));
        }
        if block == Kind::Crew {
            let range = self.token(self.at);
            return Some(statements::no_class(self.span(range)));
        }
        if block.words().contains(&first) {
            return None;
        }
        if first.is_empty() && self.at > self.range.start {
            return None;
        }
        let range = self.token(self.range.start);
        if range.end < self.range.end
            && let Some(odd) = letters::odd_letter(self.file, self.text, range.end)
        {
            return Some(odd);
        }
        let help = match samples::home(first) {
            Some((home, sample)) => format!("`{first}` belongs in the {home}, as in `{sample}`"),
            None if block == Kind::Change => {
                "an alternate changes the finish of a structure alone: write `finish bark`, or \
                 leave the structure out with `omit`"
                    .to_owned()
            }
            None if block == Kind::Alternate && first == "finish" => {
                format!("say of which structure, as in `{}`", samples::CHANGE)
            }
            None if block == Kind::Face && first == "finish" => {
                format!(
                    "write the finish behind the shape, as in `{}`",
                    samples::FACE
                )
            }
            None if first == "opening" => {
                format!("write it in the braces of its face: `{}`", samples::OPENING)
            }
            None if TOP_WORDS.contains(&first) || first == "face" => {
                "close this block with `}` first, and write it behind, in its own place".to_owned()
            }
            None if first.is_empty() => format!("begin with a word, as in `{}`", self.sample()),
            None => help_for(first, block.words().iter().copied()),
        };
        let message = format!("{} begins no line here", shown(self.slice(range.clone())));
        let label = block.words().join(", ");
        let label = format!("known here: {label}");
        Some(Diagnostic::new(Code::UnknownStatement, message, help).at(self.span(range), label))
    }

    /// Settings whose form invites mistakes of their own.
    pub(super) fn odd_setting(&self) -> Option<Diagnostic> {
        let first = self.first_word();
        let range = self.range.start + first.len()..self.range.end;
        let rest = self.slice(range.clone());
        if !matches!(self.block, Some(Kind::Job | Kind::Structure)) || rest.trim().is_empty() {
            return None;
        }
        match first {
            "date" | "start" | "valid_until" => {
                let start = range.end - rest.trim_start().len();
                let span = self.span(start..start + rest.trim().len());
                Some(literals::odd_date(span, rest))
            }
            "valid" if is_last_day(rest.trim()) => {
                let start = range.end - rest.trim_start().len();
                let span = self.span(start..start + rest.trim().len());
                Some(literals::day_for_days(span))
            }
            "holidays" | "weather_days" => {
                let token = self.token(self.at);
                Some(literals::odd_days(self.span(token), first, &self.sample()))
            }
            "weather" if is_day(rest.trim_start()) => {
                let start = range.end - rest.trim_start().len();
                let span = self.span(start..start + rest.trim().len());
                Some(literals::odd_date(span, rest.trim()))
            }
            "weather" | "bid" | "conditions" => {
                let span = self.span(self.range.start..range.start);
                Some(statements::setting_without_block(span, first))
            }
            _ => None,
        }
    }

    pub(super) fn bad_let(&self) -> Option<Diagnostic> {
        let rest = self.slice(self.at..self.range.end);
        if self.expects(Rule::equals) {
            if rest.starts_with('-') {
                return self.hyphened_name();
            }
            let (message, range) = if rest.starts_with("==") {
                (
                    "`==` stands where one `=` is enough".to_owned(),
                    self.at..self.at + 2,
                )
            } else {
                (
                    "the `=` is missing behind the name".to_owned(),
                    self.token(self.at),
                )
            };
            let help = "write the name, `=` and what it stands for, as in `let height = 2ft 8in`";
            return Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), ""));
        }
        if self.expects(Rule::let_name) && rest.starts_with('"') {
            let help = "write one word without quotes, as in `let planter_height = 2ft 8in`";
            let message = "a name used in calculations stands without quotes";
            let range = self.token(self.at);
            return Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), ""));
        }
        None
    }

    /// A missing `x` or `to` between two sizes.
    pub(super) fn missing_between(&self) -> Option<Diagnostic> {
        let missing = match () {
            // Where a height may be left out, it is not what is missing.
            () if self.expects(Rule::EOI) => return None,
            () if self.expects(Rule::times) => "`x` is missing before the height",
            () if self.block == Some(Kind::Bid) && self.expects(Rule::kw_to) => {
                "`to` is missing before what the price is rounded to"
            }
            () if self.expects(Rule::kw_to) => "`to` is missing between the two sizes",
            () => return None,
        };
        let help = format!("write it as in `{}`", self.sample());
        let range = self.token(self.at);
        Some(Diagnostic::new(Code::Syntax, missing, help).at(self.span(range), "belongs here"))
    }

    /// A text of several words, or with signs in it, that is not in quotes.
    pub(super) fn missing_quotes(&self) -> Option<Diagnostic> {
        let takes_name = match self.block {
            None => matches!(self.first_word(), "finish" | "structure" | "template"),
            Some(Kind::Alternate) => matches!(self.first_word(), "structure" | "omit"),
            Some(_) => false,
        };
        let second_word = takes_name
            && self.expects(Rule::EOI)
            && !self.slice(self.range.start..self.at).contains(['"', '(']);
        let rest = self.slice(self.at..self.range.end).trim();
        let quoted = self.expects(Rule::quoted) || self.expects(Rule::text);
        if !(quoted || second_word) || rest.is_empty() {
            return None;
        }
        if rest.starts_with(['"', '(', ')', '=']) {
            return None;
        }
        let first = self.first_word();
        if first == "allowance" && rest.starts_with(is_amount) {
            return None;
        }
        let start = if second_word {
            self.range.start + first.len()
        } else {
            self.at
        };
        let name = self.slice(start..self.range.end).trim();
        let name = name.split(['"', '\n', '\r']).next().unwrap_or("").trim();
        let end = start + self.slice(start..self.range.end).find(name).unwrap_or(0) + name.len();
        let name_range = end - name.len()..end;
        let (name, behind) = named_part(first, name);
        let name: String = name.chars().take(40).collect();
        let quoted = format!("{first} \"{}\" {behind}", name.trim());
        let help = format!("write `{}`", quoted.trim_end());
        let what = if self.expects(Rule::text) {
            "text"
        } else {
            "name"
        };
        let message = format!("the {what} behind `{first}` needs quotes");
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(name_range), ""))
    }

    pub(super) fn bad_shape(&self) -> Option<Diagnostic> {
        if !self.expects(Rule::shape) {
            return None;
        }
        let range = self.token(self.at);
        let token = self.slice(range.clone());
        let (code, message, help) =
            if word(token).is_empty() || token.starts_with(|c: char| c.is_numeric()) {
                (
                    Code::Syntax,
                    "the shape is missing behind the name".to_owned(),
                    format!("write name, shape and sizes, as in `{}`", self.sample()),
                )
            } else {
                (
                    Code::UnknownStatement,
                    format!("{} is no shape", shown(token)),
                    help_for(token, samples::shape_words()),
                )
            };
        Some(Diagnostic::new(code, message, help).at(self.span(range), ""))
    }

    /// A word of the language where a name should be.
    pub(super) fn taken_word(&self) -> Option<Diagnostic> {
        let names = [
            Rule::name,
            Rule::bare,
            Rule::let_name,
            Rule::parameter,
            Rule::quoted,
        ];
        let token = self.token(self.at);
        let written = self.slice(token.clone());
        let must_be = names.iter().any(|rule| self.expects(*rule)) && !self.expects(Rule::EOI);
        if !must_be || word(written).is_empty() {
            return None;
        }
        if written.starts_with(|letter: char| letter.is_numeric()) {
            return None;
        }
        let help = if self.expects(Rule::let_name) {
            let other = other_name(written);
            format!("choose another name, as in `let {other} = 2ft 8in`")
        } else if self.expects(Rule::parameter) {
            let other = other_name(written);
            format!("choose another name, as in `template bay({other})`")
        } else {
            format!("write a name before it, or the name itself in quotes: `\"{written}\"`")
        };
        let message = format!("{} is a word of the language and no name", shown(written));
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(token), ""))
    }

    /// `rect 22ft by 4ft`: the word is taken for a finish, since the height may be left out. In
    /// an opening, where no finish stands alone, it is the word that reading stops at.
    pub(super) fn other_cross(&self) -> Option<Diagnostic> {
        let read = self.slice(self.range.start..self.at).trim_end();
        let before = self.range.start + read.rfind(' ').map_or(0, |at| at + 1);
        let stands_for_x = |word: &str| {
            let letters = word.chars().count();
            matches!(word, "by" | "X" | "times" | "*")
                || letters == 1 && word != "x" && word.chars().all(char::is_alphabetic)
        };
        let at = [before, self.at].into_iter().find(|at| {
            let word = self.token(*at);
            let behind = self.slice(word.end..self.range.end).trim_start();
            stands_for_x(self.slice(word)) && behind.starts_with(|c: char| c.is_ascii_digit())
        })?;
        let help = format!("write it as in `{}`", self.sample());
        let span = self.span(self.token(at));
        let message = "`x` is missing before the height";
        Some(Diagnostic::new(Code::Syntax, message, help).at(span, "belongs here"))
    }

    /// `opening vent rect 12in x 8in bark`
    pub(super) fn finish_of_opening(&self) -> Option<Diagnostic> {
        let range = self.token(self.at);
        let name = self.slice(range.clone());
        let is_name = name.starts_with(|letter: char| letter.is_alphabetic() || letter == '"');
        let is_opening = self.block == Some(Kind::Face) && self.first_word() == "opening";
        let is_taken = matches!(name, "at" | "on" | "to" | "x" | "sweep" | "rise" | "face");
        if !is_opening || !is_name || is_taken || !self.expects(Rule::EOI) {
            return None;
        }
        let help = format!("write `finish {name}` for another finish than the face has");
        let message = "the finish of a reveal is written with the word `finish`";
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), ""))
    }

    /// `3,810mm` and `3,5m`.
    pub(super) fn comma_in_number(&self) -> Option<Diagnostic> {
        let (before, after) = (
            self.slice(self.range.start..self.at),
            self.slice(self.at..self.range.end),
        );
        let after = after.strip_prefix(',')?;
        let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
        if !digit(before.chars().next_back()) || !digit(after.chars().next()) {
            return None;
        }
        let help = "write a point before decimals, as in `3.5m`, and a blank between thousands, as in `3 810mm`";
        let span = self.span(self.at..self.at + 1);
        Some(Diagnostic::new(Code::BadNumber, "a comma stands in a number", help).at(span, ""))
    }

    /// `moss-green`, which reads as a difference.
    pub(super) fn hyphened_name(&self) -> Option<Diagnostic> {
        let whole = self.slice(self.range.clone());
        let read = self.slice(self.range.start..self.token(self.at).end);
        if read.contains('"') || read.contains('=') {
            return None;
        }
        let name = whole
            .split(|letter: char| !is_name_part(letter))
            .find(|name| {
                name.split('-')
                    .filter(|part| starts_with_letter(part))
                    .count()
                    > 1
            })?;
        let start = whole.find(name).filter(|start| *start < read.len())?;
        let range = self.range.start + start..self.range.start + start + name.len();
        let help = if self.first_word() == "let" {
            format!(
                "write the name with `_`, as in `{}`",
                name.replace('-', "_")
            )
        } else {
            format!("write a name with `-` in quotes, as in `\"{name}\"`")
        };
        let message = format!("{} is read as a difference", shown(name));
        Some(Diagnostic::new(Code::Syntax, message, help).at(self.span(range), ""))
    }

    /// `cuont 2` behind a shape, where the word was taken for the name of a finish, and words
    /// that are almost what could stand there.
    pub(super) fn misspelt_word(&self) -> Option<Diagnostic> {
        let read = self.slice(self.range.start..self.at).trim_end();
        let start = read.rfind(|letter: char| !letter.is_alphanumeric());
        let start = start.and_then(|at| Some(at + read.get(at..)?.chars().next()?.len_utf8()))?;
        let before = read.get(start..).unwrap_or("");
        let token = self.slice(self.token(self.at));
        let details: &[&str] = match (self.block, self.first_word()) {
            (Some(Kind::Structure | Kind::Face), "edge") => &EDGE_DETAILS,
            (Some(Kind::Structure), _) => &DETAILS,
            (Some(Kind::Face), _) => &OPENING_DETAILS,
            _ => &[],
        };
        let possible = words::keywords(&self.expected)
            .into_iter()
            .chain(details.iter().copied());
        let tries = [
            (
                before,
                self.range.start + start,
                nearest(before, details.iter().copied()),
            ),
            (token, self.at, nearest(token, possible)),
        ];
        let (wrong, at, near) = tries
            .into_iter()
            .find(|(wrong, _, near)| wrong.len() > 2 && near.is_some_and(|near| near != *wrong))?;
        let message = format!("{} is not known here", shown(wrong));
        let help = format!("did you mean `{}`?", near?);
        let span = self.span(at..at + wrong.len());
        Some(Diagnostic::new(Code::UnknownStatement, message, help).at(span, ""))
    }
}

/// Where the name ends that should be in quotes, and what is left behind it.
fn named_part<'t>(first: &str, rest: &'t str) -> (&'t str, &'t str) {
    let end = match first {
        "structure" | "omit" => [" on ", " from ", " omit ", " structure "]
            .iter()
            .filter_map(|word| rest.find(word))
            .min(),
        "template" => [" on ", "("]
            .iter()
            .filter_map(|word| rest.find(word))
            .min(),
        "allowance" => {
            let amount = rest.find(is_amount).filter(|at| *at > 0);
            return rest
                .split_at_checked(amount.unwrap_or(rest.len()))
                .unwrap_or((rest, ""));
        }
        _ => None,
    };
    (rest.get(..end.unwrap_or(rest.len())).unwrap_or(rest), "")
}

/// A name like one that cannot be used. What begins with `x` and a digit cannot go on either.
fn other_name(written: &str) -> String {
    let digit = |rest: &str| rest.starts_with(|letter: char| letter.is_ascii_digit());
    if written.strip_prefix('x').is_some_and(digit) {
        return format!("my_{written}");
    }
    format!("{written}_1")
}

fn is_amount(letter: char) -> bool {
    letter.is_ascii_digit() || "$€£".contains(letter)
}

/// Whether what stands behind `weather` is neither a reading nor the next setting.
fn is_day(rest: &str) -> bool {
    let first = word(rest);
    let known = [Kind::Weather.words(), Kind::Job.words()];
    !first.is_empty() && !known.concat().contains(&first)
}

/// Whether a number of days is none, but the day up to which something holds.
fn is_last_day(rest: &str) -> bool {
    word(rest) == "until" || rest.parse::<Date>().is_ok()
}

fn is_name_part(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_' || letter == '-'
}

fn starts_with_letter(text: &str) -> bool {
    text.starts_with(char::is_alphabetic)
}
