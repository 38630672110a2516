//! What the styles of cells say.

use calamine::Style;

/// What a style says of its cells.
#[derive(Debug, Clone, PartialEq, Default)]
pub(in crate::grid) struct Look {
    /// Whether they are struck through.
    pub(in crate::grid) struck: bool,
    /// The format of their numbers, where it is not the general one.
    pub(in crate::grid) format: Option<String>,
    /// Whether a number is certainly no day and no time in it.
    pub(super) is_plain: bool,
}

impl Look {
    pub(in crate::grid) fn of(style: &Style) -> Self {
        let struck = style
            .font
            .as_ref()
            .is_some_and(|font| font.has_strikethrough());
        let format = style.number_format.as_ref();
        let (code, id) = format.map_or(("", None), |format| {
            (format.format_code.as_str(), format.format_id)
        });
        Self {
            struck,
            is_plain: is_plain(code, id),
            format: (!code.is_empty() && code != "General").then(|| code.to_owned()),
        }
    }

    /// Whether it says anything.
    pub(in crate::grid) fn says(&self) -> bool {
        self.struck || self.format.is_some()
    }
}

/// Whether a format is certainly one of plain numbers: what stands in quotes in its first section
/// apart, no letter is in it that could stand for a part of a day.
fn is_plain(code: &str, id: Option<u32>) -> bool {
    // Some formats of days and times have no code, since it is another in every country.
    if matches!(id, Some(27..=36 | 50..=58)) {
        return false;
    }
    if code == "General" {
        return true;
    }
    let section = code.split(';').next().unwrap_or_default();
    let has_quotes = section.contains('"');
    let is_even = section.matches('"').count().is_multiple_of(2);
    let outside = section.split('"').step_by(2).collect::<String>();
    let is_figure = |ch: char| {
        matches!(
            ch,
            '0'..='9' | '#' | '?' | '.' | ',' | '%' | '+' | '-' | ' ' | '(' | ')' | '$' | '@'
        )
    };
    // The next character counts for nothing behind these, be it a quote.
    let is_skip = |ch: char| matches!(ch, '_' | '*' | '\\');
    is_even
        && outside
            .chars()
            .all(|ch| is_figure(ch) || !has_quotes && is_skip(ch))
}

#[cfg(test)]
mod tests;
