//! Where a number ends. Blanks and signs mean something inside a number, so it stays as written.
//!
//! This follows the literals of the plan grammar: `6-3/4in` is one number, `6-3in` a difference;
//! `1/2ft` is a fraction, `1/2` a division.

use super::token::{is_times, is_word, word_length};

/// The bytes of the number at the start of a text, which begins with a digit.
pub(crate) fn length(text: &str) -> usize {
    if let Some(end) = day(text) {
        return end;
    }
    let Some(mut end) = measured(text) else {
        return plain(text);
    };
    // `12'-6"` and `12'6"`; where a blank stands between, two tokens say the same.
    loop {
        let rest = from(text, end);
        let sign = usize::from(rest.starts_with('-'));
        match measured(from(rest, sign)) {
            Some(next) => end += sign + next,
            None => return end,
        }
    }
}

/// `2026-05-11`
fn day(text: &str) -> Option<usize> {
    const PATTERN: &[u8] = b"0000-00-00";
    let day = text.as_bytes().get(..PATTERN.len())?;
    let fits = day.iter().zip(PATTERN).all(|(byte, wanted)| match wanted {
        b'0' => byte.is_ascii_digit(),
        _ => byte == wanted,
    });
    let goes_on = |next: char| is_word(next) || matches!(next, '-' | '/' | '.');
    let ends = !from(text, PATTERN.len()).starts_with(goes_on);
    (fits && ends).then_some(PATTERN.len())
}

/// A number with its unit.
fn measured(text: &str) -> Option<usize> {
    let digits = digits(text)?;
    let rest = from(text, digits);
    let more = mixing(rest).or_else(|| over(rest)).or_else(|| groups(rest));
    let number = digits + more.unwrap_or(0);
    Some(number + unit(from(text, number))?)
}

/// A number without a unit; `3/4` is a division then.
fn plain(text: &str) -> usize {
    let digits = digits(text).unwrap_or(0);
    let rest = from(text, digits);
    digits + mixing(rest).or_else(|| groups(rest)).unwrap_or(0)
}

fn digits(text: &str) -> Option<usize> {
    let other = |letter: char| !letter.is_ascii_digit();
    let end = text.find(other).unwrap_or(text.len());
    (end > 0).then_some(end)
}

/// The ` 3/4` of `6 3/4`.
fn mixing(text: &str) -> Option<usize> {
    let sign = gap(text).or_else(|| text.starts_with('-').then_some(1))?;
    let top = sign + digits(from(text, sign))?;
    Some(top + over(from(text, top))?)
}

/// The `/4` of `3/4`.
fn over(text: &str) -> Option<usize> {
    let end = 1 + digits(text.strip_prefix('/')?)?;
    decimals(from(text, end)).is_none().then_some(end)
}

/// The ` 810` of `3 810`, the `.5` of `2.5`, or both.
fn groups(text: &str) -> Option<usize> {
    let mut end = 0;
    while let Some(gap) = gap(from(text, end)) {
        if digits(from(text, end + gap)) != Some(3) {
            break;
        }
        end += gap + 3;
    }
    end += decimals(from(text, end)).unwrap_or(0);
    (end > 0).then_some(end)
}

fn decimals(text: &str) -> Option<usize> {
    Some(1 + digits(text.strip_prefix('.')?)?)
}

/// The blank inside a number: exactly one.
fn gap(text: &str) -> Option<usize> {
    let first = text.chars().next()?;
    matches!(first, ' ' | '\u{A0}' | '\u{202F}').then_some(first.len_utf8())
}

/// The unit directly behind a number.
fn unit(text: &str) -> Option<usize> {
    let first = text.chars().next()?;
    match first {
        '%' | '\'' | '"' | '′' | '″' => Some(first.len_utf8()),
        '°' => {
            let sign = '°'.len_utf8();
            let scale = from(text, sign);
            let named = matches!(scale.get(..word_length(scale)), Some("F" | "C"));
            Some(sign + usize::from(named))
        }
        _ if text.starts_with("m/s") && !from(text, 3).starts_with(is_word) => Some(3),
        _ if is_times(text) || first == '_' || first.is_ascii_digit() => None,
        _ if is_word(first) => Some(word_length(text)),
        _ => None,
    }
}

fn from(text: &str, at: usize) -> &str {
    text.get(at..).unwrap_or("")
}
