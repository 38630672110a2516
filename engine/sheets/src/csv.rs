//! Lines of values for spreadsheets (CSV, RFC 4180).
//!
//! They begin with a byte order mark: without one, the spreadsheets of many offices read UTF-8 as
//! letters of another alphabet, and a name or a `½` comes out as two or three odd signs.
//!
//! A text that a spreadsheet would take for a formula has an apostrophe before it. It is left in the
//! cell, where it harms nobody.

/// What a file begins with.
pub(crate) const MARK: char = '\u{feff}';

/// A line of cells, which are written as they are.
pub(crate) fn line(cells: &[String]) -> String {
    format!("{}\r\n", cells.join(","))
}

/// A text as a cell that is a text wherever it is opened. Line ends and tabs are blanks in it,
/// and other control characters become visible.
pub(crate) fn cell(text: &str) -> String {
    let text = harmless(&text.replace("\r\n", " ").replace(['\r', '\n', '\t'], " "));
    let text = crate::text::visible(&text);
    if text.contains(['"', ',', ';']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

/// A text with an apostrophe wherever a formula could begin: at its beginning, and behind a
/// semicolon, at which spreadsheets of some countries end a cell.
fn harmless(text: &str) -> String {
    let parts = text.split(';');
    let parts = parts.map(|part| match begins_formula(part) {
        true => format!("'{part}"),
        false => part.to_owned(),
    });
    parts.collect::<Vec<_>>().join(";")
}

/// Whether the first letter that is seen begins a formula, in its usual form or as wide or small
/// as the signs of East Asian scripts, which some spreadsheets take for the same.
fn begins_formula(text: &str) -> bool {
    let unseen = |ch: char| {
        ch.is_whitespace()
            || ch.is_control()
            || matches!(ch, '\u{feff}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}' | '"' | '\'')
    };
    let first = text.trim_start_matches(unseen).chars().next();
    first.is_some_and(|first| {
        matches!(
            first,
            '=' | '+' | '-' | '@' | '＝' | '＋' | '－' | '＠' | '﹦' | '﹢' | '﹣' | '﹫'
        )
    })
}

#[cfg(test)]
mod tests;
