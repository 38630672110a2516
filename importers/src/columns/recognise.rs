//! From headers and what stands under them to roles.

use super::header::header_words;
use super::role::Holds;
use super::{Head, Role, Words};
use crate::cells::{LengthUnit, UnitWord};

/// What stands under a header.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Content {
    /// Cells that hold or begin with a number.
    pub figures: usize,
    /// Cells that hold words.
    pub words: usize,
    /// Whether the figures count the rows through: 1, 2, 3.
    pub counts_through: bool,
}

impl Content {
    fn holds(self) -> Holds {
        match (self.figures, self.words) {
            (0, 0) => Holds::Either,
            (figures, words) if figures > words => Holds::Figures,
            (0, _) => Holds::Words,
            _ => Holds::Either,
        }
    }
}

/// A column with what it is taken for, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// The column from 0.
    pub column: u32,
    /// Its header as shown.
    pub header: String,
    /// What it is.
    pub role: Role,
    /// The unit in its header, of its lengths or areas.
    pub unit: Option<UnitWord>,
    /// Why it is taken so.
    pub reason: String,
    /// Whether its header is no known word.
    pub is_unknown: bool,
    /// Whether it holds the inches to the feet of the column before it.
    pub is_inches: bool,
}

/// Why a column of words is for people.
const UNKNOWN: &str = "it holds words, and its header names nothing known";

/// What came of one column: what it is, or what is asked.
#[derive(Debug, Clone, PartialEq)]
pub enum Recognised {
    /// It is this.
    Known(Column),
    /// It can be several things, or none that is known.
    Open {
        /// The column from 0.
        column: u32,
        /// Its header as shown.
        header: String,
        /// What it may be; empty where nothing is known.
        choices: Vec<Role>,
    },
}

/// Says what a column is; `told` is what a profile or an answer says.
pub fn recognise(head: &Head, content: Content, told: Option<Role>, words: &Words) -> Recognised {
    let (own, unit) = header_words(&head.text);
    let over = head.over.as_deref().map(header_words);
    let unit = unit.or_else(|| over.as_ref().and_then(|(_, unit)| *unit));
    let known = |role: Role, reason: String| {
        Recognised::Known(Column {
            column: head.column,
            header: head.shown(),
            role,
            unit,
            is_unknown: reason == UNKNOWN,
            reason,
            is_inches: false,
        })
    };
    if let Some(role) = told {
        return known(role, "as answered".to_owned());
    }
    let open = |choices: Vec<Role>| Recognised::Open {
        column: head.column,
        header: head.shown(),
        choices,
    };
    let of_over = over
        .as_ref()
        .map(|(over, _)| by_words(over, content, words));
    let of_own = by_words(&own, content, words);
    let (roles, word) = joined(of_own, of_over);
    match roles.as_slice() {
        [role] => known(*role, format!("its header says `{word}`")),
        [] => match (unit, content.holds()) {
            (Some(UnitWord::Area(_)), _) => {
                known(Role::Area, "its header is a unit of area".into())
            }
            (_, Holds::Words | Holds::Either) if content.figures == 0 => {
                known(Role::Note, UNKNOWN.to_owned())
            }
            _ => open(Vec::new()),
        },
        several => open(several.to_vec()),
    }
}

type Found = (Vec<Role>, String);

/// What the words of one header say.
fn by_words(header: &str, content: Content, words: &Words) -> Found {
    let fits = |role: Role| match (role.holds(), content.holds()) {
        (Holds::Figures, Holds::Words) => {
            // `as drawn` in every cell of a height is still a height.
            false
        }
        (Holds::Words, Holds::Figures) => false,
        _ => true,
    };
    let mut roles: Vec<Role> = words
        .exact(header)
        .into_iter()
        .filter(|role| fits(*role))
        .collect();
    let mut word = header.to_owned();
    if roles.is_empty() {
        let within = words.within(header, fits);
        word = within.first().map(|(word, _)| word.clone()).unwrap_or(word);
        roles = within.into_iter().map(|(_, role)| role).collect();
        roles.sort();
        roles.dedup();
    }
    if roles.len() > 1 {
        roles = by_content(roles, content);
    }
    (roles, word)
}

/// Of several roles of one word, those that what stands under it speaks for.
fn by_content(roles: Vec<Role>, content: Content) -> Vec<Role> {
    let numbers = roles.contains(&Role::Number);
    if numbers && content.counts_through {
        return vec![Role::Number];
    }
    let without: Vec<Role> = roles
        .iter()
        .copied()
        .filter(|role| *role != Role::Number || content.figures == 0)
        .collect();
    if numbers && content.figures > 0 && without.contains(&Role::Count) {
        return vec![Role::Count];
    }
    without
}

/// A header with one over it: `Opening` over `W` is the width of an opening.
fn joined(own: Found, over: Option<Found>) -> Found {
    let Some((over, over_word)) = over else {
        return own;
    };
    let (own, own_word) = own;
    let is_opening = |role: &Role| matches!(role, Role::Deduction | Role::OpeningSize);
    if over.iter().any(is_opening)
        && let [role] = own.as_slice()
        && let Some(of_opening) = role.of_opening()
    {
        return (vec![of_opening], format!("{over_word} / {own_word}"));
    }
    if own.is_empty() {
        (over, over_word)
    } else {
        (own, own_word)
    }
}

/// Marks inches to feet: two neighbours of one role, `ft` and `in`.
pub(crate) fn pair_feet_and_inches(columns: &mut [Column]) {
    for at in 1..columns.len() {
        let (before, behind) = columns.split_at_mut(at);
        if let (Some(feet), Some(inches)) = (before.last(), behind.first_mut()) {
            let length = |column: &Column| column.unit.and_then(UnitWord::length);
            inches.is_inches = feet.role == inches.role
                && feet.column + 1 == inches.column
                && length(feet) == Some(LengthUnit::Foot)
                && length(inches) == Some(LengthUnit::Inch);
        }
    }
}
