//! A text of a cell cut into numbers with their units.

use super::number::{Decimal, Number};
use super::unit::{UnitWord, unit_word};
use smallvec::SmallVec;

/// The pieces of one text: one mostly, and three at most.
pub(super) type Pieces = SmallVec<[Piece; 2]>;

/// A number with the unit behind it, if there is one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub(super) number: Number,
    pub(super) unit: Option<UnitWord>,
}

/// Fractions of one letter.
const FRACTIONS: [(char, &str); 11] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
];

/// A text with one form of each mark: straight quotes for feet and inches, plain blanks, fractions
/// of digits.
pub(super) fn normal(text: &str) -> String {
    let mut out = String::new();
    for ch in text.chars() {
        match ch {
            '′' | '’' | '‘' | '`' | '´' => out.push('\''),
            '″' | '”' | '“' | '„' => out.push('"'),
            '×' | '✕' => out.push('x'),
            '−' | '–' | '\u{2014}' | '‐' | '‑' => out.push('-'),
            '⁄' | '∕' => out.push('/'),
            ch if ch.is_whitespace() => out.push(' '),
            ch => match FRACTIONS.iter().find(|(one, _)| *one == ch) {
                Some((_, digits)) => {
                    if out.ends_with(|ch: char| ch.is_ascii_digit()) {
                        out.push(' ');
                    }
                    out += digits;
                }
                None => out.push(ch),
            },
        }
    }
    // Two strokes for one mark.
    let out = out.replace("''", "\"");
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The texts between crosses: `102 x 30`, `8' by 6'`, `2.4*3`.
pub(super) fn across(text: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let letters: Vec<char> = text.chars().collect();
    let mut at = 0;
    while let Some(ch) = letters.get(at) {
        let before = at.checked_sub(1).and_then(|before| letters.get(before));
        let behind = letters.get(at + 1);
        let stands_alone = |length: usize| {
            let apart = |ch: Option<&char>| ch.is_none_or(|ch| !ch.is_alphabetic());
            let unit_before = before.is_some_and(|ch| ch.is_alphabetic());
            (apart(before) || unit_before && *ch == 'x') && apart(letters.get(at + length))
        };
        let by = letters.get(at..at + 2) == Some(&['b', 'y'][..]);
        let length = match ch {
            'x' | 'X' if at > 0 && behind.is_some() && stands_alone(1) => 1,
            '*' if at > 0 => 1,
            'b' if by && stands_alone(2) => 2,
            _ => 0,
        };
        if length > 0 {
            parts.push(String::new());
            at += length;
            continue;
        }
        if let Some(part) = parts.last_mut() {
            part.push(*ch);
        }
        at += 1;
    }
    parts.iter().map(|part| part.trim().to_owned()).collect()
}

/// Cuts a text into its pieces; all of it has to be pieces.
pub(super) fn pieces(text: &str, decimal: Decimal) -> Result<Pieces, String> {
    let mut pieces = Pieces::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        if let Some(last) = pieces.last() {
            if last.unit.is_none() && rest.starts_with('-') {
                return Err(format!(
                    "`{text}` could be feet and inches, or a range: write `8' 6\"`"
                ));
            }
            let after_unit = rest.strip_prefix('-').filter(|_| last.unit.is_some());
            rest = after_unit.unwrap_or(rest).trim_start();
        }
        let (number, length) =
            Number::read(rest, decimal).map_err(|_| format!("`{text}` cannot be read"))?;
        rest = rest.get(length..).unwrap_or("").trim_start();
        let (unit, length) = match unit_word(rest) {
            Some((unit, length)) => (Some(unit), length),
            None => (None, 0),
        };
        rest = rest.get(length..).unwrap_or("").trim_start();
        pieces.push(Piece { number, unit });
        if pieces.len() > 3 {
            return Err(format!("`{text}` cannot be read"));
        }
    }
    if pieces.is_empty() {
        return Err("the cell is empty".to_owned());
    }
    let bare = pieces
        .iter()
        .take(pieces.len() - 1)
        .any(|piece| piece.unit.is_none());
    if bare {
        return Err(format!(
            "`{text}` could be feet and inches, or a range: write `8' 6\"`"
        ));
    }
    Ok(pieces)
}
