//! Lines of blocks. Several members may stand on one line; a bad one loses only itself.

use super::Reader;
use crate::syntax::{Pair, Rule};
use parge_base::suggest::nearest;
use std::ops::Range;

/// The most mistakes looked for in one line. Each costs a pass over the rest of the line.
const MAX_MISTAKES: usize = 8;

/// The blocks of the language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// `job "…" { … }`
    Job,
    /// `weather { … }`
    Weather,
    /// `bid { … }`
    Bid,
    /// `finish name { … }`
    Finish,
    /// `structure "…" { … }`
    Structure,
    /// `face name … { … }`
    Face,
    /// `conditions { … }`
    Conditions,
    /// `crew { … }`
    Crew,
    /// `alternate "…" { … }`
    Alternate,
    /// `structure "…" { … }` within an alternate.
    Change,
}

impl Kind {
    /// The words that begin a member.
    pub(crate) fn words(self) -> &'static [&'static str] {
        match self {
            Self::Job => &[
                "client",
                "site",
                "date",
                "valid_until",
                "valid",
                "units",
                "measure",
                "rules",
                "prices",
                "crew",
                "weather",
                "bid",
                "conditions",
                "start",
                "workdays",
                "hours",
                "holidays",
                "weather_days",
                "travel",
                "forecast",
            ],
            Self::Weather => &["air", "humidity", "wind", "mix"],
            Self::Bid => &[
                "burden",
                "overhead",
                "profit",
                "tax",
                "contingency",
                "class",
                "minimum",
                "round",
            ],
            Self::Finish => &[
                "technique",
                "thickness",
                "relief",
                "colours",
                "colors",
                "sealer",
            ],
            Self::Structure => &[
                "face",
                "finish",
                "height",
                "at",
                "edge",
                "conditions",
                "after",
            ],
            Self::Face => &["opening", "edge"],
            // The pack and the price book say which there are.
            Self::Conditions | Self::Crew => &[],
            Self::Alternate => &["structure", "omit"],
            Self::Change => &["finish"],
        }
    }

    /// Whether a line goes on with a new member at this word.
    fn begins(self, first: &str) -> bool {
        matches!(self, Self::Conditions | Self::Crew)
            || self.words().contains(&first)
            || nearest(first, self.words().iter().copied()).is_some()
    }

    /// The words at which reading goes on after a mistake in a member that begins with `bad`.
    /// A `finish` or `at` behind a bad face or edge was most likely meant for that.
    fn fresh_words(self, bad: &str) -> &'static [&'static str] {
        let likely = nearest(bad, self.words().iter().copied());
        match (self, likely) {
            (Self::Structure, Some("face") | None) => &["face"],
            (Self::Structure, Some("edge")) => &["face", "edge", "conditions", "after"],
            _ => self.words(),
        }
    }

    pub(super) fn line(self) -> Rule {
        match self {
            Self::Job => Rule::job_line,
            Self::Weather => Rule::weather_line,
            Self::Bid => Rule::bid_line,
            Self::Finish => Rule::finish_line,
            Self::Structure => Rule::structure_line,
            Self::Face => Rule::face_line,
            Self::Conditions => Rule::conditions_line,
            Self::Crew => Rule::crew_line,
            Self::Alternate => Rule::alternate_line,
            Self::Change => Rule::change_line,
        }
    }

    fn start(self) -> Rule {
        match self {
            Self::Job => Rule::job_start,
            Self::Weather => Rule::weather_start,
            Self::Bid => Rule::bid_start,
            Self::Finish => Rule::finish_start,
            Self::Structure => Rule::structure_start,
            Self::Face => Rule::face_start,
            Self::Conditions => Rule::conditions_start,
            Self::Crew => Rule::crew_start,
            Self::Alternate => Rule::alternate_start,
            Self::Change => Rule::change_start,
        }
    }
}

impl<'a> Reader<'a> {
    /// Reads the members of one line and hands each good one over. Says whether the line was
    /// good to its end.
    pub(super) fn line(
        &self,
        kind: Kind,
        range: Range<usize>,
        mut take: impl FnMut(Pair<'a>),
    ) -> bool {
        let mut start = range.start;
        for _ in 0..MAX_MISTAKES {
            if self.is_full() {
                return false;
            }
            let stop = match self.parse(kind.line(), start..range.end) {
                Ok(pairs) => {
                    pairs.into_iter().for_each(take);
                    return start == range.start;
                }
                Err(stop) => stop,
            };
            let stop = self.sharpened(kind.line(), start..range.end, stop);
            let at = stop.at;
            let bad = self.good_beginning(kind, start..range.end, &mut take);
            self.report_stop(Some(kind), bad..range.end, stop);
            match self.next_member(kind, bad, at, range.end) {
                Some(next) => start = next,
                None => return false,
            }
        }
        false
    }

    /// Hands over the good members at the beginning, and returns where the bad one begins.
    fn good_beginning(
        &self,
        kind: Kind,
        range: Range<usize>,
        take: &mut impl FnMut(Pair<'a>),
    ) -> usize {
        let mut good = self.parse(kind.start(), range.clone()).unwrap_or_default();
        let Some(last) = good.last() else {
            return range.start;
        };
        let last = self.span(last).range();
        let rest = self.text(last.end..range.end);
        let bad = range.end - rest.trim_start().len();
        // What follows a good member is either the next one, or the end of this one, which is
        // then not as good as it looked.
        let follows = word(self.text(bad..range.end));
        if kind.begins(follows) {
            good.into_iter().for_each(take);
            return bad;
        }
        good.pop();
        good.into_iter().for_each(take);
        last.start
    }

    /// Where the next member begins after the one that begins at `bad` and fails at `at`.
    fn next_member(&self, kind: Kind, bad: usize, at: usize, end: usize) -> Option<usize> {
        let mut from = at.max(bad + word(self.text(bad..end)).len().max(1));
        while !self.source.text.is_char_boundary(from) {
            from += 1;
        }
        let rest = self.text(from..end);
        let fresh = kind.fresh_words(word(self.text(bad..end)));
        let mut quoted = false;
        let mut previous = self.text(bad..from).chars().next_back().unwrap_or(' ');
        for (index, letter) in rest.char_indices() {
            quoted ^= letter == '"' && !previous.is_ascii_digit();
            let begins = !quoted && !is_word(previous) && is_word(letter);
            if begins {
                let behind = rest.get(index..)?;
                let first = word(behind);
                // `weather.csv` is a file that lacks its quotes.
                let is_alone = behind.as_bytes().get(first.len()) != Some(&b'.');
                if is_alone && fresh.contains(&first) {
                    return Some(from + index);
                }
            }
            previous = letter;
        }
        None
    }
}

fn is_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// The word that a text begins with; empty where it begins with none.
pub(crate) fn word(text: &str) -> &str {
    let end = text.find(|letter| !is_word(letter)).unwrap_or(text.len());
    text.get(..end).unwrap_or("")
}
